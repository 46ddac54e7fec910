"""The chain of a member as open provenance data, from felling to fitting."""

import json
from datetime import date, datetime

import pytest
from prov.model import ProvDocument

from restoration.actions.allotments import record_cut, record_fitted
from timber_stock.models import Log, LogPaper

pytestmark = pytest.mark.django_db
CUT, FITTED = date(2026, 2, 9), date(2026, 2, 20)


@pytest.fixture
def floor(survey, make_spec, deep_log, promise):
    spec = make_spec(survey, "F12")
    taken = promise(spec, "L7-2b1", 200, 1350)
    record_cut(allotment=taken, on=CUT, by="Ansgar")
    record_fitted(allotment=taken, on=FITTED, by="Wiebke")
    return spec


@pytest.fixture
def told(client, people):
    def ask(tag, **more):
        client.force_login(people["yard"])
        answer = client.get(f"/t/{tag}/prov.json", more)
        assert answer.status_code == 200
        return answer.json()

    return ask


def reached(document):
    """Every name that any relation speaks of, with the section it must be declared in."""
    sections = {"entity": "entity", "generatedEntity": "entity", "usedEntity": "entity",
                "activity": "activity", "agent": "agent"}  # fmt: skip
    for name, rows in document.items():
        if name in ("prefix", "entity", "activity", "agent"):
            continue
        for row in rows.values():
            for role, what in row.items():
                yield what, sections[role.removeprefix("prov:")]


def test_every_name_is_declared_and_every_time_is_iso(floor, told):
    document = told("TEN-F12")
    found = list(reached(document))
    assert found
    for what, section in found:
        assert what in document[section], what
    for act in document["activity"].values():
        for when in ("prov:startTime", "prov:endTime"):
            if when in act:
                datetime.fromisoformat(act[when])


def test_another_hand_reads_every_thing_and_every_relation_of_it(floor, told):
    """The `prov` library, of the W3C's data model, on a whole chain as the register gives it."""
    document = told("TEN-F12")
    read = ProvDocument.deserialize(content=json.dumps(document), format="json")
    rows = sum(len(rows) for section, rows in document.items() if section != "prefix")
    assert len(read.records) == rows > 20
    names = {record.identifier.uri for record in read.records if record.is_element()}
    space = document["prefix"]["reg"]
    declared = [*document["entity"], *document["activity"], *document["agent"]]
    assert names == {space + name.removeprefix("reg:") for name in declared}
    assert ProvDocument.deserialize(content=read.serialize(format="json"), format="json") == read


def test_the_way_from_the_member_leads_back_to_the_felling_of_the_log(floor, told):
    document = told("TEN-F12")
    out_of = {row["prov:generatedEntity"]: row["prov:usedEntity"]
              for row in document["wasDerivedFrom"].values()}  # fmt: skip
    way, at = [], "reg:member-TEN-F12"
    while at in out_of:
        at = out_of[at]
        way.append(at)
    assert way[0].startswith("reg:length-")
    assert way[1:] == ["reg:board-L7-2b1", "reg:board-L7-2b", "reg:board-L7-2", "reg:log-L7"]
    made_by = {row["prov:entity"]: row["prov:activity"]
               for row in document["wasGeneratedBy"].values()}  # fmt: skip
    assert made_by["reg:log-L7"] == "reg:felling-L7"
    assert document["activity"]["reg:felling-L7"]["prov:startTime"].startswith("2025-01-17")
    fitting = document["activity"][made_by["reg:member-TEN-F12"]]
    assert fitting["prov:type"]["$"] == "hl:Fitting"
    assert fitting["prov:startTime"].startswith("2026-02-20")


def test_sawyer_shipwrights_and_seller_are_agents_each_once(floor, told):
    document = told("TEN-F12")
    called = sorted(agent["prov:label"] for agent in document["agent"].values())
    assert called == ["Aldermoor Sawing", "Ansgar", "J. Sawyer", "Wiebke"]


def test_where_it_grew_its_protection_and_its_papers_go_with_it(floor, told):
    log = Log.objects.get(tag="L7")
    Log.objects.filter(pk=log.pk).update(
        grew_country="Norrland", grew_latitude=57.25, grew_longitude=-3.5,
        protection_note="Looked through: not listed.", protection_source="List of 2025",
    )  # fmt: skip
    paper = LogPaper.objects.create(
        log=log, kind="felling", title="Felling note 14", content_type="application/pdf",
        size_bytes=9, sha256="ab" * 32, kept_on=CUT, kept_by="W",
    )  # fmt: skip
    document = told("TEN-F12")
    entity = document["entity"]["reg:log-L7"]
    assert entity["hl:latitude"] == {"$": "57.25", "type": "xsd:double"}
    assert entity["hl:protectionSource"] == "List of 2025"
    assert entity["hl:thread"] == "http://testserver/t/L7/"
    assert document["entity"][f"reg:paper-{paper.pk}"]["hl:sha256"] == "ab" * 32


def test_a_length_that_is_only_allotted_is_no_piece_yet(survey, make_spec, deep_log, promise, told):
    promise(make_spec(survey, "F13"), "L7-1", 0, 1200)
    document = told("TEN-F13")
    assert set(document["entity"]) == {"reg:log-L7", "reg:board-L7-1"}


def test_a_member_of_two_lengths_is_made_once_and_comes_out_of_both(
    floor, bought_board, promise, told
):
    second = promise(floor, "Q3", 300, 900)
    record_cut(allotment=second, on=CUT, by="Ansgar")
    record_fitted(allotment=second, on=FITTED, by="Wiebke")
    document = told("TEN-F12")
    made = [row for row in document["wasGeneratedBy"].values()
            if row["prov:entity"] == "reg:member-TEN-F12"]  # fmt: skip
    assert len(made) == 1
    out_of = [row for row in document["wasDerivedFrom"].values()
              if row["prov:generatedEntity"] == "reg:member-TEN-F12"]  # fmt: skip
    assert len(out_of) == 2


def test_a_log_gives_the_chains_of_all_that_was_made_of_it(floor, told):
    assert "reg:member-TEN-F12" in told("L7")["entity"]


def test_what_nothing_answers_to_is_not_found_and_a_client_may_not_ask(floor, client, people):
    client.force_login(people["yard"])
    assert client.get("/t/NOWHERE/prov.json").status_code == 404
    client.force_login(people["client"])
    assert client.get("/t/TEN-F12/prov.json").status_code == 403


def test_thread_and_certificate_lead_to_it(floor, client, people):
    client.force_login(people["yard"])
    member = floor.finding.member
    for page in ("/t/TEN-F12/", f"/members/{member.pk}/certificate/"):
        assert "/t/TEN-F12/prov.json?as=member" in client.get(page).content.decode()
