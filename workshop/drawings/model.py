"""What a drawing holds: lines, shapes, words, dimensions and marks, each with a role, in mm from a corner, y upward.

A role says what a line is, not how it looks: weight, dash and color of each role stand in `roles.py` for paper and in
the stylesheet for the screen. Nothing here knows a wall, a sheet or a board.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

Point = tuple[float, float]
Role = Literal["base", "object", "frame", "thin", "hidden", "center", "hair", "grain", "chosen"]
Lettering = Literal["name", "number", "figure", "whole", "note"]
Anchor = Literal["start", "middle", "end"]
Sign = Literal["up", "tick"]


@dataclass(frozen=True)
class Line:
    """An open line through its points."""

    points: Sequence[Point]
    role: Role = "object"


@dataclass(frozen=True)
class Shape:
    """A closed outline.

    `fill` is "" for none, "paper" to cover what lies under it, a color as "#eadfc9", or a hatch by its name as
    "hatch-no-use".
    """

    points: Sequence[Point]
    role: Role = "object"
    fill: str = ""


@dataclass(frozen=True)
class Words:
    """One line of text at a point; `lift` moves it up, `turned` sets it to be read from the right.

    `lift` is in px on the screen and follows the lettering's size on paper. `room` is the width in mm the text may
    take: it is set smaller down to a legible size, then left out.
    """

    at: Point
    text: str
    lettering: Lettering = "note"
    anchor: Anchor = "middle"
    lift: float = 0
    turned: bool = False
    room: float | None = None


@dataclass(frozen=True)
class Chain:
    """Dimensions in a row: the places along the axis and the size of each gap between them.

    A chain along x lies below the object, `row` 0 nearest to it; one along y lies left of it and is read from the
    right. `base` is where the object ends on that side. Equal neighbors too narrow for their text are gathered.
    """

    places: Sequence[float]
    texts: Sequence[str]
    base: float
    row: int = 0
    axis: Literal["x", "y"] = "x"
    whole: bool = False


@dataclass(frozen=True)
class Mark:
    """A small sign of fixed size at a point: the arrow to the top end, a tick, the strokes of a tone group."""

    at: Point
    sign: Sign = "up"
    drop: float = 0


@dataclass(frozen=True)
class Tally:
    """The strokes of a tone group's place on its ladder, counted from the lightest, under a point."""

    at: Point
    place: int
    drop: float = 0


@dataclass(frozen=True)
class Grain:
    """The run of the grain in a rectangle: nested arches of a plain-sliced face, up or across."""

    left: float
    bottom: float
    width: float
    height: float
    across: bool = False


Item = Line | Shape | Words | Chain | Mark | Tally | Grain


@dataclass(frozen=True)
class Piece:
    """Items that are one thing to tap, with the address it leads to and its name for readers."""

    items: Sequence[Item]
    href: str = ""
    label: str = ""


@dataclass(frozen=True)
class Drawing:
    """Pieces in the order they are drawn, within a box in mm; `sentence` says what is seen."""

    sentence: str
    pieces: Sequence[Piece]
    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def height(self) -> float:
        return self.top - self.bottom
