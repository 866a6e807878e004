"""Cut-outs and marks for access: which panel they are in, and what they come too close to."""

from collections.abc import Sequence
from dataclasses import dataclass

from jobs.calculations.panels.findings import (
    AT_ROW,
    CUT_BY_JOINT,
    NEAR_SIDE,
    NO_PANEL_HERE,
    About,
    Finding,
)
from jobs.calculations.panels.pieces import Panel, PlacedCutOut
from jobs.calculations.panels.wishes import Wish
from jobs.calculations.surfaces import regions
from jobs.calculations.surfaces.errors import Told
from jobs.calculations.surfaces.openings import CutOut
from jobs.calculations.surfaces.surface import Surface

CAUTION = "A box in a combustible wall comes flush with the new face. The local code and a licensed electrician decide."


@dataclass(frozen=True)
class Extension:
    """How far a box has to come forward to lie flush with the new face."""

    cut_out: CutOut
    by_nm: int


def extensions(surface: Surface) -> tuple[Extension, ...]:
    """How far each cut-out's box has to come forward; CAUTION goes with it wherever it is shown.

    Args:
        surface: with its cut-outs and its build-up [nm]

    Returns:
        one for each cut-out [nm]

    Example:
        Battens and panels of 3/4 in each: 1 1/2 in.

    Source:
        Usual caution of the trade (NEC 314.20, from memory); the local code and a licensed electrician decide.
    """
    return tuple(Extension(each, surface.build_up.total_nm) for each in surface.cut_outs)


def placed(panel: Panel, surface: Surface) -> tuple[tuple[PlacedCutOut, ...], tuple[str, ...]]:
    """The cut-outs that lie in a panel, with their places in it, and the marks for access on it.

    Args:
        panel: the panel [nm]
        surface: the surface with its cut-outs and marks [nm]

    Returns:
        cut-outs from the left side and the foot of the panel's rectangle as it is cut, and names of marks [nm]

    Example:
        A box centered 60 in from the left end in a panel that begins at 50 in lies 10 in from its left side.
    """
    left, foot, _, _ = regions.bounds(panel.cut_shape)
    cut_outs = tuple(
        PlacedCutOut(each, each.center_x_nm - left, each.center_y_nm - foot)
        for each in surface.cut_outs
        if regions.common(panel.shape, each.region)
    )
    marks = tuple(
        mark.name
        for mark in surface.marks
        if any(low <= mark.y_nm <= high for low, high in regions.upright_stretches(panel.shape, mark.x_nm))
    )
    return cut_outs, marks


def cut_out_findings(panels: Sequence[Panel], surface: Surface, wish: Wish) -> tuple[Finding, ...]:
    """Cut-outs over a joint, beyond the panelled face, or too close to a side of their panel.

    Args:
        panels: the panels of the surface [nm]
        surface: with its cut-outs [nm]
        wish: with the least distance from a side [nm]

    Returns:
        a finding for each [-]

    Example:
        A box whose middle lies on a joint is told with both panels.
    """
    found = []
    for cut_out in surface.cut_outs:
        holding = [panel for panel in panels if regions.common(panel.shape, cut_out.region)]
        facts = {"cut_out": cut_out.name}
        if len(holding) > 1:
            names = ", ".join(panel.name for panel in holding)
            found.append(Finding(About.CUT_OUT, cut_out.name, Told(CUT_BY_JOINT, {**facts, "panels": names})))
        elif not holding or regions.without(cut_out.region, holding[0].shape):
            found.append(Finding(About.CUT_OUT, cut_out.name, Told(NO_PANEL_HERE, facts)))
        elif (miss := _least_distance(cut_out, holding[0])) < wish.clear_nm:
            more = {"miss": miss, "panel": holding[0].name, "clear": wish.clear_nm}
            found.append(Finding(About.CUT_OUT, cut_out.name, Told(NEAR_SIDE, {**facts, **more})))
    return tuple(found)


def cut_outs_at_rows(surface: Surface, rows_nm: Sequence[int], clear_nm: int) -> tuple[Finding, ...]:
    """The cut-outs that screw rows run into.

    Args:
        surface: with its cut-outs and its level line [nm]
        rows_nm: heights of the rows, from the level line [nm]
        clear_nm: least distance of a row from a cut-out [nm]

    Returns:
        a finding for each row and cut-out [-]

    Example:
        A box from 18 to 22 in and a row at 20 in do not go together.
    """
    found = []
    for cut_out in surface.cut_outs:
        _, low, _, high = regions.bounds(cut_out.region)
        found += [
            Finding(About.CUT_OUT, cut_out.name, Told(AT_ROW, {"cut_out": cut_out.name, "place": row}))
            for row in rows_nm
            if low - clear_nm < row + surface.level_nm < high + clear_nm
        ]
    return tuple(found)


def _least_distance(cut_out: CutOut, panel: Panel) -> int:
    """From the hole to the nearest side, measured along x and y, up to the size of the panel."""
    left, foot, right, top = regions.bounds(cut_out.region)
    distances = []
    for y in (foot, top):
        for start, end in regions.level_stretches(panel.shape, y):
            if start <= left and right <= end:
                distances += [left - start, end - right]
    for x in (left, right):
        for start, end in regions.upright_stretches(panel.shape, x):
            if start <= foot and top <= end:
                distances += [foot - start, end - top]
    return int(min(distances, default=0) // 1)
