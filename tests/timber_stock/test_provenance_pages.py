"""Where a log grew, what protects it, its papers, and what it and its sawings cost."""

import hashlib
import io
from datetime import date, timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import IntegrityError, transaction
from django.utils import timezone
from PIL import Image
from pypdf import PdfReader

from timber_stock.models import Log, LogPaper, Sawing
from timber_stock.web import papers
from timber_stock.web.papers import take_in_paper
from timber_stock.web.pictures import NotTakenIn

pytestmark = pytest.mark.django_db
PDF = (
    b"%PDF-1.4\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n"
    b"2 0 obj<</Type/Pages/Kids[3 0 R]/Count 1>>endobj\n"
    b"3 0 obj<</Type/Page/Parent 2 0 R/MediaBox[0 0 99 99]>>endobj\n"
    b"xref\n0 4\n0000000000 65535 f \n0000000009 00000 n \n0000000052 00000 n \n"
    b"0000000101 00000 n \ntrailer<</Size 4/Root 1 0 R>>\nstartxref\n162\n%%EOF\n"
)


def jpeg(width=80):
    out = io.BytesIO()
    Image.new("RGB", (width, 60), "tan").save(out, "JPEG")
    return out.getvalue()


def sent(content, name="felling-note.pdf"):
    return SimpleUploadedFile(name, content)


def typed(**more):
    return {"kind": "felling", "title": "Felling note 14", "dated_on": "2025-12-09"} | more


def log_typed(log, **more):
    """What the log's own form holds, with something changed."""
    from timber_stock.forms.log import LogForm

    form = LogForm(instance=log, units="metric")
    held = {name: form[name].value() for name in form.fields}
    return {name: "" if v is None else v for name, v in held.items()} | more


def test_the_pdf_these_tests_send_is_one_that_a_reader_opens():
    assert len(PdfReader(io.BytesIO(PDF), strict=True).pages) == 1


def test_a_pdf_is_kept_byte_for_byte_and_told_by_its_sha256(log, signed_in):
    client = signed_in()
    answer = client.post(f"/timber/logs/{log.pk}/papers/new/", typed(paper=sent(PDF)))
    assert answer.status_code == 302
    paper = LogPaper.objects.get()
    assert paper.sha256 == hashlib.sha256(PDF).hexdigest()
    assert (paper.content_type, paper.size_bytes) == ("application/pdf", len(PDF))
    served = client.get(f"/timber/log-papers/{paper.pk}/")
    assert b"".join(served.streaming_content) == PDF
    assert served["X-Content-Type-Options"] == "nosniff"
    assert served["Content-Disposition"].startswith("attachment")
    said = client.get(log.get_absolute_url()).content.decode()
    assert "Felling note 14" in said
    assert paper.sha256 in said


def test_a_photograph_of_a_paper_is_written_anew_as_a_jpeg(log, signed_in):
    client = signed_in()
    client.post(f"/timber/logs/{log.pk}/papers/new/", typed(paper=sent(jpeg(), "note.png")))
    paper = LogPaper.objects.get()
    served = client.get(f"/timber/log-papers/{paper.pk}/")
    content = b"".join(served.streaming_content)
    assert served["Content-Type"] == "image/jpeg"
    assert hashlib.sha256(content).hexdigest() == paper.sha256


@pytest.mark.parametrize(
    ("content", "name", "said"),
    [
        (b"MZ\x90\x00 a program", "felling-note.pdf", "neither a PDF nor a photograph"),
        (b"<html><script>alert(1)</script></html>", "note.pdf", "neither a PDF nor a photograph"),
        (PDF[:-7], "note.pdf", "the end of the PDF is missing"),
        (b"%PDF-%%EOF", "note.pdf", "the end of the PDF is missing"),
        (b"%PDF-1.4\n%%EOF\nstartxref\n9\n", "note.pdf", "the end of the PDF is missing"),
        (PDF + b"0" * 2000 + b"%%EOF", "note.pdf", "the end of the PDF is missing"),
        (jpeg(900)[:-400], "note.jpg", "damaged or cut short"),
    ],
)
def test_a_file_that_is_no_paper_is_refused_and_what_was_typed_is_kept(
    log, signed_in, content, name, said
):
    answer = signed_in().post(
        f"/timber/logs/{log.pk}/papers/new/", typed(paper=sent(content, name))
    )
    assert answer.status_code == 422
    text = answer.content.decode()
    assert said in text
    assert name in text
    assert "Felling note 14" in text
    assert not LogPaper.objects.exists()


def test_a_paper_of_50_mb_is_refused_before_it_is_read():
    class Huge(io.BytesIO):
        def read(self, *size):
            raise AssertionError("read")

        def seek(self, offset, whence=0):
            return 50 * 1024 * 1024 if whence == io.SEEK_END else 0

    with pytest.raises(NotTakenIn, match="50 MB; a paper may be up to 20 MB"):
        take_in_paper(Huge(), "scan.pdf")


def test_a_paper_too_big_is_refused_on_the_page(log, signed_in, monkeypatch):
    monkeypatch.setattr(papers, "LARGEST_PAPER_MB", 1)
    big = PDF[:9] + b"0" * 1024 * 1024 + PDF[9:]
    answer = signed_in().post(f"/timber/logs/{log.pk}/papers/new/", typed(paper=sent(big)))
    assert answer.status_code == 422
    assert "a paper may be up to 1 MB" in answer.content.decode()


