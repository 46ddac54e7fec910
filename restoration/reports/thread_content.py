"""The thread from member to log and back, gathered in one query for page, picture and report.

    member_thread([3, 9]) -> {3: [Chain, Chain], 9: []}
    log_timber(7), board_timber(41), members_timber([3, 9]) -> Timber: the whole trees

A `Chain` is read from its log down: `chain.log` (None when the timber was bought sawn), then
`chain.pieces`, the first sawn from the log and the last the one the member was taken from, then
`chain.use`: which length of that last piece, and when and by whom it was allotted, cut, fitted.
"""

import re
from collections.abc import Sequence

from restoration import timber
from restoration.calc import vocabulary
from restoration.reports.thread_parts import Chain, LogFacts, Piece, Timber, Use

__all__ = [
    "Chain",
    "LogFacts",
    "Piece",
    "Timber",
    "Use",
    "board_timber",
    "log_timber",
    "member_thread",
    "members_timber",
]

FROM_MEMBERS = """
SELECT a.board_id, CAST(NULL AS bigint) FROM restoration_allotment a
JOIN restoration_replacementspec r ON r.id = a.spec_id
JOIN restoration_finding f ON f.id = r.finding_id
WHERE a.withdrawn_on IS NULL AND f.member_id IN ({ids})
"""
FROM_LOG = "SELECT CAST(NULL AS bigint), CAST(%(id)s AS bigint)"
FROM_BOARD = "SELECT CAST(%(id)s AS bigint), CAST(NULL AS bigint)"

_LOG = (
    "tag length_mm butt_diameter_mm top_diameter_mm felled_on felled_note felled_place "
    "received_on solid_mm3 taken_mm3 is_sawn_up"
)
_BOARD = (
    "tag log_id thickness_mm width_mm length_mm heart rings has_sapwood state place received_on"
)
_USE = "id from_mm to_mm allotted_on cut_on cut_by fitted_on fitted_by spec_id"
_VESSEL = ("vessel_id", "vessel_code", "vessel_name")
_COLUMNS = ", ".join(
    [
        "chain.board_id, chain.log_id, chain.parent_id, chain.depth",
        *(f"l.{name} AS l_{name}" for name in _LOG.split()),
        *(f"b.{name} AS b_{name}" for name in _BOARD.split()),
        *(f"a.{name} AS a_{name}" for name in _USE.split()),
        "w.common_name AS wood, w.botanical_name AS botanical_name",
        "p.name AS supplier, p.place AS supplier_place, s.sawn_on AS sawn_on, s.sawn_by AS sawn_by",
        "m.id AS member_id, m.mark AS mark, m.kind AS kind",
        "v.id AS vessel_id, v.code AS vessel_code, v.name AS vessel_name",
        "u.username AS username, u.first_name AS first_name, u.last_name AS last_name",
    ]
)
_JOINS = """
FROM chain
LEFT JOIN timber_stock_log l ON l.id = chain.log_id
LEFT JOIN timber_stock_board b ON b.id = chain.board_id
LEFT JOIN timber_stock_sawing s ON s.id = b.sawing_id
LEFT JOIN timber_stock_species w ON w.id = COALESCE(l.species_id, b.species_id)
LEFT JOIN timber_stock_supplier p ON p.id = COALESCE(l.supplier_id, b.supplier_id)
LEFT JOIN restoration_allotment a ON a.board_id = chain.board_id AND a.withdrawn_on IS NULL
LEFT JOIN restoration_user u ON u.id = a.allotted_by_id
LEFT JOIN restoration_replacementspec r ON r.id = a.spec_id
LEFT JOIN restoration_finding f ON f.id = r.finding_id
LEFT JOIN restoration_member m ON m.id = f.member_id
LEFT JOIN restoration_vessel v ON v.id = m.vessel_id
"""


