from django.http import Http404

from restoration.actions.out_now import track_now
from restoration.models.work_track import Track


def track_or_404(spec_id: int) -> Track:
    """How far a replacement is, with what holds it; 404 where there is no such replacement."""
    now = track_now(spec_id)
    if now is None:
        raise Http404
    return now
