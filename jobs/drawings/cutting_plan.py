"""A sheet with its parts as they are cut from it, the grain along the drawing."""

from collections.abc import Callable, Sequence

from jobs.calculations.cutting import Part, Piece, PlannedSheet, StockSheet
from workshop.drawings import Chain, Drawing, Shape, Words
from workshop.drawings import Piece as Drawn

NM_OF_MM = 1_000_000
Show = Callable[[int], str]


def sheet_drawing(sheet: PlannedSheet, stock: StockSheet, parts: Sequence[Part], *, show: Show, name: str) -> Drawing:
    """Return a sheet drawn in mm from its factory corner, length along x.

    Args:
        sheet: the sheet and its cuts [nm]
        stock: the kind of sheet it is [nm]
        parts: the parts of the problem, by place [nm]
        show: how a length is written, from nanometers
        name: what is seen, for readers
    """
    length, width = _mm(stock.length), _mm(stock.width)
    drawn = [Drawn([Shape(_corners(0, 0, length, width), "frame")])]
    for rest in sheet.rests:
        drawn.append(Drawn([Shape(_box(rest), "hidden")]))
    for piece in sheet.parts:
        drawn.append(_part(piece, parts[piece.part], show))
    sizes = Chain([0, length], [show(stock.length)], 0, whole=True)
    height = Chain([0, width], [show(stock.width)], 0, axis="y", whole=True)
    return Drawing(name, [*drawn, Drawn([sizes, height])], 0, 0, length, width)


def _part(piece: Piece, part: Part, show: Show) -> Drawn:
    x, y, length, width = (_mm(value) for value in (piece.x, piece.y, piece.length, piece.width))
    middle = (x + length / 2, y + width / 2)
    size = f"{show(piece.width)} × {show(piece.length)}"
    return Drawn(
        [
            Shape(_box(piece), "object"),
            Words(middle, part.name, "number", lift=2, room=length * 0.9),
            Words(middle, size, "figure", lift=-16, room=length * 0.9),
        ],
        label=part.name,
    )


def _box(piece: Piece) -> list[tuple[float, float]]:
    x, y = _mm(piece.x), _mm(piece.y)
    return _corners(x, y, x + _mm(piece.length), y + _mm(piece.width))


def _corners(left: float, foot: float, right: float, top: float) -> list[tuple[float, float]]:
    return [(left, foot), (right, foot), (right, top), (left, top)]


def _mm(value: int) -> float:
    return float(value) / NM_OF_MM
