"""Rows of a table laid out for a width: lines of every cell, and the blocks that stay on one page."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Protocol

from django.utils.translation import gettext as _
from reportlab.pdfgen.canvas import Canvas

from workshop.documents.columns import GAP, Place
from workshop.documents.lettering import (
    EDGE,
    HAIR,
    SEMIBOLD,
    Style,
    fitted,
    printable,
    rule,
    shortened,
    width_of,
    wrapped,
    write,
)
from workshop.documents.marks import Tones

BODY = Style(10.5, pitch=13)
STRONG = replace(BODY, font=SEMIBOLD)
GRAND = Style(14, SEMIBOLD)

ROW = 20.0
GROUP_ROW = 16.0
SUM_ROW = 16.0
GRAND_ROW = 42.0
MOST_LINES = 20
TALLEST_BLOCK = 300.0
LONGEST_KEPT = 4

Cell = str | Tones


class Line(Protocol):
    """One line of a cell."""

    def draw(self, canvas: Canvas, x: float, baseline: float, width: float) -> None: ...


@dataclass(frozen=True)
class TextLine:
    text: str
    style: Style
    right: bool = False

    def draw(self, canvas: Canvas, x: float, baseline: float, width: float) -> None:
        if self.text:
            write(canvas, self.text, self.style, x + width if self.right else x, baseline, self.right)


def lines_of(cell: Cell, style: Style, width: float, right: bool) -> list[Line]:
    """A figure stays on one line and gets smaller where it must; words and swatches take several."""
    if isinstance(cell, Tones):
        return list(cell.lines(width, style))
    if right:
        style = fitted(cell, style, width)
    return [TextLine(text, style, right) for text in wrapped(cell, style, width)]


@dataclass
class Row:
    """A row as it is drawn.

    name: lines that name its group, running on beside the rows under it
    extra: room they need beyond those rows
    group: name of the group that the row goes on with
    to_end: height of the group from this row on
    rule_from: where the line under the row begins
    closes: it is the last of its table
    above: a rule over it closes the rows before
    """

    cells: list[list[Line]]
    places: Sequence[Place]
    least: float = ROW
    name: list[Line] = field(default_factory=list)
    extra: float = 0
    group: str = ""
    to_end: float = 0
    rule_from: float | None = 0
    ends_group: bool = False
    closes: bool = False
    above: bool = False

    @property
    def height(self) -> float:
        return self.least + BODY.leading * (max(1, *map(len, self.cells)) - 1) + self.extra

    def draw(self, canvas: Canvas, x: float, top: float, width: float, opens_page: bool) -> None:
        if self.above:
            rule(canvas, x, top, width, 1.2)
        first = top - 3.7 - self.least / 2
        if opens_page and self.group:
            for number, line in enumerate(self.named_again()):
                write(canvas, line, STRONG, x, first - number * BODY.leading)
        for number, line in enumerate(self.name):
            line.draw(canvas, x, first - number * BODY.leading, self.places[0][1])
        for lines, (left, wide) in zip(self.cells, self.places, strict=True):
            for number, line in enumerate(lines):
                line.draw(canvas, x + left, first - number * BODY.leading, wide)
        if self.closes:
            rule(canvas, x, top - self.height, width, 1.2)
        elif self.rule_from is not None:
            weight, color = (0.35, HAIR) if not self.ends_group else (0.5, EDGE)
            rule(canvas, x + self.rule_from, top - self.height, width - self.rule_from, weight, color)

    def named_again(self) -> list[str]:
        """The group's name at the head of a page: whole in as many lines as its rows leave, else shortened."""
        wide = self.places[0][1]
        lines = wrapped(_("%(name)s, continued") % {"name": self.group}, STRONG, wide)
        if self.least + BODY.leading * (len(lines) - 1) <= self.to_end:
            return lines
        words = _("continued")
        room = wide - width_of(printable(f", {words}"), STRONG)
        return [_("%(name)s, continued") % {"name": shortened(self.group, STRONG, room)}]


@dataclass
class GrandRow:
    """The last line of an account, over the right part of the width."""

    label: str
    amount: str
    height: float = GRAND_ROW

    def draw(self, canvas: Canvas, x: float, top: float, width: float, opens_page: bool) -> None:
        amount = fitted(self.amount, GRAND, width * 0.6)
        figure = shortened(self.amount, amount, width * 0.6)
        room = width - width_of(figure, amount) - GAP
        label = fitted(self.label, GRAND, room, least=9)
        words = shortened(self.label, label, room)
        left = min(width * 0.55, room - width_of(words, label))
        rule(canvas, x + left, top - 9, width - left, 0.6)
        write(canvas, words, label, x + left, top - 28)
        write(canvas, figure, amount, x + width, top - 28, right=True)
        rule(canvas, x + left, top - 37, width - left, 1.2)
        rule(canvas, x + left, top - 39.4, width - left, 0.5)


