"""What is asked of a cutting plan: sheets, parts, kerf, edge clean-up and what the saw can do.

Distances are whole numbers of one unit, as a rule nanometers; nothing is rounded on the way to a plan. The grain runs
along the length of a sheet. A part that may not be turned keeps its length along the grain.
"""

from dataclasses import dataclass


class CuttingProblemError(ValueError):
    """The problem has no plan, or a number in it that cannot be meant."""


class SizeOutOfRange(CuttingProblemError):
    """A size, count or cost is zero or below where it must not be."""

    def __init__(self, what: str, value: int) -> None:
        self.what, self.value = what, value
        super().__init__(f"{what} is {value}; a larger number, or leaving the line out, would do")


class KerfTooLarge(CuttingProblemError):
    """The kerf is larger than a part."""

    def __init__(self, kerf: int, part: str, size: int) -> None:
        self.kerf, self.part, self.size = kerf, part, size
        super().__init__(
            f"the kerf of {kerf} is larger than part {part}, which measures {size}; "
            "a thinner blade, or a larger part, would do"
        )


class NothingLeftOfSheet(CuttingProblemError):
    """Edge clean-up leaves nothing of a sheet."""

    def __init__(self, trim: int, stock: str, size: int) -> None:
        self.trim, self.stock, self.size = trim, stock, size
        super().__init__(
            f"edge clean-up of {trim} on both sides leaves nothing of sheet {stock}, which measures {size}; "
            "less clean-up, or a larger sheet, would do"
        )


class PartTooLarge(CuttingProblemError):
    """A part fits on no sheet that it may come from."""

    def __init__(self, part: str, length: int, width: int, may_turn: bool) -> None:
        self.part, self.length, self.width, self.may_turn = part, length, width, may_turn
        would_do = "a larger sheet, or a part in two pieces," if may_turn else "a larger sheet, or turning the part,"
        super().__init__(f"part {part}, {length} by {width}, fits on no sheet it may come from; {would_do} would do")


class PartTooNarrow(CuttingProblemError):
    """A part is narrower than the least strip that is safe at this saw."""

    def __init__(self, part: str, size: int, least: int) -> None:
        self.part, self.size, self.least = part, size, least
        super().__init__(
            f"part {part} measures {size}, less than the least safe strip of {least}; "
            "another tool for this part, or a least strip set smaller, would do"
        )


class TooFewSheets(CuttingProblemError):
    """No plan was found within the sheets there are."""

    def __init__(self, parts: dict[int, int]) -> None:
        self.parts = parts
        super().__init__(
            f"{sum(parts.values())} parts have no place on the sheets there are; "
            "more sheets, or parts from other sheets, would do"
        )


@dataclass(frozen=True)
class StockSheet:
    """A kind of sheet, all alike and interchangeable (one size, one tone group or one room).

    Attributes:
        length: along the grain, factory edge to factory edge [nm]
        width: across the grain [nm]
        cost: what is to be kept small, 1 for counting sheets [minor]
        quantity: how many there are, none for as many as it takes [-]
        name: what it is called in messages [-]
    """

    length: int
    width: int
    cost: int = 1
    quantity: int | None = None
    name: str = ""


@dataclass(frozen=True)
class Part:
    """A part and how often it is needed.

    Attributes:
        length: along the grain, as cut [nm]
        width: across the grain, as cut [nm]
        quantity: pieces [-]
        may_turn: whether it may lie across the grain [-]
        stock: places in the list of sheets it may come from, none for any (tone sets kept apart) [-]
        name: what it is called in messages [-]
        room: the room it goes to [-]
    """

    length: int
    width: int
    quantity: int = 1
    may_turn: bool = False
    stock: frozenset[int] | None = None
    name: str = ""
    room: str = ""


@dataclass(frozen=True)
class Saw:
    """What the saw takes away and what it can do.

    Attributes:
        kerf: width of a cut [nm]
        trim: edge clean-up on each edge of a sheet, the kerf inside it [nm]
        fence_reach: largest fence setting, none for no limit [nm]
        least_strip: narrowest part that is safe, 0 for no limit [nm]
        most_stages: 1 for rips alone, 2 with cross cuts, one more for each re-cut; none for no limit [-]
        rips_first: whether every sheet is first cut along its length [-]
    """

    kerf: int = 0
    trim: int = 0
    fence_reach: int | None = None
    least_strip: int = 0
    most_stages: int | None = None
    rips_first: bool = False


