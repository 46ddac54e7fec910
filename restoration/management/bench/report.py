"""A report of 300 findings and 300 photographs of 12 megapixels, against bare ReportLab.

Bare ReportLab writes the same words at the same places of as many pages and puts in the same
pictures, made small in the same way, and keeps no layout, contents, bookmarks or links. Each is
drawn in a process of its own, so that the memory of one is not counted to the other.
"""

import io
import multiprocessing
import resource
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import django
from reportlab import rl_config
from reportlab.lib.pagesizes import A4
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

COUNT = 300
MOST_MB, LARGEST_MB, MOST_TIMES = 300.0, 25.0, 2.0
MEGABYTE = 1024 * 1024
LINE = 11.0


@dataclass(frozen=True)
class Measured:
    """By the clock, and of the processor: on a busy machine the clock runs on while others work."""

    seconds: float
    worked: float
    peak_mb: float
    file_mb: float
    pages: int


def draw_many_findings() -> Iterator[str]:
    """Nothing is kept, and no yard's records are touched."""
    from restoration.management.bench.report_content import photographs

    with tempfile.TemporaryDirectory() as kept:
        folder = Path(kept)
        files = list(photographs(folder, COUNT))
        ours = _apart(_ours, folder, files)
        yield _said(f"Our report of {COUNT} findings and photographs", ours)
        bare = _apart(_bare, folder, files)
        yield _said("Bare ReportLab, the same words and pictures made small", bare)
        ready = _apart(_bare_ready, folder, files)
        yield _said("Bare ReportLab, pictures that were small already", ready)
    yield from _verdicts(ours, bare)


def _verdicts(ours: Measured, bare: Measured) -> Iterator[str]:
    for what, found, most in (
        ("times bare ReportLab, by the processor", ours.worked / bare.worked, MOST_TIMES),
        ("MB of memory", ours.peak_mb, MOST_MB),
        ("MB of file", ours.file_mb, LARGEST_MB),
    ):
        yield f"{found:.2f} {what}, of {most:g} allowed{'' if found <= most else ': TOO MUCH'}."


def _said(what: str, found: Measured) -> str:
    return (
        f"{what}: {found.seconds:.1f} s, {found.worked:.1f} s of the processor, at most "
        f"{found.peak_mb:.0f} MB of memory, "
        f"{found.file_mb:.1f} MB, {found.pages} pages"
    )


def _apart(draw: Callable, folder: Path, files: Sequence[str]) -> Measured:
    context = multiprocessing.get_context("spawn")
    with context.Pool(1, initializer=django.setup) as pool:
        return pool.apply(_measured, (draw, folder, list(files)))


def _measured(draw: Callable, folder: Path, files: list[str]) -> Measured:
    began, worked = draw(folder, files)
    data, pages = worked()
    seconds, used = time.perf_counter() - began[0], time.process_time() - began[1]
    (folder / f"{draw.__name__}.pdf").write_bytes(data)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return Measured(seconds, used, peak, len(data) / MEGABYTE, pages)


def now() -> tuple[float, float]:
    return time.perf_counter(), time.process_time()


def _ours(folder: Path, files: list[str]):
    from restoration.management.bench.report_content import content
    from restoration.reports.pdf.figures import Pictures
    from restoration.reports.pdf.survey_report import draw_report

    pages = []

    def work() -> tuple[bytes, int]:
        store = Pictures(lambda name: (folder / name).open("rb"))
        return draw_report(content(files), store, pages.append), max(pages)

    return now(), work


def _bare(folder: Path, files: list[str]):
    from restoration.reports.pdf.figures import LONE_BOX, Pictures

    store = Pictures(lambda name: (folder / name).open("rb"))
    words = _words_of(folder / "_ours.pdf")
    return now(), lambda: _written(
        words, [lambda file=file: store.jpeg(file, *LONE_BOX) for file in files]
    )


def _bare_ready(folder: Path, files: list[str]):
    from restoration.reports.pdf.figures import LONE_BOX, Pictures

    store = Pictures(lambda name: (folder / name).open("rb"))
    ready = [store.jpeg(file, *LONE_BOX) for file in files]
    words = _words_of(folder / "_ours.pdf")
    return now(), lambda: _written(words, [lambda one=one: one for one in ready])


def _words_of(paper: Path) -> list[list[str]]:
    """The lines of each page of our own paper, as a reader of PDF finds them."""
    import pypdf

    return [page.extract_text().splitlines() for page in pypdf.PdfReader(paper).pages]


def _written(words: list[list[str]], pictures: list[Callable]) -> tuple[bytes, int]:
    from restoration.reports.pdf.letters import register_fonts
    from restoration.reports.pdf.type import REGULAR

    register_fonts()
    rl_config.useA85 = 0  # as our own papers do: it would only make bare ReportLab slower
    file = io.BytesIO()
    canvas = Canvas(file, pagesize=A4, invariant=1)
    for number, lines in enumerate(words):
        canvas.setFont(REGULAR, 9)
        for row, line in enumerate(lines):
            canvas.drawString(60, 780 - LINE * row, line)
        share = range(
            number * len(pictures) // len(words), (number + 1) * len(pictures) // len(words)
        )
        for place in share:
            jpeg = ImageReader(io.BytesIO(pictures[place]()))
            canvas.drawImage(jpeg, 60, 60, 290, 217)
        canvas.showPage()
    canvas.save()
    return file.getvalue(), len(words)
