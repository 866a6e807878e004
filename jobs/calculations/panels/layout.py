"""The layout of a face in panels."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from jobs.calculations.panels import clear, fields, holes, telling
from jobs.calculations.panels.clear import Gap
from jobs.calculations.panels.cut import cut_shape
from jobs.calculations.panels.fields import Column
from jobs.calculations.panels.findings import Finding
from jobs.calculations.panels.pieces import Panel, sides_of
from jobs.calculations.panels.wishes import Run, Wish
from jobs.calculations.surfaces import regions
from jobs.calculations.surfaces.exact import Exact, whole
from jobs.calculations.surfaces.regions import Region
from jobs.calculations.surfaces.rooms import Face

Stretch = tuple[Exact, Exact]


@dataclass(frozen=True)
class Layout:
    """A face laid out.

    Attributes:
        face: what was laid out
        wish: what was asked
        columns: where the panels lie along the face, from its left end (or its foot), on the surface
        joints: where the joints begin, on the surface
        cross_nm: where the cross joints begin, on the surface
        panels: the pieces, position by position, each from the foot up
        shift_nm: how far the field was shifted for the openings, below zero to the left
        findings: what there is to tell
    """

    face: Face
    wish: Wish
    columns: tuple[Column, ...]
    joints: tuple[Exact, ...]
    cross_nm: tuple[int, ...]
    panels: tuple[Panel, ...]
    shift_nm: Exact = 0
    findings: tuple[Finding, ...] = ()

    def joint_stretches(self) -> tuple[tuple[Exact, Exact, Exact], ...]:
        """Each joint as it is seen: its place, from and to along it; openings interrupt it."""
        return tuple(
            (joint, start, end)
            for joint in self.joints
            for start, end in regions.upright_stretches(self._along(), joint + Fraction(self.wish.reveal_nm) / 2)
        )

    def cross_stretches(self) -> tuple[tuple[Exact, Exact, Exact], ...]:
        """Each cross joint as it is seen, panel by panel: its place, from and to along it."""
        region, found = self._along(), []
        for place in self.cross_nm:
            line = place + Fraction(self.wish.between_courses_nm) / 2
            for start, end in regions.level_stretches(region, line):
                for column in self.columns:
                    low, high = max(start, column.start), min(end, column.end)
                    if low < high and _rises_over(_strip(region, column), place, self.wish):
                        found.append((place, low, high))
        return tuple(found)

    def _along(self) -> Region:
        return self.face.region if self.wish.run is Run.UP else regions.turned(self.face.region)


def lay_out(face: Face, wish: Wish) -> Layout:
    """The panels of a face.

    Args:
        face: what is panelled of a surface [nm]
        wish: module, reveal, start and the rest [nm]

    Returns:
        the layout; panels, reveals and edges add up to the surface exactly [nm]

    Raises:
        LeastWidthNotKept: no balanced layout keeps the least width

    Example:
        222 in, modules of 24 in, reveals of 3/16 in, balanced: ends of 14 29/32 in and eight of 23 13/16.

    Source:
        House rule, DEVELOPERS.md "Panels".
    """
    name = face.surface.name
    turn = wish.run is Run.ACROSS
    outline = regions.turned((face.outline,)) if turn else (face.outline,)
    region = regions.turned(face.region) if turn else face.region
    left, _, right, _ = regions.bounds(outline)
    width = whole(right - left)
    field = fields.field_of(width, wish, name, left)
    made = clear.cleared(field, _gaps(face, wish, left, width), width, wish)
    columns = tuple(
        Column(whole(column.start + left), whole(column.end + left))
        for column in fields.columns(width, made.joints, wish.reveal_nm)
    )
    cross = tuple(height + (0 if turn else face.surface.level_nm) for height in sorted(wish.cross_nm))
    panels = _panels(face, wish, region, columns, cross)
    joints = tuple(whole(joint + left) for joint in made.joints)
    told = (
        *telling.field_findings(made, panels, columns, wish),
        *telling.center_findings(made, wish, left),
        *telling.piece_findings(panels, wish),
        *telling.sheet_findings(panels, wish),
        *telling.cross_findings(face, cross, wish),
        *holes.cut_out_findings(panels, face.surface, wish),
    )
    used = tuple(place for place in cross if any(_rises_over(_strip(region, each), place, wish) for each in columns))
    return Layout(face, wish, columns, joints, used, panels, made.shift, told)


def _gaps(face: Face, wish: Wish, left: Exact, width: Exact) -> list[Gap]:
    """The openings along the face, as far as they reach into it."""
    gaps = []
    for opening in face.surface.openings:
        region = regions.common(opening.open_region, (face.outline,))
        if not region:
            continue
        low_x, low_y, high_x, high_y = regions.bounds(opening.open_region)
        start, end = (low_x, high_x) if wish.run is Run.UP else (low_y, high_y)
        gaps.append(Gap(opening.name, max(whole(start - left), 0), min(whole(end - left), width)))
    return gaps


def _strip(region: Region, column: Column) -> Region:
    _, low, _, high = regions.bounds(region)
    return regions.common(region, regions.box(column.start, low, column.end, high))


def _rises_over(strip: Region, place: Exact, wish: Wish) -> bool:
    """Whether a column has panels on both sides of a cross joint; a rest no wider than the reveal is the panel's."""
    if not strip:
        return False
    _, low, _, high = regions.bounds(strip)
    return low < place and high > place + wish.between_courses_nm


def _panels(
    face: Face, wish: Wish, region: Region, columns: Sequence[Column], cross: Sequence[int]
) -> tuple[Panel, ...]:
    panels: list[Panel] = []
    position = 0
    for column in columns:
        strip = _strip(region, column)
        if not strip:
            continue
        position += 1
        shapes = [piece for course in _courses(strip, cross, wish) for piece in regions.pieces(course)]
        shapes.sort(key=lambda piece: (regions.bounds(piece)[1], regions.bounds(piece)[0]))
        for number, along in enumerate(shapes, 1):
            shape = along if wish.run is Run.UP else regions.turned(along)
            more = f".{number}" if len(shapes) > 1 else ""
            panels.append(_panel(f"{face.surface.name}{position}{more}", position, number, shape, face, wish))
    return tuple(panels)


def _courses(strip: Region, cross: Sequence[int], wish: Wish) -> list[Region]:
    left, low, right, high = regions.bounds(strip)
    courses = []
    for place in cross:
        if low < place and _rises_over(strip, place, wish):
            courses.append(regions.common(strip, regions.box(left, low, right, place)))
            low = place + wish.between_courses_nm
    courses.append(regions.common(strip, regions.box(left, low, right, high)))
    return [course for course in courses if course]


def _panel(name: str, position: int, number: int, shape: Region, face: Face, wish: Wish) -> Panel:
    sides = sides_of(shape, face, wish)
    cut = cut_shape(shape, sides, wish)
    fits = len(regions.pieces(cut)) == 1
    panel = Panel(
        name,
        face.surface.name,
        position,
        number,
        shape,
        cut if fits else shape,
        sides,
        wish.run,
        wish.up,
        wish.may_turn,
        takes_band=fits,
    )
    cut_outs, access = holes.placed(panel, face.surface)
    return replace(panel, cut_outs=cut_outs, access=access)
