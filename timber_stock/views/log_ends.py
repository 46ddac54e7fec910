"""Both ends of a log, drawn for a page."""

from timber_stock.drawings.log_end import LogEnd, log_end_svg
from timber_stock.models import Log
from timber_stock.templatetags.measures import clock, length


def drawn_ends(log: Log, units: str) -> list[dict]:
    """Both ends as one faces each of them, at one scale."""
    right, up = log.butt_heart_mm()
    butt = _end(log, "Butt", (right, up), units)
    right, up = log.top_heart_mm()
    top = _end(log, "Top", (-right, up), units)
    widest = max(*log.across("butt"), *log.across("top"))
    return [{"end": end, "svg": log_end_svg(end, widest_mm=widest)} for end in (butt, top)]


def _end(log: Log, name: str, heart_mm: tuple[float, float], units: str) -> LogEnd:
    first, other = log.across(name.lower())
    across = length(first, units)
    both = across if first == other else f"{across} by {length(other, units)}"
    offset = getattr(log, f"{name.lower()}_heart_offset_mm")
    towards = getattr(log, f"{name.lower()}_heart_clock")
    heart = f"{length(offset, units)} off centre towards {clock(towards)}" if offset else "central"
    sapwood = f", sapwood {length(log.sapwood_mm, units)}" if log.sapwood_mm else ""
    return LogEnd(
        name, first, *heart_mm, log.sapwood_mm, across,
        f"{both} across, heart {heart}{sapwood}", other,
    )  # fmt: skip
