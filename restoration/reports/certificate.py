"""The certificate of origin of one member: from the hull, length by length, back to the log."""

from collections.abc import Sequence
from datetime import date

from restoration.drawings.thread import draw_thread
from restoration.models import Member, ReplacementSpec, Yard
from restoration.reports.paper import (
    Block,
    Caution,
    Facts,
    Figure,
    Head,
    Heading,
    Line,
    Paper,
    Scan,
    Signatures,
    Table,
    Words,
)
from restoration.reports.pdf.words import day, length, listed, sizes
from restoration.reports.provenance import provenance
from restoration.reports.thread_content import members_timber
from restoration.reports.thread_lookup import member_answer
from restoration.reports.thread_parts import Chain, LogFacts, Piece, Timber
from restoration.reports.thread_picture import ThreadPicture

KIND = "Certificate of origin"
STANDING = (
    "What stands here is what the yard's register records: which length of which board went into "
    "the member, out of which log, on what day and by whose hand. It is not a test of the timber's "
    "strength, not a class certificate, and no proof of lawful felling beyond the papers named."
)
NONE_YET = (
    "No timber is allotted to this member yet, so there is no origin to certify. Its thread begins "
    "with a finding and a specification, then a length of a board."
)
STEPS = (
    Head("Tag", 28),
    Head("What", 15),
    Head("Wood", 40),
    Head("Size", 44),
    Head("Heart and rings", 27),
    Head("Where it came from", 50),
)
MOST_ACROSS = 4
"""So many steps of a thread side by side on paper can still be read."""


def certificate(
    member: Member,
    *,
    units: str,
    on: date,
    address: str,
) -> Paper:
    """`address` leads to the member's thread."""
    yard = Yard.current()
    timber = members_timber([member.pk])
    chains = [timber.chain_of(use) for use in timber.uses if use.member_id == member.pk]
    name = f"{member.vessel.code}-{member.mark}"
    return Paper(
        kind=KIND,
        of=f"{member.term()} {member.mark} of {member.vessel.name}",
        author=yard.name,
        foot=(("Yard", yard.name), ("Member", name), ("Drawn up", day(on))),
        file_name=f"{name}-certificate-of-origin",
        blocks=(
            _particulars(member, chains, units),
            *(_of_timber(member, chains, units) if chains else [Words(NONE_YET)]),
            Scan(address, "Follow the thread in the register, with leave to sign in:"),
            Caution(STANDING),
            Signatures((f"For the yard: {yard.name}",)),
        ),
    )  # fmt: skip


def _particulars(member: Member, chains: Sequence[Chain], units: str) -> Facts:
    vessel = member.vessel
    spec = _newest_spec(member)
    numbers = ", ".join(n for n in (vessel.official_number, vessel.sail_number) if n)
    size = sizes(units, member.sided_mm, member.moulded_mm, member.length_mm)
    asked = sizes(units, spec.sided_mm, spec.moulded_mm, spec.length_mm) if spec else []
    woods = dict.fromkeys(f"{c.pieces[-1].wood} ({c.pieces[-1].botanical_name})" for c in chains)
    return Facts(
        (
            ("Vessel", f"{vessel.name} ({vessel.code})"),
            ("Her numbers", numbers or "not stated"),
            ("Built", ", ".join(str(p) for p in (vessel.built_year, vessel.built_place) if p)
             or "not stated"),
            ("Member", f"{member.mark} {member.term()}"),
            ("Wood of the new timber", listed(list(woods)) or "none yet"),
            ("Size asked for" if asked else "Size on record", ", ".join(asked or size)
             or "not stated"),
        )
    )  # fmt: skip


def _newest_spec(member: Member) -> ReplacementSpec | None:
    specs = ReplacementSpec.objects.open().filter(finding__member=member)
    return specs.order_by("-specified_at", "-pk").first()


def _of_timber(member: Member, chains: Sequence[Chain], units: str) -> list[Block]:
    blocks: list[Block] = [Heading("From the member to its log", "thread")]
    for number, chain in enumerate(chains, 1):
        blocks += _of_chain(chain, number if len(chains) > 1 else None, units)
    blocks += [_picture(member, chains, units), Heading("Where the logs grew", "grown")]
    logs = {chain.log.id: chain.log for chain in chains if chain.log}
    kept = provenance(logs)
    for log in logs.values():
        blocks += [_grown(log), *kept[log.id]]
    bought = [chain.pieces[0] for chain in chains if chain.log is None]
    blocks += [Words(_bought(piece)) for piece in bought]
    return blocks


