"""What is asked of a board plan: boards by length, pieces, kerf and what is cut off the ends.

Distances are whole numbers of one unit, as a rule nanometers. Between two pieces lies one kerf; the end cut-off is
where the finished end lies, its kerf inside it. A last piece that ends on it needs no cut.
"""

from dataclasses import dataclass


class BoardProblemError(ValueError):
    """The problem has no plan, or a number in it that cannot be meant."""


class NumberOutOfRange(BoardProblemError):
    """A length, count or cost is zero or below where it must not be."""

    def __init__(self, what: str, value: int) -> None:
        self.what, self.value = what, value
        super().__init__(f"{what} is {value}; a larger number, or leaving the line out, would do")


class KerfTooLarge(BoardProblemError):
    """The kerf is larger than a piece."""

    def __init__(self, kerf: int, piece: str, length: int) -> None:
        self.kerf, self.piece, self.length = kerf, piece, length
        super().__init__(
            f"the kerf of {kerf} is larger than piece {piece}, which is {length} long; "
            "a thinner blade, or a longer piece, would do"
        )


class NothingLeftOfBoard(BoardProblemError):
    """The end cut-off leaves nothing of a board."""

    def __init__(self, end_cut_off: int, board: str, length: int) -> None:
        self.end_cut_off, self.board, self.length = end_cut_off, board, length
        super().__init__(
            f"an end cut-off of {end_cut_off} at both ends leaves nothing of board {board}, which is {length} long; "
            "less cut off, or a longer board, would do"
        )


class PieceTooLong(BoardProblemError):
    """A piece is longer than every board."""

    def __init__(self, piece: str, length: int, longest: int) -> None:
        self.piece, self.length, self.longest = piece, length, longest
        super().__init__(
            f"piece {piece} is {length} long, and no board gives more than {longest}; "
            "a longer board, or a piece made up of two, would do"
        )


class TooFewBoards(BoardProblemError):
    """No plan was found within the boards there are."""

    def __init__(self, pieces: dict[int, int]) -> None:
        self.pieces = pieces
        super().__init__(
            f"{sum(pieces.values())} pieces have no place on the boards there are; "
            "more boards, or a length without a limit, would do"
        )


@dataclass(frozen=True)
class StockBoard:
    """Boards of one length.

    Attributes:
        length: as it comes, end to end [nm]
        cost: what is to be kept small, 1 for counting boards [minor]
        quantity: how many there are, none for as many as it takes [-]
        name: what it is called in messages [-]
    """

    length: int
    cost: int = 1
    quantity: int | None = None
    name: str = ""


@dataclass(frozen=True)
class BoardPiece:
    """A length and how often it is needed.

    Attributes:
        length: as cut, long point to long point [nm]
        quantity: pieces [-]
        name: what it is called in messages [-]
    """

    length: int
    quantity: int = 1
    name: str = ""


@dataclass(frozen=True)
class BoardProblem:
    """Boards and pieces; every piece has to be cut, at the least cost of the boards taken.

    Attributes:
        stock: lengths of boards [-]
        pieces: pieces [-]
        kerf: width of a cut [nm]
        end_cut_off: what is cut off each end of a board [nm]
        least_usable: a leftover this long is kept, none where no leftover is of use [nm]
    """

    stock: tuple[StockBoard, ...]
    pieces: tuple[BoardPiece, ...]
    kerf: int = 0
    end_cut_off: int = 0
    least_usable: int | None = None


def check(problem: BoardProblem) -> None:
    """Return nothing; raise what is wrong with a problem before any time is spent on it.

    Args:
        problem: boards and pieces [-]

    Raises:
        NumberOutOfRange: a length, cost or count is zero or below (kerf and end cut-off may be zero)
        NothingLeftOfBoard: the end cut-off leaves nothing of a board
        KerfTooLarge: the kerf is larger than a piece
        PieceTooLong: a piece is longer than every board

    Example: a piece of 12 out of boards of 10.

        >>> check(BoardProblem((StockBoard(10),), (BoardPiece(12, name="A1"),)))
        Traceback (most recent call last):
        ...
        jobs.calculations.milling.boards.problem.PieceTooLong: piece A1 is 12 long, and no board gives more than 10; \
a longer board, or a piece made up of two, would do

    Source: house rule.
    """
    for what, value in (("the kerf", problem.kerf), ("the end cut-off", problem.end_cut_off)):
        if value < 0:
            raise NumberOutOfRange(what, value)
    longest = 0
    for place, board in enumerate(problem.stock, start=1):
        longest = max(longest, _usable(board, board.name or str(place), problem.end_cut_off))
    for place, piece in enumerate(problem.pieces, start=1):
        name = piece.name or str(place)
        for what, value in (("length", piece.length), ("quantity", piece.quantity)):
            if value <= 0:
                raise NumberOutOfRange(f"{what} of piece {name}", value)
        if piece.length < problem.kerf:
            raise KerfTooLarge(problem.kerf, name, piece.length)
        if piece.length > longest:
            raise PieceTooLong(name, piece.length, longest)


def _usable(board: StockBoard, name: str, end_cut_off: int) -> int:
    for what, value in (("length", board.length), ("cost", board.cost)):
        if value <= 0:
            raise NumberOutOfRange(f"{what} of board {name}", value)
    if board.quantity is not None and board.quantity < 0:
        raise NumberOutOfRange(f"quantity of board {name}", board.quantity)
    usable = board.length - 2 * end_cut_off
    if usable <= 0:
        raise NothingLeftOfBoard(end_cut_off, name, board.length)
    return 0 if board.quantity == 0 else usable
