"""Which rules bear on which members, and that where sources differ both sides are shown."""

import pytest

from restoration.calc import frame_rules, plank_rules, published_rules
from restoration.calc.tables import FOLDER
from restoration.calc.vocabulary import causes, member_kinds


def test_plank_rules_are_said_of_planks_and_frame_rules_of_frames_and_of_nothing_else():
    told = {kind: published_rules.rules_for(kind) for kind in member_kinds()}
    assert told["garboard"] == plank_rules.RULES
    assert told["frame_sawn"] == told["futtock"] == frame_rules.RULES
    assert not any(told[kind] for kind in ("floor_timber", "keel_bolt", "ceiling", "deck_beam"))


def test_every_rule_and_conflict_that_the_checks_know_is_shown_somewhere():
    held = {
        rule
        for module in (plank_rules, frame_rules)
        for rule in vars(module).values()
        if isinstance(rule, published_rules.Rule)
    }
    assert held == {rule for kind in member_kinds() for rule in published_rules.rules_for(kind)}
    shown = {one for kind in member_kinds() for one in published_rules.conflicts_for(kind)}
    assert shown == {
        *plank_rules.CONFLICTS, *frame_rules.CONFLICTS, published_rules.SEASONING_UNDER_WATER,
    }  # fmt: skip


@pytest.mark.parametrize("kind", ["keel", "garboard", "planking"])
def test_on_seasoning_under_water_both_reports_are_named_with_their_years(kind):
    (found,) = (one for one in published_rules.conflicts_for(kind) if "seasoned" in one.topic)
    assert "1942" in found.one
    assert "1945" in found.other


def test_acid_or_alkali_and_anodes_are_disputed_where_they_bear_on_a_cause():
    told = {code: published_rules.conflicts_on(code) for code in causes()}
    assert told["ACID_ANODE"] == (published_rules.ISOLATED_STEEL,)
    assert published_rules.ANODES in told["STRAY_CURRENT"]
    assert set(told["ALKALI_CATHODE"]) == {published_rules.ANODES, published_rules.ISOLATED_STEEL}
    assert not told["BROWN_ROT"]


@pytest.mark.parametrize(
    ("ask", "what"),
    [
        (published_rules.rules_for, "kind of member"),
        (published_rules.conflicts_for, "kind of member"),
        (published_rules.conflicts_on, "cause of failure"),
    ],
)
def test_an_unknown_code_is_refused(ask, what):
    with pytest.raises(ValueError, match=f"is no {what}"):
        ask("mizzen")


def test_no_figure_recalled_as_possibly_wrong_is_in_any_table():
    tables = sorted(FOLDER.rglob("*.csv"))
    assert len(tables) > 10
    for table in tables:
        assert "MEMORY-LOW" not in table.read_text(encoding="utf-8"), table.name
