"""The sheets of a plan while it is searched: cut trees that grow and shrink, with every step undone at will.

A piece is cut in one direction into pieces side by side and a rest at the end. The order of the pieces does not matter,
so all that is free in a piece lies together in its rest. Every plan is guillotine by construction. The sheet's own
piece is cut across the length first (direction 0, pieces side by side along the grain) or along it (direction 1).
"""

from jobs.calculations.cutting.instance import Instance

PLACED, REMOVED, OPENED, CLOSED = range(4)


class Piece:
    """A piece of a sheet: cut (kids and a rest of free_length by free_width), or a part."""

    __slots__ = (
        "depth",
        "direction",
        "free_length",
        "free_width",
        "kids",
        "kind",
        "length",
        "parent",
        "sheet",
        "turned",
        "width",
    )

    def __init__(
        self, length: int, width: int, direction: int, parent: "Piece | None", sheet: "OpenSheet", depth: int
    ) -> None:
        self.length, self.width, self.direction, self.parent, self.sheet = length, width, direction, parent, sheet
        self.free_length, self.free_width = length, width
        self.kids: list[Piece] = []
        self.kind, self.turned, self.depth = -1, False, depth


class OpenSheet:
    """A sheet that is being filled: which kind it is, its tree, the area of its parts."""

    __slots__ = ("root", "stock", "used")

    def __init__(self, stock: int, length: int, width: int, direction: int) -> None:
        self.stock, self.used = stock, 0
        self.root = Piece(length, width, direction, None, self, 1)

    @property
    def area(self) -> int:
        return self.root.length * self.root.width


