"""A cutting plan: for every sheet the tree of its cuts, and from it where every part and every rest lies."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property

from jobs.calculations.cutting.instance import Instance

ACROSS, ALONG = "across", "along"
"""A cut across the length gives pieces side by side along the grain; a cut along it gives strips."""


@dataclass(frozen=True)
class Piece:
    """A piece of a sheet as it is on the bench, and how it is cut on.

    Attributes:
        x: its corner along the grain, from the sheet's factory corner [nm]
        y: its corner across the grain, from the sheet's factory corner [nm]
        length: along the grain [nm]
        width: across the grain [nm]
        cut: how it is cut on, none for a part or a rest [-]
        pieces: what the cuts give, the largest first, the rest last [-]
        part: place in the list of parts, none for a piece cut on or a rest [-]
        turned: whether the part lies across the grain [-]
    """

    x: int
    y: int
    length: int
    width: int
    cut: str | None = None
    pieces: tuple["Piece", ...] = ()
    part: int | None = None
    turned: bool = False

    @property
    def is_rest(self) -> bool:
        return self.part is None and not self.pieces

    def below(self) -> Iterator["Piece"]:
        """Every piece in the order in which it comes off the saw, itself first."""
        yield self
        for piece in self.pieces:
            yield from piece.below()


@dataclass(frozen=True)
class PlannedSheet:
    """One sheet of the plan.

    Attributes:
        stock: place in the list of sheets [-]
        usable: the sheet inside its edge clean-up, with its cuts [-]
    """

    stock: int
    usable: Piece

    @cached_property
    def parts(self) -> tuple[Piece, ...]:
        return tuple(piece for piece in self.usable.below() if piece.part is not None)

    @cached_property
    def rests(self) -> tuple[Piece, ...]:
        return tuple(piece for piece in self.usable.below() if piece.is_rest)


@dataclass(frozen=True)
class CuttingPlan:
    """Sheets with their cuts.

    Attributes:
        sheets: sheets [-]
        cost: what they cost together; the number of sheets where each costs 1 [minor]
    """

    sheets: tuple[PlannedSheet, ...]
    cost: int


@dataclass
class _Drawing:
    """Turns kept trees into pieces with places, handing out the parts of each kind in their order."""

    instance: Instance
    taken: dict[int, int] = field(default_factory=dict)

    def piece(self, tree: tuple, x: int, y: int, length: int, width: int) -> Piece:
        unit, kerf = self.instance.unit, self.instance.kerf
        if tree[-1] is None:
            kind = tree[2]
            number = self.taken.get(kind, 0)
            self.taken[kind] = number + 1
            return Piece(x, y, length, width, part=self.instance.kinds[kind].items[number], turned=tree[3])
        direction, kids = flat(tree)
        if len(kids) == 1 and kids[0][:2] == tree[:2]:
            return self.piece(kids[0], x, y, length, width)
        span = 0 if direction == 0 else 1
        kids.sort(key=lambda kid: (-kid[span], kid[-1] is not None, str(kid)))
        pieces, at = [], 0
        for kid in kids:
            extent = kid[span] * unit - kerf
            if direction == 0:
                pieces.append(self.piece(kid, x + at, y, extent, width))
            else:
                pieces.append(self.piece(kid, x, y + at, length, extent))
            at += extent + kerf
        left = (length if direction == 0 else width) - at
        if left > 0:
            rest = Piece(x + at, y, left, width) if direction == 0 else Piece(x, y + at, length, left)
            pieces.append(rest)
        return Piece(x, y, length, width, ACROSS if direction == 0 else ALONG, tuple(pieces))


def flat(tree: tuple) -> tuple[int, list[tuple]]:
    """Return a piece's direction and kids with every needless level taken out.

    Args:
        tree: (length, width, direction, kids) of a piece [-]

    Returns:
        Direction and kids; a kid that fills its parent gives way to its own kids, one cut in the same direction too.

    Example: a sheet of 4 by 4 cut across, with one kid of its own size that is cut along into two.

        >>> halves = ((4, 2, 0, False, None), (4, 2, 0, False, None))
        >>> flat((4, 4, 0, ((4, 4, 1, halves),))) == (1, list(halves))
        True

    Source: house rule.
    """
    length, width, direction, kids = tree
    while len(kids) == 1 and kids[0][-1] is not None and kids[0][:2] == (length, width):
        direction, kids = kids[0][2], kids[0][3]
    found: list[tuple] = []
    for kid in kids:
        if kid[-1] is None:
            found.append(kid)
            continue
        inner, below = flat(kid)
        if inner == direction and not (len(below) == 1 and below[0][:2] == kid[:2]):
            found.extend(below)
        else:
            found.append((kid[0], kid[1], inner, tuple(below)))
    return direction, found


def tight(tree: tuple) -> tuple:
    """Return a piece with every piece in it no larger than what is cut from it, so that rests lie together.

    Args:
        tree: (length, width, direction, kids) of a piece [-]

    Returns:
        The same piece; strips that were wider than their widest part gave way to the rest beside them.

    Example: a strip of 5 that holds a part of 4 alone is a strip of 4.

        >>> strip = (6, 5, 0, ((6, 4, 0, False, None),))
        >>> tight((6, 9, 1, (strip,)))
        (6, 9, 1, ((6, 4, 0, ((6, 4, 0, False, None),)),))

    Source: house rule.
    """
    return _sized(tree, tree[0], tree[1])


def _need(tree: tuple) -> tuple[int, int]:
    """The smallest length and width that hold what is cut from a piece."""
    if tree[-1] is None:
        return tree[0], tree[1]
    lengths, widths = zip(*map(_need, tree[3]), strict=True)
    return (sum(lengths), max(widths)) if tree[2] == 0 else (max(lengths), sum(widths))


def _sized(tree: tuple, length: int, width: int) -> tuple:
    if tree[-1] is None:
        return tree
    direction = tree[2]
    needs = [_need(kid) for kid in tree[3]]
    kids = [
        _sized(kid, need[0] if direction == 0 else length, width if direction == 0 else need[1])
        for kid, need in zip(tree[3], needs, strict=True)
    ]
    return (length, width, direction, tuple(kids))


def plan_of(instance: Instance, sheets: list[tuple[int, tuple]], sizes: list[tuple[int, int]]) -> CuttingPlan:
    """Return the plan that kept trees stand for, in the problem's own unit.

    Args:
        instance: the problem as the search sees it [-]
        sheets: kind of sheet and tree of each sheet [-]
        sizes: length and width of each kind of sheet inside its edge clean-up [nm]

    Returns:
        Sheets in the order of the list of sheets, the fullest first.

    Example: `plan_of(instance, search.best, sizes)`.

    Source: house rule.
    """
    drawing = _Drawing(instance)
    planned = []
    for stock, tree in sorted(sheets, key=lambda sheet: (sheet[0], str(sheet[1]))):
        length, width = sizes[stock]
        planned.append(PlannedSheet(stock, drawing.piece(tight(tree), instance.trim, instance.trim, length, width)))
    return CuttingPlan(tuple(planned), sum(instance.sheets[stock].cost for stock, _ in sheets))