def test_the_same_file_twice_is_refused_and_leaves_no_file_behind(log, signed_in, settings):
    client = signed_in()
    for _ in range(2):
        answer = client.post(f"/timber/logs/{log.pk}/papers/new/", typed(paper=sent(PDF)))
    assert answer.status_code == 422
    assert "with the log already" in answer.content.decode()
    assert len(list((settings.MEDIA_ROOT / "log_papers").iterdir())) == 1


def test_a_paper_dated_tomorrow_is_refused(log, signed_in):
    day = timezone.localdate() + timedelta(days=1)
    answer = signed_in().post(
        f"/timber/logs/{log.pk}/papers/new/", typed(paper=sent(PDF), dated_on=f"{day}")
    )
    assert answer.status_code == 422
    assert "still to come" in answer.content.decode()


def test_a_paper_is_taken_off_with_its_file(log, signed_in, settings):
    client = signed_in()
    client.post(f"/timber/logs/{log.pk}/papers/new/", typed(paper=sent(PDF)))
    paper = LogPaper.objects.get()
    assert client.get(f"/timber/log-papers/{paper.pk}/delete/").status_code == 200
    client.post(f"/timber/log-papers/{paper.pk}/delete/")
    assert not LogPaper.objects.exists()
    assert not list((settings.MEDIA_ROOT / "log_papers").iterdir())


def test_a_surveyor_reads_the_papers_and_a_client_does_not(log, signed_in):
    signed_in().post(f"/timber/logs/{log.pk}/papers/new/", typed(paper=sent(PDF)))
    address = f"/timber/log-papers/{LogPaper.objects.get().pk}/"
    assert signed_in("surveyor").get(address).status_code == 200
    assert signed_in("client").get(address).status_code == 403


def test_where_it_grew_and_what_protects_it_are_kept_and_shown(log, signed_in):
    client = signed_in()
    said = {
        "grew_country": "Norrland", "grew_latitude": "57.25", "grew_longitude": "-3.5",
        "protection_note": "Listed in appendix II.", "protection_source": "Permit 88-B",
    }  # fmt: skip
    answer = client.post(f"/timber/logs/{log.pk}/edit/", log_typed(log, **said))
    assert answer.status_code == 302, answer.context["form"].errors
    page = client.get(log.get_absolute_url()).content.decode()
    for words in ("Norrland", "57.25°", "-3.5°", "Listed in appendix II.", "Permit 88-B"):
        assert words in page


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"grew_latitude": "91", "grew_longitude": "3"}, "latitude from -90 to 90"),
        ({"grew_latitude": "57"}, "told by both"),
        ({"protection_note": "Appendix II"}, "Say where it is written"),
        ({"felled_on": "2199-01-01"}, "still to come"),
        ({"felled_on": "2025-12-09", "received_on": "2025-12-08"}, "before it was felled"),
        ({"price": "-1"}, "less than nothing"),
        ({"transport": "-1"}, "less than nothing"),
    ],
)
def test_what_cannot_be_said_of_a_log_is_refused(log, signed_in, given, said):
    answer = signed_in().post(f"/timber/logs/{log.pk}/edit/", log_typed(log, **given))
    assert answer.status_code == 422
    text = answer.content.decode()
    assert said in text or "or more" in text
    for value in given.values():
        assert value in text


def test_a_page_that_knows_of_no_protection_does_not_say_that_there_is_none(log, signed_in):
    page = signed_in().get(log.get_absolute_url()).content.decode()
    assert "does not say that the wood is free of rules" in page


def test_a_sawing_is_kept_with_what_it_cost_and_the_bill_may_come_later(flitch, signed_in):
    client = signed_in()
    address = f"/timber/sawings/{flitch.sawing_id}/cost/"
    assert "not entered" in client.get(flitch.log.get_absolute_url()).content.decode()
    assert client.post(address, {"cost": "85.40"}).status_code == 302
    assert str(Sawing.objects.get().cost) == "85.40"
    assert "85.40" in client.get(flitch.log.get_absolute_url()).content.decode()
    refused = client.post(address, {"cost": "-1"})
    assert refused.status_code == 422
    assert "cannot cost less than nothing" in refused.content.decode()
    assert 'value="-1"' in refused.content.decode()


def test_the_cost_of_a_sawing_goes_in_with_it(log, signed_in):
    client = signed_in()
    said = {
        "rows": "1", "sawn_on": "2026-02-03", "sawn_by": "Bram Oddy", "kerf_mm": "6",
        "cost": "120.50", "piece-0-quantity": "1", "piece-0-thickness_mm": "76 mm",
        "piece-0-width_mm": "360 mm", "piece-0-length_mm": "4100 mm",
        "piece-0-heart": "unknown", "piece-0-rings": "unknown",
    }  # fmt: skip
    answer = client.post(f"/timber/logs/{log.pk}/saw/", said)
    assert answer.status_code == 302, answer.context["sheet"].form.errors
    assert str(Sawing.objects.get().cost) == "120.50"


def test_the_database_itself_refuses_costs_below_nothing_and_half_a_place(log, flitch):
    for changed in ({"price": -1}, {"transport": -1}, {"grew_latitude": 12.5}):
        with pytest.raises(IntegrityError), transaction.atomic():
            Log.objects.filter(pk=log.pk).update(**changed)
    with pytest.raises(IntegrityError), transaction.atomic():
        Sawing.objects.update(cost=-1)
    assert Log.objects.get(pk=log.pk).felled_on == date(2025, 12, 9)
