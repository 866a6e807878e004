"""How wide the columns of a table are: figures whole, names with the room that is left."""

from collections.abc import Sequence
from dataclasses import dataclass

GAP = 14.0
LEAST_FOR_NAMES = 0.3

Place = tuple[float, float]


@dataclass(frozen=True)
class Column:
    """A column: its head and share of the width; figures stand at the right, the deciding one is strong."""

    head: str
    share: float = 1
    right: bool = False
    strong: bool = False


def measured(columns: Sequence[Column], natural: Sequence[float], width: float) -> list[Place]:
    """Left edge and width of each column, in points.

    A column takes its share; one of figures takes what its widest figure needs if that is more, as long as
    the others keep three tenths of the table.
    """
    room = width - GAP * (len(columns) - 1)
    names = sum(column.share for column in columns if not column.right)
    for_names = LEAST_FOR_NAMES * room if names else 0.0
    figures = sum(wide for column, wide in zip(columns, natural, strict=True) if column.right)
    scale = min(1, (room - for_names) / figures) if figures else 1
    least = [
        wide * scale if column.right else for_names * column.share / names
        for column, wide in zip(columns, natural, strict=True)
    ]
    widths = _by_share([column.share for column in columns], least, room)
    return [(sum(widths[:number]) + GAP * number, wide) for number, wide in enumerate(widths)]


def _by_share(shares: Sequence[float], least: Sequence[float], room: float) -> list[float]:
    fixed: dict[int, float] = {}
    while True:
        free = [number for number in range(len(shares)) if number not in fixed]
        left = room - sum(fixed.values())
        whole = sum(shares[number] for number in free)
        short = [number for number in free if left * shares[number] < least[number] * whole]
        if not short:
            fixed.update((number, left * shares[number] / whole) for number in free)
            return [fixed[number] for number in range(len(shares))]
        fixed.update((number, least[number]) for number in short)
