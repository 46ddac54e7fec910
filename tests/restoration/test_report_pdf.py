"""The report as paper, read back by another library: what it says, and that all of it prints."""

import io
import re
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import date
from decimal import Decimal
from functools import cache

import pytest
from PIL import Image
from pypdf import PdfReader
from reportlab.lib.units import inch

from restoration.reports import wording
from restoration.reports.content import (
    CauseNamed,
    FindingApart,
    FindingMade,
    MemberState,
    Party,
    PictureTaken,
    ReadingTaken,
    Replacement,
    ReportContent,
    Standing,
    SurveyFacts,
    TimberThread,
    VesselFacts,
)
from restoration.reports.frozen import from_json, to_json
from restoration.reports.pdf.figures import Pictures
from restoration.reports.pdf.letters import not_printable, printable
from restoration.reports.pdf.marks import hatch
from restoration.reports.pdf.samples import SamplePicture
from restoration.reports.pdf.survey_report import draw_report
from restoration.reports.pdf.tables import Column, Row, schedule
from restoration.reports.sample_facts import SampleDrawn, SampleMark
from restoration.reports.timber_facts import TimberStep

DAY = date(2026, 4, 9)
LONG_NOTE = " ".join(f"Strake {n} weeps where the caulking has gone." for n in range(27))


def jpeg(width, height, colour="#7a5a35"):
    file = io.BytesIO()
    Image.new("RGB", (width, height), colour).save(file, "JPEG")
    return file.getvalue()


def photograph(n, **given):
    facts = {"file": f"p/{n}.jpg", "sha256": "0" * 64, "width_px": 1600, "height_px": 1200,
             "caption": f"view {n}", "taken_on": DAY}  # fmt: skip
    return PictureTaken(**(facts | given))


def finding(**given):
    facts = {
        "condition": "2", "condition_word": "moderate", "urgency": 1,
        "urgency_word": "intermediate", "measure": 2, "measure_word": "moderate repair",
        "not_examined_reason": "", "seen": "Soft under the chainplate.", "extent_from_mm": None,
        "extent_to_mm": None, "recorded_on": DAY, "recorded_by": "P. Prober", "causes": (),
        "readings": (), "pictures": (),
    }  # fmt: skip
    return FindingMade(**(facts | given))


def member(mark, group="transverse", term="floor timber", found=None):
    return MemberState(
        mark=mark, term=term, group=group, side="centreline", station_from=12.0, station_to=None,
        sided_mm=63.5, moulded_mm=127.0, length_mm=1066.8, material="white oak (Quercus alba)",
        finding=found,
    )  # fmt: skip


def replacement(mark="F12", **given):
    facts = {
        "mark": mark, "term": "floor timber", "group": "transverse", "surveyed_on": DAY,
        "wood": "white oak (Quercus alba)", "other_woods": (), "sided_mm": 63.5,
        "moulded_mm": 127.0, "length_mm": 1066.8, "rings": "quarter-sawn", "rings_face": "",
        "clear_of_heart": True, "sapwood_allowed": False, "seasoning": "green",
        "moisture_percent": None, "fastenings": "", "note": "", "hours": Decimal("11.5"),
        "cost": Decimal("1620.10"), "stage": "allotted", "is_fitted": False,
    }  # fmt: skip
    return Replacement(**(facts | given))


def step(tag, word, came, butt=None):
    return TimberStep(
        tag=tag, word=word, wood="white oak (Quercus alba)", length_mm=3600.0, butt_mm=butt,
        top_mm=butt, thickness_mm=None if butt else 78.0, width_mm=None if butt else 180.0,
        heart="" if butt else "clear of heart", rings="" if butt else "rift", came=came,
        came_on=DAY,
    )  # fmt: skip


def thread(mark, *steps):
    return TimberThread(
        mark=mark, term="floor timber", stage="allotted", from_mm=100.0, to_mm=1300.0,
        allotted_on=DAY, allotted_by="W. Right", cut_on=None, cut_by="", fitted_on=None,
        fitted_by="", steps=steps,
    )  # fmt: skip


