"""What a pattern needs from the wood, as its pages tell it."""

import re

import pytest

from restoration.actions.patterns import keep_pattern
from restoration.calc.pattern import BoltHole
from restoration.calc.pattern import Pattern as Shape
from restoration.models import Member
from tests.calc.making_patterns import arc

pytestmark = pytest.mark.django_db
FUTTOCK = arc(1900, -20, 24, 110)
HOLES = (BoltHole(0, 1900, 20), BoltHole(600, 1805, 16))


@pytest.fixture
def yard(client, people):
    people["yard"].units = "metric"
    people["yard"].save()
    client.force_login(people["yard"])
    return client


@pytest.fixture
def keep(people):
    def make(member, outline=FUTTOCK, holes=HOLES, grain_deg=0.0):
        return keep_pattern(
            member=member, pattern=Shape(outline, 70, holes=holes, grain_deg=grain_deg),
            name="first futtock", taken="offsets", by=people["yard"],
        )  # fmt: skip

    return make


@pytest.fixture
def member(vessel, woods):
    return Member.objects.create(
        vessel=vessel, kind="futtock", mark="FU3", side="P", wood=woods["oak_white"]
    )


def text(answer) -> str:
    return " ".join(answer.content.decode().split())


def test_the_page_tells_pieces_run_out_crook_weight_and_bolts(yard, keep, member):
    page = text(yard.get(f"/patterns/{keep(member).pk}/needs/"))
    assert "Worst run-out" in page
    assert "a grown crook with 139 mm of sweep in 1424 mm" in page
    assert "kg</dd>" in page
    assert "goes through the heart" not in page
    assert "National Hardwood Lumber Association, Rules Book (2015), page 63" in page
    assert "(from memory)" in page
    assert 'class="caution"' in page
    assert page.count("<svg") >= 4


def test_the_heart_given_shows_the_bolt_that_it_meets(yard, keep, member):
    pattern = keep(member)
    page = text(yard.get(f"/patterns/{pattern.pk}/needs/?heart_left=219&heart_right=219"))
    assert "Goes through the heart, where the timber will check" in page
    far = yard.get(f"/patterns/{pattern.pk}/needs/?heart_left=219&heart_right=9000")
    assert far.status_code == 422
    assert "it is not in this timber" in text(far)
    half = yard.get(f"/patterns/{pattern.pk}/needs/?heart_left=219")
    assert half.status_code == 422
    assert "at both ends of the pattern" in text(half)


def test_another_wood_weighs_otherwise(yard, keep, member, woods):
    pattern = keep(member)
    heavy = text(yard.get(f"/patterns/{pattern.pk}/needs/"))
    light = text(yard.get(f"/patterns/{pattern.pk}/needs/?wood={woods['cedar_western_red'].pk}"))
    weights = [re.findall(r"<dd>([\d.]+) kg</dd>", page) for page in (heavy, light)]
    assert [len(found) for found in weights] == [2, 2]
    assert float(weights[0][0]) > 1.4 * float(weights[1][0])
    assert "Western redcedar" in light


def test_straight_timber_asks_for_no_crook_and_a_block_says_why_nothing_can_be_told(
    yard, keep, member
):
    bar = keep(member, outline=((0, 0), (900, 0), (900, 80), (0, 80)), holes=())
    page = text(yard.get(f"/patterns/{bar.pk}/needs/"))
    assert "Straight timber serves" in page
    assert "The pattern has no bolt holes" in page


def test_a_stout_block_says_why_no_run_of_the_grain_can_be_told(yard, keep, member):
    block = keep(member, outline=((0, 0), (200, 0), (205, 190), (0, 200)), holes=())
    page = text(yard.get(f"/patterns/{block.pk}/needs/"))
    assert "about as wide as it is long" in page
    assert "not to be told" in text(yard.get(block.get_absolute_url()))


def test_whoever_thinks_in_inches_is_told_pounds_and_board_feet_too(yard, keep, member, people):
    people["yard"].units = "imperial"
    people["yard"].save()
    page = text(yard.get(f"/patterns/{keep(member).pk}/needs/"))
    assert len(re.findall(r"<dd>[\d.]+ kg \([\d.]+ lb\)</dd>", page)) == 2
    assert "bd ft) as the pattern is cut out" in page


def test_a_size_is_never_parted_by_the_end_of_a_line(yard, keep, member, people):
    people["yard"].units = "imperial"
    people["yard"].save()
    page = yard.get(f"/patterns/{keep(member).pk}/needs/").content.decode()
    sizes = re.findall(r"Squared piece</dt><dd>(.+?), of which", page)
    assert sizes
    assert all(len(size.split(" ")) == 3 for size in sizes)  # this, ×, and that


def test_the_patterns_own_page_shows_it_in_short(yard, keep, member):
    page = text(yard.get(keep(member).get_absolute_url()))
    assert "What it needs from the wood" in page
    assert "ask for a grown crook" in page


def test_the_squared_piece_goes_into_the_specification(yard, keep, make_spec, survey):
    spec = make_spec(survey, "FU4", kind="futtock")
    pattern = keep(spec.finding.member)
    page = yard.get(f"/patterns/{pattern.pk}/needs/").content.decode()
    address = f"/specs/{spec.pk}/edit/?pattern={pattern.pk}&amp;way=flitch"
    assert f"/specs/{spec.pk}/edit/?pattern={pattern.pk}&amp;way=" in page
    form = yard.get(address.replace("&amp;", "&")).context["form"]
    assert form["sided_mm"].value() == "70 mm"
    from restoration.calc.pattern_needs_sizes import smallest_flitch

    flitch = smallest_flitch(FUTTOCK)
    assert form["moulded_mm"].value() == f"{flitch.width_mm:.1f} mm"
    other = yard.get(f"/specs/{spec.pk}/edit/?pattern=999&way=flitch").context["form"]
    assert "127" in other["moulded_mm"].value() or "5 in" in other["moulded_mm"].value()
