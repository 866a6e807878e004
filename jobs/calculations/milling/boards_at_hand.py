"""Which piece of trim comes from which board, once the boards are here and measured."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from jobs.calculations.milling.boards.problem import BoardPiece, BoardProblem, StockBoard
from jobs.calculations.milling.boards.solve import BoardAnswer, answers
from jobs.calculations.milling.rough import Allowances, RoughBoard, Stretch, stretches

MICROMETERS = 1_000


@dataclass(frozen=True)
class CutPiece:
    """A rough piece on its board: its place in the list, the board, the strip from the jointed edge, and from where."""

    piece: int
    board: str
    strip: int
    start_nm: int
    length_nm: int


@dataclass(frozen=True)
class AtHand:
    """Pieces on boards.

    Attributes:
        pieces: board by board
        answer: the plan over the stretches, with its bound
    """

    pieces: tuple[CutPiece, ...]
    answer: BoardAnswer


def from_boards(
    lengths_nm: Sequence[int],
    boards: Sequence[RoughBoard],
    width_nm: int,
    allowances: Allowances,
    cross_kerf_nm: int,
    seconds: float,
) -> Iterator[AtHand]:
    """Which rough piece is cut where, the first answer at once and better ones as they are found.

    Args:
        lengths_nm: rough lengths of the pieces [nm]
        boards: as measured [nm]
        width_nm: finished width of the trim [nm]
        allowances: of the operations [nm]
        cross_kerf_nm: of the saw that cuts to length [nm]
        seconds: time box in seconds [-]

    Returns:
        an iterator over answers; each takes as little length of strips as was found [nm]

    Raises:
        BoardProblemError: the boards do not hold the pieces, or a length is not more than zero

    Example:
        A piece of 30 in out of a board whose knot leaves 20 and 40 in comes from behind the knot.

    Source: house rule.
    """
    clear = [stretch for board in boards for stretch in stretches(board, width_nm, allowances)]
    alike: dict[int, list[tuple[Stretch, int]]] = {}
    for stretch in clear:
        for strip in range(stretch.strips):
            alike.setdefault(stretch.length_nm, []).append((stretch, strip + 1))
    stock = tuple(
        StockBoard(length, max(1, length // MICROMETERS), len(places), f"strip of board {places[0][0].board}")
        for length, places in alike.items()
    )
    problem = BoardProblem(stock, tuple(BoardPiece(length) for length in lengths_nm), cross_kerf_nm)
    for answer in answers(problem, seconds):
        waiting = [list(reversed(places)) for places in alike.values()]
        placed = []
        for board in answer.plan.boards:
            stretch, strip = waiting[board.stock].pop()
            placed += [
                CutPiece(piece.piece, stretch.board, strip, stretch.start_nm + piece.start, piece.length)
                for piece in board.pieces
            ]
        yield AtHand(tuple(sorted(placed, key=lambda each: (each.board, each.strip, each.start_nm))), answer)