@dataclass(frozen=True)
class CuttingProblem:
    """Sheets, parts and a saw; every part has to be cut, at the least cost of the sheets taken.

    Attributes:
        stock: kinds of sheets [-]
        parts: parts [-]
        saw: what the saw takes and can do [-]
    """

    stock: tuple[StockSheet, ...]
    parts: tuple[Part, ...]
    saw: Saw = Saw()


def check(problem: CuttingProblem) -> None:
    """Return nothing; raise what is wrong with a problem before any time is spent on it.

    Args:
        problem: sheets, parts and saw [-]

    Raises:
        SizeOutOfRange: a size, cost or count is zero or below (kerf, clean-up and least strip may be zero)
        NothingLeftOfSheet: edge clean-up leaves nothing of a sheet
        KerfTooLarge: the kerf is larger than a part
        PartTooNarrow: a part is narrower than the least safe strip
        PartTooLarge: a part fits on no sheet it may come from

    Example: a kerf of 4 and a part of 3.

        >>> check(CuttingProblem((StockSheet(100, 50),), (Part(3, 20, name="A1"),), Saw(kerf=4)))
        Traceback (most recent call last):
        ...
        jobs.calculations.cutting.problem.KerfTooLarge: the kerf of 4 is larger than part A1, which measures 3; a \
thinner blade, or a larger part, would do

    Source: house rule.
    """
    saw = problem.saw
    for what, value in (("the kerf", saw.kerf), ("edge clean-up", saw.trim), ("the least strip", saw.least_strip)):
        if value < 0:
            raise SizeOutOfRange(what, value)
    if saw.fence_reach is not None and saw.fence_reach <= 0:
        raise SizeOutOfRange("fence reach", saw.fence_reach)
    if saw.most_stages is not None and saw.most_stages <= 0:
        raise SizeOutOfRange("the number of stages", saw.most_stages)
    for place, sheet in enumerate(problem.stock, start=1):
        _check_sheet(sheet, sheet.name or str(place), saw)
    for place, part in enumerate(problem.parts, start=1):
        _check_part(part, part.name or str(place), problem)


def fits(part: Part, sheet: StockSheet, saw: Saw) -> bool:
    """Return whether a sheet gives a part at all, between its cleaned edges.

    Args:
        part: the part, as it may lie [nm]
        sheet: the sheet [nm]
        saw: for its edge clean-up [nm]

    Returns:
        whether the part fits [-]

    Example: of a sheet 49 wide with a clean-up of 1 there are 47 left.

        >>> [fits(Part(90, width), StockSheet(97, 49), Saw(trim=1)) for width in (47, 48)]
        [True, False]

    Source: house rule.
    """
    length, width = sheet.length - 2 * saw.trim, sheet.width - 2 * saw.trim
    sizes = [(part.length, part.width), *([(part.width, part.length)] if part.may_turn else [])]
    return any(along <= length and across <= width for along, across in sizes)


def _check_sheet(sheet: StockSheet, name: str, saw: Saw) -> None:
    for what, value in (("length", sheet.length), ("width", sheet.width), ("cost", sheet.cost)):
        if value <= 0:
            raise SizeOutOfRange(f"{what} of sheet {name}", value)
    if sheet.quantity is not None and sheet.quantity < 0:
        raise SizeOutOfRange(f"quantity of sheet {name}", sheet.quantity)
    smaller = min(sheet.length, sheet.width)
    if smaller - 2 * saw.trim <= 0:
        raise NothingLeftOfSheet(saw.trim, name, smaller)


def _check_part(part: Part, name: str, problem: CuttingProblem) -> None:
    saw, smaller = problem.saw, min(part.length, part.width)
    for what, value in (("length", part.length), ("width", part.width), ("quantity", part.quantity)):
        if value <= 0:
            raise SizeOutOfRange(f"{what} of part {name}", value)
    if smaller < saw.kerf:
        raise KerfTooLarge(saw.kerf, name, smaller)
    if smaller < saw.least_strip:
        raise PartTooNarrow(name, smaller, saw.least_strip)
    if not any(
        fits(part, sheet, saw)
        for place, sheet in enumerate(problem.stock)
        if (part.stock is None or place in part.stock) and sheet.quantity != 0
    ):
        raise PartTooLarge(name, part.length, part.width, part.may_turn)
