"""What a layout holds, and the metals that meet in it: the two pages beside its drawing."""

from django.db.models import Q
from django.shortcuts import get_object_or_404, render

from restoration.calc import keel_bolts
from restoration.calc.bolt_loss import CAUTION as WASTED_CAUTION
from restoration.calc.bolt_loss import fastening_metals
from restoration.calc.fastening_moisture import GREEN_NAILS, NAILS, SOURCE
from restoration.calc.fastening_timbers import CHARACTERISTIC_BASIS, Timber
from restoration.calc.group_action import CAUTION as GROUP_CAUTION
from restoration.calc.group_action import SOURCE as GROUP_SOURCE
from restoration.calc.washers import LLOYDS, STANDARD_WASHER, washer_for_load_mm, washer_rules
from restoration.models import FasteningPlan, Joint
from restoration.views.fastening_facts import (
    Line,
    Woods,
    distances_of,
    has_ballast,
    lines_of,
    woods_of,
)
from restoration.views.fastening_nuts import nuts_of
from restoration.views.fastening_old import against_of
from restoration.views.fastening_plans import about
from restoration.views.member_metals import Named, metals_named, metals_shown


def fastening_strength(request, plan_id):
    """Withdrawal and lateral strength, two opinions side by side; washers; nuts to take up."""
    plan = get_object_or_404(FasteningPlan.objects.whole(), pk=plan_id)
    woods = woods_of(plan)
    lines = lines_of(plan, woods, distances_of(plan, woods))
    context = {
        **about(plan),
        "lines": lines,
        "unknown": woods.unknown,
        "metal": sorted(woods.metal),
        "woods": [each.wood for each in woods.both if each.wood],
        "characteristic_basis": CHARACTERISTIC_BASIS,
        "moisture_source": SOURCE,
        "group_source": GROUP_SOURCE,
        "group_caution": GROUP_CAUTION,
        "green_nails": _nails_in_green(plan),
        "washers": [_washers(line, woods, plan) for line in lines if line.fastening.kind == "bolt"],
        "standard_washer": STANDARD_WASHER,
        "has_nuts": any(line.fastening.kind == "bolt" for line in lines),
        "nuts": nuts_of(plan),
    }
    return render(request, "restoration/fastening_strength.html", context)


def fastening_metals_page(request, plan_id):
    """Old metal against new, the wasted old ones, the galvanic pairs, and keel bolts."""
    plan = get_object_or_404(FasteningPlan.objects.whole(), pk=plan_id)
    counts = {each.pk: len(each.holes.all()) for each in plan.fastenings.all()}
    compared = [against_of(each, counts[each.pk]) for each in plan.fastenings.all()]
    context = {
        **about(plan),
        "compared": [each for each in compared if each],
        "wasted_caution": WASTED_CAUTION,
        "keel": _keel_bolts(plan),
        "keel_prompts": keel_bolts.PROMPTS,
        **_pairs_of_the_new(plan, metals_shown(_metals(plan), request.GET.get("series", ""))),
    }
    return render(request, "restoration/fastening_metals.html", context)


def _nails_in_green(plan: FasteningPlan):
    kinds = {each.kind for each in plan.fastenings.all()}
    return GREEN_NAILS if plan.moisture == "drying" and kinds & NAILS else None


def _washers(line: Line, woods: Woods, plan: FasteningPlan) -> dict:
    """The rules for a bolt's washer, and the one under which the wood bears what the bolt does."""
    size = line.fastening.size()
    stresses = [(each, _across_grain(each, plan)) for each in woods.of_wood]
    bears = [(stress, each.name) for each, stress in stresses if stress]
    least, on = min(bears, default=(None, ""))
    yields = size.tension_area_mm2 * size.yield_mpa
    return {
        "line": line,
        "rules": [
            (rule, rule.short(size.washer_mm, line.fastening.washer_thick_mm))
            for rule in washer_rules(size.diameter_mm)
            if has_ballast(plan) or rule.source != LLOYDS
        ],
        "full_mm": washer_for_load_mm(yields, size.bearing_hole_mm, least) if least else None,
        "on": on,
        "unknown": ", ".join(each.name for each, stress in stresses if not stress),
        "yields_n": yields,
    }


def _across_grain(timber: Timber, plan: FasteningPlan) -> float | None:
    """Stress across the grain of a timber in the state it is in, where it is known."""
    if timber.wood is None:
        return None
    return timber.wood.across_grain(plan.moisture == "dry")[0]


def _pairs_of_the_new(plan: FasteningPlan, shown: dict) -> dict:
    """Of all pairs those that a new fastening makes; the others were there before it."""
    held = fastening_metals()
    new = {held[each.metal].galvanic for each in plan.fastenings.all()}
    if not new or "couples" not in shown:
        return shown
    pairs = [
        (couple, elsewhere)
        for couple, elsewhere in shown["couples"]
        if {couple.noble.code, couple.wastes.code} & new
    ]
    return {**shown, "couples": pairs}


def _metals(plan: FasteningPlan) -> list[Named]:
    """The new metals first, then all that touch either timber and the joints of both."""
    held = fastening_metals()
    found = {
        held[each.metal].name: Named(
            held[each.metal].name, "new in this layout", held[each.metal].galvanic
        )
        for each in plan.fastenings.all()
        if each.kind != "treenail"
    }
    members = (plan.joint.one, plan.joint.other)
    joints = Joint.objects.filter(Q(one__in=members) | Q(other__in=members)).select_related(
        "one", "other"
    )
    of_member = list(joints.prefetch_related("fastenings"))
    replaced = {each.replaces_id for each in plan.fastenings.all() if each.replaces_id}
    for member in members:
        own = [
            (joint, joint.partner_of(member))
            for joint in of_member
            if member.pk in (joint.one_id, joint.other_id)
        ]
        for named in metals_named(member, own):
            found.setdefault(named.words, named)
    return _without_replaced(found, of_member, replaced)


def _without_replaced(found: dict, joints: list, replaced: set) -> list[Named]:
    """A metal that only old fastenings have which this layout replaces touches nothing any more."""
    gone = {f.metal.strip() for j in joints for f in j.fastenings.all() if f.pk in replaced}
    stays = {f.metal.strip() for j in joints for f in j.fastenings.all() if f.pk not in replaced}
    stays |= {m.material.strip() for j in joints for m in (j.one, j.other)}
    return [
        named
        for words, named in found.items()
        if words not in gone or words in stays or named.where == "new in this layout"
    ]


def _keel_bolts(plan: FasteningPlan) -> list[tuple]:
    """The published conditions of each line of bolts, where one of the two is a ballast keel."""
    if not has_ballast(plan):
        return []
    places: dict[int, list[float]] = {}
    for row, _ in plan.numbered:
        places.setdefault(row.fastening_id, []).append(row.y_mm - plan.width_mm / 2)
    return [
        (
            each,
            keel_bolts.conditions(
                each.diameter_mm, each.washer_mm, each.washer_thick_mm,
                tuple(places.get(each.pk, ())),
            ),
            keel_bolts.two_for_one_mm(each.diameter_mm),
        )
        for each in plan.fastenings.all()
        if each.kind == "bolt"
    ]  # fmt: skip
