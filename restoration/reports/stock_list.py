"""What timber there is, as a paper: the logs or the boards that a list was narrowed to."""

from collections.abc import Sequence
from datetime import date

from restoration import timber
from restoration.models import Yard
from restoration.reports.paper import Facts, Head, Line, Paper, Table, Words
from restoration.reports.pdf.words import count, day, length, number
from timber_stock.templatetags.measures import board_feet, cubic, section

MOST = 3000
NOTHING = (
    "Nothing in the stock is like that. Narrow the list less on its page in the register, or enter "
    "what is in the yard, and print this again."
)
LEFT = "Left in it"
BOARD_HEADS = (
    Head("Board", 24), Head("Wood", 34), Head("Thickness × width × length", 50), Head("Heart", 24),
    Head("Rings", 25), Head("State", 18), Head("Moisture", 25), Head("Where it lies", 36),
    Head("Held for", 30), Head(LEFT, 22, figures=True),
)  # fmt: skip
LOG_HEADS = (
    Head("Log", 24), Head("Wood", 40), Head("Length", 31, figures=True),
    Head("Butt", 29, figures=True), Head("Top", 29, figures=True),
    Head("Solid", 22, figures=True), Head(LEFT, 22, figures=True),
    Head("Where it lies", 36), Head("Supplier", 38),
)  # fmt: skip


def board_list(
    boards: Sequence[timber.Board], narrowed: Sequence[tuple[str, str]], *, units: str, on: date
) -> Paper:
    """`boards` with their last reading; `narrowed` says what the list was narrowed to."""
    lines = [_board(board, units) for board in boards[:MOST]]
    total = sum(_left_mm3(board) for board in boards)
    return _paper("Boards", BOARD_HEADS, lines, len(boards), total, narrowed, on)


def log_list(
    logs: Sequence[timber.Log], narrowed: Sequence[tuple[str, str]], *, units: str, on: date
) -> Paper:
    lines = [_log(log, units) for log in logs[:MOST]]
    total = sum(log.unsawn_mm3() for log in logs)
    return _paper("Logs", LOG_HEADS, lines, len(logs), total, narrowed, on)


def _paper(what, heads, lines, found: int, total_mm3: float, narrowed, on: date) -> Paper:
    yard = Yard.current()
    one = "board" if what == "Boards" else "log"
    volume = f"{cubic(total_mm3)} ({board_feet(total_mm3)})"
    facts = Facts(
        (
            ("On the list", count(found, one)),
            ("Left in them, together", volume),
            ("Narrowed to", "\n".join(f"{name}: {said}" for name, said in narrowed) or "nothing"),
        )
    )
    table = Table(heads, (*lines, _together(heads, total_mm3)))
    blocks = [facts, table] if lines else [facts, Words(NOTHING)]
    if found > MOST:
        blocks.append(Words(f"The first {MOST} of {found}: narrow the list to print the others."))
    return Paper(
        kind="Stock list",
        of=f"{what.lower()}, {day(on)}",
        author=yard.name,
        foot=(("Yard", yard.name), ("List of", what.lower()), ("Printed", day(on))),
        file_name=f"{what}-{on:%Y-%m-%d}",
        blocks=tuple(blocks),
    )


def _left_mm3(board: timber.Board) -> float:
    """A board that is resawn, used or gone holds nothing any more: what became of it counts."""
    return board.left_mm3() if board.is_in_stock() else 0.0


def _together(heads: Sequence[Head], total_mm3: float) -> Line:
    cells = [cubic(total_mm3) if head.text == LEFT else "" for head in heads]
    return Line(("Together", *cells[1:]), is_total=True)


def _board(board: timber.Board, units: str) -> Line:
    read = "no reading"
    if board.last_read_on:
        read = f"{number(board.last_percent)} %, {day(board.last_read_on)}"
    return Line(
        (
            board.tag,
            board.species.common_name,
            section(board, units),
            board.get_heart_display() + (", with sapwood" if board.has_sapwood else ""),
            board.get_rings_display(),
            board.get_state_display(),
            read,
            board.place,
            board.held_for,
            cubic(_left_mm3(board)) if board.is_in_stock() else "–",
        )
    )


def _log(log: timber.Log, units: str) -> Line:
    return Line(
        (
            log.tag,
            f"{log.species.common_name}\n({log.species.botanical_name})",
            length(log.length_mm, units),
            length(log.butt_diameter_mm, units),
            length(log.top_diameter_mm, units),
            cubic(log.solid_mm3),
            "sawn up" if log.is_sawn_up else cubic(log.unsawn_mm3()),
            log.place,
            log.supplier.name if log.supplier else "",
        )
    )
