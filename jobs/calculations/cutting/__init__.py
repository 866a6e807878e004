"""Cutting plans for sheets: guillotine cuts, kerf, edge clean-up, grain, several sizes, tone sets kept apart.

`problem` says what is asked, `solve` gives answers, `plan` is what they hold, `sequence` and `offcuts` what the bench
needs of it. Behind them: `tree`, `builder` and `search` find plans, `cover` chooses among sheets found, `bounds` and
`pattern_bound` tell what no plan can beat.
"""

from jobs.calculations.cutting.larger_offcut import with_larger_offcut
from jobs.calculations.cutting.offcuts import Replacement, Shortage, UsableOffcut, cut_again, usable_offcuts
from jobs.calculations.cutting.plan import CuttingPlan, Piece, PlannedSheet
from jobs.calculations.cutting.problem import (
    CuttingProblem,
    CuttingProblemError,
    KerfTooLarge,
    NothingLeftOfSheet,
    Part,
    PartTooLarge,
    PartTooNarrow,
    Saw,
    SizeOutOfRange,
    StockSheet,
    TooFewSheets,
    fits,
)
from jobs.calculations.cutting.sequence import SawCut, Step, TwoPassesDoNotFit, fence_settings, rough_strips, sequence
from jobs.calculations.cutting.solve import Answer, answers, first_answer

__all__ = [
    "Answer",
    "CuttingPlan",
    "CuttingProblem",
    "CuttingProblemError",
    "KerfTooLarge",
    "NothingLeftOfSheet",
    "Part",
    "PartTooLarge",
    "PartTooNarrow",
    "Piece",
    "PlannedSheet",
    "Replacement",
    "Saw",
    "SawCut",
    "Shortage",
    "SizeOutOfRange",
    "Step",
    "StockSheet",
    "TooFewSheets",
    "TwoPassesDoNotFit",
    "UsableOffcut",
    "answers",
    "cut_again",
    "fence_settings",
    "first_answer",
    "fits",
    "rough_strips",
    "sequence",
    "usable_offcuts",
    "with_larger_offcut",
]
