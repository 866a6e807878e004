"""What is asked of a plan that gives the sheets of a lot to rooms.

Sheets and rooms are told apart by their place in the tuples. Differences are whole ten-thousandths of a unit of
CIEDE2000 (or of a step, where sheets were only sorted by eye). A piece is what a room counts: a whole sheet, or a half
where every sheet is cut into two panels of the same tone.

Aims in strict order: (a) the smallest largest range of the rooms; (b) the smallest sum of weight times range; (c) with
halves, the fewest sheets shared by two rooms. Known in the literature as a capacitated partition with the smallest
largest diameter.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property


@dataclass(frozen=True)
class Room:
    """A room and what it needs.

    Attributes:
        need: pieces [-]
        weight: how much it is seen, a whole number [-]
        limit: largest range it may have, none where it has no limit of its own [-]
        counts: whether its range counts for the largest range [-]
    """

    need: int
    weight: int = 1
    limit: int | None = None
    counts: bool = True


@dataclass(frozen=True)
class Doorway:
    """Two rooms seen together: no sheet of the one may differ from a sheet of the other by more than the limit.

    Attributes:
        room: one room [-]
        other: the other room [-]
        limit: largest difference across the doorway [-]
        by_the_door: sheets of each room that stand by the door, where only these have to agree; none for all [-]
    """

    room: int
    other: int
    limit: int
    by_the_door: int | None = None


class MoreNeedThanSheets(ValueError):
    """The rooms need more pieces than the lot has."""

    def __init__(self, need: int, usable: int, pieces: int = 1) -> None:
        self.need, self.usable, self.pieces = need, usable, pieces
        what = "half sheets" if pieces == 2 else "sheets"
        super().__init__(
            f"the rooms need {need} {what} and {usable} can be used; "
            f"{need - usable} more {what}, or smaller needs, would do"
        )


class CannotStandSo(ValueError):
    """What is fixed contradicts itself: too many pieces in a room or of a sheet, a rejected or forbidden sheet."""

    def __init__(self, sheet: int, room: int, why: str) -> None:
        self.sheet, self.room, self.why = sheet, room, why
        super().__init__(f"sheet {sheet} cannot stay in room {room}: {why}; to free it or to change the room would do")


@dataclass(frozen=True)
class Problem:
    """A lot of sheets and the rooms it is for.

    Attributes:
        differences: square of ten-thousandths between every two sheets [-]
        rooms: the rooms [-]
        fixed: sheet, room and pieces already cut, hung or locked there [-]
        rejected: sheets that are never used: refused, set aside, outside the approved sample [-]
        forbidden: sheet and room that may not come together [-]
        doorways: rooms seen together [-]
        together: sets of sheets that stay whole in one room, or are all spare [-]
        lightness: L* of every sheet in ten-thousandths, needed only for the wishes of shade [-]
        darkest: a room that is to have the least mean lightness of all, or none [-]
        lightest: a room that is to have the greatest mean lightness of all, or none [-]
        pieces: pieces of one sheet, 1 or 2 [-]
    """

    differences: Sequence[Sequence[int]]
    rooms: tuple[Room, ...]
    fixed: tuple[tuple[int, int, int], ...] = ()
    rejected: frozenset[int] = frozenset()
    forbidden: frozenset[tuple[int, int]] = frozenset()
    doorways: tuple[Doorway, ...] = ()
    together: tuple[tuple[int, ...], ...] = ()
    lightness: tuple[int, ...] = ()
    darkest: int | None = None
    lightest: int | None = None
    pieces: int = 1

    def __post_init__(self) -> None:
        if self.need > self.usable:
            raise MoreNeedThanSheets(self.need, self.usable, self.pieces)
        used, held = Counter[int](), Counter[int]()
        for sheet, room, pieces in self.fixed:
            used[sheet] += pieces
            held[room] += pieces
            if sheet in self.rejected:
                raise CannotStandSo(sheet, room, "it is rejected")
            if (sheet, room) in self.forbidden:
                raise CannotStandSo(sheet, room, "it is kept out of this room")
            if used[sheet] > self.pieces:
                raise CannotStandSo(sheet, room, f"the sheet gives {self.pieces}")
            if held[room] > self.rooms[room].need:
                raise CannotStandSo(sheet, room, f"the room needs {self.rooms[room].need}")

    @property
    def need(self) -> int:
        """Pieces that all rooms need."""
        return sum(room.need for room in self.rooms)

    @property
    def usable(self) -> int:
        """Pieces that can be used."""
        return len(self.sheets) * self.pieces

    @cached_property
    def sheets(self) -> tuple[int, ...]:
        """The sheets that can be used."""
        return tuple(sheet for sheet in range(len(self.differences)) if sheet not in self.rejected)

    @cached_property
    def held(self) -> tuple[Counter[int], ...]:
        """Per room the pieces of each sheet that are fixed there."""
        held: tuple[Counter[int], ...] = tuple(Counter() for _ in self.rooms)
        for sheet, room, pieces in self.fixed:
            held[room][sheet] += pieces
        return held

    @property
    def is_plain(self) -> bool:
        """Whether every condition is one between two sheets, which a search by swaps can see."""
        return (
            self.darkest is None
            and self.lightest is None
            and all(doorway.by_the_door is None for doorway in self.doorways)
        )
