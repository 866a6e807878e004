"""What a plan leaves that is worth keeping, and where a spoiled part is cut again."""

from dataclasses import dataclass

from jobs.calculations.cutting.plan import CuttingPlan, Piece
from jobs.calculations.cutting.problem import CuttingProblem, Part


@dataclass(frozen=True)
class UsableOffcut:
    """A rest that is kept, with the sheet it came from.

    Attributes:
        sheet: place in the plan's list of sheets [-]
        stock: place in the list of kinds of sheets, and with it the tone group [-]
        length: along the grain [nm]
        width: across the grain [nm]
        x: its corner along the grain, from the sheet's factory corner [nm]
        y: its corner across the grain, from the sheet's factory corner [nm]
    """

    sheet: int
    stock: int
    length: int
    width: int
    x: int = 0
    y: int = 0

    @property
    def area(self) -> int:
        return self.length * self.width


@dataclass(frozen=True)
class Replacement:
    """Where a spoiled part is cut again.

    Attributes:
        offcut: place in the list of offcuts, none where it comes from a sheet [-]
        stock: place in the list of kinds of sheets for a new sheet, none where it comes from an offcut [-]
        part: where it lies on that offcut or sheet [-]
        rests: what is left beside it, before least sizes are asked for [-]
    """

    offcut: int | None
    stock: int | None
    part: Piece
    rests: tuple[Piece, ...]


@dataclass(frozen=True)
class Shortage:
    """A spoiled part that no offcut and no sheet of its tone gives.

    Attributes:
        part: the part [-]
        groups: places of the kinds of sheets that were looked at [-]
    """

    part: Part
    groups: tuple[int, ...]


def usable_offcuts(plan: CuttingPlan, least_length: int, least_width: int) -> tuple[UsableOffcut, ...]:
    """Return the rests of a plan that are worth keeping.

    Args:
        plan: sheets with their cuts [-]
        least_length: the shop's least longer side [nm]
        least_width: the shop's least shorter side [nm]

    Returns:
        Offcuts, the largest first.

    Example: half a sheet of 96 by 48 is left.

        >>> from jobs.calculations.cutting.problem import Part, StockSheet
        >>> from jobs.calculations.cutting.solve import first_answer
        >>> made = CuttingProblem((StockSheet(96, 48),), (Part(96, 24),))
        >>> [(rest.length, rest.width) for rest in usable_offcuts(first_answer(made).plan, 24, 12)]
        [(96, 24)]

    Source: house rule.
    """
    found = [
        UsableOffcut(number, sheet.stock, rest.length, rest.width, rest.x, rest.y)
        for number, sheet in enumerate(plan.sheets)
        for rest in sheet.rests
        if max(rest.length, rest.width) >= least_length and min(rest.length, rest.width) >= least_width
    ]
    return tuple(sorted(found, key=lambda offcut: -offcut.area))


def cut_again(
    problem: CuttingProblem, spoiled: int, offcuts: tuple[UsableOffcut, ...], sheets_left: dict[int, int]
) -> Replacement | Shortage:
    """Return where a spoiled part is cut again: the best offcut of its tone, else a sheet of that tone, else nowhere.

    Args:
        problem: sheets, parts and saw [-]
        spoiled: place in the list of parts [-]
        offcuts: offcuts at hand [-]
        sheets_left: how many whole sheets of each kind are left, by its place [-]

    Returns:
        The smallest offcut that holds the part, laid along the grain before turned; or a new sheet; or a shortage.

    Example: an offcut serves, and the sheets stay whole.

        >>> from jobs.calculations.cutting.problem import StockSheet
        >>> made = CuttingProblem((StockSheet(96, 48),), (Part(40, 20, name="A1"),))
        >>> cut_again(made, 0, (UsableOffcut(0, 0, 50, 24),), {0: 3}).offcut
        0

    Source: house rule.
    """
    part, saw = problem.parts[spoiled], problem.saw
    groups = tuple(sorted(part.stock)) if part.stock is not None else tuple(range(len(problem.stock)))
    for place in sorted(range(len(offcuts)), key=lambda place: offcuts[place].area):
        offcut = offcuts[place]
        laid = _lay(part, spoiled, 0, 0, offcut.length, offcut.width, saw.kerf) if offcut.stock in groups else None
        if laid:
            return Replacement(place, None, *laid)
    for stock in sorted(groups, key=lambda stock: (problem.stock[stock].cost, stock)):
        sheet, trim = problem.stock[stock], saw.trim
        laid = _lay(part, spoiled, trim, trim, sheet.length - 2 * trim, sheet.width - 2 * trim, saw.kerf)
        if laid and sheets_left.get(stock, 0) > 0:
            return Replacement(None, stock, *laid)
    return Shortage(part, groups)


def _lay(
    part: Part, place: int, x: int, y: int, length: int, width: int, kerf: int
) -> tuple[Piece, tuple[Piece, ...]] | None:
    """The part in the corner of a piece and the two rests beside it, the larger as large as it gets."""
    ways = [(part.length, part.width, False), *([(part.width, part.length, True)] if part.may_turn else [])]
    for own_length, own_width, turned in ways:
        if own_length > length or own_width > width:
            continue
        more_length, more_width = length - own_length - kerf, width - own_width - kerf
        along = [(x, y + own_width + kerf, length, more_width), (x + own_length + kerf, y, more_length, own_width)]
        across = [(x + own_length + kerf, y, more_length, width), (x, y + own_width + kerf, own_length, more_width)]
        real = [[rest for rest in rests if rest[2] > 0 and rest[3] > 0] for rests in (along, across)]
        best = max(real, key=lambda rests: max((rest[2] * rest[3] for rest in rests), default=0))
        return Piece(x, y, own_length, own_width, part=place, turned=turned), tuple(Piece(*rest) for rest in best)
    return None
