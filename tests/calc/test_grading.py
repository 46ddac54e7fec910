"""The classes a surveyor gives a member, and what is said of where they come from."""

import pytest

from restoration.calc import grading


def test_not_examined_is_a_class_of_its_own_and_never_no_symptoms():
    assert list(grading.CONDITIONS) == ["0", "1", "2", "3", "NE"]
    not_examined = grading.condition("NE")
    assert not_examined.label == "not examined"
    assert not_examined.wording == ""
    assert "nothing is known" in not_examined.meaning


def test_urgency_and_measure_run_from_0_to_3_and_have_no_not_examined():
    assert list(grading.URGENCIES) == list(grading.MEASURES) == [0, 1, 2, 3]
    assert grading.urgency(3).label == "urgent"
    assert grading.measure(0).label == "none"


def test_every_class_is_told_apart_by_code_word_and_sentence():
    for classes in (grading.CONDITIONS, grading.URGENCIES, grading.MEASURES):
        for words in ("code", "label", "meaning"):
            said = [getattr(grade, words) for grade in classes.values()]
            assert len(set(said)) == len(said)
        assert all(len(grade.label.split()) <= 2 for grade in classes.values())
        assert all(grade.meaning.endswith(".") for grade in classes.values())


@pytest.mark.parametrize(
    ("find", "bad", "sentence"),
    [
        (grading.condition, "4", "Condition is class 0, 1, 2, 3 or NE"),
        (grading.condition, "", "“” is none of these"),
        (grading.condition, "ne", "“ne” is none of these"),
        (grading.urgency, 4, "Urgency is class 0, 1, 2 or 3"),
        (grading.urgency, -1, "“-1” is none of these"),
        (grading.measure, 4, "Recommended measure is class 0, 1, 2 or 3"),
    ],
)
def test_a_class_that_is_not_there_is_refused_with_a_sentence(find, bad, sentence):
    with pytest.raises(ValueError, match=sentence):
        find(bad)


def test_what_is_printed_beside_the_classes_hides_nothing():
    for said in (
        "EN 16096:2012",
        "does not name vessels",
        "an adaptation",
        "from memory",
        "our own reading",
        "never class 0",
        "The surveyor sets every class",
    ):
        assert said in grading.STANDING