def report(*members, **given) -> ReportContent:
    facts = {
        "standing": Standing(number=3, on=DAY, by="W. Right", supersedes=2),
        "units": "imperial", "currency": "NOK",
        "yard": Party("Sallow Creek Yard", "The Slip\nSallow Creek"),
        "client": Party("Ottoline Verhaag", "Mill Lane 4"),
        "vessel": VesselFacts(
            "TEN", "Tenacious Wren", "sloop", "gaff", "", "", 1931, "Port Osmund", "", "17",
            9753.6, 7315.0, 2700.0, 1500.0, "carvel", "larch (Larix decidua)", "copper", "",
        ),
        "survey": SurveyFacts(
            date(2026, 3, 4), None, "Sallow Creek", "ashore", "P. Prober", "", "", "", "",
            "Spike, hammer.", "The bilge under the engine.",
        ),
        "readers": "Ottoline Verhaag", "remarks": "", "members": members, "replacements": (),
        "threads": (), "sources": (), "words": wording.fixed_words(),
    }  # fmt: skip
    return ReportContent(**(facts | given))


def drawn(content, files=None):
    files = files or {}

    def opened(name):
        if name not in files:
            raise FileNotFoundError(name)
        return io.BytesIO(files[name])

    return draw_report(content, Pictures(opened))


def read(pdf):
    return PdfReader(io.BytesIO(pdf))


def words(pdf):
    """All the text, with every run of blanks as one."""
    return said_in(read(pdf))


@cache
def full():
    return read(drawn(FULL))


def said_in(reader):
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())


def outline(entries, level=0):
    for entry in entries:
        if isinstance(entry, list):
            yield from outline(entry, level + 1)
        else:
            yield level, entry.title


FULL = report(
    member("K1", "backbone", "keel"),
    member("F12", found=finding(
        condition="3", condition_word="major",
        causes=(CauseNamed(1, "BROWN_ROT", "Brown rot (fungal)", "probable", "cubed < 5 mm & dry",
                           "renew to sound wood", "from memory, not checked against a source"),),
        readings=(ReadingTaken("probe", 9.525, "", 304.8, "spike"),
                  ReadingTaken("sounding", None, "dull", None, "")),
    )),
    member("F13", found=finding(condition="NE", condition_word="not examined", urgency=None,
                                urgency_word="", measure=None, measure_word="", seen="",
                                not_examined_reason="behind the tank")),
    replacements=(replacement(fastenings="two 5/8 in bolts"),),
    threads=(thread("F12", step("L7", "log", "felled at Hangar Wood", butt=560.0),
                    step("L7-2", "flitch", "sawn by J. Sawyer"),
                    step("L7-2b1", "board", "sawn by J. Sawyer")),),
)  # fmt: skip


def test_the_logs_tag_stands_under_the_mark_of_the_floor_that_came_from_it():
    said = said_in(full())
    thread_said = said[said.rindex("8 Timber, from member to log") :]
    assert re.search(r"F12 floor timber .*? Tag .*? L7 log .*? L7-2b1 board", thread_said)


def test_a_finding_says_its_cause_how_sure_on_what_evidence_and_the_standing_of_the_guidance():
    said = said_in(full())
    assert "Cause 1: Brown rot (fungal) – probable. Evidence: Cubed < 5 mm & dry." in said
    assert "Guidance: Renew to sound wood. (from memory, not checked against a source)" in said
    assert "probe or drill depth 3/8 in 12 in spike" in said
    assert "sounding dull" in said


def test_what_was_not_examined_or_not_found_is_said_and_never_called_sound():
    said = said_in(full())
    assert "F13 floor timber: Behind the tank." in said
    assert "Members with no finding recorded 1 member: K1. This survey says nothing of" in said
    assert "sound" not in re.sub(r"sounding|sound wood", "", said)


def test_a_copied_finding_and_one_made_apart_are_said_so_even_where_nothing_was_found():
    sound = {"condition": "0", "condition_word": "no symptoms", "urgency": 0, "measure": 0,
             "seen": ""}  # fmt: skip
    other = FindingApart("W. Right", DAY, "3", "major", "spike goes through")
    copied = member("F4", found=finding(copied_from="F3", **sound))
    said = words(drawn(report(copied, member("F5", found=finding(apart=(other,), **sound)))))
    assert "Copied from the finding of F3: the classes," in said
    assert (
        "Of F5 W. Right entered another finding in this survey, on 9 April 2026: condition 3, "
        "major. Seen: Spike goes through. Neither knew of the other, and both stand." in said
    )
    assert "nothing more is recorded" not in said


