"""The layouts of a whole room."""

from collections.abc import Mapping
from dataclasses import replace

from jobs.calculations.panels.cross import Courses, cross_joints
from jobs.calculations.panels.layout import Layout, lay_out
from jobs.calculations.panels.wishes import Run, Wish
from jobs.calculations.surfaces.rooms import Room
from jobs.calculations.surfaces.surface import SurfaceKind


def lay_out_room(room: Room, wishes: Mapping[str, Wish], courses: Courses = Courses.FULL) -> dict[str, Layout]:
    """The layouts of the surfaces of a room, cross joints of its walls at the same heights all round.

    Args:
        room: the room [nm]
        wishes: what is asked, by surface; a surface without one is not panelled in this layout [nm]
        courses: how cross joints are spaced where the wish tells none [-]

    Returns:
        the layouts by surface, in the order of the room [nm]

    Raises:
        LayoutRefused: a layout that cannot be made

    Example:
        Walls of 108 in and one of 96 in, sheets of 96 in: the joint at 96 in goes round on the higher ones.
    """
    up = [
        surface.name
        for surface in room.surfaces
        if surface.kind is SurfaceKind.WALL and surface.name in wishes and _asks_heights(wishes[surface.name])
    ]
    shared: tuple[int, ...] = ()
    if up:
        shortest = min((wishes[name] for name in up), key=lambda wish: wish.stock.usable_length_nm)
        shared = cross_joints([room.faces[name] for name in up], shortest, courses)
    layouts = {}
    for surface in room.surfaces:
        if surface.name not in wishes:
            continue
        wish, face = wishes[surface.name], room.faces[surface.name]
        if surface.name in up:
            wish = replace(wish, cross_nm=shared)
        elif wish.stock and not wish.cross_nm:
            wish = replace(wish, cross_nm=cross_joints([face], wish, courses))
        layouts[surface.name] = lay_out(face, wish)
    return layouts


def _asks_heights(wish: Wish) -> bool:
    return wish.run is Run.UP and wish.stock is not None and not wish.cross_nm
