"""The page in plain words: nothing that is to be done is left out, nor taken to be paid for."""

from dataclasses import replace
from datetime import timedelta

from restoration.reports.content import MemberState
from restoration.reports.in_plain_words import in_plain_words, opening
from restoration.reports.reading import reading
from restoration.reports.timber_facts import TimberThread
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
LATER = CONTENT.survey.surveyed_on + timedelta(days=7)


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


def test_what_was_renewed_since_is_no_longer_to_be_done():
    thread = TimberThread(
        mark="F12", term="floor timber", stage="fitted", from_mm=0, to_mm=1000,
        allotted_on=LATER, allotted_by="W", cut_on=LATER, cut_by="W", fitted_on=LATER,
        fitted_by="W", steps=(),
    )  # fmt: skip
    fitted = replacement("F12", is_fitted=True)
    done = replace(CONTENT, replacements=(fitted,), threads=(thread,))
    told = said("What must be done, and by when", done)
    assert "Renewed since the survey: F12." in told
    assert "urgency 3" not in told
    half = replace(done, replacements=(fitted, replacement("F12")))
    assert "major intervention for F12" in said("What must be done, and by when", half)
    before = replace(thread, fitted_on=CONTENT.survey.surveyed_on - timedelta(days=1))
    earlier = replace(done, threads=(before,))
    assert "major intervention for F12" in said("What must be done, and by when", earlier)


def test_members_are_named_by_what_they_are():
    told = said("What is wrong", report(*(graded(f"F{n}", "3", 3, 3) for n in range(1, 21))))
    assert "floor timber F1, F2," in told
    assert "F16; and 4 more." in told


def test_a_survey_that_graded_nothing_does_not_say_that_nothing_presses():
    bare = report(member("F12"), replacements=())
    assert "it cannot say what must be done" in said("What must be done, and by when", bare)
    assert opening(bare).endswith("Of her 1 recorded member, none was examined and graded.")
    assert said("What it costs", bare) == "No replacement is specified, so none is estimated."
    empty = report(replacements=())
    assert opening(empty).endswith("No member of hers is in the register.")


def test_replacements_without_an_estimate_are_not_said_to_cost_nothing():
    unknown = replacement("F12", cost=None, hours=None)
    told = said("What it costs", replace(CONTENT, replacements=(unknown,)))
    assert "1 replacement still to be fitted: none has an estimate yet." in told
    assert "0.00" not in told


def test_the_remarks_stand_with_what_must_be_done():
    remarked = replace(CONTENT, remarks="Look again\nin spring")
    assert "Remarks: Look again in spring." in said("What must be done, and by when", remarked)


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
