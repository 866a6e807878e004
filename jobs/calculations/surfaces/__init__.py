"""Walls and ceilings in their real shapes, what is in them, and the face that is panelled.

Reading order: exact, slabs, regions (exact polygons); errors, sizes; edges, openings, surface, shapes; rooms; measured.

A surface is looked at from inside the room: x from its left end, y from its foot, in whole nanometers. Its bare
outline is what is built before the panels; a `Room` knows which surfaces meet and so which loses the other's build-up,
and gives the panelled `Face` of each. Corners of rooms are right angles; a surface that meets another at a slope loses
what is measured square to its own edge.
"""

from jobs.calculations.surfaces.edges import BuildUp, Corner, Edge, EdgeCondition, EdgeKind, Side, loss_at
from jobs.calculations.surfaces.errors import (
    CutOutOutside,
    EdgesContradict,
    LayoutRefused,
    LeastWidthNotKept,
    MakingError,
    MarkOutside,
    NameTwice,
    NoSuchEdge,
    NotASize,
    NotASurface,
    NothingLeft,
    OpeningOutside,
    OpeningsOverlap,
    SizesContradict,
    Told,
    WiderThanSheet,
)
from jobs.calculations.surfaces.measured import Fit, Measured, fit
from jobs.calculations.surfaces.openings import AccessMark, CutOut, CutOutKind, Opening, OpeningKind
from jobs.calculations.surfaces.rooms import EdgeEnd, Face, Meeting, Room, alone, round_room, with_conditions
from jobs.calculations.surfaces.shapes import gabled, l_shaped, polygon, raked, rectangle, sloped_ceiling, stepped
from jobs.calculations.surfaces.surface import Surface, SurfaceKind, mirrored

__all__ = [
    "AccessMark",
    "BuildUp",
    "Corner",
    "CutOut",
    "CutOutKind",
    "CutOutOutside",
    "Edge",
    "EdgeCondition",
    "EdgeEnd",
    "EdgeKind",
    "EdgesContradict",
    "Face",
    "Fit",
    "LayoutRefused",
    "LeastWidthNotKept",
    "MakingError",
    "MarkOutside",
    "Measured",
    "Meeting",
    "NameTwice",
    "NoSuchEdge",
    "NotASize",
    "NotASurface",
    "NothingLeft",
    "Opening",
    "OpeningKind",
    "OpeningOutside",
    "OpeningsOverlap",
    "Room",
    "Side",
    "SizesContradict",
    "Surface",
    "SurfaceKind",
    "Told",
    "WiderThanSheet",
    "alone",
    "fit",
    "gabled",
    "l_shaped",
    "loss_at",
    "mirrored",
    "polygon",
    "raked",
    "rectangle",
    "round_room",
    "sloped_ceiling",
    "stepped",
    "with_conditions",
]