def member_thread(member_ids: Sequence[int]) -> dict[int, list[Chain]]:
    """The chains of each member named, from the log down; an empty list where nothing is allotted.

    Only what stands: an allotment that was withdrawn is no part of a member's thread.
    """
    chains: dict[int, list[Chain]] = {member_id: [] for member_id in member_ids}
    whole = members_timber(member_ids)
    for use in whole.uses:
        if use.member_id in chains:
            chains[use.member_id].append(whole.chain_of(use))
    return chains


def members_timber(member_ids: Sequence[int]) -> Timber:
    """Every tree that the members named were taken from."""
    if not member_ids:
        return Timber((), (), ())
    parameters: dict[str, object] = {f"m{n}": key for n, key in enumerate(member_ids)}
    ids = ", ".join(f"%({name})s" for name in parameters)
    return _gather(FROM_MEMBERS.format(ids=ids), parameters)


def log_timber(log_id: int) -> Timber:
    return _gather(FROM_LOG, {"id": log_id})


def board_timber(board_id: int) -> Timber:
    return _gather(FROM_BOARD, {"id": board_id})


def _gather(seed: str, parameters: dict[str, object]) -> Timber:
    rows = timber.chain_rows(seed=seed, columns=_COLUMNS, joins=_JOINS, parameters=parameters)
    resawn = {row["parent_id"] for row in rows}
    # A board with three uses comes as three rows.
    pieces = {row["board_id"]: row for row in rows if row["board_id"]}
    in_order = sorted(pieces.values(), key=lambda row: (row["depth"], natural(row["b_tag"])))
    return Timber(
        logs=tuple(_log(row) for row in rows if row["log_id"]),
        pieces=tuple(_piece(row, resawn) for row in in_order),
        uses=tuple(
            sorted(
                (_use(row) for row in rows if row["a_id"]),
                key=lambda use: (use.board_id, use.from_mm),
            )
        ),
    )


def natural(tag: str) -> list[tuple[int, str]]:
    """A key by which L7-2 comes before L7-10."""
    return [
        (int(part), "") if part.isdecimal() else (0, part)
        for part in re.split(r"([0-9]{1,12})", tag)
    ]


def _facts(row: dict, prefix: str) -> dict:
    return {
        name.removeprefix(prefix): value for name, value in row.items() if name.startswith(prefix)
    }


def _shared(row: dict) -> dict:
    names = ("wood", "botanical_name")
    supplied = {name: row[name] or "" for name in ("supplier", "supplier_place")}
    return {name: row[name] for name in names} | supplied


def _log(row: dict) -> LogFacts:
    facts = _facts(row, "l_")
    taken, sawn_up = facts.pop("taken_mm3"), facts.pop("is_sawn_up")
    left = timber.Log(solid_mm3=facts["solid_mm3"], taken_mm3=taken, is_sawn_up=sawn_up)
    return LogFacts(id=row["log_id"], unsawn_mm3=left.unsawn_mm3(), **facts, **_shared(row))


def _piece(row: dict, resawn: set) -> Piece:
    facts = _facts(row, "b_")
    said = timber.Board(**{name: facts.pop(name) for name in ("heart", "rings", "state")})
    return Piece(
        id=row["board_id"],
        parent_id=row["parent_id"],
        depth=row["depth"],
        word=_word(row, resawn),
        heart=said.get_heart_display(),
        rings=said.get_rings_display(),
        state=said.get_state_display(),
        is_in_stock=said.is_in_stock(),
        sawn_on=row["sawn_on"],
        sawn_by=row["sawn_by"] or "",
        **facts,
        **_shared(row),
    )


def _word(row: dict, resawn: set) -> str:
    from_log = row["parent_id"] is None and row["b_log_id"] is not None
    return timber.word_for(out_of_the_log=from_log, resawn=row["board_id"] in resawn)


def _use(row: dict) -> Use:
    named = f"{row['first_name']} {row['last_name']}".strip()
    return Use(
        board_id=row["board_id"],
        board_tag=row["b_tag"],
        allotted_by=named or row["username"],
        term=vocabulary.member_kind(row["kind"]).one,
        **_facts(row, "a_"),
        **{name: row[name] for name in ("member_id", "mark", *_VESSEL)},
    )
