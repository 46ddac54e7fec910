"""The page in plain words: nothing that is to be done is left out, nor taken to be paid for."""

from dataclasses import replace

from restoration.reports.content import MemberState
from restoration.reports.in_plain_words import in_plain_words
from restoration.reports.reading import reading
from tests.restoration.test_report_pdf import finding, member, replacement, report


def graded(mark: str, condition: str, urgency: int, measure: int) -> MemberState:
    words = ["none", "maintenance", "moderate repair", "major intervention"]
    made = finding(
        condition=condition, urgency=urgency, measure=measure, measure_word=words[measure]
    )
    return member(mark, found=made)


def said(asked: str, content) -> str:
    return " ".join(next(s.answers for s in in_plain_words(content) if s.asked == asked))


CONTENT = report(
    graded("F12", "3", 3, 3), graded("F13", "2", 2, 3), graded("BS1P", "1", 0, 1),
    graded("ST1", "0", 0, 0), replacements=(replacement("F12"),),
)  # fmt: skip


def test_maintenance_that_does_not_press_is_named_and_what_needs_nothing_is_not():
    told = said("What must be done, and by when", CONTENT)
    assert "(urgency 0): maintenance for BS1P." in told
    assert "ST1" not in told


def test_whoever_pays_is_told_for_what_nothing_is_reckoned_yet():
    told = said("What it costs", CONTENT)
    assert "In no sum yet: F13 and BS1P, for which work is recommended" in told
    every = report(graded("F12", "3", 3, 3), replacements=(replacement("F12"),))
    assert "In no sum yet" not in said("What it costs", every)


def test_what_is_fitted_is_named():
    done = replace(CONTENT, replacements=(replacement("F12", is_fitted=True),))
    assert "1 replacement is fitted: F12." in said("What it costs", done)


def test_two_specifications_of_one_member_share_no_name_of_a_place():
    twice = replace(CONTENT, replacements=(replacement("F12"), replacement("F12")))
    keys = [key for _, key in reading(twice, lambda number: "/")["replacements"]]
    assert keys == ["schedule_F12", ""]


def test_contents_that_nearly_fit_are_set_closer_and_stay_on_the_cover():
    """Chapters enough that the last lines of the contents would stand alone on a second page."""
    from restoration.reports.pdf.contents import Contents

    for rows in (12, 30):
        contents = Contents()
        contents.expect((0, f"{n} A chapter") for n in range(rows))
        contents.beforeBuild()
        contents.canv = None
        _, loose = contents.wrap(400, 10_000)
        _, close = contents.wrap(400, loose - 1)
        assert close <= loose - 1
        _, neither = contents.wrap(400, loose / 2)
        assert neither == loose
