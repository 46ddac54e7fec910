import io

from restoration import timber
from restoration.actions.hull_lines import keep_hull_lines
from restoration.actions.vessel_picture import set_picture
from restoration.calc import vocabulary
from restoration.forms.hull_lines import read_signed_mm
from restoration.models import Client, Fastening, HullLines, Joint, Member, Vessel
from timber_stock.web.pictures import take_in

from .read import lengths, mm, read
from .vessel_picture import draw_vessel


def load_vessels() -> None:
    woods = {wood.code: wood for wood in timber.woods()}
    for row in read("vessels")["vessel"]:
        members, joints = row.pop("members", []), row.pop("joint", [])
        drawn_from = row.pop("hull_lines", None)
        vessel = make_vessel(row, woods)
        if drawn_from:
            make_hull_lines(vessel, drawn_from)
        for group in members:
            for member in run_of_members(vessel, group, woods):
                member.full_clean()
                member.save()
        for joint in joints:
            make_joints(vessel, joint)


def make_vessel(row: dict, woods: dict) -> Vessel:
    sizes = lengths(row, "loa", "lwl", "beam", "draught")
    for name in ("loa", "lwl", "beam", "draught"):
        row.pop(name, None)
    row["client"] = Client.objects.get(name=row["client"])
    row["planking_wood"] = woods.get(row.pop("planking_wood", None))
    caption = row.pop("picture", "")
    vessel = Vessel(**row, **sizes)
    vessel.full_clean()
    vessel.save()
    if caption:
        drawn = draw_vessel(vessel.name, vessel.loa_mm, vessel.beam_mm)
        set_picture(vessel=vessel, picture=take_in(io.BytesIO(drawn), caption), caption=caption)
    return vessel


def make_hull_lines(vessel: Vessel, row: dict) -> None:
    names = ("freeboard_bow", "freeboard_least", "freeboard_stern", "overhang_bow")
    sizes = lengths(row, *names)
    moves: dict[str, dict] = {}
    for curve, point, *to in row.get("moves", []):
        moves.setdefault(curve, {})[str(point)] = [read_signed_mm(text, "in") for text in to]
        for name, text in zip(("along", "to"), to, strict=True):
            sizes["as_typed"][f"{curve}_{point}_{name}"] = text
    keep_hull_lines(
        lines=HullLines(
            vessel=vessel,
            hull=row["hull"],
            station_spaces=row["station_spaces"],
            moves=moves,
            **sizes,
        )
    )


def run_of_members(vessel: Vessel, row: dict, woods: dict) -> list[Member]:
    """One member, or `count` of them from `first_station` on, on each of the `sides`."""
    letters = vocabulary.member_kind(row["kind"]).mark_letters
    shared = {
        "vessel": vessel,
        "kind": row["kind"],
        "wood": woods.get(row.get("wood")),
        "material": row.get("material", ""),
        **lengths(row, "sided", "moulded", "length"),
    }
    if "count" not in row:
        first, last = row.get("stations", [None, None])
        return [Member(mark=row["mark"], station_from=first, station_to=last, **shared)]
    members = []
    for n in range(row["count"]):
        station = row["first_station"] + n if "first_station" in row else None
        for side in row.get("sides", "C"):
            mark = f"{letters}{n + 1}{side if side != 'C' else ''}"
            place = {"station_from": station, "station_to": station, "number": n + 1}
            members.append(Member(mark=mark, side=side, **place, **shared))
    return members


def make_joints(vessel: Vessel, row: dict) -> None:
    member = vessel.members.get(mark=row["member"])
    for other in vessel.members.filter(mark__in=row["others"]):
        one, two = sorted([member, other], key=lambda m: m.pk)
        joint = Joint.objects.create(one=one, other=two)
        for said in row.get("fastening", []):
            Fastening.objects.create(
                joint=joint,
                kind=said["kind"],
                metal=said["metal"],
                diameter_mm=mm(said["diameter"]),
                length_mm=mm(said["length"]),
                count=said["count"],
            )
