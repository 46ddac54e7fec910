"""A chain of origin as PROV-JSON: everything spoken of is declared, and nothing made of itself."""

from dataclasses import replace
from datetime import date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from restoration.calc.prov import Act, Origin, Thing, as_prov_json, check

LOG = Thing("reg:log-L7", "hl:Log", "log L7", (("length_mm", 3700.0), ("grewAt", "Hangar Wood")))
BOARD = Thing("reg:board-L7-1", "hl:Board", "board L7-1", (("dated", date(2025, 3, 2)),))
MILL = Thing("reg:agent-1", "prov:Agent", "Aldermoor Sawing")
FELLING = Act(Thing("reg:felling-L7", "hl:Felling", "felling"), None, made=("reg:log-L7",))
SAWING = Act(
    Thing("reg:sawing-1", "hl:Sawing", "sawing"), date(2025, 3, 2), "reg:agent-1",
    used=("reg:log-L7",), made=("reg:board-L7-1",),
)  # fmt: skip
ORIGIN = Origin(
    entities=(LOG, BOARD), agents=(MILL,), acts=(FELLING, SAWING),
    derived=(("reg:board-L7-1", "reg:log-L7"),), attributed=(("reg:log-L7", "reg:agent-1"),),
    prefixes={"reg": "https://yard.example/t/"},
)  # fmt: skip


def test_the_document_has_the_sections_and_names_of_prov_json():
    told = as_prov_json(ORIGIN)
    assert told["prefix"]["prov"] == "http://www.w3.org/ns/prov#"
    assert told["prefix"]["reg"] == "https://yard.example/t/"
    assert told["entity"]["reg:log-L7"] == {
        "prov:type": {"$": "hl:Log", "type": "prov:QUALIFIED_NAME"},
        "prov:label": "log L7",
        "hl:length_mm": {"$": "3700", "type": "xsd:double"},
        "hl:grewAt": "Hangar Wood",
    }
    assert told["entity"]["reg:board-L7-1"]["hl:dated"] == {"$": "2025-03-02", "type": "xsd:date"}
    assert told["wasGeneratedBy"]["_:wasGeneratedBy2"] == {
        "prov:entity": "reg:board-L7-1", "prov:activity": "reg:sawing-1",
    }  # fmt: skip
    assert told["used"]["_:used1"] == {
        "prov:activity": "reg:sawing-1", "prov:entity": "reg:log-L7",
    }  # fmt: skip
    assert told["wasAssociatedWith"]["_:wasAssociatedWith1"]["prov:agent"] == "reg:agent-1"
    assert told["wasDerivedFrom"]["_:wasDerivedFrom1"] == {
        "prov:generatedEntity": "reg:board-L7-1", "prov:usedEntity": "reg:log-L7",
    }  # fmt: skip
    assert told["wasAttributedTo"]["_:wasAttributedTo1"]["prov:entity"] == "reg:log-L7"


def test_an_activity_lasts_its_day_and_one_of_no_known_day_has_no_time():
    told = as_prov_json(ORIGIN)["activity"]
    start, end = (told["reg:sawing-1"][f"prov:{when}Time"] for when in ("start", "end"))
    assert datetime.fromisoformat(start) < datetime.fromisoformat(end)
    assert start.startswith("2025-03-02T")
    assert "prov:startTime" not in told["reg:felling-L7"]


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"entities": (LOG,)}, "board-L7-1 is spoken of and not declared"),
        ({"agents": ()}, "agent-1 is spoken of and not declared"),
        ({"entities": (LOG, BOARD, LOG)}, "declared twice"),
        ({"prefixes": {}}, "no name in a namespace"),
        ({"derived": (("reg:log-L7", "reg:log-L7"),)}, "come out of itself"),
        (
            {"derived": (("reg:log-L7", "reg:board-L7-1"), ("reg:board-L7-1", "reg:log-L7"))},
            "come out of itself",
        ),
        ({"entities": (LOG, BOARD, Thing("reg:two words", "hl:Log", ""))}, "no name"),
    ],
)
def test_what_is_not_well_formed_is_refused(changed, said):
    with pytest.raises(ValueError, match=said):
        as_prov_json(replace(ORIGIN, **changed))


@given(st.integers(2, 12), st.data())
def test_a_chain_of_any_length_passes_and_closing_it_anywhere_is_found(length, data):
    things = tuple(Thing(f"hl:b{n}", "hl:Board", "") for n in range(length))
    chain = tuple((f"hl:b{n + 1}", f"hl:b{n}") for n in range(length - 1))
    check(Origin(things, (), (), chain))
    last = data.draw(st.integers(1, length - 1))
    with pytest.raises(ValueError, match="come out of itself"):
        check(Origin(things, (), (), (*chain, ("hl:b0", f"hl:b{last}"))))
