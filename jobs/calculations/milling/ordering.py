"""How many boards to order for trim before any board is known: a range over a mix of widths and lengths.

Waste is that of the plan over each kind of board of the mix, in exact board feet; the order adds what the grade does
not yield clear. What is bought is counted by the NHLA tally, what is planned by exact board feet.

Sources: clear yield of the grades FAS 83 1/3 % and No. 1 Common 66 2/3 %, National Hardwood Lumber Association.
Kiln-dried lumber sold on gross tally measures about 7 % short: common practice, no source.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from jobs.calculations.milling.boards.problem import BoardPiece, BoardProblem, PieceTooLong, StockBoard
from jobs.calculations.milling.boards.solve import first_answer
from jobs.calculations.milling.rough import Allowances, RoughError, rough_lengths, rough_quarters, strips_across
from materials.calculations.board_feet import Board, board_feet, nhla_tally
from workshop.calculations.lengths import QUARTER_NM

CLEAR_YIELD = {"FAS": Fraction(5, 6), "No. 1 Common": Fraction(2, 3)}
"""What a grade yields in clear cuttings at the least (NHLA)."""

KILN_DRIED_LEFT = Fraction(93, 100)
"""Of lumber tallied green, what its measure is kiln-dried (common practice, no source)."""


@dataclass(frozen=True)
class TrimPiece:
    """A finished piece of trim: thickness and width as milled, length between long points."""

    thickness_nm: int
    width_nm: int
    length_nm: int
    name: str = ""


@dataclass(frozen=True)
class Ordered:
    """An order in boards of one kind.

    Attributes:
        width_nm: of the boards
        length_nm: of the boards
        strips: lengths of a board that are ripped to width, as many as the plan takes
        planned: boards, were they clear
        boards: to order, with what the grade does not yield
        exact_board_feet: of these, from their sizes
        tallied_board_feet: of these, as they are sold
        waste: share of the exact board feet that is not trim, from 0 to 1
    """

    width_nm: int
    length_nm: int
    strips: int
    planned: int
    boards: int
    exact_board_feet: Fraction
    tallied_board_feet: Fraction
    waste: Fraction


@dataclass(frozen=True)
class OrderRange:
    """From the best boards of the mix to the worst.

    Attributes:
        quarters: rough thickness in quarters of an inch
        net_board_feet: of the finished pieces, counted at the rough thickness
        best: the order with the least waste
        worst: the order with the most
        useless: boards of the mix that give no strip or no piece, width and length
    """

    quarters: int
    net_board_feet: Fraction
    best: Ordered
    worst: Ordered
    useless: tuple[tuple[int, int], ...] = ()


def order_range(
    pieces: Sequence[TrimPiece],
    mix: Sequence[tuple[int, int]],
    allowances: Allowances,
    grade: Fraction,
    cross_kerf_nm: int,
) -> OrderRange:
    """The boards to order for pieces of one profile.

    Args:
        pieces: of one thickness and width [nm]
        mix: width and length of boards as they are expected, or were logged before [nm]
        allowances: of the operations [nm]
        grade: its clear yield, of `CLEAR_YIELD` [-]
        cross_kerf_nm: of the saw that cuts to length [nm]

    Returns:
        the orders with the least and with the most waste [board_foot]

    Raises:
        RoughError: no board of the mix gives a strip with the pieces on it, or a size is not more than zero

    Example:
        Ten pieces of 46 in out of boards of 6 1/8 in by 8 ft, FAS: two pieces to a strip and three strips to a board
        are 5 strips, 2 boards, and with the yield of 5/6 3 boards to order.

        >>> inch = 25_400_000
        >>> taken = Allowances(inch // 4, inch // 8, inch // 2, inch // 8, inch)
        >>> asked = [TrimPiece(inch * 3 // 4, inch * 7 // 4, 46 * inch)] * 10
        >>> made = order_range(asked, [(inch * 49 // 8, 96 * inch)], taken, CLEAR_YIELD["FAS"], inch // 8).best
        >>> made.strips, made.planned, made.boards
        (5, 2, 3)
    """
    thickness, width = _profile(pieces)
    quarters = rough_quarters(thickness, allowances)
    lengths = rough_lengths([piece.length_nm for piece in pieces], allowances)
    net = sum(board_feet(quarters * QUARTER_NM, piece.width_nm, piece.length_nm) for piece in pieces)
    made, useless = [], []
    for board in dict.fromkeys(mix):
        ordered = _ordered(board, width, lengths, allowances, grade, cross_kerf_nm, quarters, net)
        if ordered is None:
            useless.append(board)
        else:
            made.append(ordered)
    if not made:
        raise RoughError("no board of the mix gives a piece", max(lengths), ("longer or wider boards", "more joints"))
    made.sort(key=lambda each: (each.waste, each.exact_board_feet))
    return OrderRange(quarters, net, made[0], made[-1], tuple(useless))


def green_board_feet(dry: Fraction) -> Fraction:
    """What to order on gross tally so that so much is there kiln-dried.

    Args:
        dry: board feet needed, measured dry [board_foot]

    Returns:
        board feet by the tally of the green lumber [board_foot]

    Example:
        93 board feet take 100.

        >>> green_board_feet(Fraction(93))
        Fraction(100, 1)

    Source: about 7 %, common practice, no source.
    """
    return dry / KILN_DRIED_LEFT


def _profile(pieces: Sequence[TrimPiece]) -> tuple[int, int]:
    profiles = {(piece.thickness_nm, piece.width_nm) for piece in pieces}
    if len(profiles) != 1:
        raise ValueError(f"{len(profiles)} profiles in one order; one profile, or an order for each, would do")
    return profiles.pop()


def _ordered(
    board: tuple[int, int],
    width: int,
    lengths: Sequence[int],
    allowances: Allowances,
    grade: Fraction,
    kerf: int,
    quarters: int,
    net: Fraction,
) -> Ordered | None:
    board_width, board_length = board
    across = strips_across(board_width, width, allowances)
    if not across:
        return None
    asked = tuple(BoardPiece(length) for length in lengths)
    try:
        plan = first_answer(BoardProblem((StockBoard(board_length),), asked, kerf, allowances.end_cut_off_nm)).plan
    except PieceTooLong:
        return None
    strips = len(plan.boards)
    planned = -(-strips // across)
    boards = ceil(planned / grade)
    rough = quarters * QUARTER_NM
    exact = boards * board_feet(rough, board_width, board_length)
    tallied = nhla_tally([Board(rough, board_width, board_length)] * boards).total
    return Ordered(board_width, board_length, strips, planned, boards, exact, tallied, 1 - net / exact)
