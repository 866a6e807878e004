"""Walls as measured. Common practice, no source; figures by hand."""

import pytest

from jobs.calculations.surfaces import Measured, NotASize, SizesContradict, fit
from tests.jobs.calculations.surfaces.making import inch


def test_the_least_size_governs() -> None:
    measured = Measured(
        width_top_nm=inch("254 1/8"),
        width_middle_nm=inch("254 1/16"),
        width_foot_nm=inch(254),
        height_left_nm=inch(96),
        height_right_nm=inch("96 1/16"),
    )

    found = fit(measured)

    assert (found.width_nm, found.height_nm) == (inch(254), inch(96))
    assert found.scribe_nm == inch("1/8")
    assert [str(fact) for fact in found.facts] == [
        "the widths differ by 1/8″; the least, 21′-2″, governs",
        "the heights differ by 1/16″; the least, 8′-0″, governs",
    ]


def test_a_wall_of_equal_sizes_and_diagonals_is_true() -> None:
    """Sides of 120 and 90 have a diagonal of 150 (3-4-5 triangle)."""
    sizes = {"width_top_nm": inch(120), "width_foot_nm": inch(120), "height_left_nm": inch(90)}

    found = fit(Measured(**sizes, diagonal_from_left_nm=inch(150), diagonal_from_right_nm=inch(150)))

    assert found.is_true
    assert found.facts == ()


@pytest.mark.parametrize(
    ("more", "message"),
    [
        (
            {"diagonal_from_left_nm": inch(150), "diagonal_from_right_nm": inch("149 3/4")},
            "the diagonals differ by 1/4″: the wall is out of square",
        ),
        ({"lean_left_nm": -inch("1/8")}, "the left end leans 1/8″ away from plumb"),
        ({"lean_right_nm": inch("3/16")}, "the right end leans 3/16″ away from plumb"),
        ({"level_left_nm": inch(40), "level_right_nm": inch("40 1/2")}, "the floor is 1/2″ out of level"),
    ],
)
def test_what_is_out_of_true_is_told_with_its_figure(more: dict[str, int], message: str) -> None:
    found = fit(Measured(width_foot_nm=inch(120), height_left_nm=inch(90), **more))

    assert not found.is_true
    assert [str(fact) for fact in found.facts] == [message]


def test_one_diagonal_alone_says_nothing_about_square() -> None:
    assert fit(Measured(width_foot_nm=inch(120), height_left_nm=inch(90), diagonal_from_left_nm=inch(151))).is_true


@pytest.mark.parametrize("diagonal", [120, 80, 210, 300])
def test_a_diagonal_that_cannot_be_is_refused(diagonal: int) -> None:
    measured = Measured(width_foot_nm=inch(120), height_left_nm=inch(90), diagonal_from_left_nm=inch(diagonal))

    with pytest.raises(SizesContradict, match="about 12′-6″ or the width and the height measured again would do"):
        fit(measured)


@pytest.mark.parametrize(
    ("measured", "field"),
    [
        (Measured(height_left_nm=inch(90)), "width_foot_nm"),
        (Measured(width_foot_nm=inch(90)), "height_left_nm"),
        (Measured(width_top_nm=0, height_left_nm=inch(90)), "width_top_nm"),
        (Measured(width_top_nm=inch(9), height_left_nm=inch(9), level_left_nm=-1), "level_left_nm"),
    ],
)
def test_a_wall_has_a_width_and_a_height(measured: Measured, field: str) -> None:
    with pytest.raises(NotASize) as refused:
        fit(measured)

    assert refused.value.field == field
