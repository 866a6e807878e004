"""Notes: heads with sentences under them, in two columns."""

from collections.abc import Sequence

from reportlab.platypus import Flowable

from workshop.documents.lettering import SEMIBOLD, Style, wrapped, write
from workshop.documents.tables import Table

HEAD = Style(10.5, SEMIBOLD, pitch=15)
TEXT = Style(9.5, pitch=12)
GAP = 28.0
SPACE_ABOVE = 18.0
SHORT = 200.0
WORTH_TWO_COLUMNS = 100.0

Line = tuple[str, Style, float]


def notes(given: Sequence[tuple[str, Sequence[str]]]) -> Flowable:
    """Heads with sentences under them, left and right in turn; heads without a sentence are left out.

    Short notes stay on one page. Long ones go on over pages, and where only one column is left they run on
    from the left column into the right.
    """
    filled = [(head, [text for text in texts if text.strip()]) for head, texts in given]
    return _Notes([(head, texts) for head, texts in filled if texts])


def with_last_rows(story: Sequence[Flowable]) -> list[Flowable]:
    """The story, its notes at the end bound to the table before them, so that they do not get a page alone."""
    *before, last = story or [notes([])]
    if before and isinstance(last, _Notes) and last.given and isinstance(before[-1], Table):
        return [*before[:-1], _LastRows(before[-1], last)]
    return list(story)


class _LastRows(Flowable):
    """A table with the notes under it: short ones go over to the next page with its last rows, never alone."""

    def __init__(self, table: Table, under: "_Notes") -> None:
        super().__init__()
        self.table = table
        self.under = under
        self.spaceBefore = table.getSpaceBefore()

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        self.width, above = self.table.wrap(available_width, available_height)
        _width, self.below = self.under.wrap(available_width, available_height)
        self.height = above + SPACE_ABOVE + self.below
        return self.width, self.height

    def split(self, available_width: float, available_height: float) -> list[Flowable]:
        _width, above = self.table.wrap(available_width, available_height)
        self.table._frame = getattr(self, "_frame", None)
        if above > available_height:
            parts = self.table.split(available_width, available_height)
        elif self.under.height > SHORT:
            return [self.table, self.under]
        else:
            parts = self.table.without_last()
        if parts:
            return [parts[0], _LastRows(parts[1], self.under)]
        is_at_top = getattr(self.table._frame, "_atTop", False)
        return [self.table, self.under] if is_at_top else []

    def draw(self) -> None:
        self.table.drawOn(self.canv, 0, self.below + SPACE_ABOVE)
        self.under.drawOn(self.canv, 0, 0)


class _Notes(Flowable):
    """Two columns of lines, each with the space above it; running on, the right column follows the left."""

    def __init__(self, given: Sequence[tuple[str, Sequence[str]]], running_on: Sequence[Line] = ()) -> None:
        super().__init__()
        self.spaceBefore = 0 if running_on else SPACE_ABOVE
        self.given = given
        self.running_on = bool(running_on) or len(given) == 1
        self.columns: list[list[Line]] = _halves(list(running_on)) if running_on else []

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        self._lay_out(available_width)
        self.width = available_width
        self.height = max(map(_height, self.columns))
        return self.width, self.height

    def _lay_out(self, available_width: float) -> None:
        self.wide = (available_width - GAP) / 2
        if self.columns:
            return
        self.columns = [[], []]
        for number, (head, texts) in enumerate(self.given):
            self.columns[number % 2] += _lines(head, texts, self.wide, first=number < 2)
        if self.running_on:
            self.columns = _halves(self.columns[0])

    def split(self, available_width: float, available_height: float) -> list[Flowable]:
        self._lay_out(available_width)
        at_top = getattr(getattr(self, "_frame", None), "_atTop", False)
        if not at_top and max(map(_height, self.columns)) <= SHORT:
            return []
        first = _Notes(self.given)
        if self.running_on:
            lines = self.columns[0] + self.columns[1]
            left = _fitting(lines, available_height)
            right = left + _fitting(lines[left:], available_height)
            first.columns, rests = [lines[:left], lines[left:right]], [lines[right:]]
        else:
            counts = [_fitting(column, available_height) for column in self.columns]
            both = list(zip(self.columns, counts, strict=True))
            first.columns = [column[:count] for column, count in both]
            rests = [column[count:] for column, count in both]
        parts = zip(first.columns, self.columns, strict=True)
        if not at_top and any(len(part) < 3 < len(whole) for part, whole in parts):
            return []
        rests = [rest for rest in rests if rest]
        if len(rests) < 2:
            return [first, *(_Notes(self.given, running_on=rest) for rest in rests)]
        rest = _Notes(self.given)
        rest.spaceBefore, rest.columns = 0, rests
        return [first, rest]

    def draw(self) -> None:
        for number, column in enumerate(self.columns):
            y = self.height
            for text, style, above in column:
                y -= above + style.leading
                write(self.canv, text, style, number * (self.wide + GAP), y + 3)


def _lines(head: str, texts: Sequence[str], width: float, first: bool) -> list[Line]:
    lines: list[Line] = [(text, HEAD, 0.0 if first else 10.0) for text in wrapped(head, HEAD, width, most=1)]
    for text in texts:
        lines += [(line, TEXT, 0.0 if at else 2.0) for at, line in enumerate(wrapped(text.strip(), TEXT, width))]
    return lines


def _height(column: Sequence[Line]) -> float:
    return sum(style.leading + above for _text, style, above in column)


def _halves(lines: list[Line]) -> list[list[Line]]:
    """The lines in two columns of like height, or in one where that is short."""
    whole = _height(lines)
    if whole <= WORTH_TWO_COLUMNS:
        return [lines, []]
    count = _fitting(lines, whole / 2 + TEXT.leading)
    return [lines[:count], lines[count:]]


def _fitting(column: Sequence[Line], room: float) -> int:
    """How many lines fit, a head never last of them."""
    count = 0
    for _text, style, above in column:
        room -= style.leading + above
        if room < 0:
            break
        count += 1
    while 0 < count < len(column) and column[count - 1][1] is HEAD:
        count -= 1
    return count
