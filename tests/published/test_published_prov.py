"""A chain of origin as another hand reads it: the `prov` library, of the W3C's PROV data model.

The library reads what the register exports, and is asked what it understood; what it writes again
must say the same. It knows nothing of the register's own code.
"""

import json
from datetime import date, datetime

import prov.model as w3c
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from prov.model import ProvDocument

from restoration.calc.prov import Act, Origin, Thing, as_prov_json

LOG = Thing(
    "reg:log-L7", "hl:Log", "log L7, felled by the “Hangar”",
    (("length_mm", 3700.5), ("pieces", 3), ("grewAt", "Hangar Wood, Småland")),
)  # fmt: skip
BOARD = Thing("reg:board-L7-2b1", "hl:Board", "board L7-2b1", (("dated", date(2025, 3, 2)),))
FLOOR = Thing("reg:member-TEN-F12", "hl:Member", "floor timber TEN-F12")
MILL = Thing("reg:agent-1", "prov:Organization", "Aldermoor Sawing")
WRIGHT = Thing("reg:agent-2", "prov:Person", "Wiebke")
FELLING = Act(Thing("reg:felling-L7", "hl:Felling", "felling"), None, made=("reg:log-L7",))
SAWING = Act(
    Thing("reg:sawing-1", "hl:Sawing", "sawing"), date(2025, 3, 2), "reg:agent-1",
    used=("reg:log-L7",), made=("reg:board-L7-2b1",),
)  # fmt: skip
FITTING = Act(
    Thing("reg:fitting-1", "hl:Fitting", "fitting"), date(2026, 2, 20), "reg:agent-2",
    used=("reg:board-L7-2b1",), made=("reg:member-TEN-F12",),
)  # fmt: skip
ORIGIN = Origin(
    entities=(LOG, BOARD, FLOOR), agents=(MILL, WRIGHT), acts=(FELLING, SAWING, FITTING),
    derived=(
        ("reg:board-L7-2b1", "reg:log-L7"), ("reg:member-TEN-F12", "reg:board-L7-2b1"),
    ),
    attributed=(("reg:log-L7", "reg:agent-1"),),
    prefixes={"reg": "https://yard.example/t/"},
)  # fmt: skip
REG = "https://yard.example/t/"
OWN = "https://hull-and-log.example/ns/origin#"


def understood(told) -> ProvDocument:
    return ProvDocument.deserialize(content=json.dumps(told), format="json")


@pytest.fixture(scope="module")
def document():
    return understood(as_prov_json(ORIGIN))


def the(document, name):
    (record,) = document.get_record(name)
    return record


def known_of(record):
    """What is known of a thing in the register's own terms."""
    return {name.uri: value for name, value in record.attributes if name.uri.startswith(OWN)}


def pairs(document, kind):
    """The two ends of every relation of a kind, by their names in full."""
    return {tuple(end.uri for end in relation.args[:2]) for relation in document.get_records(kind)}


def in_full(*names):
    return tuple(REG + name.removeprefix("reg:") for name in names)


def named(document, kind):
    return {record.identifier.uri for record in document.get_records(kind)}


def test_the_same_entities_activities_and_agents_are_read(document):
    assert named(document, w3c.ProvEntity) == set(in_full(*(each.name for each in ORIGIN.entities)))
    assert named(document, w3c.ProvActivity) == set(in_full(*(a.thing.name for a in ORIGIN.acts)))
    assert named(document, w3c.ProvAgent) == set(in_full(*(each.name for each in ORIGIN.agents)))


def test_every_relation_is_read_as_what_it_is_and_none_besides(document):
    made = {in_full(made, act.thing.name) for act in ORIGIN.acts for made in act.made}
    used = {in_full(act.thing.name, used) for act in ORIGIN.acts for used in act.used}
    by = {in_full(act.thing.name, act.by) for act in ORIGIN.acts if act.by}
    assert pairs(document, w3c.ProvGeneration) == made
    assert pairs(document, w3c.ProvUsage) == used
    assert pairs(document, w3c.ProvAssociation) == by
    assert pairs(document, w3c.ProvDerivation) == {in_full(*pair) for pair in ORIGIN.derived}
    assert pairs(document, w3c.ProvAttribution) == {in_full(*pair) for pair in ORIGIN.attributed}
    assert len(document.records) == 3 + 3 + 2 + 3 + 2 + 2 + 2 + 1


def test_labels_kinds_and_what_is_known_are_read_with_their_types(document):
    log = the(document, "reg:log-L7")
    assert log.label == LOG.label
    assert [kind.uri for kind in log.get_asserted_types()] == [OWN + "Log"]
    assert known_of(log) == {
        OWN + "length_mm": 3700.5, OWN + "pieces": 3, OWN + "grewAt": "Hangar Wood, Småland",
    }  # fmt: skip
    dated = known_of(the(document, "reg:board-L7-2b1"))[OWN + "dated"]
    assert (dated.value, dated.datatype.uri) == (
        "2025-03-02", "http://www.w3.org/2001/XMLSchema#date",
    )  # fmt: skip
    kinds = {a.label: a.get_asserted_types() for a in document.get_records(w3c.ProvAgent)}
    assert {label: {k.uri for k in held} for label, held in kinds.items()} == {
        "Aldermoor Sawing": {"http://www.w3.org/ns/prov#Organization"},
        "Wiebke": {"http://www.w3.org/ns/prov#Person"},
    }


def test_an_activity_begins_and_ends_on_its_day(document):
    sawing, felling = the(document, "reg:sawing-1"), the(document, "reg:felling-L7")
    assert sawing.get_startTime() == datetime(2025, 3, 2)
    assert sawing.get_endTime() == datetime(2025, 3, 2, 23, 59, 59)
    assert felling.get_startTime() is None


def test_what_the_library_writes_again_says_the_same(document):
    again = json.loads(document.serialize(format="json"))
    assert understood(again) == document
    ours = as_prov_json(ORIGIN)
    assert set(again) == set(ours)
    for section in ("entity", "activity", "agent"):
        assert set(again[section]) == set(ours[section])
    for section in set(ours) - {"prefix", "entity", "activity", "agent"}:
        rows = [sorted(row.items()) for row in ours[section].values()]
        assert sorted(sorted(row.items()) for row in again[section].values()) == sorted(rows)


def test_a_changed_relation_is_another_document(document):
    """So that the comparison above can fail."""
    told = as_prov_json(ORIGIN)
    told["wasDerivedFrom"]["_:wasDerivedFrom1"]["prov:usedEntity"] = "reg:member-TEN-F12"
    assert understood(told) != document


VALUES = st.one_of(
    st.integers(-(2**31), 2**31 - 1),
    st.floats(-1e6, 1e6).map(lambda value: float(f"{value:.10g}")),
    st.text(max_size=20),
    st.dates(),
)


@settings(max_examples=60, deadline=None)
@given(label=st.text(max_size=30), value=VALUES)
def test_any_label_and_any_figure_come_through(label, value):
    log = Thing("hl:log-1", "hl:Log", label, (("figure", value),))
    read = the(understood(as_prov_json(Origin((log,), (), ()))), "hl:log-1")
    assert read.label == label
    found = known_of(read)[OWN + "figure"]
    if isinstance(value, date):
        found = date.fromisoformat(found.value)
    assert found == value
