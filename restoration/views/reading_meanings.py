"""What each reading of a finding means, with what has to be assumed asked beside it."""

from dataclasses import dataclass

from django.http import QueryDict
from django.shortcuts import get_object_or_404
from django.utils.safestring import mark_safe

from restoration.calc import reading_meaning, section_loss
from restoration.drawings.section_left import section_left_svg
from restoration.forms.reading_meaning import ReadingMeaningForm
from restoration.models import Finding, Member, Reading
from restoration.models.finding import ReadingKind
from timber_stock.web.fields import size_for
from timber_stock.web.pages import own_units, page_or_piece

PAGE, PIECE = "restoration/readings.html", "restoration/_readings_meaning.html"
MEANT = (ReadingKind.PROBE, ReadingKind.BOLT, ReadingKind.MOISTURE, ReadingKind.PH)


@dataclass
class Meant:
    """One reading with its meaning, or with the sentence that says why it has none."""

    reading: Reading
    meaning: reading_meaning.Meaning | None = None
    why_not: str = ""
    svg: str = ""


def readings_meaning(request, finding_id):
    found = Finding.objects.select_related("survey__vessel", "member__wood")
    finding = get_object_or_404(found, pk=finding_id)
    context = {
        "finding": finding,
        "member": finding.member,
        "survey": finding.survey,
        **meanings(finding, list(finding.readings.all()), request.GET, own_units(request)),
    }
    wrong = context["meaning_form"].errors if context["meaning_form"] else None
    return page_or_piece(request, PAGE, PIECE, context, status=422 if wrong else 200)


def meanings(finding, readings: list[Reading], asked: QueryDict, units: str) -> dict:
    """For the template: the form of what is assumed, and what each reading then means."""
    kinds = {reading.kind for reading in readings if reading.kind in MEANT}
    if not kinds:
        return {"meaning_form": None, "meant": []}
    first = _first_taken_for(finding.member, kinds)
    form = ReadingMeaningForm(
        asked if "meaning" in asked else None, initial=first, kinds=kinds, units=units
    )
    known = form.cleaned_data if form.is_bound and form.is_valid() else first
    meant = [_meant(r, finding.member, known, units) for r in readings if r.kind in kinds]
    unfolded = form.is_bound or any(one.why_not for one in meant)
    return {"meaning_form": form, "meant": meant, "unfolded": unfolded}


def _first_taken_for(member: Member, kinds: set[str]) -> dict:
    """What is taken until someone says otherwise: the bolt size if only one is entered."""
    first = {"face": "outboard"}
    if ReadingKind.BOLT in kinds:
        fastenings = [f for joint in member.joints() for f in joint.fastenings.all()]
        sizes = {f.diameter_mm for f in fastenings if f.diameter_mm}
        if len(sizes) == 1:
            first["bolt_mm"] = sizes.pop()
    return first


def _meant(reading: Reading, member: Member, known: dict, units: str) -> Meant:
    try:
        meaning = _MEANINGS[reading.kind](reading, member, known)
    except ValueError as error:
        return Meant(reading, why_not=str(error))
    return Meant(reading, meaning, svg=_drawn(reading, member, meaning, units))


def _of_probe(reading, member, known):
    if None in (member.sided_mm, member.moulded_mm):
        raise ValueError(
            f"The siding or the moulding of {member.mark} is not entered: without them nothing "
            "can be said of what is left."
        )
    timber = (member.sided_mm, member.moulded_mm, known.get("face", "outboard"))
    begins, wide = known.get("soft_from_mm"), known.get("soft_width_mm")
    if begins is None and wide is None:
        return reading_meaning.of_probe(reading.value, *timber)
    if wide is None:
        wide = section_loss.face_width(*timber)
    return reading_meaning.of_drill(begins or 0.0, reading.value, wide, *timber)


def _of_bolt(reading, member, known):
    if not known.get("bolt_mm"):
        raise ValueError("Give the diameter of the bolt when it was new.")
    return reading_meaning.of_bolt(
        reading.value, known["bolt_mm"], known.get("metal", ""), known.get("thread", "")
    )


def _of_moisture(reading, member, known):
    return reading_meaning.of_moisture(
        reading.value,
        member.wood.code if member.wood else None,
        known.get("temperature_c"),
        known.get("treated", False),
    )


def _of_ph(reading, member, known):
    oak = bool(member.wood) and member.wood.botanical_name.startswith("Quercus")
    return reading_meaning.of_ph(reading.value, known.get("sound_ph"), oak)


_MEANINGS = {
    ReadingKind.PROBE: _of_probe,
    ReadingKind.BOLT: _of_bolt,
    ReadingKind.MOISTURE: _of_moisture,
    ReadingKind.PH: _of_ph,
}


def _drawn(reading, member, meaning, units) -> str:
    if not meaning.loss:
        return ""
    return mark_safe(
        section_left_svg(
            meaning.loss,
            sided=size_for(member.sided_mm, units),
            moulded=size_for(member.moulded_mm, units),
            key=str(reading.pk),
            says=f"Section of {member.mark}. {meaning.sentence}",
        )
    )
