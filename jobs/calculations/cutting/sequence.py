"""The order of work at the saw: settings first, every strip of one setting together over sheets and rooms.

Rips come before cross cuts and those before re-cuts, as the cut trees have them; within a stage the widest setting
first. Every cut takes one piece off what is left of a piece, the fence set to the piece taken off. What is longer than
the fence reaches stays behind as what is left. Edge clean-up is where the finished edge lies: the kerf is inside it.
"""

from dataclasses import dataclass

from jobs.calculations.cutting.plan import ALONG, CuttingPlan, Piece, PlannedSheet
from jobs.calculations.cutting.problem import CuttingProblem

CLEAN_UP, RIP, CROSS_CUT = "clean up", "rip", "cross cut"
ROUGH, FINAL = "rough", "final"


@dataclass(frozen=True)
class SawCut:
    """One cut.

    Attributes:
        sheet: place in the plan's list of sheets [-]
        piece: the piece that is taken off [-]
        parts: parts in it, as places in the list of parts [-]
        rooms: rooms of these parts, in order [-]
        thin: a strip thinner than the kerf falls off, a caution [-]
    """

    sheet: int
    piece: Piece
    parts: tuple[int, ...]
    rooms: tuple[str, ...]
    thin: bool = False


@dataclass(frozen=True)
class Step:
    """All cuts made with one setting, before the fence is moved.

    Attributes:
        kind: clean up, rip or cross cut [-]
        stage: 1 for the first cuts of a sheet, one more for each turn [-]
        setting: fence to blade [nm]
        cuts: cuts in the order of the sheets [-]
        strips: the rough or the final pass of two, none where there is one [-]
        rest_before: whether the strips rest before this step [-]
    """

    kind: str
    stage: int
    setting: int
    cuts: tuple[SawCut, ...]
    strips: str | None = None
    rest_before: bool = False


class TwoPassesDoNotFit(ValueError):
    """A sheet has not the width for strips that are ripped twice."""

    def __init__(self, sheet: int, spare: int, needed: int) -> None:
        self.sheet, self.spare, self.needed = sheet, spare, needed
        super().__init__(
            f"sheet {sheet + 1} has {spare} to spare for each strip and a second pass takes {needed}; "
            "ripping once, or narrower strips, would do"
        )


def sequence(problem: CuttingProblem, plan: CuttingPlan, two_passes: bool = False) -> tuple[Step, ...]:
    """Return the steps of work for a plan, the fence moved as seldom as the stages allow.

    Args:
        problem: sheets, parts and saw [-]
        plan: sheets with their cuts [-]
        two_passes: whether the first rips are made in a rough and a final pass [-]

    Returns:
        Steps in the order in which they are worked.

    Raises:
        TwoPassesDoNotFit: the strips of a sheet leave too little for a second pass

    Example: two sheets, each ripped into two strips of 24: one step of two cuts, as the last strip needs none.

        >>> from jobs.calculations.cutting.problem import Part, StockSheet
        >>> from jobs.calculations.cutting.solve import first_answer
        >>> made = CuttingProblem((StockSheet(96, 48),), (Part(96, 24, 4),))
        >>> [(step.kind, step.setting, len(step.cuts)) for step in sequence(made, first_answer(made).plan)]
        [('rip', 24, 2)]

    Source: house rule; ripping twice is common practice, no source.
    """
    found: dict[tuple, list[SawCut]] = {}
    for number, sheet in enumerate(plan.sheets):
        work = _Work(problem, number, found)
        rough = two_passes and sheet.usable.cut == ALONG
        if problem.saw.trim:
            work.add(CLEAN_UP, 0, problem.saw.trim, sheet.usable, None)
        if rough:
            work.rip_twice(sheet)
        work.cut(sheet.usable, 1, FINAL if rough else None)
    steps = []
    for (stage, _, strips, _, kind, setting), cuts in sorted(found.items(), key=lambda step: step[0]):
        rests = bool(strips == 1 and steps and steps[-1].strips == ROUGH)
        steps.append(Step(kind, stage, setting, tuple(cuts), (ROUGH, FINAL, None)[strips], rests))
    return tuple(steps)


