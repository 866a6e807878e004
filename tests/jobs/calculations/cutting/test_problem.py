"""What is refused before any time is spent on it."""

import pytest

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
    check,
)

SHEET = StockSheet(96, 48, name="8 ft ash")


@pytest.mark.parametrize(
    ("problem", "error", "words"),
    [
        (
            CuttingProblem((SHEET,), (Part(30, 3, name="B2"),), Saw(kerf=4)),
            KerfTooLarge,
            "the kerf of 4 is larger than part B2",
        ),
        (CuttingProblem((SHEET,), (Part(97, 20, name="B2"),)), PartTooLarge, "part B2, 97 by 20, fits on no sheet"),
        (CuttingProblem((SHEET,), (Part(20, 60, name="B2"),)), PartTooLarge, "turning the part, would do"),
        (CuttingProblem((SHEET,), (Part(49, 60, may_turn=True),)), PartTooLarge, "part 1, 49 by 60"),
        (CuttingProblem((SHEET,), (Part(96, 48),), Saw(trim=1)), PartTooLarge, "part 1, 96 by 48"),
        (CuttingProblem((SHEET,), (Part(20, 20, stock=frozenset()),)), PartTooLarge, "it may come from"),
        (
            CuttingProblem((SHEET,), (Part(20, 2),), Saw(least_strip=3)),
            PartTooNarrow,
            "less than the least safe strip of 3",
        ),
        (
            CuttingProblem((SHEET,), (Part(20, 2),), Saw(trim=24)),
            NothingLeftOfSheet,
            "leaves nothing of sheet 8 ft ash",
        ),
        (CuttingProblem((SHEET,), (Part(0, 2),)), SizeOutOfRange, "length of part 1 is 0"),
        (CuttingProblem((SHEET,), (Part(5, 2, 0),)), SizeOutOfRange, "quantity of part 1 is 0"),
        (CuttingProblem((StockSheet(96, -1),), (Part(5, 2),)), SizeOutOfRange, "width of sheet 1 is -1"),
        (CuttingProblem((SHEET,), (Part(5, 2),), Saw(kerf=-1)), SizeOutOfRange, "the kerf is -1"),
        (CuttingProblem((SHEET,), (Part(5, 2),), Saw(most_stages=0)), SizeOutOfRange, "the number of stages is 0"),
    ],
)
def test_what_cannot_be_cut_is_named(problem: CuttingProblem, error: type[CuttingProblemError], words: str) -> None:
    with pytest.raises(error, match=words) as told:
        check(problem)

    assert "would do" in str(told.value)


def test_a_turned_part_is_as_good_as_one_that_lies_along() -> None:
    assert check(CuttingProblem((SHEET,), (Part(40, 90, may_turn=True),))) is None
