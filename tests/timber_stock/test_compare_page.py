"""Quarter, rift, flat and boxed heart of one timber, side by side, for a client to see why."""

import re

import pytest

pytestmark = pytest.mark.django_db
COMPARE = "/timber/bench/compare/"


def text(response):
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", response.content.decode()))


@pytest.fixture
def compare(signed_in, woods):
    client = signed_in()
    return lambda **typed: client.get(COMPARE, {"wood": woods["oak_white"].pk, **typed})


def of(page, name):
    ways = {way.name: way.end.shape.change for way, _ in page.context["ways"]}
    return ways[name]


def test_all_four_are_shown_with_what_each_does(compare):
    said = text(compare(width="8", thickness="3"))
    for words in ("Quarter-sawn", "Rift", "Flat-sawn", "Boxed heart", "Check that must open"):
        assert words in said
    assert "1.9 times as much along its rings as across them" in said


def test_flat_shrinks_most_in_width_rift_leans_most_and_only_boxed_heart_must_open(compare):
    page = compare(width="8", thickness="3", place="deck")
    quarter, rift, flat, boxed = (
        of(page, name) for name in ("quarter", "rift", "flat", "boxed heart")
    )
    assert flat.width.change_mm < rift.width.change_mm < quarter.width.change_mm < 0
    assert rift.out_of_square_deg > 5 * max(quarter.out_of_square_deg, flat.out_of_square_deg)
    assert boxed.check_opening_mm > 1
    assert quarter.check_opening_mm == rift.check_opening_mm == flat.check_opening_mm == 0


def test_the_larger_size_is_the_width_whichever_is_typed_first(compare):
    page = compare(width="3", thickness="8")
    assert of(page, "flat").width.green_mm == pytest.approx(203.2)
    for way, _ in page.context["ways"]:
        assert way.sheet.directions == (way.name,)


def test_all_four_are_drawn_at_one_scale(compare):
    page = compare(width="8", thickness="7", exaggeration="20").content.decode()
    dashed = re.findall(r'<polygon points="([^"]+)" fill="none" stroke="#4a555f"', page)
    wide = {
        round(max(xs) - min(xs), 1)
        for xs in ([float(pair.split(",")[0]) for pair in each.split()] for each in dashed)
    }
    assert len(dashed) == 4
    assert len(wide) == 1


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"moisture": "-1"}, "wood cannot hold less than no water"),
        ({"moisture": "190"}, "is full of water at"),
        ({"away": "1"}, "may lie in the timber"),
        ({"width": "0"}, "must be more than nothing"),
        ({"width": "wide"}, "not a length that can be read"),
        ({"exaggeration": "0"}, "between 1 and 20"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence_and_kept(compare, typed, says):
    page = compare(**typed)
    assert page.status_code == 422
    assert says in text(page)
    name, value = next(iter(typed.items()))
    assert f'name="{name}" value="{value}"' in page.content.decode()


def test_it_opens_with_a_timber_in_it(signed_in, woods):
    page = signed_in().get(COMPARE)
    assert page.status_code == 200
    assert "6 in × 3 in green" in text(page)


def test_htmx_gets_the_figures_alone(signed_in, woods):
    piece = signed_in().get(COMPARE, headers={"HX-Request": "true"})
    assert "<html" not in piece.content.decode()
    assert "Boxed heart" in text(piece)
