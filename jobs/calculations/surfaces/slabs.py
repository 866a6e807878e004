"""Two regions made into one, without a tolerance.

The plane is cut upright at every corner and crossing; between two such cuts every region is a stack of trapezoids,
which are put together again to outlines (the slab method of computational geometry, here with fractions).
"""

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Callable
from fractions import Fraction
from itertools import pairwise

from jobs.calculations.surfaces import exact
from jobs.calculations.surfaces.exact import Exact, Outline, Point, whole

Region = tuple[Outline, ...]
Stretch = tuple[Exact, Exact]
_Side = tuple[Exact, Exact, Exact, Exact, int]


def combined(one: Region, other: Region, keep: Callable[[bool, bool], bool]) -> Region:
    """The region of all points that are kept.

    Args:
        one: a region [nm]
        other: another [nm]
        keep: tells from whether a point lies in the one and in the other whether it is kept [-]

    Returns:
        the region [nm]

    Example:
        Kept where both are, two overlapping squares give the rectangle they share.
    """
    sides = _sides(one, 0) + _sides(other, 1)
    ways: dict[Point, list[Point]] = defaultdict(list)
    cover: dict[Exact, tuple[list[Stretch], list[Stretch]]] = defaultdict(lambda: ([], []))
    cuts = _cuts(sides)
    for left, right in pairwise(cuts):
        middle = Fraction(left + right) / 2
        here = sorted((_height(s, middle), s[4], s) for s in sides if s[0] <= left and s[2] >= right)
        inside, lower = [False, False], None
        for place, (y, owner, side) in enumerate(here):
            inside[owner] = not inside[owner]
            if place + 1 < len(here) and here[place + 1][0] == y:
                continue
            if keep(*inside) and lower is None:
                lower = side
            elif lower is not None and not keep(*inside):
                a, b = (left, _height(lower, left)), (right, _height(lower, right))
                c, d = (left, _height(side, left)), (right, _height(side, right))
                ways[a].append(b)
                ways[d].append(c)
                cover[left][1].append((a[1], c[1]))
                cover[right][0].append((b[1], d[1]))
                lower = None
    for x, (before, after) in cover.items():
        _add_uprights(ways, x, before, after)
    return _traced(ways)


def _sides(region: Region, owner: int) -> list[_Side]:
    """The sides that are not upright, each from left to right."""
    found = []
    for outline in region:
        for a, b in zip(outline, (*outline[1:], *outline[:1]), strict=True):
            if a[0] != b[0]:
                (x, y), (other_x, other_y) = (a, b) if a[0] < b[0] else (b, a)
                found.append((x, y, other_x, other_y, owner))
    return found


def _height(side: _Side, x: Exact) -> Exact:
    left, y, right, other_y, _ = side
    return y if y == other_y else whole(y + (other_y - y) * Fraction(x - left) / (right - left))


def _cuts(sides: list[_Side]) -> list[Exact]:
    """Every x at which a side begins, ends or crosses another."""
    cuts = {side[0] for side in sides} | {side[2] for side in sides}
    sloped = [side for side in sides if side[1] != side[3]]
    for one in sloped:
        for other in sides:
            left, right = max(one[0], other[0]), min(one[2], other[2])
            if one is other or left >= right:
                continue
            below, above = _height(one, left) - _height(other, left), _height(one, right) - _height(other, right)
            if below * above < 0:
                cuts.add(whole(left + (right - left) * Fraction(below) / (below - above)))
    return sorted(cuts)


def _add_uprights(ways: dict[Point, list[Point]], x: Exact, before: list[Stretch], after: list[Stretch]) -> None:
    """The upright sides at x: where the region lies only to the left they go up, only to the right down."""
    marks = sorted({y for stretch in (*before, *after) for y in stretch})
    sums = dict.fromkeys(marks, 0)
    for stretches, sign in ((before, 1), (after, -1)):
        for low, high in stretches:
            for y in marks[bisect_left(marks, low) : bisect_left(marks, high)]:
                sums[y] += sign
    for low, high in pairwise(marks):
        if sums[low] > 0:
            ways[x, low].append((x, high))
        elif sums[low] < 0:
            ways[x, high].append((x, low))


def _traced(ways: dict[Point, list[Point]]) -> Region:
    """The ways put together to outlines; where two pieces touch in a point, the way turns left and keeps them apart."""
    outlines = []
    starts = sorted(ways)
    for start in starts:
        while ways[start]:
            outline, here = [start], ways[start].pop()
            while here != start:
                choices = ways[here]
                before = outline[-1]
                follow = min(choices, key=lambda point: _right_of(before, here, point))
                choices.remove(follow)
                outline.append(here)
                here = follow
            tidy = exact.without_straight_corners(tuple(outline))
            if len(tidy) > 2:
                outlines.append(tidy)
    return tuple(outlines)


def _right_of(before: Point, here: Point, point: Point) -> int:
    """0 where the way turns left at `here`, 1 where it goes straight on, 2 where it turns right."""
    way = exact.turn(before, here, point)
    return 0 if way > 0 else 1 if way == 0 else 2
