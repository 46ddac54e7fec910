from restoration import timber
from restoration.actions.nesting import Wanted, lay_out_board
from restoration.calc.nesting_pieces import copies
from restoration.calc.nesting_sheet import Defect, Sheet, Station, box, oval
from restoration.forms.nesting import as_candidate
from restoration.models import Allotment, Pattern, ReplacementSpec, User

from .read import mm, read

STEPS = 12


def load_layouts() -> None:
    for row in read("layouts")["layout"]:
        board = timber.Board.objects.get(tag=row["board"])
        lay_out_board(
            board_id=board.pk,
            sheet=_face(row, board),
            wanted=[each for said in row["pieces"] for each in _wanted(said, board)],
            gap_mm=mm(row["gap"]),
            grain_deg=float(row["grain"]),
            by=User.objects.get(username=row["by"]),
            steps=STEPS,
            note=row["note"],
        )


def _face(row: dict, board) -> Sheet:
    return Sheet(
        length_mm=mm(row["length"]),
        thickness_mm=mm(row["thickness"]),
        stations=tuple(Station(*map(mm, station)) for station in row["edges"]),
        butt_check_mm=mm(row["butt_check"]),
        top_check_mm=mm(row["top_check"]),
        sapwood_left_mm=mm(row["sapwood_left"]),
        sapwood_right_mm=mm(row["sapwood_right"]),
        defects=(*_promised(board), *(_defect(*said) for said in row["defects"])),
    )


def _promised(board) -> list[Defect]:
    standing = Allotment.objects.standing().filter(board_id=board.pk).order_by("from_mm")
    middles = [((each.from_mm + each.to_mm) / 2, each.length_mm()) for each in standing]
    return [Defect("used", box(at, 0, long, 2 * board.width_mm)) for at, long in middles]


def _defect(kind: str, *sizes: str) -> Defect:
    along, across, long, wide, clear = (_signed(size) for size in sizes)
    shape = oval if kind == "knot" else box
    return Defect(kind, shape(along, across, long, wide), clear)


def _signed(text: str) -> float:
    return -mm(text[1:]) if text.startswith("-") else mm(text)


def _wanted(said: dict, board) -> list[Wanted]:
    spec = ReplacementSpec.objects.for_list().get(
        finding__member__vessel__code=said["vessel"], finding__member__mark=said["member"]
    )
    pattern = None
    if name := said.get("pattern"):
        pattern = Pattern.objects.standing().get(member=spec.finding.member, name=name)
    each = as_candidate(spec, board, pattern)
    made = copies(each.piece, said.get("count", 1), other_side=said.get("other", 0))
    whose = None if said.get("spare") else spec
    return [Wanted(piece, whose, pattern) for piece in made]
