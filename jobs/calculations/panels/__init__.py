"""The layout of walls and ceilings in panels.

Reading order: wishes (what is asked), fields (joints along a width), clear (joints and openings), pieces (panels as
shapes), cut (what is cut for them), cross (joints over a sheet's length), holes (cut-outs, access), findings, telling,
layout (all of it together), rooms, pairs.

A layout is asked for with a `Wish` and made with `lay_out(face, wish)`. Panels, reveals and edge conditions add up to
the surface exactly. No panel is wider than the module's panel, but for one: a rest no wider than a reveal beside the
last panel of a layout from one end, or centered, goes to that panel, and is told.
"""

from jobs.calculations.panels.cross import Courses, cross_joints
from jobs.calculations.panels.fields import Column
from jobs.calculations.panels.findings import About, Finding
from jobs.calculations.panels.holes import CAUTION, Extension, cut_outs_at_rows, extensions
from jobs.calculations.panels.layout import Layout, lay_out
from jobs.calculations.panels.pairs import Pair, paired
from jobs.calculations.panels.pieces import Panel, PanelSide, PlacedCutOut, RakedCut
from jobs.calculations.panels.rooms import lay_out_room
from jobs.calculations.panels.wishes import AtOpening, Band, Centers, Meets, Run, Start, Stock, Up, Wish

__all__ = [
    "CAUTION",
    "About",
    "AtOpening",
    "Band",
    "Centers",
    "Column",
    "Courses",
    "Extension",
    "Finding",
    "Layout",
    "Meets",
    "Pair",
    "Panel",
    "PanelSide",
    "PlacedCutOut",
    "RakedCut",
    "Run",
    "Start",
    "Stock",
    "Up",
    "Wish",
    "cross_joints",
    "cut_outs_at_rows",
    "extensions",
    "lay_out",
    "lay_out_room",
    "paired",
]
