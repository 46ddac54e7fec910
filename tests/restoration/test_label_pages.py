"""The pages of labels: choosing them, printing them, and the yard's own sheets."""

import io

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from pypdf import PdfReader

from restoration.models import LabelSheet
from restoration.reports import labels
from timber_stock.models import Board

pytestmark = pytest.mark.django_db
OURS = {
    "name": "The blue box", "page_width_mm": "210 mm", "page_height_mm": "297 mm", "columns": "2",
    "rows": "5", "width_mm": "88.5 mm", "height_mm": "43.2 mm", "left_mm": "11.3 mm",
    "top_mm": "19.7 mm", "across_mm": "97.1 mm", "down_mm": "51.6 mm",
}  # fmt: skip


@pytest.fixture
def yard(client, people):
    client.force_login(people["yard"])
    return client


@pytest.fixture
def promised(survey, make_spec, deep_log, promise):
    promise(make_spec(survey, "F12"), "L7-2b1", 100, 1300)
    return Board.objects.get(tag="L7-2b1")


@pytest.fixture
def three_members(vessel):
    kinds = {"F12": "floor_timber", "F3": "floor_timber", "FR12P": "frame"}
    return [vessel.members.create(mark=mark, kind=kind) for mark, kind in kinds.items()]


def offered(yard, **asked):
    page = yard.get(reverse("restoration:labels"), asked).content.decode()
    return [mark for mark in ("F12", "F3", "FR12P") if f">TEN-{mark}</b>" in page], page


def printed(yard, *keys, **said):
    form = {"sheet": "a4-3x8", "first": "1", "label": list(keys)} | said
    return yard.post(reverse("restoration:labels_pdf"), form)


def words(answer):
    assert answer.status_code == 200, answer.content.decode()[:900]
    reader = PdfReader(io.BytesIO(answer.content))
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())


def test_all_boards_of_a_log_are_offered_ticked_and_those_resawn_are_not(yard, promised, deep_log):
    page = yard.get(reverse("restoration:labels"), {"log": deep_log.pk}).content.decode()
    assert f'value="log-{deep_log.pk}" checked' in page
    for tag in ("L7-1", "L7-2a", "L7-2b1", "L7-2b2"):
        assert f'value="board-{Board.objects.get(tag=tag).pk}" checked' in page
    assert f'value="board-{Board.objects.get(tag="L7-2b").pk}"' not in page


def test_all_of_a_vessel_are_her_members_and_the_boards_promised_to_her(yard, promised, survey):
    page = yard.get(reverse("restoration:labels"), {"vessel": survey.vessel_id}).content.decode()
    assert f'value="board-{promised.pk}" checked' in page
    assert f'value="member-{survey.vessel.members.get(mark="F12").pk}" checked' in page
    assert f'value="board-{Board.objects.get(tag="L7-1").pk}"' not in page


def test_more_than_are_offered_at_once_are_counted_and_the_way_to_the_others_is_told(
    yard, vessel, three_members, monkeypatch
):
    monkeypatch.setattr(labels, "MOST", 2)
    marks, page = offered(yard, vessel=vessel.pk)
    assert len(marks) == 2
    assert "These are the first 2 of 3." in page
    assert "the mark or kind of a member" in page
    monkeypatch.setattr(labels, "MOST", 3)
    marks, page = offered(yard, vessel=vessel.pk)
    assert len(marks) == 3
    assert "These are the first" not in page


@pytest.mark.parametrize(
    ("text", "marks"),
    [("r12", ["FR12P"]), ("12", ["F12", "FR12P"]), ("Floor tim", ["F12", "F3"]), ("keel", [])],
)
def test_a_vessels_members_are_narrowed_by_a_part_of_the_mark_or_by_what_they_are(
    yard, vessel, three_members, text, marks
):
    assert offered(yard, vessel=vessel.pk, q=text)[0] == marks


def test_the_boards_for_a_vessel_are_narrowed_by_tag_or_wood(yard, vessel, promised):
    key = f'value="board-{promised.pk}" checked'
    assert key in offered(yard, vessel=vessel.pk, q="2b1")[1]
    assert key not in offered(yard, vessel=vessel.pk, q="F12")[1]


def test_the_boards_of_a_log_are_narrowed_and_the_log_stays(yard, deep_log, promised):
    page = yard.get(reverse("restoration:labels"), {"log": deep_log.pk, "q": "2b"}).content.decode()
    assert f'value="log-{deep_log.pk}" checked' in page
    assert f'value="board-{promised.pk}" checked' in page
    assert f'value="board-{Board.objects.get(tag="L7-1").pk}"' not in page


def test_ticked_ones_alone_are_printed_in_their_order(yard, promised, deep_log, survey):
    floor = survey.vessel.members.get(mark="F12")
    said = words(printed(yard, f"member-{floor.pk}", f"board-{promised.pk}"))
    assert said.index("TEN-F12") < said.index("L7-2b1")
    assert "L7-2a" not in said
    assert "Tenacious Wren" in said
    assert "white oak" in said


def test_a_board_for_two_members_names_both_in_full_on_the_smallest_roll(
    yard, promised, survey, make_spec, promise
):
    promise(make_spec(survey, "F13"), promised.tag, 1400, 2600)
    said = words(printed(yard, f"board-{promised.pk}", sheet="roll-62x29"))
    assert "TEN-F12, TEN-F13" in said
    assert "…" not in said


