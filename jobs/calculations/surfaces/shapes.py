"""Surfaces built from how the shop measures them."""

from typing import Unpack

from jobs.calculations.surfaces import exact
from jobs.calculations.surfaces.edges import BuildUp
from jobs.calculations.surfaces.errors import NotASurface, SizesContradict, Told
from jobs.calculations.surfaces.exact import Outline
from jobs.calculations.surfaces.extras import Extras
from jobs.calculations.surfaces.sizes import check_size
from jobs.calculations.surfaces.surface import Surface, SurfaceKind, named_edges

RIDGE_OUTSIDE = "the ridge does not lie between the ends"
RIDGE_LOW = "the ridge is no higher than a side"
A_PLACE = "a place %(length)s from the left end"
A_HEIGHT = "a height of %(length)s"
A_WIDTH = "a width of %(length)s"
CUT_TOO_LARGE = "what is cut off is as large as the ceiling"
NO_STEPS = "it has no steps"
ONE_STEP = "one width and its height"
TWO_STEPS = "two widths, each with its height"


def rectangle(name: str, width_nm: int, height_nm: int, build_up: BuildUp, **extras: Unpack[Extras]) -> Surface:
    """A surface with four square corners; its edges are foot, right, top, left.

    Args:
        name: its name [-]
        width_nm: from the left end to the right [nm]
        height_nm: from the foot to the top [nm]
        build_up: packers, battens and panel [nm]
        extras: kind, conditions, openings, cut-outs, marks and level line, as Surface has them [-]

    Returns:
        the surface [nm]

    Raises:
        MakingError: a size that is none, or what is in it does not fit

    Example:
        222 in by 96 in is a wall of 148 square feet.
    """
    check_size(width_nm, "width_nm", name)
    check_size(height_nm, "height_nm", name)
    corners = ((0, 0), (width_nm, 0), (width_nm, height_nm), (0, height_nm))
    return _made(name, corners, ("foot", "right", "top", "left"), build_up, extras)


def raked(
    name: str, width_nm: int, left_height_nm: int, right_height_nm: int, build_up: BuildUp, **extras: Unpack[Extras]
) -> Surface:
    """A surface with a sloping top; its edges are foot, right, top, left.

    Args:
        name: its name [-]
        width_nm: from the left end to the right [nm]
        left_height_nm: height at the left end [nm]
        right_height_nm: height at the right end [nm]
        build_up: packers, battens and panel [nm]
        extras: kind, conditions, openings, cut-outs, marks and level line, as Surface has them [-]

    Returns:
        the surface [nm]

    Raises:
        MakingError: a size that is none, or what is in it does not fit

    Example:
        120 in wide, 96 in high at the left and 126 in at the right: a rise of 3 in a foot.
    """
    check_size(width_nm, "width_nm", name)
    check_size(left_height_nm, "left_height_nm", name)
    check_size(right_height_nm, "right_height_nm", name)
    corners = ((0, 0), (width_nm, 0), (width_nm, right_height_nm), (0, left_height_nm))
    return _made(name, corners, ("foot", "right", "top", "left"), build_up, extras)


