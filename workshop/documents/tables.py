"""Tables: a head that comes again on each page, rows that are never split, sums that never stand alone."""

from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _
from reportlab.platypus import Flowable

from workshop.documents.columns import Column, Place, measured
from workshop.documents.lettering import (
    INK_2,
    MEDIUM,
    SEMIBOLD,
    Style,
    printable,
    rule,
    shortened,
    width_of,
    wrapped,
    write,
)
from workshop.documents.rows import (
    BODY,
    ROW,
    STRONG,
    Block,
    Cell,
    GrandRow,
    Row,
    blocks_of,
    group_rows,
    sum_row,
)

TITLE = Style(13, SEMIBOLD)
HEAD = Style(9, MEDIUM, INK_2, pitch=11)
TITLE_HEIGHT = 20.0
SPACE_ABOVE = 18.0


@dataclass(frozen=True)
class Group:
    """Rows that belong together; the first cell of the first names them."""

    rows: Sequence[Sequence[Cell]]


@dataclass(frozen=True)
class Sum:
    """A line under the rows; its first cell runs on over the empty cells beside it."""

    cells: Sequence[Cell]
    strong: bool = False


@dataclass(frozen=True)
class Grand:
    """The last line of an account: larger, with a double rule under it."""

    label: str
    amount: str


def table(
    title: str,
    columns: Sequence[Column],
    rows: Sequence[Sequence[Cell] | Group],
    sums: Sequence[Sum] = (),
    grand: Grand | None = None,
) -> Flowable:
    """A table under its own head. A group cut by the end of a page is named again on the next."""
    groups = [list(row.rows) if isinstance(row, Group) else [row] for row in rows]
    return Table(_Plan(title, list(columns), [group for group in groups if group], list(sums), grand))


class _Plan:
    """A table laid out for one width, shared by its parts on several pages."""

    def __init__(
        self,
        title: str,
        columns: list[Column],
        groups: list[list[Sequence[Cell]]],
        sums: list[Sum],
        grand: Grand | None,
    ) -> None:
        self.title = title
        self.columns = columns
        self.groups = groups or [[[_("None"), *[""] * (len(columns) - 1)]]]
        self.sums = sums
        self.grand = grand
        self.width = 0.0
        self.places: list[Place] = []
        self.heads: list[list[str]] = []
        self.blocks: list[Block] = []

    @property
    def head_height(self) -> float:
        return 9 + HEAD.leading * max(map(len, self.heads))

    @property
    def lead(self) -> float:
        return TITLE_HEIGHT + self.head_height

    def lay_out(self, width: float) -> None:
        if self.width == width:
            return
        self.width = width
        right = [column.right for column in self.columns]
        styles = [STRONG if column.strong else BODY for column in self.columns]
        self.places = measured(self.columns, self._natural(styles), width)
        self.heads = [
            wrapped(column.head, HEAD, wide, most=3)
            for column, (_left, wide) in zip(self.columns, self.places, strict=True)
        ]
        groups = [group_rows(group, self.places, styles, right) for group in self.groups]
        tail: list[Row | GrandRow] = [sum_row(one.cells, one.strong, self.places, right) for one in self.sums]
        if self.grand:
            tail.append(GrandRow(self.grand.label, self.grand.amount))
        if self.sums:
            tail[0].above, tail[0].least = True, ROW
        else:
            groups[-1][-1].closes = True
        self.blocks = blocks_of(groups, tail)

    def _natural(self, styles: Sequence[Style]) -> list[float]:
        natural = []
        for number, (column, style) in enumerate(zip(self.columns, styles, strict=True)):
            if not column.right:
                natural.append(0.0)
                continue
            texts = {(str(row[number]), style) for group in self.groups for row in group}
            texts |= {(str(one.cells[number]), STRONG if one.strong else style) for one in self.sums}
            texts |= {(word, HEAD) for word in column.head.split()}
            natural.append(max(width_of(printable(text), used) for text, used in texts))
        return natural


class Table(Flowable):
    """The blocks of a plan from start to stop, under the table's head."""

    def __init__(self, plan: _Plan, start: int = 0, stop: int | None = None) -> None:
        super().__init__()
        self.plan = plan
        self.start = start
        self.stop = stop
        self.spaceBefore = SPACE_ABOVE if start == 0 else 0

    @property
    def blocks(self) -> list[Block]:
        return self.plan.blocks[self.start : self.stop]

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        self.plan.lay_out(available_width)
        self.width = available_width
        self.height = self.plan.lead + sum(block.height for block in self.blocks)
        return self.width, self.height

    def split(self, available_width: float, available_height: float) -> list[Flowable]:
        """Two parts at least two rows long, or none where the table had better begin on the next page."""
        self.plan.lay_out(available_width)
        room = available_height - self.plan.lead
        count = 0
        for block in self.blocks:
            room -= block.height
            if room < 0:
                break
            count += 1
        count = min(count, len(self.blocks) - 1)
        at_top = getattr(getattr(self, "_frame", None), "_atTop", False)
        if count > 2 and len(self.blocks[-1].rows) == 1 and count == len(self.blocks) - 1:
            count -= 1
        rows = sum(len(block.rows) for block in self.blocks[:count])
        if count < 1 or (rows < 2 and not at_top):
            return []
        return self._split_before(count)

    def without_last(self) -> list[Flowable]:
        """The table in two, the second its last two rows or the block they are in; none where less would be left."""
        counts = [len(block.rows) for block in self.blocks]
        middle = len(counts) - (1 if counts[-1] > 1 else 2)
        return self._split_before(middle) if sum(counts[: max(middle, 0)]) > 1 else []

    def _split_before(self, count: int) -> list[Flowable]:
        middle = self.start + count
        return [Table(self.plan, self.start, middle), Table(self.plan, middle, self.stop)]

    def draw(self) -> None:
        canvas, plan, width = self.canv, self.plan, self.width
        title = _("%(name)s, continued") % {"name": plan.title} if self.start else plan.title
        y = self.height
        write(canvas, shortened(title, TITLE, width), TITLE, 0, y - 13)
        y -= TITLE_HEIGHT
        rule(canvas, 0, y, width, 1.2)
        y -= plan.head_height
        for lines, column, (left, wide) in zip(plan.heads, plan.columns, plan.places, strict=True):
            x = left + wide if column.right else left
            for number, line in enumerate(reversed(lines)):
                write(canvas, line, HEAD, x, y + 6 + number * HEAD.leading, column.right)
        rule(canvas, 0, y, width, 0.6)
        opens_page = self.start > 0
        for block in self.blocks:
            for row in block.rows:
                row.draw(canvas, 0, y, width, opens_page)
                y -= row.height
                opens_page = False
        if self.stop is not None and self.stop < len(plan.blocks):
            rule(canvas, 0, y, width, 0.6)
