"""Build-ups, and how a panelled face ends at an edge."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from jobs.calculations.surfaces import exact
from jobs.calculations.surfaces.errors import EdgesContradict, Told
from jobs.calculations.surfaces.exact import Exact, Point
from jobs.calculations.surfaces.sizes import check_amount, check_size

FIRST_AND_DIES = "what dies into the next surface is not hung first there"
MITERED_AND_FIRST = "of two mitered edges none is hung first"
AMOUNT_OF_NOTHING = "an edge that %(kind)s has no amount of its own"
LET_IT = "an edge that %(kind)s"
NO_AMOUNT = "no amount"


class EdgeKind(StrEnum):
    """How a panelled face ends."""

    DIES = "dies into the next surface"
    LAPS = "laps over the next surface"
    MITERED = "is mitered"
    REVEAL = "is held off by a reveal"
    COVERED = "is covered by trim"
    SCRIBED = "is scribed"


@dataclass(frozen=True)
class EdgeCondition:
    """How a face ends at one edge.

    Attributes:
        kind: how it ends
        amount_nm: width of the reveal; how far it stays back under the trim; how much to spare for the scribe
        first: whether it is hung before the surface it meets and so runs through there
    """

    kind: EdgeKind = EdgeKind.DIES
    amount_nm: int = 0
    first: bool = False

    def __post_init__(self) -> None:
        if self.kind is EdgeKind.LAPS:
            object.__setattr__(self, "first", True)
        _check_condition(self)

    @property
    def held_off_nm(self) -> int:
        """How far the face stays back from what it meets."""
        return self.amount_nm if self.kind in (EdgeKind.REVEAL, EdgeKind.COVERED) else 0

    @property
    def spare_nm(self) -> int:
        """How much wider it is cut, to be scribed."""
        return self.amount_nm if self.kind is EdgeKind.SCRIBED else 0


Conditions = Mapping[str, EdgeCondition]


@dataclass(frozen=True)
class BuildUp:
    """What lies between the bare surface and the face of the panel."""

    panel_nm: int
    battens_nm: int = 0
    packers_nm: int = 0

    def __post_init__(self) -> None:
        check_size(self.panel_nm, "panel_nm", "build-up")
        check_amount(self.battens_nm, "battens_nm", "build-up")
        check_amount(self.packers_nm, "packers_nm", "build-up")

    @property
    def behind_nm(self) -> int:
        """From the bare surface to the back of the panel."""
        return self.battens_nm + self.packers_nm

    @property
    def total_nm(self) -> int:
        """From the bare surface to the face of the panel."""
        return self.behind_nm + self.panel_nm


class Side(StrEnum):
    """Where an edge lies as one looks at the surface."""

    FOOT = "foot"
    RIGHT = "right"
    TOP = "top"
    LEFT = "left"


@dataclass(frozen=True)
class Edge:
    """One edge of a surface, from corner to corner, the surface at its left."""

    name: str
    start: Point
    end: Point

    @property
    def run_nm(self) -> Exact:
        """How far it goes to the right."""
        return self.end[0] - self.start[0]

    @property
    def rise_nm(self) -> Exact:
        """How far it goes up."""
        return self.end[1] - self.start[1]

    @property
    def length_nm(self) -> int:
        """Its length; that of a slope to the nearest nanometer."""
        return exact.distance(self.start, self.end)

    @property
    def is_raked(self) -> bool:
        """Whether it is neither level nor upright."""
        return bool(self.run_nm) and bool(self.rise_nm)

    @property
    def side(self) -> Side:
        """Foot or top for all that runs along, left or right for what is upright."""
        if self.run_nm:
            return Side.FOOT if self.run_nm > 0 else Side.TOP
        return Side.RIGHT if self.rise_nm > 0 else Side.LEFT


class Corner(StrEnum):
    """How two surfaces meet."""

    INSIDE = "inside"
    OUTSIDE = "outside"


def loss_at(condition: EdgeCondition, own: BuildUp, other: BuildUp, corner: Corner) -> int:
    """What a panelled face loses at an edge where it meets another panelled face at a right angle.

    At an inside corner the face hung first runs to the bare corner, the other butts against its face and loses its
    whole build-up. At an outside corner the first covers the other's edge, the other ends at the first one's back.
    Mitered panels are told by their long point: at the back inside, at the face outside.

    Args:
        condition: how this face ends [-]
        own: its own build-up [nm]
        other: the build-up of the face it meets [nm]
        corner: inside or outside [-]

    Returns:
        how far it stays back from the bare corner, below zero where it reaches beyond [nm]

    Example:
        Battens of 3/4 in and panels of 3/4 in: the wall that butts at an inside corner loses 1 1/2 in.

    Source:
        Common practice, no source.
    """
    if condition.kind is EdgeKind.MITERED:
        met = other.behind_nm if corner is Corner.INSIDE else -other.total_nm
    elif corner is Corner.INSIDE:
        met = 0 if condition.first else other.total_nm
    else:
        met = -other.total_nm if condition.first else -other.behind_nm
    return met + condition.held_off_nm


def _check_condition(condition: EdgeCondition) -> None:
    kind = condition.kind
    check_amount(condition.amount_nm, "amount_nm", "edge")
    if condition.amount_nm and kind in (EdgeKind.DIES, EdgeKind.LAPS, EdgeKind.MITERED):
        would_do = Told(NO_AMOUNT), Told(LET_IT, {"kind": EdgeKind.REVEAL.value})
        raise EdgesContradict("amount_nm", "edge", Told(AMOUNT_OF_NOTHING, {"kind": kind.value}), would_do)
    if condition.first and kind is EdgeKind.DIES:
        would_do = Told(LET_IT, {"kind": EdgeKind.LAPS.value}), Told(LET_IT, {"kind": EdgeKind.SCRIBED.value})
        raise EdgesContradict("first", "edge", Told(FIRST_AND_DIES), would_do)
    if condition.first and kind is EdgeKind.MITERED:
        would_do = Told(LET_IT, {"kind": EdgeKind.LAPS.value}), Told(LET_IT, {"kind": EdgeKind.REVEAL.value})
        raise EdgesContradict("first", "edge", Told(MITERED_AND_FIRST), would_do)
