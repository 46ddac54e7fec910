"""What labels say: of logs, boards and members, each with the address of its thread."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from django.db.models import QuerySet

from restoration import timber
from restoration.models import Allotment, Member, ReplacementSpec, Vessel
from restoration.reports.pdf.words import length, sizes
from restoration.reports.thread_content import natural
from timber_stock.web.addresses import row_number

KINDS = ("log", "board", "member")
MOST = 600


@dataclass(frozen=True)
class Label:
    """`key` is its kind and its row, such as board-12. `ring_mark` names the little drawing of
    how the rings run: quarter, rift, flat, mixed, log or none (""); `rings` says it."""

    key: str
    tag: str
    wood: str
    size: str
    ring_mark: str
    rings: str
    member: str
    vessel: str
    address: str


@dataclass(frozen=True)
class Group:
    """Labels to choose from, under what they have in common: the first of `of_all` there are."""

    title: str
    labels: tuple[Label, ...]
    of_all: int = 0

    @property
    def is_cut_short(self) -> bool:
        return self.of_all > len(self.labels)


Address = Callable[[str], str]


def of_log(log: timber.Log, units: str, address: Address, text: str = "") -> list[Group]:
    """The log itself, and every piece of it that is still there and whose tag or wood holds
    the text."""
    boards = timber.Board.objects.in_stock().filter(log=log).matching(text)
    return [
        Group(f"Log {log.tag}", (_log(log, units, address),)),
        _group(f"Boards of log {log.tag}", boards, _boards(boards, units, address)),
    ]


def of_vessel(vessel: Vessel, units: str, address: Address, text: str = "") -> list[Group]:
    """Her members whose mark or kind holds the text, and the boards promised to her members
    whose tag or wood does."""
    promised = Allotment.objects.standing().filter(spec__finding__member__vessel=vessel)
    boards = timber.Board.objects.filter(pk__in=promised.values("board_id")).matching(text)
    members = vessel.members.marked_or_of_kind(text)
    return [
        _group(f"Boards for {vessel.name}", boards, _boards(boards, units, address)),
        _group(f"Members of {vessel.name}", members, _members(members, units, address)),
    ]


def by_text(text: str, units: str, address: Address) -> list[Group]:
    """Logs and boards whose tag or wood holds the text, of what is in the yard."""
    logs = timber.Log.objects.not_sawn_up().matching(text).for_list()
    boards = timber.Board.objects.in_stock().matching(text)
    return [
        _group("Logs", logs, tuple(_log(log, units, address) for log in logs[:MOST])),
        _group("Boards", boards, _boards(boards, units, address)),
    ]


def _group(title: str, rows: QuerySet, labels: tuple[Label, ...]) -> Group:
    """Counted only where there may be more than are offered."""
    return Group(title, labels, rows.count() if len(labels) >= MOST else len(labels))


def by_keys(keys: Sequence[str], units: str, address: Address) -> list[Label]:
    """The labels of these rows, in the order asked for; what is no longer there is left out."""
    ids = defaultdict(list)
    for key in keys[:MOST]:
        kind, _, said = key.partition("-")
        if kind in KINDS and (number := row_number(said)) is not None:
            ids[kind].append(number)
    logs = timber.Log.objects.for_list().filter(pk__in=ids["log"])
    found = [
        *(_log(log, units, address) for log in logs),
        *_boards(timber.Board.objects.filter(pk__in=ids["board"]), units, address),
        *_members(Member.objects.filter(pk__in=ids["member"]), units, address),
    ]
    by_key = {label.key: label for label in found}
    return [by_key[key] for key in dict.fromkeys(keys) if key in by_key]


def _log(log: timber.Log, units: str, address: Address) -> Label:
    butt, top = (length(mm, units) for mm in (log.butt_diameter_mm, log.top_diameter_mm))
    return Label(
        key=f"log-{log.pk}",
        tag=log.tag,
        wood=log.species.common_name,
        size=f"{length(log.length_mm, units)} long, butt {butt}, top {top}",
        ring_mark="log",
        rings="log, the heart in it",
        member="",
        vessel=", ".join(p for p in (log.supplier.name if log.supplier else "", log.place) if p),
        address=address(log.tag),
    )


def _boards(boards, units: str, address: Address) -> tuple[Label, ...]:
    rows = sorted(boards.select_related("species")[:MOST], key=lambda board: natural(board.tag))
    whose = _promised(rows)
    return tuple(_board(board, whose[board.pk], units, address) for board in rows)


def _promised(boards: Iterable[timber.Board]) -> dict[int, list[Member]]:
    found = defaultdict(list)
    standing = Allotment.objects.standing().filter(board__in=[board.pk for board in boards])
    for each in standing.select_related("spec__finding__member__vessel").order_by("from_mm"):
        found[each.board_id].append(each.spec.finding.member)
    return found


def _board(board: timber.Board, members: list[Member], units: str, address: Address) -> Label:
    heart = "" if board.heart == "unknown" else board.get_heart_display()
    rings = "rings not known" if board.rings == "unknown" else board.get_rings_display()
    return Label(
        key=f"board-{board.pk}",
        tag=board.tag,
        wood=board.species.common_name,
        size=_size(units, board.thickness_mm, board.width_mm, board.length_mm),
        ring_mark=board.rings if board.rings != "unknown" else "",
        rings=", ".join(part for part in (rings, heart) if part),
        member=_for_whom(list(dict.fromkeys(members))),
        vessel=", ".join(dict.fromkeys(member.vessel.name for member in members)),
        address=address(board.tag),
    )


def _size(units: str, one_mm, other_mm, long_mm) -> str:
    """2 5/8 × 5 3/8 in × 8 ft, or 66 × 136 × 2438 mm; what is not known is left out."""
    parts = sizes(units, one_mm, other_mm, None)
    parts += [] if long_mm is None else [length(long_mm, units)]
    return " × ".join(parts).replace(" mm ×", " ×")


def _for_whom(members: Sequence[Member]) -> str:
    """The marks alone of several: on a small label their kinds would push the last ones out."""
    marks = [f"{member.vessel.code}-{member.mark}" for member in members]
    return f"{marks[0]} {members[0].term()}" if len(marks) == 1 else ", ".join(marks)


def _members(members, units: str, address: Address) -> tuple[Label, ...]:
    rows = list(members.along_the_hull().select_related("vessel", "wood")[:MOST])
    asked = {
        spec.finding.member_id: spec
        for spec in ReplacementSpec.objects.open()
        .filter(finding__member__in=[member.pk for member in rows])
        .select_related("finding", "wood")
        .order_by("specified_at", "pk")
    }
    return tuple(_member(member, asked.get(member.pk), units, address) for member in rows)


def _member(member: Member, spec: ReplacementSpec | None, units: str, address: Address) -> Label:
    """By what is to replace it, where that is specified; else by what it is."""
    sized = spec or member
    wood = spec.wood.common_name if spec else member.material
    if not spec and member.wood:
        wood = member.wood.common_name
    rings = spec.rings if spec and spec.rings != "any" else ""
    tag = f"{member.vessel.code}-{member.mark}"
    return Label(
        key=f"member-{member.pk}",
        tag=tag,
        wood=wood or "wood not stated",
        size=_size(units, sized.sided_mm, sized.moulded_mm, sized.length_mm),
        ring_mark=rings,
        rings=f"rings {spec.get_rings_display()}" if rings else "",
        member=member.term(),
        vessel=member.vessel.name,
        address=address(tag),
    )  # fmt: skip
