"""The round that a phone takes along: one page that needs nothing more to be walked."""

from django.shortcuts import get_object_or_404, render
from django.utils import timezone

from restoration.calc import vocabulary
from restoration.calc.usual_causes import usual_causes
from restoration.forms import cause_chips
from restoration.forms.finding_entry import FindingEntry
from restoration.models import FindingCause, Survey
from restoration.models.round import ORDERS, in_order
from restoration.views.finding_words import photograph_limits, words
from restoration.views.rounds import Round, Stop, order_of, round_of
from timber_stock.templatetags.measures import section, station
from timber_stock.web.pages import own_units


def round_offline(request, survey_id):
    survey = get_object_or_404(Survey.objects.select_related("vessel"), pk=survey_id)
    walk = round_of(survey, order_of(request, survey))
    entry = FindingEntry.blank(units=own_units(request), by=request.user)
    context = {
        "survey": survey,
        "round": _taken_along(request, survey, walk),
        "entry": entry,
        "form": entry.form,
        "chips": cause_chips.chips(entry.form, vocabulary.causes()),  # ordered by the script
        **words(),
        **photograph_limits(),
    }
    return render(request, "restoration/round_offline.html", context)


def _taken_along(request, survey: Survey, walk: Round) -> dict:
    """The survey, its members and the words, as the page's script reads them."""
    named = FindingCause.objects.named_by_kind()
    kinds = {stop.member.kind for stop in walk.stops}
    return {
        "survey": survey.pk,
        "by": request.user.pk,
        "by_name": request.user.full_name(),
        "units": own_units(request),
        "taken_at": timezone.now().isoformat(),
        "order": walk.order,
        "orders": [_order(walk, code, name) for code, name in ORDERS.items()],
        "members": {stop.member.pk: _told(stop, own_units(request)) for stop in walk.stops},
        "usual_causes": {kind: usual_causes(kind, named.get(kind)) for kind in kinds},
    }


def _order(walk: Round, order: str, name: str) -> dict:
    """The headings of a round in this order, each with its members' numbers."""
    stops = {stop.member.pk: stop for stop in walk.stops}
    members = in_order((stop.member for stop in walk.stops), order)
    parts = Round([stops[member.pk] for member in members], order).in_parts()
    held = [{"name": part, "members": [stop.member.pk for stop in row]} for part, row in parts]
    return {"code": order, "name": name, "parts": held}


def _told(stop: Stop, units: str) -> dict:
    member = stop.member
    place = member.get_side_display()
    if member.station_from is not None:
        place += f", station {station(member.station_from)}"
    return {
        "mark": member.mark,
        "one": member.one(),
        "kind": member.kind,
        "place": place,
        "size": section(member, units),
        "wood": str(member.wood or member.material or "wood not recorded"),
        "note": member.note,
        "found": stop.finding.condition if stop.finding else None,
        "earlier": _earlier(stop),
    }


def _earlier(stop: Stop) -> str:
    if not stop.earlier:
        return ""
    said = stop.earlier.condition_word()
    if stop.earlier.condition != "NE":
        said = f"class {stop.earlier.condition}, {said}"
    return f"{stop.earlier.survey.surveyed_on:%Y}: {said}"