def _of_chain(chain: Chain, number: int | None, units: str) -> list[Block]:
    use, board = chain.use, chain.pieces[-1]
    lead = f"Length {number}: f" if number else "F"
    said = (
        f"{lead}rom {length(use.from_mm, units)} to {length(use.to_mm, units)} of {board.word} "
        f"{board.tag}; allotted {day(use.allotted_on)} by {use.allotted_by}"
    )
    said += f", cut {day(use.cut_on)} by {use.cut_by}" if use.cut_on else ", not cut yet"
    if use.fitted_on:
        said += f", fitted {day(use.fitted_on)} by {use.fitted_by}."
    else:
        said += "; it is not fitted yet." if use.cut_on else " and not fitted."
    lines = [_log_line(chain.log, units)] if chain.log else []
    lines += [_piece_line(piece, above, units) for piece, above in _with_above(chain)]
    return [Words(said), Table(STEPS, tuple(lines), "From the log down to the board")]


def _with_above(chain: Chain) -> list[tuple[Piece, str]]:
    """Each piece with the tag of what it was sawn from; "" where that is not on record."""
    above = [chain.log.tag if chain.log else "", *(piece.tag for piece in chain.pieces)]
    return list(zip(chain.pieces, above, strict=False))


def _log_line(log: LogFacts, units: str) -> Line:
    size = (
        f"{length(log.length_mm, units)} long\n{length(log.butt_diameter_mm, units)} butt, "
        f"{length(log.top_diameter_mm, units)} top"
    )
    felled = f"felled {day(log.felled_on, log.felled_note or 'on a day not known')}"
    came = "; ".join(part for part in (felled, _from(log)) if part)
    return Line((log.tag, "log", f"{log.wood}\n({log.botanical_name})", size, "–", came))


def _piece_line(piece: Piece, above: str, units: str) -> Line:
    size = ", ".join(sizes(units, piece.thickness_mm, piece.width_mm, piece.length_mm))
    if above:
        on = f"on {day(piece.sawn_on)}" if piece.sawn_on else "on a day not known"
        came = f"sawn out of {above} {on}"
        came += f" by {piece.sawn_by}" if piece.sawn_by else ""
    else:
        came = f"bought sawn {_from(piece)}".strip()
    wood = f"{piece.wood}\n({piece.botanical_name})"
    return Line((piece.tag, piece.word, wood, size, piece.grain, came))


def _from(thing: LogFacts | Piece) -> str:
    where = ", ".join(part for part in (thing.supplier, thing.supplier_place) if part)
    return f"from {where}" if where else ""


def _picture(member: Member, chains: Sequence[Chain], units: str) -> Figure:
    """Its own thread alone: what else the log became is nobody's business who holds this."""
    answer = member_answer(member)
    nodes = ThreadPicture(_its_own(chains), answer, units, lambda tag: "").nodes()
    says = f"The thread of {answer.what}, from the log to the member"
    svg = draw_thread(nodes, says=says, most_across=MOST_ACROSS, asked="")
    caption = "From the log, what was sawn out of what, to the member, in a heavy outline."
    return Figure(svg, caption, looks="thread")


def _its_own(chains: Sequence[Chain]) -> Timber:
    logs = {chain.log.id: chain.log for chain in chains if chain.log}
    pieces = {piece.id: piece for chain in chains for piece in chain.pieces}
    return Timber(
        tuple(logs.values()), tuple(pieces.values()), tuple(chain.use for chain in chains)
    )


def _grown(log: LogFacts) -> Facts:
    return Facts(
        (
            (f"Log {log.tag}", f"{log.wood} ({log.botanical_name})"),
            ("Where felled", log.felled_place or "not known"),
            ("When felled", day(log.felled_on, log.felled_note or "not known")),
            ("Supplied by", ", ".join(p for p in (log.supplier, log.supplier_place) if p)
             or "not known"),
            ("Received", day(log.received_on, "not stated")),
        )
    )  # fmt: skip


def _bought(piece: Piece) -> str:
    received = f", received {day(piece.received_on)}" if piece.received_on else ""
    return (
        f"{piece.tag} was bought sawn {_from(piece) or 'from a supplier not named'}{received}: its "
        "log is not in this register, and where it grew is not known from it."
    )
