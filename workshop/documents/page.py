"""Pages: paper, frame, and the title block at the foot of each with page x of y."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from functools import partial
from io import BytesIO

from babel import Locale
from babel.dates import format_date
from django.utils.translation import gettext as _
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate

from workshop.documents.lettering import (
    INK,
    INK_2,
    LETTERS_ON_A_LINE,
    MEDIUM,
    MISSING,
    REGULAR,
    SEMIBOLD,
    Style,
    printable,
    rule,
    shortened,
    typeface,
    width_of,
    wrapped,
    write,
)
from workshop.documents.notes import with_last_rows
from workshop.documents.parts import Letterhead, LetterheadPart

PAPERS = {"letter": (612.0, 792.0), "a4": (595.2756, 841.8898)}
MARGIN = 32.0
INSIDE = 13.0
FOOT = 40.0
FRAME = 1.2

LABEL = Style(8, color=INK_2)
VALUE = Style(11, SEMIBOLD)
SMALL_VALUE = Style(8.5, SEMIBOLD, pitch=9.5)
SMALL = Style(7.5, color=INK_2)
PADDING = 8.0


@dataclass(frozen=True)
class Foot:
    """The title block at the foot: what each page says of its document, besides which page it is.

    `until` is a label and a value of the document's own: until when it is valid, or its revision. A document that
    is of no job names something else in the second cell, and `job_label` says what.
    """

    shop: str
    job: str
    document: str
    day: str
    until: tuple[str, str] | None = None
    job_label: str = ""


def full_date(day: date, language: str) -> str:
    """The day with its year, as documents say it: Nov 25, 2026."""
    return format_date(day, "medium", locale=Locale.parse(language.replace("-", "_")))


def build(
    story: Sequence[Flowable],
    *,
    title: str,
    language: str,
    day: date,
    paper: str,
    letterhead: Letterhead,
    foot: Foot,
) -> bytes:
    """The document as PDF, the same bytes for the same story and day.

    Raises:
        ValueError: the paper is neither letter nor a4
    """
    if paper not in PAPERS:
        raise ValueError(f"Paper {paper[:40]!r} is not known; letter or a4 would do")
    for name in (REGULAR, MEDIUM, SEMIBOLD):
        typeface(name)
    width, height = PAPERS[paper]
    edge = MARGIN + INSIDE
    frame = Frame(
        edge,
        edge + FOOT,
        width - 2 * edge,
        height - 2 * edge - FOOT,
        leftPadding=0,
        rightPadding=0,
        topPadding=0,
        bottomPadding=0,
    )
    file = BytesIO()
    document = BaseDocTemplate(
        file,
        pagesize=(width, height),
        pageTemplates=[PageTemplate(frames=[frame])],
        title=_one_line(title),
        author=_one_line(letterhead.name),
        subject="",
        creator="Flitchbook",
        lang=language,
        invariant=1,
        initialFontName=REGULAR,
    )
    canvas = partial(_PagedCanvas, foot=foot, day=day)
    document.build([LetterheadPart(letterhead), *with_last_rows(story)], canvasmaker=canvas)
    return file.getvalue()


def _one_line(text: str) -> str:
    return " ".join(text.replace("\0", "").encode("utf-8", "replace").decode("utf-8").split())


class _PagedCanvas(Canvas):
    """Holds its pages back until their number is known, then gives each its frame and title block."""

    def __init__(self, *args: object, foot: Foot, day: date, **options: object) -> None:
        super().__init__(*args, **options)
        self._foot = foot
        self._held: list[dict[str, object]] = []
        self._lacks_a_letter = False
        self.setDateFormatter(lambda *_moment: f"D:{day:%Y%m%d}000000Z")
        self.setViewerPreference("DisplayDocTitle", "true")

    def drawString(self, x: float, y: float, text: str, *args: object, **options: object) -> None:
        self._lacks_a_letter = self._lacks_a_letter or MISSING in text
        super().drawString(x, y, text, *args, **options)

    def showPage(self) -> None:
        self._held.append(dict(self.__dict__))
        self._lacks_a_letter = False
        self._startPage()

    def save(self) -> None:
        held = self._held
        cells = _cells_of(self._foot, len(held), len(held))
        widths = _cell_widths(cells, self._pagesize[0] - 2 * MARGIN)
        for number, page in enumerate(held, start=1):
            self.__dict__.update(page)
            self._furnish(_cells_of(self._foot, number, len(held)), widths)
            super().showPage()
        super().save()

    def _furnish(self, cells: Sequence[tuple[str, str]], widths: Sequence[float]) -> None:
        width, height = self._pagesize
        wide = width - 2 * MARGIN
        self.setStrokeColor(INK)
        self.setLineWidth(FRAME)
        self.rect(MARGIN, MARGIN, wide, height - 2 * MARGIN)
        rule(self, MARGIN, MARGIN + FOOT, wide, FRAME)
        x = MARGIN
        for number, ((label, value), cell) in enumerate(zip(cells, widths, strict=True)):
            if number:
                self.setLineWidth(0.6)
                self.line(x, MARGIN, x, MARGIN + FOOT)
            self._fill_cell(label, value, x + PADDING, cell - 2 * PADDING + 2)
            x += cell
        if self._lacks_a_letter:
            words = _("%(sign)s stands for a letter this typeface does not hold.") % {"sign": MISSING}
            write(self, shortened(words, SMALL, wide - 2 * INSIDE), SMALL, MARGIN + INSIDE, MARGIN + FOOT + 4)

    def _fill_cell(self, label: str, value: str, x: float, width: float) -> None:
        write(self, shortened(label, LABEL, width), LABEL, x, MARGIN + FOOT - 12.5)
        value = printable(value).replace("\n", " ")
        if width_of(value, VALUE) <= width:
            write(self, value, VALUE, x, MARGIN + 10.5)
            return
        for number, line in enumerate(wrapped(value, SMALL_VALUE, width, most=2)):
            write(self, line, SMALL_VALUE, x, MARGIN + 16 - number * SMALL_VALUE.leading)


def _cells_of(foot: Foot, page: int, pages: int) -> list[tuple[str, str]]:
    """Label and value of each cell on one page."""
    cells = [
        (_("Shop"), foot.shop),
        (foot.job_label or _("Job"), foot.job),
        (_("Document"), foot.document),
        (_("Date"), foot.day),
        foot.until,
        (_("Page"), _("%(page)s of %(pages)s") % {"page": page, "pages": pages}),
    ]
    return [(label[:LETTERS_ON_A_LINE], value[:LETTERS_ON_A_LINE]) for label, value in filter(None, cells)]


def _cell_widths(cells: Sequence[tuple[str, str]], width: float) -> list[float]:
    """Day, validity and page whole; shop, job and document share the rest by what they need."""
    needs = [
        2 * PADDING + max(width_of(printable(label), LABEL), width_of(printable(value), VALUE))
        for label, value in cells
    ]
    short = [min(need, width / 5) for need in needs[3:]]
    room = width - sum(short)
    long = needs[:3]
    if sum(long) <= room:
        spare = (width - sum(long) - sum(short)) / len(cells)
        return [need + spare for need in [*long, *short]]
    widths = [min(need, room / 3) for need in long]
    left = room - sum(widths)
    wants = [need - wide for need, wide in zip(long, widths, strict=True)]
    return [*(wide + left * want / sum(wants) for wide, want in zip(widths, wants, strict=True)), *short]
