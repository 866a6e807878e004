"""Parts of a document besides its tables: letterhead, title with its one figure, facts."""

from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.platypus import Flowable

from workshop.documents.lettering import (
    INK_2,
    SEMIBOLD,
    Style,
    fitted,
    rule,
    shortened,
    width_of,
    wrapped,
    write,
)
from workshop.documents.marks import draw_mark

SHOP = Style(15, SEMIBOLD, pitch=17)
TRADE = Style(9.5, color=INK_2, pitch=12)
TITLE = Style(26, SEMIBOLD, pitch=29)
FIGURE = Style(22, SEMIBOLD)
FIGURE_LABEL = Style(9.5, color=INK_2)
FACT_LABEL = Style(8.5, color=INK_2, pitch=11)
FACT_VALUE = Style(11, SEMIBOLD, pitch=13)
FACT_LINE = Style(9, color=INK_2, pitch=12)

MARK = 30.0
GAP = 16.0


@dataclass(frozen=True)
class Letterhead:
    """Whose document it is."""

    name: str
    trade: str = ""
    address: tuple[str, ...] = ()


@dataclass(frozen=True)
class Fact:
    """A fact at the head of a document: label, value, and a second line that says more."""

    label: str
    value: str
    line: str = ""


def title(text: str, figure_label: str = "", figure: str = "") -> Flowable:
    """The document's name, with its one figure at the right."""
    return _Title(text, figure_label, figure)


def facts(given: Sequence[Fact]) -> Flowable:
    """Facts side by side, three or four in a row."""
    return _Facts(list(given))


class LetterheadPart(Flowable):
    """Mark, shop and line of trade at the left, address at the right, a rule under them."""

    def __init__(self, letterhead: Letterhead) -> None:
        super().__init__()
        self.letterhead = letterhead

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        self.width = available_width
        given = self.letterhead
        room = available_width - MARK - 11 - GAP
        self.name = wrapped(given.name, SHOP, room * 0.6, most=3)
        self.trade = wrapped(given.trade, TRADE, room * 0.6, most=3) if given.trade else []
        self.address = [line for text in given.address[:6] if text for line in wrapped(text, TRADE, room * 0.4, most=2)]
        left = SHOP.leading * len(self.name) + TRADE.leading * len(self.trade)
        self.height = max(MARK, left, TRADE.leading * len(self.address)) + 13
        return self.width, self.height

    def draw(self) -> None:
        top = self.height
        draw_mark(self.canv, 0, top - MARK, MARK)
        y = top - 11.5
        for line in self.name:
            write(self.canv, line, SHOP, MARK + 11, y)
            y -= SHOP.leading
        for line in self.trade:
            write(self.canv, line, TRADE, MARK + 11, y)
            y -= TRADE.leading
        for number, line in enumerate(self.address):
            write(self.canv, line, TRADE, self.width, top - 10 - number * TRADE.leading, right=True)
        rule(self.canv, 0, 0, self.width, 1.2)


class _Title(Flowable):
    spaceBefore = 10

    def __init__(self, text: str, figure_label: str, figure: str) -> None:
        super().__init__()
        self.text = text
        self.given_label = figure_label
        self.given_figure = figure

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        self.width = available_width
        most = available_width * 0.55
        self.figure_style = fitted(self.given_figure, FIGURE, most, least=10)
        self.figure = shortened(self.given_figure, self.figure_style, most)
        self.label = shortened(self.given_label, FIGURE_LABEL, most)
        taken = max(width_of(self.figure, self.figure_style), width_of(self.label, FIGURE_LABEL))
        self.lines = wrapped(self.text, TITLE, available_width - taken - GAP, most=3)
        self.height = max(TITLE.leading * len(self.lines), 34) + 8
        return self.width, self.height

    def draw(self) -> None:
        top = self.height
        for number, line in enumerate(self.lines):
            write(self.canv, line, TITLE, 0, top - 22 - number * TITLE.leading)
        write(self.canv, self.label, FIGURE_LABEL, self.width, top - 8, right=True)
        write(self.canv, self.figure, self.figure_style, self.width, top - 29, right=True)


class _Facts(Flowable):
    def __init__(self, given: list[Fact]) -> None:
        super().__init__()
        self.given = given
        self.across = 4 if len(given) == 4 else 3

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        self.width = available_width
        wide = (available_width - (self.across - 1) * GAP) / self.across
        cells = [
            [
                *((text, FACT_LABEL) for text in wrapped(fact.label, FACT_LABEL, wide, most=1)),
                *((text, FACT_VALUE) for text in wrapped(fact.value, FACT_VALUE, wide, most=4)),
                *((text, FACT_LINE) for text in wrapped(fact.line, FACT_LINE, wide, most=4) if fact.line),
            ]
            for fact in self.given
        ]
        self.rows = [cells[start : start + self.across] for start in range(0, len(cells), self.across)]
        self.heights = [max(sum(style.leading for _text, style in cell) for cell in row) + 6 for row in self.rows]
        self.height = sum(self.heights)
        return self.width, self.height

    def draw(self) -> None:
        top = self.height
        step = (self.width + GAP) / self.across
        for row, height in zip(self.rows, self.heights, strict=True):
            for number, cell in enumerate(row):
                y = top
                for text, style in cell:
                    y -= style.leading
                    write(self.canv, text, style, number * step, y + 2.5)
            top -= height
