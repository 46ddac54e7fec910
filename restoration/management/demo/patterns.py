from restoration.actions.patterns import keep_pattern
from restoration.calc.pattern import Pattern
from restoration.calc.pattern_extras import bevels_from_table, holes_from_table, lines_from_table
from restoration.calc.pattern_offsets import outline_from_table
from restoration.models import Member, User
from restoration.models.pattern import Taken

from .pattern_photographs import load_pattern_photographs
from .read import mm, read


def load_patterns() -> None:
    yard = User.objects.get(username="yard")
    for row in read("patterns")["pattern"]:
        keep_pattern(
            member=Member.objects.get(vessel__code=row["vessel"], mark=row["member"]),
            pattern=_shape(row),
            name=row["name"],
            taken=Taken.OFFSETS,
            by=yard,
            turns_over=row.get("turns_over", False),
            taken_on=row["on"],
            note=row["note"],
            as_entered=_as_typed(row),
        )
    load_pattern_photographs()


def _shape(row: dict) -> Pattern:
    unit = row["bare_unit"]
    taken = outline_from_table(row["outline"], way=row["way"], bare_unit=unit, fair=row["fair"])
    return Pattern(
        outline_mm=taken.outline_mm,
        sided_mm=mm(row["sided"]),
        lines=(*taken.lines, *lines_from_table(row.get("lines", ""), unit)),
        holes=holes_from_table(row.get("holes", ""), unit),
        bevels=bevels_from_table(row.get("bevels", ""), unit),
        grain_deg=float(row.get("grain", 0)),
    )


def _as_typed(row: dict) -> dict:
    tables = {name: row.get(name, "").strip() for name in ("outline", "lines", "holes", "bevels")}
    return {**tables, **{name: row[name] for name in ("way", "bare_unit", "fair", "sided")}}
