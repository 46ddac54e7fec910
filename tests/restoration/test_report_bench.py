"""`manage.py bench report` draws a real report in a process of its own and says what it took."""

import re

from django.core.management import call_command

from restoration.management.bench import report


def test_it_reports_time_memory_and_size_beside_bare_reportlab(monkeypatch, capsys):
    monkeypatch.setattr(report, "COUNT", 2)
    call_command("bench", "report")
    said = capsys.readouterr().out
    pages = re.findall(r"(\d+) pages", said)
    assert len(pages) == 3
    assert len(set(pages)) == 1
    assert re.search(r"[\d.]+ times bare ReportLab, by the processor, of 2 allowed", said)
    assert re.search(r"[\d.]+ MB of memory, of 300 allowed", said)


def test_what_is_over_is_said_to_be_too_much():
    ours = report.Measured(9.0, 9.0, 301.0, 24.0, 5)
    bare = report.Measured(3.0, 3.0, 10.0, 24.0, 5)
    time, memory, file = report._verdicts(ours, bare)
    assert time.endswith("TOO MUCH.")
    assert memory.endswith("TOO MUCH.")
    assert not file.endswith("TOO MUCH.")
