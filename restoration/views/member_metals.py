"""The metals that meet in a member and its joints, against one named galvanic series."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from django.utils.safestring import mark_safe

from restoration.calc import galvanic, metal_names
from restoration.drawings.galvanic_scale import galvanic_scale_svg
from restoration.models import Joint, Member


@dataclass(frozen=True)
class Named:
    """A metal as it is written down, where, and what the tables call it ("" if they do not)."""

    words: str
    where: str
    code: str

    @property
    def taken_as(self) -> str:
        return galvanic.metals()[self.code].name if self.code else ""


def metals_named(member: Member, joints: Sequence[tuple[Joint, Member]]) -> list[Named]:
    """Each wording once: the member's own material, its partners' and the fastenings'."""
    found = [(member.material, member.mark)]
    for joint, partner in joints:
        found.append((partner.material, partner.mark))
        found += [
            (fastening.metal, f"joint to {partner.mark}")
            for fastening in joint.fastenings.all()
            if fastening.kind != "treenail"
        ]
    first: dict[str, str] = {}
    for words, where in found:
        if words.strip():
            first.setdefault(words.strip(), where)
    return [Named(words, where, metal_names.metal_named(words)) for words, where in first.items()]


def metals_of(member: Member, joints: Sequence[tuple[Joint, Member]], asked: str = "") -> dict:
    """For the template: the metals, the series, its couples and what the series do not agree on."""
    return metals_shown(metals_named(member, joints), asked)


def metals_shown(named: list[Named], asked: str = "") -> dict:
    """The same of metals that are named already."""
    codes = list(dict.fromkeys(one.code for one in named if one.code))
    if len(codes) < 2:
        return {"metals": named}
    series = asked if asked in galvanic.series_titles() else _that_holds_most(codes)
    held = [code for code in codes if galvanic.potential(code, series)]
    return {
        "metals": named,
        "series": series,
        "series_title": galvanic.series_titles()[series],
        "all_series": galvanic.series_titles(),
        "held": [(galvanic.metals()[code], galvanic.potential(code, series)) for code in held],
        "not_held": [_where_else(code) for code in codes if code not in held],
        "couples": [(couple, _elsewhere(couple, series)) for couple in _couples(codes, series)],
        "conflicts": {
            galvanic.metals()[code].name: galvanic.disagreements(code)
            for code in codes
            if galvanic.disagreements(code)
        },
        "galvanic_svg": _drawn(held, series),
        "galvanic_caution": galvanic.CAUTION,
    }


def _that_holds_most(codes: Sequence[str]) -> str:
    """The series with a value for most of the metals; of equals where they lie furthest apart."""

    def worth(series: str) -> tuple[int, float]:
        held = [galvanic.potential(code, series) for code in codes]
        volts = [each.middle_v for each in held if each]
        return len(volts), max(volts, default=0) - min(volts, default=0)

    return max(galvanic.series_titles(), key=worth)


def _couples(codes: Sequence[str], series: str) -> list[galvanic.Couple]:
    """Every pair, furthest apart first: in this series, or else in another that holds both.

    No pair is left out because the series shown lacks one of its metals, and none mixes two.
    """
    found = []
    for one, other in combinations(codes, 2):
        both = [
            each
            for each in (series, *galvanic.series_titles())
            if galvanic.potential(one, each) and galvanic.potential(other, each)
        ]
        found += [galvanic.couple(one, other, both[0])] if both else []
    return sorted(found, key=lambda couple: -couple.greatest_v)


def _elsewhere(couple: galvanic.Couple, series: str) -> str:
    """The title of the series a couple is taken from, "" for the one shown."""
    own = couple.noble_potential.series
    return "" if own == series else galvanic.series_titles()[own]


def _where_else(code: str) -> str:
    titles = galvanic.series_titles()
    others = "; ".join(titles[series] for series in galvanic.potentials(code))
    return f"{galvanic.metals()[code].name}: {f'in {others}' if others else 'in none held here'}."


def _drawn(held: Sequence[str], series: str) -> str:
    if not held:
        return ""
    bars = [(galvanic.metals()[code].name, galvanic.potential(code, series)) for code in held]
    bars.sort(key=lambda bar: -bar[1].middle_v)
    said = "; ".join(f"{name} {p.less_noble_v:+.2f} to {p.more_noble_v:+.2f} V" for name, p in bars)
    couples = galvanic.couples(held, series)
    return mark_safe(galvanic_scale_svg(bars, couples[0] if couples else None, said))