def fence_settings(steps: tuple[Step, ...]) -> tuple[tuple[str, int], ...]:
    """Return the settings of the fence, one for each time it is moved.

    Args:
        steps: the order of work [-]

    Returns:
        Kind of cut and setting.

    Example: `fence_settings(sequence(problem, plan))` of strips of one width is one rip.

    Source: house rule.
    """
    settings: list[tuple[str, int]] = []
    for step in steps:
        if not settings or settings[-1] != (step.kind, step.setting):
            settings.append((step.kind, step.setting))
    return tuple(settings)


def rough_strips(width: int, strips: list[int], kerf: int) -> list[int]:
    """Return how wide strips are ripped first so that each can be ripped to its final width after it rested.

    Args:
        width: of the whole sheet, with its factory edges [nm]
        strips: final widths [nm]
        kerf: width of a cut [nm]

    Returns:
        Rough widths; what is to spare is shared out equally, an odd rest to the last strip.

    Example: 49 in with a kerf of 1/8 in, in 1/16 in: two strips to 23 13/16 are first ripped to 24 7/16.

        >>> rough_strips(49 * 16, [381, 381], 2)
        [391, 391]

    Source: house rule.
    """
    spare = width - (len(strips) - 1) * kerf - sum(strips)
    each = spare // len(strips)
    rough = [strip + each for strip in strips]
    rough[-1] += spare - each * len(strips)
    return rough


@dataclass
class _Work:
    """The cuts of one sheet, sorted into the steps of all."""

    problem: CuttingProblem
    number: int
    found: dict[tuple, list[SawCut]]

    def add(self, kind: str, stage: int, setting: int, piece: Piece, strips: str | None, thin: bool = False) -> None:
        parts = tuple(below.part for below in piece.below() if below.part is not None)
        rooms = tuple(dict.fromkeys(room for part in parts if (room := self.problem.parts[part].room)))
        turn = (CLEAN_UP, RIP, CROSS_CUT).index(kind) if stage < 2 else (CLEAN_UP, CROSS_CUT, RIP).index(kind)
        key = (stage, turn, (ROUGH, FINAL, None).index(strips), -setting, kind, setting)
        self.found.setdefault(key, []).append(SawCut(self.number, piece, parts, rooms, thin))

    def cut(self, piece: Piece, stage: int, strips: str | None) -> None:
        """Take the pieces off one after the other, then cut each of them on."""
        kind, reach, kerf = (
            RIP if piece.cut == ALONG else CROSS_CUT,
            self.problem.saw.fence_reach,
            self.problem.saw.kerf,
        )
        whole = _extent(piece, piece)
        used = sum(_extent(piece, kid) for kid in piece.pieces) + (len(piece.pieces) - 1) * kerf
        off = list(piece.pieces)
        if off and strips is None and (used == whole or off[-1].is_rest):
            beyond = [kid for kid in off if reach is not None and _extent(piece, kid) > reach]
            off.remove(min(beyond, key=lambda kid: kid.is_rest) if beyond else off[-1])
        elif off and strips is not None and off[-1].is_rest:
            off.pop()
        for kid in off:
            thin = piece.pieces[-1].is_rest and kid is off[-1] and _extent(piece, piece.pieces[-1]) < kerf
            setting = _extent(piece, kid)
            self.add(kind, stage, min(setting, reach) if reach and kid.is_rest else setting, kid, strips, thin)
        for kid in piece.pieces:
            if kid.pieces:
                self.cut(kid, stage + 1, None)

    def rip_twice(self, sheet: PlannedSheet) -> None:
        """The rough pass over the whole width of the sheet, factory edges and all."""
        strips = [kid for kid in sheet.usable.pieces if not kid.is_rest]
        rests = [kid for kid in sheet.usable.pieces if kid.is_rest]
        width, saw = self.problem.stock[sheet.stock].width, self.problem.saw
        needed = max(saw.trim, saw.kerf)
        finals = [strip.width for strip in strips]
        if rests and rests[0].width > (needed + saw.kerf) * len(strips):
            rough = [final + needed for final in finals]
            strips, rough = [*strips, rests[0]], [*rough, width - sum(rough) - len(rough) * saw.kerf]
        else:
            rough = rough_strips(width, finals, saw.kerf)
            if rough[0] - finals[0] < needed:
                raise TwoPassesDoNotFit(self.number, rough[0] - finals[0], needed)
        for strip, setting in list(zip(strips, rough, strict=True))[:-1]:
            self.add(RIP, 1, setting, strip, ROUGH)


def _extent(parent: Piece, kid: Piece) -> int:
    return kid.width if parent.cut == ALONG else kid.length
