"""What joins one member to another, and by which fastenings."""

import pytest

from restoration.models import Fastening, Joint, Member, Vessel


@pytest.fixture
def yard(client, people):
    client.force_login(people["yard"])
    return client


@pytest.fixture
def hull(vessel):
    marks = {"K": "keel", "F12": "floor_timber", "FR12P": "frame", "FR12S": "frame"}
    return {
        mark: Member.objects.create(vessel=vessel, kind=kind, mark=mark)
        for mark, kind in marks.items()
    }


def text(page):
    return page.content.decode()


def joint_page(member):
    return f"/members/{member.pk}/joints/new/"


BOLT = {"kind": "bolt", "metal": "silicon bronze", "diameter_mm": "1/2", "length_mm": "12 in"}


def test_a_floor_is_joined_to_several_at_once_each_with_its_bolts(yard, hull):
    said = {"others": "k, FR12P FR12S", "note": "bedded", **BOLT, "count": "2"}
    page = yard.post(joint_page(hull["F12"]), said)
    assert page.url == hull["F12"].get_absolute_url()
    joints = {joint.partner_of(hull["F12"]).mark: joint for joint in hull["F12"].joints()}
    assert set(joints) == {"K", "FR12P", "FR12S"}
    for joint in joints.values():
        bolt = joint.fastenings.get()
        assert (bolt.kind, bolt.metal, bolt.count, joint.note) == (
            "bolt", "silicon bronze", 2, "bedded"
        )  # fmt: skip
        assert bolt.diameter_mm == pytest.approx(12.7)
    assert "2 × through bolt, silicon bronze, 1/2 in diameter, 12 in long" in text(
        yard.get(hull["K"].get_absolute_url())
    )


def test_the_marks_given_for_example_are_her_own(yard, hull, owner):
    Member.objects.filter(mark="K").update(mark="K1")
    assert "several at once if you like: K1, F" in text(yard.get(joint_page(hull["F12"])))
    alone = Member.objects.create(
        vessel=Vessel.objects.create(name="Lone", code="LON", client=owner), kind="keel", mark="K7"
    )
    assert "several at once if you like<" in text(yard.get(joint_page(alone)))


def test_a_joint_may_be_entered_before_its_fastenings_are_known(yard, hull):
    yard.post(joint_page(hull["K"]), {"others": "F12"})
    assert Joint.objects.get().fastenings.count() == 0


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"others": "F99, K, ZZ"}, "No member of her has this mark: F99, ZZ."),
        ({"others": "f12"}, "A member cannot be joined to itself: F12."),
        ({"others": "FR12P"}, "Joined to this one already: FR12P."),
        ({"others": ""}, "Fill this in: it is needed"),
        ({"others": "K", "metal": "iron"}, "Say what kind of fastening it is."),
        ({"others": "K", "kind": "bolt"}, "Say what metal (or wood) the fastening is of."),
        ({"others": "K", **BOLT, "diameter_mm": "fat"}, "“fat” is not a length"),
        ({"others": "K", **BOLT, "diameter_mm": "0"}, "sizes and number must be more than nothing"),
        ({"others": "K", **BOLT, "count": "0"}, "Give 1 or more."),
    ],
)
def test_a_refused_joint_says_why_and_stores_nothing(yard, hull, said, sentence):
    first, second = sorted([hull["F12"], hull["FR12P"]], key=lambda member: member.pk)
    Joint.objects.create(one=first, other=second)
    page = yard.post(joint_page(hull["F12"]), {"note": "scarfed", **said})
    assert page.status_code == 422
    assert sentence in text(page)
    assert 'value="scarfed"' in text(page)
    assert (Joint.objects.count(), Fastening.objects.count()) == (1, 0)


def test_a_mark_of_another_vessel_is_not_known_here(yard, hull, owner):
    other = Vessel.objects.create(code="OTH", name="Other", client=owner)
    Member.objects.create(vessel=other, kind="stem", mark="ST")
    assert "No member of her has this mark: ST" in text(
        yard.post(joint_page(hull["F12"]), {"others": "ST"})
    )


@pytest.fixture
def joint(hull):
    joint = Joint.objects.create(one=hull["K"], other=hull["F12"])
    Fastening.objects.create(joint=joint, kind="drift", metal="iron", count=3)
    return joint


def test_fastenings_are_added_to_a_joint(yard, joint, hull):
    page = yard.post(
        f"/joints/{joint.pk}/fastenings/new/", BOLT | {"count": "4", "member": hull["F12"].pk}
    )
    assert page.url == hull["F12"].get_absolute_url()
    assert joint.fastenings.count() == 2
    refused = yard.post(f"/joints/{joint.pk}/fastenings/new/", BOLT | {"count": "4", "metal": ""})
    assert refused.status_code == 422
    nothing = BOLT | {"count": "4", "length_mm": "0"}
    refused = yard.post(f"/joints/{joint.pk}/fastenings/new/", nothing)
    assert "must be more than nothing" in text(refused)
    assert joint.fastenings.count() == 2


def test_a_joint_is_taken_off_only_after_asking(yard, joint, hull):
    address = f"/joints/{joint.pk}/delete/?member={hull['F12'].pk}"
    asked = yard.get(address)
    assert "3 × drift bolt, iron" in text(asked)
    assert Joint.objects.exists()
    assert yard.post(address).url == hull["F12"].get_absolute_url()
    assert not Joint.objects.exists()
    assert not Fastening.objects.exists()


def test_a_fastening_is_taken_off_and_the_joint_stays(yard, joint, hull):
    address = f"/fastenings/{joint.fastenings.get().pk}/delete/"
    assert yard.get(address).status_code == 200
    assert Fastening.objects.exists()
    assert yard.post(address, {"member": hull["K"].pk}).url == hull["K"].get_absolute_url()
    assert not Fastening.objects.exists()
    assert Joint.objects.exists()
