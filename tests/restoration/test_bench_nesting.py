"""`manage.py bench nesting` tells what each way of laying out yields, gains or not."""

import pytest
from django.core.management import call_command

from restoration.calc.nesting_cases import cases
from restoration.management.bench import nesting
from tests.calc.nesting_judge import judge

CASES = {case.name: case for case in cases()}


def test_it_tells_rectangles_chance_and_true_shapes_apart(monkeypatch, capsys):
    few = [CASES["knees, parallel board"], CASES["one straight piece as wide as the board"]]
    monkeypatch.setattr(nesting, "cases", lambda: few)
    monkeypatch.setattr(nesting, "BUDGETS", (1, 3))
    call_command("bench", "nesting")
    said = capsys.readouterr().out
    for way in ("rectangles alone", "chance", "true shapes, 1 steps", "true shapes, 3 steps"):
        assert said.count(way) == 2
    assert "1.00 times the rectangles at 3 steps" in said
    assert "on any case: 0 %" in said
    assert "Least gain on curved floors and knees: 6" in said or "knees: 7" in said


@pytest.mark.parametrize("name", ["knees, parallel board", "straight pieces, narrow board"])
def test_the_rival_by_chance_plays_by_the_same_rules(name):
    places = nesting.by_chance(CASES[name].request)
    assert places
    judge(CASES[name].request, places)
