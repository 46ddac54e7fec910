"""The members of a hull, the causes of their failure and the sources behind the words."""

import dataclasses
import re

import pytest

from restoration.calc import vocabulary
from restoration.calc.marks import MARK_LETTERS, ONE_OF


def test_what_lies_across_her_is_measured_from_its_port_end():
    kinds = vocabulary.member_kinds()
    across = [code for code, kind in kinds.items() if kind.first_end == "port end"]
    assert across == ["transom", "floor_timber", "bulkhead", "deck_beam"]
    assert {kind.first_end for kind in kinds.values()} == {"port end", "forward or lower end"}


def test_members_come_in_the_order_of_the_table_and_measuring_terms_apart():
    kinds, terms = vocabulary.member_kinds(), vocabulary.measuring_terms()
    assert list(kinds)[:5] == ["keel", "false_keel", "worm_shoe", "ballast_keel", "keel_bolt"]
    assert list(kinds)[-1] == "coachroof"
    assert (len(kinds), len(terms)) == (62, 14)
    assert {"sided", "moulded", "rabbet", "scarf", "strake", "treenail"} <= set(terms)
    assert not set(kinds) & set(terms)
    assert {kind.group for kind in kinds.values()} == {
        *("backbone", "transverse", "longitudinal", "shell", "deck")
    }


@pytest.mark.parametrize(
    "code",
    [
        *("keel", "ballast_keel", "stem", "stem_foot", "deadwood", "stern_post", "horn_timber"),
        *("floor_timber", "frame", "planking", "bilge_stringer", "clamp", "shelf", "deck_beam"),
        *("hanging_knee", "lodging_knee", "mast_step"),
    ],
)
def test_every_member_that_a_survey_walks_is_there_and_defined(code):
    kind = vocabulary.member_kind(code)
    assert kind.code == code
    assert len(kind.definition) > 20
    assert kind.joins
    assert kind.watch_points


def test_a_floor_is_read_whole_from_its_row():
    floor = vocabulary.member_kind("floor_timber")
    assert floor.term == "floor timbers"
    assert floor.one == "floor timber"
    assert floor.alt_terms == ("floors", "plank floors", "iron or bronze strap floors")
    assert floor.group == "transverse"
    assert floor.side == "centreline spanning port+starboard"
    assert floor.usual_woods[:3] == ("oak", "iroko", "elm")
    assert floor.usual_fastenings == "bolts to keel and frames; keel bolts"
    assert floor.joins == ("keel", "frames", "keel bolts", "garboard", "keelson")
    assert floor.watch_points[0] == "split at bolt line"
    assert floor.sources == ("TB201", "CASE-KB", "MEM")
    assert floor.mark_letters == "F"


def test_a_measuring_term_has_no_woods_and_joins_nothing():
    sided = vocabulary.measuring_terms()["sided"]
    assert (sided.side, sided.usual_woods, sided.usual_fastenings, sided.joins) == ("", (), "", ())
    assert sided.mark_letters == ""


def test_a_cause_is_read_whole_from_its_row():
    iron = vocabulary.cause("FASTENER_IRON")
    assert iron.name.startswith("Iron or steel fastening corrosion")
    assert iron.group == "electrochemical/chemical"
    assert iron.visible_evidence.startswith("rust streaks from plugs")
    assert iron.test_evidence.startswith("withdrawn fastening wasted")
    assert iron.sound == "loose planks chatter"
    assert iron.colour == "black-blue in tannin woods, rust-brown"
    assert iron.texture.startswith("soft, friable")
    assert iron.smell == ""
    assert iron.ph_hint.startswith("acid side")
    assert iron.likely_location.startswith("every iron fastening")
    assert iron.easily_confused_with == "brown rot; alkaline attack"
    assert iron.separating_question.endswith("sound wood between?")
    assert iron.remedy_guidance.startswith("replace fastening")
    assert (iron.evidence, iron.sources) == ("READ", ("TB201", "BAKER229", "PINION302"))


def test_causes_keep_their_order_and_end_with_not_established():
    codes = list(vocabulary.causes())
    assert len(codes) == 32
    assert {"ALKALI_CATHODE", "BROWN_ROT", "MECH_OVERLOAD", "BOXED_HEART"} <= set(codes)
    assert codes[-1] == "UNKNOWN"
    assert vocabulary.cause("UNKNOWN").group == ""


@pytest.mark.parametrize("cause", vocabulary.causes().values(), ids=lambda cause: cause.code)
def test_what_is_read_of_a_cause_is_words_and_no_codes(cause):
    words = dataclasses.replace(cause, code="", evidence="", sources=())
    told = [text for text in dataclasses.astuple(words) if isinstance(text, str)]
    codes = {*vocabulary.causes(), *vocabulary.EVIDENCE}
    assert not [code for code in codes for text in told if re.search(rf"\b{code}\b", text)]


def every_row():
    return [
        *vocabulary.member_kinds().values(),
        *vocabulary.measuring_terms().values(),
        *vocabulary.causes().values(),
    ]


def test_every_row_says_how_it_is_known_and_names_sources_that_exist():
    for row in every_row():
        assert row.evidence in vocabulary.EVIDENCE, row.code
        assert row.sources, row.code
        for code in row.sources:
            assert vocabulary.source(code).title, row.code


def test_a_source_is_read_whole_from_its_row():
    bulletin = vocabulary.source("TB201")
    assert bulletin.title.startswith("TB 55-1900-201-45/1")
    assert bulletin.author == "US Department of the Army"
    assert bulletin.year == "c. 1970s-80s"
    assert bulletin.part_read.startswith("paras 1-2/1-3")
    assert bulletin.read_extent == "text of about 12 pages"
    assert bulletin.authority == "government technical bulletin"
    assert bulletin.note.startswith("wood-hull paragraphs")


def test_no_cell_is_left_untidy_or_marked_not_applicable():
    for row in every_row():
        for cell in dataclasses.astuple(row):
            for text in cell if isinstance(cell, tuple) else (cell,):
                assert text == text.strip() != "n/a", row.code


def test_every_kind_of_member_has_mark_letters_of_its_own():
    assert list(MARK_LETTERS) == list(vocabulary.member_kinds())
    assert len(set(MARK_LETTERS.values())) == len(MARK_LETTERS)
    assert all(re.fullmatch("[A-Z]{1,3}", letters) for letters in MARK_LETTERS.values())


def test_one_member_is_not_called_by_a_plural():
    assert set(ONE_OF) <= set(vocabulary.member_kinds())
    plural = re.compile(r"([a-rt-z]s$|,)")
    for kind in vocabulary.member_kinds().values():
        assert not plural.search(kind.one) or kind.code == "mast_partners", kind.one
        assert kind.one == kind.term or plural.search(kind.term) or kind.one == "plank"


@pytest.mark.parametrize(
    ("find", "what"),
    [
        (vocabulary.member_kind, "kind of member"),
        (vocabulary.cause, "cause of failure"),
        (vocabulary.source, "source"),
    ],
)
@pytest.mark.parametrize("code", ["", "sided", "KEEL", "keel ", "brown_rot"])
def test_an_unknown_code_is_refused_with_a_sentence(find, what, code):
    with pytest.raises(ValueError, match=f"“{code}” is no {what} in the tables here"):
        find(code)


def test_the_tables_cannot_be_changed_by_who_reads_them():
    with pytest.raises(TypeError):
        vocabulary.member_kinds()["keel"] = None
    with pytest.raises(dataclasses.FrozenInstanceError):
        vocabulary.member_kind("keel").term = "kiel"