SAMPLE = SampleDrawn(
    what="screws of the garboard, port", zone="underwater",
    sentence="At most 9 of the 45 still in the hull are bad.",
    marks=(SampleMark("good", "drawn and good", 14), SampleMark("bad", "drawn and bad", 1),
           SampleMark("may", "may be bad: not ruled out", 9),
           SampleMark("waiting", "chosen, no result", 2), SampleMark("left", "left in", 34)),
    confidence_percent=97.5, bad_means="pink when scratched", counted="from forward",
    seed="windlass", drawn_on=DAY, drawn_by="P. Prober", caution="A count is not a judgement.",
)  # fmt: skip


def test_a_sample_of_fastenings_is_drawn_and_said_with_its_confidence_seed_and_caution():
    content = report(member("K1"), samples=(SAMPLE,))
    said = words(drawn(content))
    assert "7 Fastening samples Screws of the garboard, port At most 9 of the 45" in said
    for part in (
        "Cross: 1 drawn and bad", "Diamond: 9 may be bad: not ruled out", "97.5 %",
        "pink when scratched", "windlass", "9 April 2026, by P. Prober",
        "Caution. A count is not a judgement.",
    ):  # fmt: skip
        assert part in said
    assert from_json(to_json(content)) == content
    assert "Fastening samples" not in words(drawn(report(member("K1"))))


def test_the_picture_of_a_sample_has_one_mark_each_until_they_are_too_many():
    few = SamplePicture(SAMPLE.marks)
    assert (len(few.states), few.each) == (60, 1)
    many = SamplePicture([SampleMark("good", "", 700), SampleMark("left", "", 1900)])
    assert many.each == 3
    assert (many.states.count("good"), many.states.count("left")) == (233, 633)


def test_a_report_frozen_before_copies_were_told_is_still_read():
    kept = to_json(report(member("F4", found=finding())))
    for name in ("copied_from", "apart"):
        del kept["members"][0]["finding"][name]
    del kept["samples"]
    assert from_json(kept).members[0].finding == finding()


def test_the_schedule_adds_up_with_the_yards_currency():
    pair = (replacement(), replacement("F13", cost=Decimal("0.20"), is_fitted=True, hours=None))
    said = words(drawn(replace(FULL, replacements=pair)))
    assert "Cost, NOK" in said
    assert "Total of the estimates 11.5 1,620.30" in said
    assert "of which fitted 1 0.0 0.20" in said
    assert "1 replacement without an estimate of hours not added" in said


def test_lengths_are_in_the_readers_units():
    assert "2 1/2 × 5 in 3 ft 6 in long" in said_in(full())
    assert "64 × 127 mm 1067 mm long" in words(drawn(replace(FULL, units="metric")))


def test_every_page_is_numbered_and_says_which_report_of_which_vessel_it_is_of():
    pages = full().pages
    for n, page in enumerate(pages, 1):
        said = " ".join(page.extract_text().split())
        assert f"Page {n} of {len(pages)}" in said
        assert "Tenacious Wren · Condition and replacement report" in said
        assert "Report 3, issued 9 April 2026" in said
        assert "DRAFT" not in said


def test_a_draft_is_marked_as_one_on_every_page_and_never_as_issued():
    pdf = drawn(replace(FULL, standing=Standing(None, DAY, "W. Right")))
    for page in read(pdf).pages:
        said = page.extract_text()
        assert "DRAFT\n" in said.replace(" ", "\n")
        assert "DRAFT, not issued" in said
        assert "issued 9 April" not in said


def test_the_contents_give_the_page_that_each_chapter_is_on():
    reader = full()
    listed = re.findall(r"(\d+ [A-Z][^\n]*)\n (\d+)\n", reader.pages[0].extract_text())
    assert [title.split()[0] for title, _ in listed] == [str(n) for n in range(1, 14)]
    for title, page in listed:
        assert title in reader.pages[int(page) - 1].extract_text()


def test_bookmarks_lead_to_chapters_areas_and_each_finding():
    reader = full()
    marks = list(outline(reader.outline))
    assert (0, "5 Findings") in marks
    assert (1, "Findings: transverse members") in marks
    assert (2, "F12 floor timber · station 12") in marks
    assert (1, "F12 floor timber") in marks


def test_title_author_and_language_are_in_the_file():
    reader = full()
    assert reader.metadata.title == "Tenacious Wren: condition and replacement report, TEN report 3"
    assert reader.metadata.author == "P. Prober, Sallow Creek Yard"
    assert reader.root_object["/Lang"] == "en-GB"


def test_every_font_used_is_our_open_one_and_embedded():
    fonts = {}
    for page in full().pages:
        for font in page["/Resources"]["/Font"].values():
            font = font.get_object()
            fonts[font["/BaseFont"]] = font.get("/FontDescriptor")
    used = {name: about for name, about in fonts.items() if about is not None}
    assert len(used) >= 3
    for name, about in used.items():
        assert "NotoSans" in name
        assert "/FontFile2" in about.get_object()


