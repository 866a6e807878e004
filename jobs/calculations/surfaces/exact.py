"""Points, lines and outlines in exact numbers: whole nanometers, and fractions of them where a slope is cut.

An outline is a tuple of corners, counterclockwise as it is looked at, the last joined to the first; x runs to the
right, y upwards. Only the length of a slope cannot be exact; it is rounded to the nanometer, half up.
"""

from fractions import Fraction
from math import isqrt

Exact = int | Fraction
Point = tuple[Exact, Exact]
Outline = tuple[Point, ...]


def whole(value: Exact) -> Exact:
    """The value as an int where it is whole.

    Args:
        value: any exact number [nm]

    Returns:
        the same value [nm]

    Example:
        Fraction(6, 2) is 3.
    """
    return value.numerator if value.denominator == 1 else value


def ceiling(value: Exact) -> int:
    """The value rounded up to whole nanometers.

    Args:
        value: any exact number [nm]

    Returns:
        the whole number, not below the value [nm]

    Example:
        7/2 is 4.
    """
    return -((-value.numerator) // value.denominator)


def root(square: Exact) -> int:
    """The square root to the nearest nanometer, half up.

    Args:
        square: a length times itself, not below zero [-]

    Returns:
        the length [nm]

    Example:
        9 is 3, 2 is 1 and 3 is 2.
    """
    numerator, denominator = square.numerator, square.denominator
    return (isqrt(4 * numerator // denominator) + 1) // 2


def distance(one: Point, other: Point) -> int:
    """The distance of two points, exact along x and y, else to the nearest nanometer.

    Args:
        one: a point [nm]
        other: another point [nm]

    Returns:
        the distance [nm]

    Example:
        From (0, 0) to (3, 4) is 5.
    """
    return root((other[0] - one[0]) ** 2 + (other[1] - one[1]) ** 2)


def area(outline: Outline) -> Exact:
    """The area inside the outline, below zero where it runs clockwise.

    Args:
        outline: the corners [nm]

    Returns:
        the area in square nanometers [-]

    Example:
        The square with the corners (0, 0), (2, 0), (2, 2), (0, 2) has 4.

    Source:
        Shoelace formula, any textbook of plane geometry.
    """
    following = (*outline[1:], *outline[:1])
    twice = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(outline, following, strict=True))
    return whole(Fraction(twice, 2))


def turn(a: Point, b: Point, c: Point) -> Exact:
    """Twice the area of the triangle: above zero where the way from a over b to c turns left, zero if it is straight.

    Args:
        a: first point [nm]
        b: second point [nm]
        c: third point [nm]

    Returns:
        the signed figure in square nanometers [-]

    Example:
        (0, 0), (1, 0), (1, 1) gives 1.
    """
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def without_straight_corners(outline: Outline) -> Outline:
    """The outline without corners that lie on a straight line and without points told twice.

    Args:
        outline: the corners [nm]

    Returns:
        the corners that are left [nm]

    Example:
        (0, 0), (1, 0), (2, 0), (2, 2) loses (1, 0).
    """
    kept: list[Point] = []
    for point in outline:
        while len(kept) > 1 and turn(kept[-2], kept[-1], point) == 0:
            kept.pop()
        if not kept or kept[-1] != point:
            kept.append(point)
    while len(kept) > 2 and turn(kept[-2], kept[-1], kept[0]) == 0:
        kept.pop()
    while len(kept) > 2 and turn(kept[-1], kept[0], kept[1]) == 0:
        kept.pop(0)
    return tuple(kept)


def crosses_itself(outline: Outline) -> bool:
    """Whether two sides of the outline that are not neighbors touch or cross.

    Args:
        outline: the corners [nm]

    Returns:
        whether they do [-]

    Example:
        A bow tie does, a square does not.
    """
    sides = list(zip(outline, (*outline[1:], *outline[:1]), strict=True))
    return any(
        _touch(*sides[i], *sides[j])
        for i in range(len(sides))
        for j in range(i + 1, len(sides))
        if j - i > 1 and not (i == 0 and j == len(sides) - 1)
    )


def bounds(points: Outline) -> tuple[Exact, Exact, Exact, Exact]:
    """The least and greatest x and y.

    Args:
        points: any points [nm]

    Returns:
        least x, least y, greatest x, greatest y [nm]

    Example:
        (0, 1), (3, 0) gives 0, 0, 3, 1.
    """
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def moved_in(outline: Outline, by: tuple[int, ...]) -> Outline:
    """The outline with each side moved inward, square to itself.

    Args:
        outline: the corners [nm]
        by: for each side, from its corner to the next, how far; below zero outward [nm]

    Returns:
        as many corners; where two sides lie in one line, the step between them lies on the corner they share [nm]

    Example:
        A square of 10 with every side moved in by 1 is a square of 8 from (1, 1) on.
    """
    return tuple(dict.fromkeys(corner for side in moved_sides(outline, by) for corner in side))


def moved_sides(outline: Outline, by: tuple[int, ...]) -> tuple[tuple[Point, Point], ...]:
    """Where each side of the outline lies after it was moved inward, square to itself.

    Args:
        outline: the corners [nm]
        by: for each side, from its corner to the next, how far; below zero outward [nm]

    Returns:
        start and end of each side, in their order [nm]

    Example:
        The foot of a square of 10 with every side moved in by 1 goes from (1, 1) to (9, 1).
    """
    count = len(outline)
    lines = [moved(outline[i], outline[(i + 1) % count], by[i]) for i in range(count)]
    met = [meeting(*lines[i - 1], *lines[i]) for i in range(count)]
    return tuple(
        (
            lines[i][0] if met[i] is None else met[i],
            lines[i][1] if met[(i + 1) % count] is None else met[(i + 1) % count],
        )
        for i in range(count)
    )


def moved(start: Point, end: Point, by: int) -> tuple[Point, Point]:
    """The side moved to its left, square to itself: exact for level and upright sides, else to the nanometer.

    Args:
        start: where it begins [nm]
        end: where it ends [nm]
        by: how far, below zero to its right [nm]

    Returns:
        start and end; those of a slope are moved up or down, so that they stay over the old ones [nm]

    Example:
        From (0, 0) to (4, 3) moved by 4 goes from (0, 5) to (4, 8) (3-4-5 triangle).
    """
    run, rise = end[0] - start[0], end[1] - start[1]
    if rise == 0:
        shift = (0, by if run > 0 else -by)
    elif run == 0:
        shift = (-by if rise > 0 else by, 0)
    else:
        upright = root(by * by * (run * run + rise * rise) / Fraction(run * run))
        shift = (0, upright if (by > 0) == (run > 0) else -upright)
    return (start[0] + shift[0], start[1] + shift[1]), (end[0] + shift[0], end[1] + shift[1])


def meeting(a: Point, b: Point, c: Point, d: Point) -> Point | None:
    """Where two lines meet.

    Args:
        a: a point of the first line [nm]
        b: another [nm]
        c: a point of the second line [nm]
        d: another [nm]

    Returns:
        the point, none where they are parallel [nm]

    Example:
        The level line through (0, 1) and (1, 1) and the upright one through (3, 0) and (3, 9) meet in (3, 1).
    """
    run, rise, other_run, other_rise = b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]
    across = run * other_rise - rise * other_run
    if across == 0:
        return None
    part = Fraction((c[0] - a[0]) * other_rise - (c[1] - a[1]) * other_run) / across
    return whole(a[0] + part * run), whole(a[1] + part * rise)


def _touch(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether the stretches a-b and c-d have a point in common."""
    if max(a[0], b[0]) < min(c[0], d[0]) or max(c[0], d[0]) < min(a[0], b[0]):
        return False
    if max(a[1], b[1]) < min(c[1], d[1]) or max(c[1], d[1]) < min(a[1], b[1]):
        return False
    first, second = turn(a, b, c), turn(a, b, d)
    third, fourth = turn(c, d, a), turn(c, d, b)
    return not (first * second > 0 or third * fourth > 0)
