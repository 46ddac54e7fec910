"""What the bench begins with, as it would be typed."""

from timber_stock import measure
from timber_stock.models import Log, Species
from timber_stock.web.fields import ClockField, format_for

BEGIN_STEP_MM = {"metric": 10.0, "imperial": measure.mm_from_inches(0.5)}
BEGINS = {
    "metric": {
        "butt": "500 mm", "top": "440 mm", "sapwood": "25 mm", "width": "150 mm",
        "thickness": "75 mm", "across": "60 mm", "up": "90 mm",
    },
    "imperial": {
        "butt": "20 in", "top": "17 1/2 in", "sapwood": "1 in", "width": "6 in",
        "thickness": "3 in", "across": "2 1/2 in", "up": "3 1/2 in",
    },
}  # fmt: skip
ALWAYS = {
    "butt_other": "", "butt_heart": "", "butt_clock": "", "top_other": "", "top_heart": "",
    "top_clock": "", "turn": "0",
    "place": "topsides", "moisture": "", "exaggeration": "5", "log": "",
}  # fmt: skip


def begin_bench(units: str, limits: str, log: Log | None = None) -> dict[str, str]:
    """Of no log in particular, or with the ends of one of the stock."""
    system = _system(units)
    begin = {**ALWAYS, **BEGINS[system], "limits": limits}
    return {**begin, **(_from_log(log, units) if log else {"wood": usual_wood()})}


def usual_wood() -> str:
    woods = Species.objects.order_by("common_name").values_list("pk", "code")
    found = {code: pk for pk, code in woods}
    return str(found.get("oak_european") or next(iter(found.values()), ""))


def _from_log(log: Log, units: str) -> dict[str, str]:
    """The log as measured, and a section a third of the way out, to take hold of."""
    least = min(*log.across("butt"), *log.across("top"))
    step = BEGIN_STEP_MM[_system(units)]

    def text(mm: float | None) -> str:
        return "" if mm is None else format_for(mm, units)

    def about(share: float) -> str:
        return text(max(step, round(least * share / step) * step))

    return {
        "log": str(log.pk), "wood": str(log.species_id), "sapwood": text(log.sapwood_mm),
        "butt": text(log.butt_diameter_mm), "butt_other": text(log.butt_diameter_2_mm),
        "top": text(log.top_diameter_mm), "top_other": text(log.top_diameter_2_mm),
        "butt_heart": text(log.butt_heart_offset_mm), "butt_clock": _clock(log.butt_heart_clock),
        "top_heart": text(log.top_heart_offset_mm), "top_clock": _clock(log.top_heart_clock),
        "width": about(0.3), "thickness": about(0.12), "across": text(0.0), "up": about(0.2),
    }  # fmt: skip


def _clock(hours: float | None) -> str:
    return "" if hours is None else ClockField().prepare_value(hours)


def _system(units: str) -> str:
    return "metric" if units == "metric" else "imperial"
