"""The thread from log to member told as entities, activities and agents (W3C PROV)."""

from collections.abc import Sequence
from typing import Any

from restoration import timber
from restoration.calc.prov import Act, Origin, Thing, Value, as_prov_json
from restoration.reports.thread_parts import Chain, LogFacts, Piece, Use

# Who sells or saws may be a person or a firm; who cuts and fits is a person.
AGENT, PERSON = "prov:Agent", "prov:Person"


def chains_as_prov(chains: Sequence[Chain], *, register: str) -> dict[str, Any]:
    """These chains as one PROV-JSON document.

    `register` is the address under which a thread is opened by its tag: every name stands in it,
    and a log, a board and a member say at which address their thread is read.
    """
    return as_prov_json(_Told(chains, register).origin())


class _Told:
    """Each thing once, however many chains pass through it."""

    def __init__(self, chains: Sequence[Chain], register: str) -> None:
        self.register = register
        self.entities: dict[str, Thing] = {}
        self.agents: dict[str, Thing] = {}
        self.acts: dict[object, Act] = {}
        self.derived: dict[tuple[str, str], None] = {}
        self.attributed: dict[tuple[str, str], None] = {}
        ids = {chain.log.id for chain in chains if chain.log}
        rows = timber.Log.objects.filter(pk__in=ids).prefetch_related("papers")
        self.logs = {row.pk: row for row in rows}
        for chain in chains:
            self._chain(chain)

    def origin(self) -> Origin:
        return Origin(
            entities=tuple(self.entities.values()),
            agents=tuple(self.agents.values()),
            acts=tuple(self.acts.values()),
            derived=tuple(self.derived),
            attributed=tuple(self.attributed),
            prefixes={"reg": self.register},
        )

    def _chain(self, chain: Chain) -> None:
        above = self._log(chain.log) if chain.log else ""
        for piece in chain.pieces:
            above = self._piece(piece, above)
        self._use(chain.use, above)

    def _log(self, log: LogFacts) -> str:
        row, name = self.logs[log.id], f"reg:log-{log.tag}"
        known: list[tuple[str, Value]] = [
            ("thread", f"{self.register}{log.tag}/"),
            ("wood", log.botanical_name),
            ("length_mm", log.length_mm),
            ("grewAt", log.felled_place),
            ("country", row.grew_country),
            ("protection", row.protection_note),
            ("protectionSource", row.protection_source),
        ]
        if row.grew_latitude is not None:
            known += [("latitude", row.grew_latitude), ("longitude", row.grew_longitude)]
        self._entity(name, "hl:Log", f"log {log.tag}, {log.wood}", known)
        self._papers(row, name)
        felled = Thing(f"reg:felling-{log.tag}", "hl:Felling", f"felling of {log.tag}",
                       (("when", log.felled_note),) if log.felled_note else ())  # fmt: skip
        self.acts.setdefault(felled.name, Act(felled, log.felled_on, made=(name,)))
        if log.supplier:
            self.attributed[name, self._agent(log.supplier, AGENT)] = None
        return name

    def _papers(self, row: timber.Log, log: str) -> None:
        """A paper is an entity of its own, told by its fingerprint; the log is not made of it."""
        for paper in row.papers.all():
            known: list[tuple[str, Value]] = [("sha256", paper.sha256), ("about", log)]
            known += [("dated", paper.dated_on)] if paper.dated_on else []
            self._entity(f"reg:paper-{paper.pk}", "hl:Paper", paper.title, known)

    def _piece(self, piece: Piece, above: str) -> str:
        name = f"reg:board-{piece.tag}"
        known: list[tuple[str, Value]] = [
            ("thread", f"{self.register}{piece.tag}/"),
            ("wood", piece.botanical_name),
            ("thickness_mm", piece.thickness_mm),
            ("width_mm", piece.width_mm),
            ("length_mm", piece.length_mm),
            ("heartAndRings", piece.grain),
        ]
        self._entity(name, "hl:Board", f"{piece.word} {piece.tag}, {piece.wood}", known)
        if above:
            self._sawn(piece, name, above)
        elif piece.supplier:
            self.attributed[name, self._agent(piece.supplier, AGENT)] = None
        return name

    def _sawn(self, piece: Piece, name: str, above: str) -> None:
        self.derived[name, above] = None
        kind, word = ("Sawing", "sawing") if piece.parent_id is None else ("Resawing", "resawing")
        key = (above, piece.sawn_on, piece.sawn_by)
        if key not in self.acts:
            number = sum(act.thing.kind in ("hl:Sawing", "hl:Resawing")
                         for act in self.acts.values()) + 1  # fmt: skip
            out_of = above.split("-", 1)[1]
            thing = Thing(f"reg:sawing-{number}-of-{out_of}", f"hl:{kind}", f"{word} of {out_of}")
            by = self._agent(piece.sawn_by, AGENT) if piece.sawn_by else ""
            self.acts[key] = Act(thing, piece.sawn_on, by, used=(above,))
        act = self.acts[key]
        if name not in act.made:
            self.acts[key] = Act(act.thing, act.on, act.by, act.used, (*act.made, name))

    def _use(self, use: Use, board: str) -> None:
        """A length that is only allotted is no piece yet: nothing was made of it."""
        if not use.cut_on:
            return
        piece, member = f"reg:length-{use.id}", f"reg:member-{use.full_mark}"
        known: list[tuple[str, Value]] = [("from_mm", use.from_mm), ("to_mm", use.to_mm)]
        self._entity(piece, "hl:MemberPiece", f"length of {use.board_tag} for {use.full_mark}",
                     known)  # fmt: skip
        self.derived[piece, board] = None
        cutting = Thing(f"reg:cutting-{use.id}", "hl:Cutting", f"cutting for {use.full_mark}")
        by = self._agent(use.cut_by, PERSON) if use.cut_by else ""
        self.acts[cutting.name] = Act(cutting, use.cut_on, by, used=(board,), made=(piece,))
        if use.fitted_on:
            self._fitted(use, piece, member)

    def _fitted(self, use: Use, piece: str, member: str) -> None:
        known: list[tuple[str, Value]] = [
            ("thread", f"{self.register}{use.full_mark}/"),
            ("mark", use.mark),
            ("vessel", use.vessel_name),
        ]
        self._entity(member, "hl:Member", f"{use.term} {use.mark} of {use.vessel_name}", known)
        self.derived[member, piece] = None
        fitting = Thing(f"reg:fitting-{use.id}", "hl:Fitting", f"fitting of {use.full_mark}")
        by = self._agent(use.fitted_by, PERSON) if use.fitted_by else ""
        # A member of two lengths is made once: by the fitting that is told first.
        made = () if self._made(member) else (member,)
        self.acts[fitting.name] = Act(fitting, use.fitted_on, by, used=(piece,), made=made)

    def _made(self, name: str) -> bool:
        return any(name in act.made for act in self.acts.values())

    def _entity(self, name: str, kind: str, label: str, known: Sequence[tuple[str, Value]]) -> None:
        told = tuple((key, value) for key, value in known if value not in ("", None))
        self.entities.setdefault(name, Thing(name, kind, label, told))

    def _agent(self, called: str, kind: str) -> str:
        thing = Thing(f"reg:agent-{len(self.agents) + 1}", kind, called)
        return self.agents.setdefault(called, thing).name