class Layout:
    """The sheets taken so far, every rest on them, what they cost, and a log of the steps since the last mark."""

    def __init__(self, instance: Instance) -> None:
        self.instance = instance
        self.areas = [kind.area for kind in instance.kinds]
        self.sheets: list[OpenSheet] = []
        self.rests: dict[Piece, None] = {}
        self.left = [sheet.quantity for sheet in instance.sheets]
        self.cost = 0
        self.log: list[tuple] = []

    def take_sheet(self, stock: int, direction: int) -> OpenSheet:
        kind = self.instance.sheets[stock]
        sheet = OpenSheet(stock, kind.length, kind.width, direction)
        self._take(sheet)
        self.log.append((OPENED, sheet))
        return sheet

    def close_last(self) -> None:
        """Give back the sheet that was opened in the last step, still empty."""
        self._give_back(self.log.pop()[1])

    def _take(self, sheet: OpenSheet) -> None:
        self.sheets.append(sheet)
        self.left[sheet.stock] -= 1
        self.cost += self.instance.sheets[sheet.stock].cost
        self.rests[sheet.root] = None

    def _give_back(self, sheet: OpenSheet) -> None:
        self.sheets.remove(sheet)
        self.left[sheet.stock] += 1
        self.cost -= self.instance.sheets[sheet.stock].cost
        del self.rests[sheet.root]

    def place(self, rest: Piece, length: int, width: int, kind: int, turned: bool, across_first: bool) -> None:
        """Put a part into the corner of a rest; the first full cut runs across the length, or along it."""
        free_length, free_width, rests = rest.free_length, rest.free_width, self.rests
        if rest.direction == 0:
            follows = across_first or length == free_length or width == free_width
        else:
            follows = not across_first or width == free_width or length == free_length
        if follows:
            spans = self._cut_off(rest, length if rest.direction == 0 else width)
            kid = self._fill(spans[0], spans[1], rest, length, width, kind, turned)
        else:
            rest.free_length, rest.free_width = (0, free_width) if rest.direction == 0 else (free_length, 0)
            del rests[rest]
            kid = Piece(free_length, free_width, 1 - rest.direction, rest, rest.sheet, rest.depth + 1)
            rests[kid] = None
            spans = self._cut_off(kid, length if kid.direction == 0 else width)
            kid.kids.append(self._fill(spans[0], spans[1], kid, length, width, kind, turned))
        rest.kids.append(kid)
        rest.sheet.used += self.areas[kind]
        self.log.append((PLACED, rest, free_length, free_width, kid, kind))

    def _cut_off(self, piece: Piece, extent: int) -> tuple[int, int]:
        """Take an extent off the rest of a piece; gives the size of what was cut off."""
        if piece.direction == 0:
            piece.free_length -= extent
            if not piece.free_length:
                del self.rests[piece]
            return extent, piece.free_width
        piece.free_width -= extent
        if not piece.free_width:
            del self.rests[piece]
        return piece.free_length, extent

    def _fill(
        self, span_length: int, span_width: int, parent: Piece, length: int, width: int, kind: int, turned: bool
    ) -> Piece:
        """A piece cut off its parent, with the part in it: the part itself, or the part and a rest."""
        if span_length == length and span_width == width:
            return self.part(length, width, parent, kind, turned)
        piece = Piece(span_length, span_width, 1 - parent.direction, parent, parent.sheet, parent.depth + 1)
        if piece.direction == 0:
            piece.free_length -= length
        else:
            piece.free_width -= width
        piece.kids.append(self.part(length, width, piece, kind, turned))
        self.rests[piece] = None
        return piece

    def part(self, length: int, width: int, parent: Piece, kind: int, turned: bool) -> Piece:
        """A part that fills a piece of its size."""
        part = Piece(length, width, 0, parent, parent.sheet, parent.depth)
        part.free_length = part.free_width = 0
        part.kind, part.turned = kind, turned
        return part

    def remove(self, piece: Piece) -> list[int]:
        """Take a piece out of its sheet; gives the parts that were in it. An empty sheet is given back."""
        kinds: list[int] = []
        gather(piece, kinds)
        area = sum([self.areas[kind] for kind in kinds])
        sheet, parent = piece.sheet, piece.parent
        sheet.used -= area
        while len(parent.kids) == 1 and parent.parent is not None:
            piece, parent = parent, parent.parent
        self._shut(piece)
        free_length, free_width = parent.free_length, parent.free_width
        parent.kids.remove(piece)
        if parent.direction == 0:
            parent.free_length = free_length + piece.length
        else:
            parent.free_width = free_width + piece.width
        self.rests[parent] = None
        self.log.append((REMOVED, parent, free_length, free_width, piece, area))
        if not parent.kids and parent.parent is None:
            self._give_back(sheet)
            self.log.append((CLOSED, sheet))
        return kinds

    def _shut(self, piece: Piece) -> None:
        if piece.kind < 0:
            self.rests.pop(piece, None)
            for kid in piece.kids:
                self._shut(kid)

    def _reopen(self, piece: Piece) -> None:
        if piece.kind < 0:
            if piece.free_length and piece.free_width:
                self.rests[piece] = None
            for kid in piece.kids:
                self._reopen(kid)

    def undo(self) -> None:
        """Go back to where the log began."""
        log, rests = self.log, self.rests
        while log:
            step = log.pop()
            if step[0] == PLACED:
                _, rest, rest.free_length, rest.free_width, kid, kind = step
                rest.kids.remove(kid)
                self._shut(kid)
                rests[rest] = None
                rest.sheet.used -= self.areas[kind]
            elif step[0] == REMOVED:
                _, parent, parent.free_length, parent.free_width, piece, area = step
                parent.kids.append(piece)
                if not (parent.free_length and parent.free_width):
                    rests.pop(parent, None)
                self._reopen(piece)
                parent.sheet.used += area
            elif step[0] == OPENED:
                self._give_back(step[1])
            else:
                self._take(step[1])


def gather(piece: Piece, kinds: list[int]) -> None:
    """Add the kinds of all parts in a piece to a list.

    Args:
        piece: a piece of a sheet [-]
        kinds: the list that grows [-]

    Example: `gather(sheet.root, found)` adds every part of a sheet.

    Source: house rule.
    """
    if piece.kind >= 0:
        kinds.append(piece.kind)
    else:
        for kid in piece.kids:
            gather(kid, kinds)


def pieces_below(piece: Piece) -> list[Piece]:
    """Return every piece and part in a piece, without itself, in no order that matters.

    Args:
        piece: a piece of a sheet [-]

    Returns:
        Pieces and parts.

    Example: `pieces_below(sheet.root)` of a sheet with one part of its size is that part.

    Source: house rule.
    """
    found: list[Piece] = []
    waiting = list(piece.kids)
    while waiting:
        next_piece = waiting.pop()
        found.append(next_piece)
        if next_piece.kind < 0:
            waiting.extend(next_piece.kids)
    return found
