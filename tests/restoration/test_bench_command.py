"""`manage.py bench` measures what it is asked to, says what it found and keeps nothing."""

import pytest
from django.core.management import CommandError, call_command

from restoration.management.bench import matching, section, timing
from restoration.models import User


@pytest.fixture
def few(monkeypatch):
    monkeypatch.setattr(section, "TIMES", 4)
    monkeypatch.setattr(section, "WARMING", 1)


@pytest.mark.django_db
def test_it_reports_a_drag_and_leaves_nothing_behind(few, capsys):
    from timber_stock.models import Species

    call_command("bench", "section")
    said = capsys.readouterr().out
    assert "A drag, one htmx round trip in the server: median" in said
    assert "(4 times)" in said
    assert "of the 50 ms allowed" in said
    assert User.objects.count() == Species.objects.count() == 0


@pytest.mark.django_db
def test_it_stops_where_the_bench_does_not_answer(few, monkeypatch):
    monkeypatch.setitem(section.STATE, "exaggeration", "400")
    with pytest.raises(RuntimeError, match="answered 422"):
        call_command("bench", "section")
    assert User.objects.count() == 0


@pytest.mark.django_db
def test_a_yard_is_matched_as_it_is_measured_and_leaves_nothing_behind(monkeypatch, capsys):
    from timber_stock.models import Board

    monkeypatch.setattr(matching, "BOARDS", 60)
    monkeypatch.setattr(matching, "SPECS", 9)
    monkeypatch.setattr(matching, "TIMES", 1)
    call_command("bench", "matching")
    said = capsys.readouterr().out
    assert "60 boards, 9 replacements" in said
    assert said.count("of 9 met") == 2
    assert "of the 2000 ms allowed" in said
    assert User.objects.count() == Board.objects.count() == 0


def test_a_name_that_is_no_measurement_is_refused_with_those_there_are():
    with pytest.raises(CommandError, match="section"):
        call_command("bench", "haste")


def test_times_are_told_by_their_middle_and_their_tail():
    told = timing.Times((10.0, 1.0, 2.0, 3.0), (1.0, 1.0, 2.0, 9.0))
    assert told.median == 2.5
    assert told.at_share(0.5) == 3.0
    assert told.at_share(0.95) == 10.0
    assert "longest 10.0 ms" in told.said("It")


def test_the_sawing_bench_measures_the_requests_it_is_given(tmp_path, settings, capsys):
    example = settings.BASE_DIR / "fixtures" / "sawing" / "case-D.json"
    call_command("bench", "sawing", str(example), "--seconds", "0.3", "--solver-seconds", "0.3")
    assert "case-D" in capsys.readouterr().out
    broken = tmp_path / "broken.json"
    broken.write_text("{")
    with pytest.raises(CommandError, match=r"broken\.json"):
        call_command("bench", "sawing", str(broken))


@pytest.mark.django_db
def test_matching_measured_on_a_register_without_tables_says_what_to_do_first(monkeypatch):
    monkeypatch.setattr(matching.connection.introspection, "table_names", list)
    with pytest.raises(CommandError, match="run python3 manage"):
        call_command("bench", "matching")
