"""Parts of a surface as exact polygons: what two have in common, what is left, which pieces that makes.

A region is a tuple of outlines: those around it run counterclockwise, those around holes clockwise.
"""

from collections.abc import Iterable
from fractions import Fraction

from jobs.calculations.surfaces import exact
from jobs.calculations.surfaces.exact import Exact, Outline, whole
from jobs.calculations.surfaces.slabs import Region, Stretch, combined


def box(left: Exact, foot: Exact, right: Exact, top: Exact) -> Region:
    """The rectangle as a region.

    Args:
        left: least x [nm]
        foot: least y [nm]
        right: greatest x [nm]
        top: greatest y [nm]

    Returns:
        the region; nothing where it has no width or no height [nm]

    Example:
        box(0, 0, 2, 1) has the corners (0, 0), (2, 0), (2, 1), (0, 1).
    """
    if left >= right or foot >= top:
        return ()
    return (((left, foot), (right, foot), (right, top), (left, top)),)


def area(region: Region) -> Exact:
    """The area of the region, without its holes.

    Args:
        region: the region [nm]

    Returns:
        the area in square nanometers [-]

    Example:
        box(0, 0, 2, 1) has 2.
    """
    return whole(sum(exact.area(outline) for outline in region))


def bounds(region: Region) -> tuple[Exact, Exact, Exact, Exact]:
    """The least and greatest x and y of a region that is not empty.

    Args:
        region: the region [nm]

    Returns:
        least x, least y, greatest x, greatest y [nm]

    Example:
        box(0, 0, 2, 1) gives 0, 0, 2, 1.
    """
    return exact.bounds(tuple(point for outline in region for point in outline))


def common(one: Region, other: Region) -> Region:
    """What lies in both regions.

    Args:
        one: a region [nm]
        other: another [nm]

    Returns:
        the region, nothing where they only touch [nm]

    Example:
        box(0, 0, 2, 2) and box(1, 1, 3, 3) have box(1, 1, 2, 2) in common.
    """
    return combined(one, other, lambda in_one, in_other: in_one and in_other)


def without(one: Region, other: Region) -> Region:
    """What lies in the first region and not in the other.

    Args:
        one: a region [nm]
        other: another [nm]

    Returns:
        the region [nm]

    Example:
        box(0, 0, 2, 2) without box(1, 0, 2, 2) is box(0, 0, 1, 2).
    """
    return combined(one, other, lambda in_one, in_other: in_one and not in_other)


def joined(regions: Iterable[Region]) -> Region:
    """What lies in any of the regions.

    Args:
        regions: any number of them [nm]

    Returns:
        the region [nm]

    Example:
        Of box(0, 0, 1, 1) and box(1, 0, 2, 1) it is box(0, 0, 2, 1).
    """
    total: Region = ()
    for region in regions:
        total = combined(total, region, lambda in_one, in_other: in_one or in_other)
    return total


def pieces(region: Region) -> tuple[Region, ...]:
    """The connected pieces of a region, each with its holes, from the foot up and from the left.

    Args:
        region: the region, as made here [nm]

    Returns:
        the pieces; two that touch in a point alone are two [nm]

    Example:
        A strip with a window right across it is two pieces.
    """
    around = [outline for outline in region if exact.area(outline) > 0]
    found = {outline: [outline] for outline in around}
    for hole in region:
        if exact.area(hole) < 0:
            holding = [outline for outline in around if _holds(outline, hole)]
            found[min(holding, key=exact.area)].append(hole)
    return tuple(
        sorted((tuple(outlines) for outlines in found.values()), key=lambda piece: (bounds(piece)[1], bounds(piece)[0]))
    )


def level_stretches(region: Region, y: Exact) -> tuple[Stretch, ...]:
    """Where a level line runs through the region; along a side of it, what lies just above counts.

    Args:
        region: the region [nm]
        y: the height of the line [nm]

    Returns:
        from and to along x, from the left [nm]

    Example:
        Through box(0, 0, 2, 1) at 1/2 it runs from 0 to 2.
    """
    met = []
    for outline in region:
        for (x, low), (other_x, high) in zip(outline, (*outline[1:], *outline[:1]), strict=True):
            if (low <= y) != (high <= y):
                met.append(whole(x + (other_x - x) * Fraction(y - low) / (high - low)))
    met.sort()
    return _put_together(list(zip(met[::2], met[1::2], strict=True)))


def upright_stretches(region: Region, x: Exact) -> tuple[Stretch, ...]:
    """Where an upright line runs through the region; along a side of it, what lies just to the right counts.

    Args:
        region: the region [nm]
        x: the place of the line [nm]

    Returns:
        from and to along y, from the foot [nm]

    Example:
        Through box(0, 0, 2, 1) at 1 it runs from 0 to 1.
    """
    return level_stretches(turned(region), x)


def turned(region: Region) -> Region:
    """The region with x and y exchanged, so that what runs across runs up.

    Args:
        region: the region [nm]

    Returns:
        the region, its outlines still counterclockwise around it [nm]

    Example:
        box(0, 0, 2, 1) becomes box(0, 0, 1, 2).
    """
    return tuple(tuple((y, x) for x, y in reversed(outline)) for outline in region)


def _put_together(stretches: list[Stretch]) -> tuple[Stretch, ...]:
    kept: list[Stretch] = []
    for start, end in stretches:
        if kept and kept[-1][1] == start:
            kept[-1] = (kept[-1][0], end)
        elif start < end:
            kept.append((start, end))
    return tuple(kept)


def _holds(outline: Outline, hole: Outline) -> bool:
    """Whether the outline runs around the hole, seen from the middle of one of its sides."""
    (x, y), (other_x, other_y) = next((a, b) for a, b in zip(hole, (*hole[1:], *hole[:1]), strict=True) if a[1] != b[1])
    middle_x, middle_y = Fraction(x + other_x) / 2, Fraction(y + other_y) / 2
    return any(start < middle_x < end for start, end in level_stretches((outline,), middle_y))