def gabled(
    name: str,
    width_nm: int,
    left_height_nm: int,
    right_height_nm: int,
    ridge_height_nm: int,
    ridge_place_nm: int,
    build_up: BuildUp,
    **extras: Unpack[Extras],
) -> Surface:
    """A surface with a ridge; its edges are foot, right, right rake, left rake, left.

    Args:
        name: its name [-]
        width_nm: from the left end to the right [nm]
        left_height_nm: height at the left end [nm]
        right_height_nm: height at the right end [nm]
        ridge_height_nm: height at the ridge, more than one of the sides and no less than the other [nm]
        ridge_place_nm: how far the ridge lies from the left end [nm]
        build_up: packers, battens and panel [nm]
        extras: kind, conditions, openings, cut-outs, marks and level line, as Surface has them [-]

    Returns:
        the surface [nm]

    Raises:
        MakingError: a size that is none, a ridge that is none, or what is in it does not fit

    Example:
        192 in wide, sides 96 in, ridge 128 in in the middle: 21,504 square inches (192 x 96 + 192 x 32 / 2, by hand).
    """
    for field, size in (
        ("width_nm", width_nm),
        ("left_height_nm", left_height_nm),
        ("right_height_nm", right_height_nm),
        ("ridge_height_nm", ridge_height_nm),
        ("ridge_place_nm", ridge_place_nm),
    ):
        check_size(size, field, name)
    if ridge_place_nm >= width_nm:
        would_do = Told(A_PLACE, {"length": width_nm // 2}), Told(A_WIDTH, {"length": 2 * ridge_place_nm})
        raise SizesContradict("ridge_place_nm", name, Told(RIDGE_OUTSIDE), would_do)
    highest = max(left_height_nm, right_height_nm)
    if ridge_height_nm < highest or ridge_height_nm == min(left_height_nm, right_height_nm):
        would_do = (
            Told(A_HEIGHT, {"length": highest + width_nm // 6}),
            Told(A_HEIGHT, {"length": highest + width_nm // 4}),
        )
        raise SizesContradict("ridge_height_nm", name, Told(RIDGE_LOW), would_do)
    corners = (
        (0, 0),
        (width_nm, 0),
        (width_nm, right_height_nm),
        (ridge_place_nm, ridge_height_nm),
        (0, left_height_nm),
    )
    return _made(name, corners, ("foot", "right", "right rake", "left rake", "left"), build_up, extras)


def sloped_ceiling(
    name: str, width_nm: int, level_run_nm: int, rise_nm: int, build_up: BuildUp, **extras: Unpack[Extras]
) -> Surface:
    """A sloping ceiling in its true size, a rectangle with the low side as its foot.

    Args:
        name: its name [-]
        width_nm: along the eave [nm]
        level_run_nm: from the low to the high side, measured level [nm]
        rise_nm: from the low to the high side, measured upright [nm]
        build_up: packers, battens and panel [nm]
        extras: conditions, openings, cut-outs, marks and level line, as Surface has them [-]

    Returns:
        the ceiling; its length along the slope is exact to the nanometer [nm]

    Raises:
        MakingError: a size that is none, or what is in it does not fit

    Example:
        120 in level and 90 in up is a slope of 150 in (3-4-5 triangle).
    """
    check_size(level_run_nm, "level_run_nm", name)
    check_size(rise_nm, "rise_nm", name)
    extras.setdefault("kind", SurfaceKind.CEILING)
    return rectangle(name, width_nm, exact.distance((0, 0), (level_run_nm, rise_nm)), build_up, **extras)


def polygon(name: str, corners: Outline, build_up: BuildUp, **extras: Unpack[Extras]) -> Surface:
    """A surface by its corners, told in either direction round it.

    Args:
        name: its name [-]
        corners: the corners, from the left end and the foot [nm]
        build_up: packers, battens and panel [nm]
        extras: kind, conditions, openings, cut-outs, marks and level line, as Surface has them [-]

    Returns:
        the surface; its edges are foot, right, top, left, numbered where there are several of a side [nm]

    Raises:
        MakingError: corners that do not go round one surface, or what is in it does not fit

    Example:
        (0, 0), (4, 0), (0, 3) is a triangle with a foot, a top and a left edge.
    """
    tidy = exact.without_straight_corners(tuple(corners))
    if len(tidy) >= 3 and exact.area(tidy) < 0:
        tidy = tuple(reversed(tidy))
    return _made(name, tidy, named_edges(tidy), build_up, extras)


def l_shaped(
    name: str,
    width_nm: int,
    height_nm: int,
    cut_width_nm: int,
    cut_height_nm: int,
    build_up: BuildUp,
    **extras: Unpack[Extras],
) -> Surface:
    """A rectangle without its upper right corner.

    Args:
        name: its name [-]
        width_nm: greatest width [nm]
        height_nm: greatest height, or depth of a ceiling [nm]
        cut_width_nm: width of what is missing [nm]
        cut_height_nm: height of what is missing [nm]
        build_up: packers, battens and panel [nm]
        extras: kind, conditions, openings, cut-outs, marks and level line, as Surface has them [-]

    Returns:
        the surface; turn it with `polygon` or `mirrored` for another corner [nm]

    Raises:
        MakingError: a size that is none, nothing left, or what is in it does not fit

    Example:
        20 by 10 without 5 by 4 has an area of 180.
    """
    for field, size in (("width_nm", width_nm), ("height_nm", height_nm)):
        check_size(size, field, name)
    for field, size, most in (
        ("cut_width_nm", cut_width_nm, width_nm),
        ("cut_height_nm", cut_height_nm, height_nm),
    ):
        check_size(size, field, name)
        if size >= most:
            would_do = Told(A_WIDTH, {"length": most // 2}), Told(A_WIDTH, {"length": most // 3})
            raise SizesContradict(field, name, Told(CUT_TOO_LARGE), would_do)
    return stepped(
        name, ((width_nm - cut_width_nm, height_nm), (cut_width_nm, height_nm - cut_height_nm)), build_up, **extras
    )


def stepped(name: str, steps: tuple[tuple[int, int], ...], build_up: BuildUp, **extras: Unpack[Extras]) -> Surface:
    """A surface whose top goes in steps.

    Args:
        name: its name [-]
        steps: width and height of each step, from the left [nm]
        build_up: packers, battens and panel [nm]
        extras: kind, conditions, openings, cut-outs, marks and level line, as Surface has them [-]

    Returns:
        the surface [nm]

    Raises:
        MakingError: no step, a size that is none, or what is in it does not fit

    Example:
        (4, 8), (4, 10) is 8 wide, 8 high at the left and 10 at the right.
    """
    if not steps:
        raise NotASurface("steps", name, Told(NO_STEPS), (Told(ONE_STEP), Told(TWO_STEPS)))
    top, place = [], 0
    for width, height in steps:
        check_size(width, "steps", name)
        check_size(height, "steps", name)
        top += [(place, height), (place + width, height)]
        place += width
    return polygon(name, ((0, 0), (place, 0), *reversed(top)), build_up, **extras)


def _made(name: str, corners: Outline, edges: tuple[str, ...], build_up: BuildUp, extras: Extras) -> Surface:
    kind = extras.pop("kind", SurfaceKind.WALL)
    return Surface(name, kind, corners, edges, build_up, **extras)
