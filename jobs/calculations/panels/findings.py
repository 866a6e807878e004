"""What a layout has to tell: sentences with their facts, each at its place."""

from dataclasses import dataclass
from enum import StrEnum

from jobs.calculations.surfaces.errors import Told


class About(StrEnum):
    """What a finding is about."""

    SHIFTED = "the field was shifted for the openings"
    EQUAL = "panels are equal between the openings"
    NARROW = "narrower than the least width"
    AT_OPENING = "notch or joint at an opening"
    SMALL = "a piece shorter than the least width"
    BAND = "too small for its edge band"
    REST = "the last panel takes a rest"
    CENTERS = "joints off the centers"
    SHEET = "larger than the sheet"
    CROSS = "cross joint at an opening"
    CUT_OUT = "cut-out at a side of a panel"


SHIFTED_LEFT = "the field is shifted %(shift)s to the left, clear of the openings"
SHIFTED_RIGHT = "the field is shifted %(shift)s to the right, clear of the openings"
EQUAL_PANELS = "panels are equal between the openings: no shift keeps the joints clear of them"
NARROW_PANEL = "panel %(panel)s is %(width)s wide, less than %(least)s"
SHORT_PIECE = "panel %(panel)s is %(length)s long, less than %(least)s"
NO_ROOM_FOR_BAND = "panel %(panel)s is too small for its edge band"
TAKES_REST = "panel %(panel)s takes a rest of %(rest)s, too narrow for a reveal and a panel"
LEG_NOTCHED = "at %(opening)s a leg of %(leg)s stays on a notched panel, less than %(least)s"
LEG_JOINTED = "at %(opening)s a joint cuts off a leg of %(leg)s, less than %(least)s"
STRADDLES = "a joint stands across the edge of %(opening)s"
OFF_CENTER = "the joint at %(place)s misses the nearest center by %(miss)s"
TOO_WIDE = "panel %(panel)s is cut %(size)s wide, and the sheet gives %(usable)s"
TOO_LONG = "panel %(panel)s is cut %(size)s long, and the sheet gives %(usable)s"
CROSS_NEAR = "the cross joint at %(place)s lies %(miss)s from the edge of %(opening)s"
CUT_BY_JOINT = "%(cut_out)s lies over a joint of %(panels)s"
NO_PANEL_HERE = "%(cut_out)s reaches beyond the panelled face"
NEAR_SIDE = "%(cut_out)s lies %(miss)s from a side of panel %(panel)s, less than %(clear)s"
AT_ROW = "%(cut_out)s lies in the screw row at %(place)s"


@dataclass(frozen=True)
class Finding:
    """One sentence about a layout; `where` names the panel, opening or cut-out."""

    about: About
    where: str
    told: Told
