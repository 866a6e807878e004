"""What there is to tell of a layout."""

from collections.abc import Sequence

from jobs.calculations.panels import clear, fields, findings
from jobs.calculations.panels.clear import Cleared, Gap
from jobs.calculations.panels.fields import Column
from jobs.calculations.panels.findings import About, Finding
from jobs.calculations.panels.pieces import Panel
from jobs.calculations.panels.wishes import AtOpening, Run, Wish
from jobs.calculations.surfaces import regions
from jobs.calculations.surfaces.errors import Told
from jobs.calculations.surfaces.exact import Exact
from jobs.calculations.surfaces.rooms import Face


def field_findings(made: Cleared, panels: Sequence[Panel], columns: Sequence[Column], wish: Wish) -> list[Finding]:
    """What was done for the openings, and panels narrower than the least width or wider than the module's.

    Args:
        made: the field made clear of the openings [nm]
        panels: the panels [nm]
        columns: where they lie along the face [nm]
        wish: the layout that was asked for [nm]

    Returns:
        the findings [-]

    Example:
        A field that was shifted is told with how far.
    """
    found = []
    if made.shift:
        text = findings.SHIFTED_LEFT if made.shift < 0 else findings.SHIFTED_RIGHT
        found.append(Finding(About.SHIFTED, "", Told(text, {"shift": int(abs(made.shift))})))
    if made.equal:
        found.append(Finding(About.EQUAL, "", Told(findings.EQUAL_PANELS)))
    for leg in made.legs:
        if leg.width is None:
            told = Told(findings.STRADDLES, {"opening": leg.gap.name})
        else:
            text = findings.LEG_JOINTED if leg.done is AtOpening.JOINT else findings.LEG_NOTCHED
            told = Told(text, {"opening": leg.gap.name, "leg": int(leg.width), "least": wish.least_nm})
        found.append(Finding(About.AT_OPENING, leg.gap.name, told))
    for column in columns:
        name = _name_at(panels, column, wish)
        if column.width < wish.least_nm:
            facts = {"panel": name, "width": int(column.width), "least": wish.least_nm}
            found.append(Finding(About.NARROW, name, Told(findings.NARROW_PANEL, facts)))
        if column.width > wish.panel_nm:
            facts = {"panel": name, "rest": int(column.width - wish.panel_nm)}
            found.append(Finding(About.REST, name, Told(findings.TAKES_REST, facts)))
    return found


def _name_at(panels: Sequence[Panel], column: Column, wish: Wish) -> str:
    for panel in panels:
        left, foot, right, top = regions.bounds(panel.shape)
        start, end = (left, right) if wish.run is Run.UP else (foot, top)
        if column.start <= start and end <= column.end:
            return panel.name
    return ""


def center_findings(made: Cleared, wish: Wish, left: Exact) -> list[Finding]:
    """The joints that miss the centers they should fall on.

    Args:
        made: the field [nm]
        wish: the layout that was asked for [nm]
        left: where the face begins on its surface [nm]

    Returns:
        a finding for each [-]

    Example:
        A joint centered 23 29/32 in from the left end misses a stud at 24 in by 3/32 in.
    """
    if wish.centers is None:
        return []
    return [
        Finding(About.CENTERS, "", Told(findings.OFF_CENTER, {"place": int(joint + left), "miss": int(miss)}))
        for joint in made.joints
        if (miss := fields.off_center(joint, wish, left))
    ]


def piece_findings(panels: Sequence[Panel], wish: Wish) -> list[Finding]:
    """Pieces shorter than the least width, or too small for their edge band.

    Args:
        panels: the panels [nm]
        wish: the layout that was asked for [nm]

    Returns:
        a finding for each [-]

    Example:
        A piece 2 in high over a door is told where the least width is 4 in.
    """
    found = []
    for panel in panels:
        if panel.size_nm[1] < wish.least_nm:
            facts = {"panel": panel.name, "length": panel.size_nm[1], "least": wish.least_nm}
            found.append(Finding(About.SMALL, panel.name, Told(findings.SHORT_PIECE, facts)))
        if not panel.takes_band:
            found.append(Finding(About.BAND, panel.name, Told(findings.NO_ROOM_FOR_BAND, {"panel": panel.name})))
    return found


def sheet_findings(panels: Sequence[Panel], wish: Wish) -> list[Finding]:
    """Panels that are cut larger than the sheet gives.

    Args:
        panels: the panels [nm]
        wish: the layout that was asked for [nm]

    Returns:
        a finding for each size that does not fit [-]

    Example:
        A panel of 100 in is told where the sheet gives 96 in.
    """
    if wish.stock is None:
        return []
    found = []
    for panel in panels:
        width, length = panel.cut_size_nm
        for text, size, usable in (
            (findings.TOO_WIDE, width, wish.stock.usable_width_nm),
            (findings.TOO_LONG, length, wish.stock.usable_length_nm),
        ):
            if size > usable:
                facts = {"panel": panel.name, "size": size, "usable": usable}
                found.append(Finding(About.SHEET, panel.name, Told(text, facts)))
    return found


def cross_findings(face: Face, cross: Sequence[int], wish: Wish) -> list[Finding]:
    """Cross joints that are neither on the head or sill of an opening nor the least width away from it.

    Args:
        face: the face with its openings [nm]
        cross: where the cross joints begin [nm]
        wish: the layout that was asked for [nm]

    Returns:
        a finding for each [-]

    Example:
        A joint 3 13/16 in over the head of a door is told where the least width is 6 in.
    """
    found = []
    for opening in face.surface.openings:
        low_x, low_y, high_x, high_y = regions.bounds(opening.open_region)
        low, high = (low_y, high_y) if wish.run is Run.UP else (low_x, high_x)
        gap = Gap(opening.name, low, high)
        width = max(high + 1, *cross) if cross else high + 1
        for leg in clear.not_clear(tuple(cross), (gap,), width, wish.between_courses_nm, wish.least_nm):
            facts = {"place": int(leg.joint), "miss": int(leg.width or 0), "opening": opening.name}
            found.append(Finding(About.CROSS, opening.name, Told(findings.CROSS_NEAR, facts)))
    return found