def test_a_log_and_a_board_by_a_part_of_their_tag(yard, deep_log, bought_board):
    page = yard.get(reverse("restoration:labels"), {"q": "Q3"}).content.decode()
    assert f'value="board-{bought_board.pk}" checked' in page
    none = yard.get(reverse("restoration:labels"), {"q": "no such"}).content.decode()
    assert "There is no label for that" in none


def test_nothing_ticked_and_a_position_beyond_the_sheet_are_said_and_the_ticks_kept(
    yard, promised, deep_log
):
    none = yard.post(reverse("restoration:labels_pdf"), {"sheet": "a4-3x8", "first": "1"})
    assert none.status_code == 422
    assert "Tick at least one label" in none.content.decode()
    far = printed(yard, f"board-{promised.pk}", first="25", log=str(deep_log.pk))
    page = far.content.decode()
    assert far.status_code == 422
    assert "This sheet has positions 1 to 24; 25 is not one of them." in page
    assert page.count(" checked") == 1
    assert f'value="board-{promised.pk}" checked' in page


def test_what_is_no_label_is_left_out_and_never_breaks_the_page(yard, promised):
    said = words(printed(yard, "board-999999", "boat-3", "board-x", f"board-{promised.pk}"))
    assert "L7-2b1" in said
    gone = printed(yard, "board-999999")
    assert gone.status_code == 422
    assert "None of the ticked pieces is in the register any more." in gone.content.decode()


def test_the_sheet_used_last_is_offered_first(yard, promised):
    words(printed(yard, f"board-{promised.pk}", sheet="roll-62x40"))
    page = yard.get(reverse("restoration:labels"), {"q": "L7"}).content.decode()
    assert '<option value="roll-62x40" selected>' in page


def test_the_address_of_the_pdf_without_a_form_leads_to_the_choice(yard):
    assert yard.get(reverse("restoration:labels_pdf"))["Location"] == reverse("restoration:labels")


def test_dimensions_of_ones_own_are_kept_as_typed_and_printed_on(yard, promised):
    assert yard.post(reverse("restoration:label_sheet_new"), OURS).status_code == 302
    sheet = LabelSheet.objects.get()
    assert (sheet.across_mm, sheet.columns) == (97.1, 2)
    edit = yard.get(reverse("restoration:label_sheet_edit", args=[sheet.pk])).content.decode()
    assert 'value="97.1 mm"' in edit
    assert "The blue box" in yard.get(reverse("restoration:label_sheets")).content.decode()
    assert "L7-2b1" in words(printed(yard, f"board-{promised.pk}", sheet=f"own-{sheet.pk}",
                                     first="10"))  # fmt: skip
    yard.post(reverse("restoration:label_sheet_delete", args=[sheet.pk]))
    assert not LabelSheet.objects.exists()


def test_rows_that_do_not_fit_are_refused_with_what_they_need_and_nothing_is_lost(yard):
    answer = yard.post(reverse("restoration:label_sheet_new"), OURS | {"rows": "6"})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "6 rows need 320.9 mm and the sheet is 297 mm high." in page
    assert 'value="88.5 mm"' in page
    assert not LabelSheet.objects.exists()


def test_a_pitch_left_empty_is_a_label_without_a_gap(yard):
    yard.post(
        reverse("restoration:label_sheet_new"),
        OURS | {"across_mm": "", "down_mm": "", "left_mm": "", "top_mm": ""},
    )
    sheet = LabelSheet.objects.get()
    assert (sheet.across_mm, sheet.down_mm, sheet.left_mm, sheet.top_mm) == (88.5, 43.2, 0, 0)


def test_two_sheets_of_one_name_are_refused(yard):
    yard.post(reverse("restoration:label_sheet_new"), OURS)
    again = yard.post(reverse("restoration:label_sheet_new"), OURS | {"name": "THE BLUE BOX"})
    assert again.status_code == 422
    assert "Another label sheet has this name." in again.content.decode()


def test_labels_cost_no_more_queries_for_more_boards(yard, promised, deep_log):
    def asked():
        with CaptureQueriesContext(connection) as found:
            assert yard.get(reverse("restoration:labels"), {"log": deep_log.pk}).status_code == 200
        return len(found)

    few = asked()
    for n in range(15):
        promised.pk, promised._state.adding, promised.tag = None, True, f"L7-Z{n}"
        promised.save()
    assert asked() == few


@pytest.mark.parametrize("number", ["9" * 30, "²", "-3", "1e9", ""])
def test_a_label_of_no_row_there_can_be_is_left_out_and_said(yard, promised, number):
    none = printed(yard, f"board-{number}")
    assert none.status_code == 422
    assert "None of the ticked pieces is in the register any more" in none.content.decode()
    assert yard.get(reverse("restoration:labels"), {"member": number}).status_code == 200
    assert "L7-2b1" in words(printed(yard, f"board-{number}", f"board-{promised.pk}"))


def test_more_labels_than_one_pdf_holds_are_refused_and_none_is_dropped_in_silence(yard, promised):
    many = [f"board-{promised.pk}", *(f"board-{n}" for n in range(10_000, 10_600))]
    refused = printed(yard, *many)
    assert refused.status_code == 422
    assert "601 labels are ticked, and one PDF holds 600 at most" in refused.content.decode()
