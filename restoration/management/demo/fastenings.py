"""New fastenings of three joints and a plank, laid out through the same actions as the pages."""

from restoration import timber
from restoration.actions.fastening_plans import keep_plan, keep_planned_fastening, lay_holes
from restoration.actions.members import join_members
from restoration.calc.fastening_layout import rows_of_holes
from restoration.models import FasteningPlan, Joint, PlannedFastening, Vessel

from .read import lengths, mm, read

PLAIN = (
    "name", "load_deg", "moisture", "place_in_boat", "scarf_of", "note", "head_grain_deg",
    "point_grain_deg", "head_runs_on", "point_runs_on",
)  # fmt: skip


def load_fastenings() -> None:
    said = read("fastenings")
    woods = {wood.code: wood for wood in timber.woods()}
    for figure in said["own_figure"]:
        figure["species"] = woods[figure.pop("wood")]
        kept = timber.WoodFigure(**figure, entered_by="Demonstration yard")
        kept.full_clean()
        kept.save()
    for row in said["layout"]:
        plan = lay_out(row, woods)
        for fastening in row["fastening"]:
            add_fastening(plan, fastening)


def lay_out(row: dict, woods: dict) -> FasteningPlan:
    vessel = Vessel.objects.get(code=row["vessel"])
    heads, behind = (vessel.members.get(mark=row[name]) for name in ("heads_in", "on"))
    if row.get("joined_first"):
        join_members(member=heads, others=[behind])
    one, other = sorted([heads, behind], key=lambda member: member.pk)
    sizes = lengths(row, "length", "width", "head_thickness", "point_thickness", "scarf_depth")
    plan = FasteningPlan(
        joint=Joint.objects.get(one=one, other=other),
        head_in_other=heads.pk == other.pk,
        head_wood=woods.get(row.get("head_wood")),
        **{name: row[name] for name in PLAIN if name in row},
        **sizes,
    )
    return keep_plan(plan=plan)


def add_fastening(plan: FasteningPlan, row: dict) -> None:
    old = plan.joint.fastenings.filter(metal=row["replaces"]).first() if "replaces" in row else None
    fastening = PlannedFastening(
        plan=plan,
        kind=row["kind"],
        metal=row["metal"],
        thread=row.get("thread", ""),
        replaces=old,
        **lengths(row, "diameter", "length", "washer", "washer_thick", "old_least"),
    )
    keep_planned_fastening(fastening=fastening)
    for x, y, along, apart, rows, rows_apart, staggered in row["rows"]:
        first = (mm(x), mm(y))
        places = rows_of_holes(
            first, along, mm(apart) or 0.0, rows, mm(rows_apart) or 0.0, staggered
        )
        lay_holes(fastening=fastening, places=places)