def test_no_text_is_set_in_a_font_that_is_not_embedded():
    for page in full().pages:
        fonts = page["/Resources"]["/Font"]
        bare = {key for key, font in fonts.items() if "/FontDescriptor" not in font.get_object()}
        shown = page.get_contents().get_data().decode("latin-1")
        for key in bare:  # the library opens each page in its own font, and shows nothing in it
            assert not re.search(rf"{key} [\d.]+ Tf[^/]*?\bT[jJ]", shown)


@pytest.mark.parametrize(
    "name",
    ["Þórdís Ólafsdóttir", "Łukasz Wiśniewski", "Ελένη Παππά", "Борис Ёлкин", "7 ⅛ by 3 ⅜ in",
     "Nguyễn Thị", "Ẹ́niọlá", "Zoë Ǿ"],
)  # fmt: skip
def test_names_and_fractions_print_as_they_are_written(name):
    content = replace(FULL, client=Party(name, "Ḧavn 3"), readers=name)
    assert name in words(drawn(content))


def test_a_decomposed_name_prints_composed():
    assert printable("O\u0301lafsdo\u0301ttir") == "Ólafsdóttir"


def test_an_accent_without_a_composed_letter_is_placed_over_its_letter_by_the_font():
    """A text so set is shown sign by sign with shifts between (TJ), a plain one at once (Tj)."""
    shown = []
    for seen in ("qqqq", "q\u0302q\u0302"):
        pages = read(drawn(report(member("F1", found=finding(seen=seen))))).pages
        shown.append(sum(page_code(page).count("TJ") for page in pages))
    assert shown[0] == 0
    assert shown[1] > 0


def test_a_letter_no_face_covers_is_replaced_visibly_and_named():
    said = words(drawn(report(member("F1", found=finding(seen="marked 王 in chalk")))))
    assert "marked \ufffd in chalk" in said
    assert "does not cover 1 letter that it holds" in said
    assert "U+738B CJK UNIFIED IDEOGRAPH-738B" in said


def test_signs_with_a_plain_way_of_being_said_are_said():
    assert printable("−3 °C, ≤ 5 mm\ufe0f\x07") == "–3 °C, at most  5 mm "
    assert not_printable(["−3, ≤ 5, ⅛, ¾"]) == []


def test_what_was_typed_is_never_taken_for_markup():
    said = words(drawn(report(member("F1", found=finding(seen="<b>bold</b> & <para>")))))
    assert "<b>bold</b> & <para>" in said


def test_the_same_content_gives_the_same_bytes_also_when_it_was_frozen_between():
    files = {"p/1.jpg": jpeg(1600, 1200)}
    content = replace(FULL, members=(member("F1", found=finding(pictures=(photograph(1),))),))
    first = drawn(content, files)
    assert drawn(content, files) == first
    assert drawn(from_json(to_json(content)), files) == first
    assert drawn(replace(content, remarks="one more word"), files) != first


def test_papers_drawn_at_the_same_time_do_not_mix():
    contents = [replace(FULL, remarks=f"<b>{n}</b> & more " * 40) for n in range(3)]
    alone = [drawn(content) for content in contents]
    with ThreadPoolExecutor(3) as together:
        assert list(together.map(drawn, contents * 2)) == alone * 2


def test_a_vessel_without_a_finding_or_even_a_member_says_so_on_every_count():
    said = words(drawn(report()))
    assert "This survey has recorded no finding." in said
    assert "No member of the vessel is in the register yet." in said
    assert "No member was examined and graded in this survey." in said
    assert "No timber is allotted" in said


def test_twenty_five_photographs_are_all_there_with_captions_at_200_dots_to_the_inch():
    shots = tuple(photograph(n) for n in range(25))
    files = {shot.file: jpeg(1600, 1200, f"#{n * 9:02x}5a35") for n, shot in enumerate(shots)}
    reader = read(drawn(report(member("F1", found=finding(pictures=shots))), files))
    images = [image for page in reader.pages for image in page.images]
    assert len(images) == 25
    said = said_in(reader)
    assert all(f"Photograph {n + 1}. F1: view {n}, taken 9 April 2026" in said for n in range(25))
    assert {dots_per_inch(page) for page in reader.pages if page.images} == {200}


