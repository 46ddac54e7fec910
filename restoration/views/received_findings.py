"""Where a phone sends what waited on it; the answers are for the script that sends."""

from dataclasses import asdict

from django.core.exceptions import ValidationError
from django.http import JsonResponse
from django.middleware.csrf import get_token
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_GET, require_POST

from restoration.actions.received import keep_received
from restoration.forms.received import NO_MEMBER, NOT_YOURS, received, sentences, taken_at
from restoration.models import Finding, Member, Survey
from timber_stock.web.addresses import row_number
from timber_stock.web.pages import own_units


@require_GET
@never_cache
def fresh_token(request):
    """What a page that was opened long ago needs before it sends, and who is signed in."""
    who = {"by": request.user.pk, "by_name": request.user.full_name()}
    return JsonResponse({"token": get_token(request)} | who)


@require_POST
def finding_receive(request, survey_id):
    """One finding with its photographs; sent again, it is answered again and kept once."""
    survey = get_object_or_404(Survey.objects.select_related("vessel"), pk=survey_id)
    if request.POST.get("entered_by") != str(request.user.pk):
        return _refuse([NOT_YOURS])
    member = _member(survey, request.POST.get("member", ""))
    if member is None:
        return _refuse([NO_MEMBER])
    entry = received(request.POST, request.FILES, units=own_units(request))
    if not entry.is_valid():
        return _refuse(sentences(entry))
    parts = entry.parts(survey=survey, member=member, by=request.user)
    try:
        kept = keep_received(taken_at=taken_at(request.POST), **parts)
    except ValidationError as error:
        return _refuse(error.messages)
    return JsonResponse(_told(kept, again=kept is not parts["finding"], entry=entry))


def _member(survey: Survey, number: str) -> Member | None:
    return Member.objects.filter(pk=row_number(number), vessel=survey.vessel_id).first()


def _refuse(said: list[str]) -> JsonResponse:
    return JsonResponse({"sentences": said}, status=422)


def _told(kept: Finding, *, again: bool, entry) -> dict:
    """What is stored now, and what of it was refused."""
    apart = kept.made_apart_from
    return {
        "finding": kept.get_absolute_url(),
        "mark": kept.member.mark,
        "condition": kept.condition,
        "photographs": kept.photographs.count(),
        "refused": [asdict(one) for one in entry.tray.refused],
        "again": again,
        "apart": apart
        and {"by": apart.recorded_by.full_name(), "finding": apart.get_absolute_url()},
        "kept_at": timezone.now().isoformat(),
    }