@dataclass
class Block:
    """Rows that stay on one page."""

    rows: list[Row | GrandRow]
    height: float = field(init=False)

    def __post_init__(self) -> None:
        self.height = sum(row.height for row in self.rows)


def group_rows(
    group: Sequence[Sequence[Cell]], places: Sequence[Place], styles: Sequence[Style], right: Sequence[bool]
) -> list[Row]:
    """The rows of one group; a row of more lines than anyone writes goes on in further rows."""
    rows: list[Row] = []
    several = len(group) > 1
    height = GROUP_ROW if several else ROW
    second = places[1][0] if several and len(places) > 1 else 0
    for cells in group:
        lines = [
            lines_of(cell, style, wide, at_right)
            for cell, style, (_left, wide), at_right in zip(cells, styles, places, right, strict=True)
        ]
        name = lines[0] if several and not rows and len(lines[0]) <= MOST_LINES else []
        if name:
            lines[0] = []
        for start in range(0, max(1, *map(len, lines)), MOST_LINES):
            part = [cell[start : start + MOST_LINES] for cell in lines]
            rows.append(Row(part, places, height, name=[] if start else name, rule_from=second))
    if several and isinstance(group[0][0], str):
        left = sum(row.height for row in rows)
        for before, row in pairwise(rows):
            left -= before.height
            row.group, row.to_end = group[0][0], left
        beside = rows[: _beside_name(rows)]
        beside = beside if sum(row.height for row in beside) <= TALLEST_BLOCK else rows[:1]
        beside[-1].extra = max(0.0, _name_height(rows) - sum(row.height for row in beside))
    rows[-1].rule_from = 0
    rows[-1].ends_group = several
    return rows


def _name_height(rows: Sequence[Row]) -> float:
    return GROUP_ROW + BODY.leading * (len(rows[0].name) - 1)


def _beside_name(rows: Sequence[Row]) -> int:
    """How many rows of a group stay together at its beginning: two, or as many as its name is high."""
    count = len(rows) if len(rows) <= LONGEST_KEPT else 2
    while count < len(rows) and sum(row.height for row in rows[:count]) < _name_height(rows):
        count += 1
    return count


def sum_row(cells: Sequence[Cell], strong: bool, places: Sequence[Place], right: Sequence[bool]) -> Row:
    """A line under the rows; its first cell runs on over the empty cells beside it."""
    style = STRONG if strong else BODY
    taken = next((number for number, cell in enumerate(cells) if number and cell), len(cells))
    end = places[-1][0] + places[-1][1]
    if taken < len(cells):
        left, wide = places[taken]
        cell = cells[taken]
        indent = wide - width_of(printable(cell), style) if right[taken] and isinstance(cell, str) else 0
        end = left + max(indent, 0) - GAP
    spans = [(places[0][0], end - places[0][0]), *places[1:]]
    lines = [
        lines_of(cell, style, wide, at_right)[:MOST_LINES]
        for cell, (_left, wide), at_right in zip(cells, spans, right, strict=True)
    ]
    return Row(lines, spans, SUM_ROW, rule_from=None)


def blocks_of(groups: Sequence[list[Row]], tail: Sequence[Row | GrandRow]) -> list[Block]:
    """What stays together: a group of up to four rows, two rows at each end of a longer one, the sums with
    the last rows above them. Nothing is taller than half a page, so that it always finds one.
    """
    blocks: list[Block] = []
    for rows in groups:
        first = _beside_name(rows)
        last = max(first, len(rows) - 2)
        parts = [rows[:first], *([row] for row in rows[first:last]), rows[last:]]
        blocks += _bounded([part for part in parts if part])
    if tail:
        whole = Block([*(blocks[-1].rows if blocks else []), *tail])
        if whole.height <= TALLEST_BLOCK:
            blocks[-1:] = [whole]
        else:
            blocks += _bounded([*([row] for row in tail[:-2]), list(tail[-2:])])
    return blocks


def _bounded(parts: Sequence[Sequence[Row | GrandRow]]) -> list[Block]:
    blocks: list[Block] = []
    for part in parts:
        block = Block(list(part))
        blocks += [block] if block.height <= TALLEST_BLOCK else [Block([row]) for row in part]
    return blocks