def dots_per_inch(page):
    """Of the photographs on a page: the pixels of the widest over the width it is printed at."""
    widest = max(image.image.width for image in page.images)
    drawn_at = re.findall(r"([\d.]+) 0 0 ([\d.]+) 0 0 cm\s+/FormXob", page_code(page))
    return round(widest / (max(float(width) for width, _ in drawn_at) / inch))


def page_code(page):
    return page.get_contents().get_data().decode("latin-1")


@pytest.mark.parametrize(
    "broken", [None, b"", jpeg(1600, 1200)[:900], b"%PDF-1.4 in disguise"],
    ids=["missing", "empty", "cut short", "no photograph"],
)  # fmt: skip
def test_a_photograph_that_cannot_be_read_is_said_in_its_place(broken):
    files = {"p/1.jpg": jpeg(1600, 1200)} | ({} if broken is None else {"p/2.jpg": broken})
    shots = (photograph(1), photograph(2))
    pdf = drawn(report(member("F1", found=finding(pictures=shots))), files)
    assert "The file of this photograph is missing or cannot be read." in words(pdf)
    assert sum(len(page.images) for page in read(pdf).pages) == 1


@pytest.mark.parametrize(
    "note", [LONG_NOTE, "Salt " * 6000, "x" * 9000], ids=["200 words", "30,000 letters", "one word"]
)
def test_a_long_note_is_printed_whole_wherever_it_stands(note):
    """Also in a table's cell, whose row then has to break."""
    content = report(
        member("F1", found=finding(seen=f"{note} Æ")),
        replacements=(replacement("F1", note=f"{note} Æ"),),
        client=Party("Ottoline Verhaag", f"{note} Æ"),
    )
    letters = "".join(page.extract_text() for page in read(drawn(content)).pages)
    assert letters.count("Æ") == 3
    assert letters.count(note[0]) >= 3 * note.count(note[0])


@pytest.mark.parametrize("name", ["Wren " * 24, "W" * 120], ids=["words", "one word"])
def test_the_longest_names_fit_the_edges_of_the_sheet_shortened_and_the_cover_whole(name):
    vessel = replace(FULL.vessel, name=name.strip())
    reader = read(drawn(replace(FULL, vessel=vessel, yard=Party(name, ""))))
    said = [page.extract_text() for page in reader.pages]
    letters = re.sub(r"\s", "", said[0])
    assert re.sub(r"\s", "", name) in letters
    assert all("…" in page and "1 of" in said[0] for page in said)
    assert "Report 3, issued 9 April 2026" in said[1]


def test_schedules_repeat_their_heads_and_no_row_is_split():
    floors = [member(f"F{n}", found=finding(seen="")) for n in range(1, 90)]
    pages = [" ".join(page.extract_text().split()) for page in read(drawn(report(*floors))).pages]
    tables = [page for page in pages if "Mark Member Wood or material Condition" in page]
    assert len(tables) >= 4
    for page in tables:
        marks = re.findall(r"F\d+ floor timber station 12 white oak \(Quercus alba\)", page)
        assert len(marks) == len(re.findall(r"\bF\d+ floor timber", page.split("5 Findings")[0]))


@pytest.mark.parametrize("room", range(60, 180, 9))
def test_neither_the_first_nor_the_last_row_of_a_schedule_stands_alone_on_a_page(room):
    rows = [Row([f"F{n}", "floor timber"]) for n in range(7)]
    table = schedule([Column("Mark", 1), Column("Member", 3)], rows, 300)
    table.wrap(300, 1000)
    parts = table.split(300, room)
    bodies = [len(part._cellvalues) - 1 for part in parts]
    assert not parts or sum(bodies) == 7
    assert all(body >= 2 for body in bodies)


def test_each_class_has_a_hatch_of_its_own():
    drawings = [tuple(hatch(grade)) for grade in ("0", "1", "2", "3")]
    assert len(set(drawings)) == 4
    assert drawings[0] == ()


def test_the_address_at_which_a_paper_is_checked_can_be_followed_from_its_file():
    address = "http://yard.example/check/M44EH9JWVCTF/"
    standing = Standing(
        number=3, on=DAY, by="W. Right", check_code="M44EH9JWVCTF", check_address=address
    )
    reader = read(drawn(report(standing=standing)))
    notes = [note.get_object() for page in reader.pages for note in page.get("/Annots", [])]
    led = {note["/A"]["/URI"] for note in notes if "/URI" in note.get("/A", {})}
    assert led == {address}
