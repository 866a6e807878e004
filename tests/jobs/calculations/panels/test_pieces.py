"""Panels as pieces: shapes, sides, cut sizes and angles. Figures by hand."""

from fractions import Fraction

import pytest

from jobs.calculations.panels import About, Band, Meets, Run, Start, Stock, Up, Wish, lay_out, paired
from jobs.calculations.panels.pieces import Panel
from jobs.calculations.surfaces import (
    EdgeCondition,
    EdgeKind,
    LayoutRefused,
    NotASize,
    Surface,
    WiderThanSheet,
    alone,
    gabled,
    raked,
)
from tests.jobs.calculations.surfaces.making import PLAIN, door, held_off, inch, wall, window


def wish(**more: object) -> Wish:
    return Wish(inch(24), inch("3/16"), **{"start": Start.LEFT, **more})


def panels(surface: Surface, asked: Wish) -> dict[str, Panel]:
    return {panel.name: panel for panel in lay_out(alone(surface), asked).panels}


def size(width: str | int, length: str | int) -> tuple[int, int]:
    return inch(width), inch(length)


def test_panels_are_named_by_their_wall_and_their_place() -> None:
    assert list(panels(wall(96, name="C"), wish())) == ["C1", "C2", "C3", "C4"]


def test_a_panel_covered_right_across_by_a_window_is_two_pieces() -> None:
    """Window 30 to 66 from the left, 36 to 76 up, its reveals 3/16: panel 2 (24 to 47 13/16) is notched, panel 3 (48 to
    71 13/16) too; with 24 to 72 the window takes both right across."""
    notched = panels(wall(96, openings=(window(30, 36, 36, 40),)), wish())
    covered = panels(wall(96, openings=(window("24 3/16", 36, "47 7/16", 40),)), wish())

    assert list(notched) == ["B1", "B2", "B3", "B4"]
    assert notched["B2"].is_notched and notched["B2"].size_nm == size("23 13/16", 96)
    assert list(covered) == ["B1", "B2.1", "B2.2", "B3.1", "B3.2", "B4"]
    assert covered["B2.1"].size_nm == size("23 13/16", "35 13/16")
    assert covered["B2.2"].size_nm == size("23 13/16", "19 13/16")


def test_over_a_door_a_covered_panel_is_one_piece() -> None:
    made = panels(wall(96, openings=(door("24 3/16", "23 7/16"),)), wish())

    assert made["B2"].size_nm == size("23 13/16", "11 13/16")
    assert made["B2"].is_rectangle


def test_a_window_inside_a_panel_is_a_hole_in_it() -> None:
    made = panels(wall(96, openings=(window(30, 36, 12, 40),)), wish())

    assert len(made["B2"].shape) == 2
    assert made["B2"].is_notched and not made["B2"].is_rectangle


def test_every_side_tells_what_it_meets() -> None:
    made = panels(wall(96, openings=(door(40, 40),)), wish())

    assert [(side.meets, side.of) for side in made["B2"].sides] == [
        (Meets.EDGE, "foot"),
        (Meets.OPENING, "door"),
        (Meets.OPENING, "door"),
        (Meets.JOINT, ""),
        (Meets.EDGE, "top"),
        (Meets.JOINT, ""),
    ]


def test_a_raked_panel_has_its_rectangle_and_its_angle() -> None:
    """A rise of 1 in 4: over 23 13/16 in it is 5 61/64 in; 14.0 degrees (arc tangent of 1/4, any table)."""
    made = panels(raked("A", inch(96), inch(96), inch(120), PLAIN), wish())

    (cut,) = made["A1"].raked_cuts
    assert made["A1"].size_nm == size("23 13/16", "101 61/64")
    assert cut.slope == Fraction(1, 4)
    assert cut.angle_tenths == 140


def test_the_panel_under_a_ridge_has_two_rakes() -> None:
    surface = gabled("A", inch("71 13/16"), inch(96), inch(96), inch(120), inch("35 29/32"), PLAIN)

    made = panels(surface, wish(start=Start.BALANCED))

    assert sorted(cut.slope for cut in made["A2"].raked_cuts) == [Fraction(-24 * 64, 2298), Fraction(24 * 64, 2298)]
    assert made["A2"].size_nm[1] == inch(120)


def test_edge_band_is_taken_off_the_cut_size() -> None:
    """23 13/16 less two lippings of 1/4; the top is banded by its name."""
    band = Band(inch("1/4"), on=frozenset({Meets.JOINT}), edges=frozenset({"top"}))

    made = panels(wall(96), wish(band=band))

    assert made["B1"].cut_size_nm == size("23 9/16", "95 3/4")
    assert made["B2"].cut_size_nm == size("23 5/16", "95 3/4")
    assert made["B2"].size_nm == size("23 13/16", 96)


def test_what_is_to_spare_for_a_scribe_is_added_to_the_cut_size() -> None:
    scribed = {"left": EdgeCondition(EdgeKind.SCRIBED, inch("1/2"))}

    made = panels(wall(96, conditions=scribed), wish())

    assert made["B1"].cut_size_nm == size("24 5/16", 96)
    assert made["B1"].size_nm == size("23 13/16", 96)


def test_a_slope_that_is_nearly_level_does_not_throw_the_cut_size_off() -> None:
    """A rise of 3/64 in 30 in crosses a level cross joint over the first panel; 1/32 in to spare adds height alone."""
    surface = raked(
        "A",
        inch(30),
        inch("86 17/64"),
        inch("86 5/16"),
        PLAIN,
        conditions={"top": EdgeCondition(EdgeKind.SCRIBED, inch("1/32"))},
    )

    made = panels(surface, Wish(inch(12), 0, start=Start.LEFT, cross_nm=(inch(40), inch("86 9/32"))))

    assert made["A1.2"].cut_size_nm[0] == inch(12)
    assert made["A1.2"].cut_size_nm[1] - made["A1.2"].size_nm[1] <= inch("1/32") + 1


def test_panels_across_have_their_width_along_the_height_of_the_wall() -> None:
    made = panels(wall(90, "95 13/16"), wish(run=Run.ACROSS))

    assert [panel.size_nm for panel in made.values()] == [size("23 13/16", 90)] * 4
    assert {panel.up for panel in made.values()} == {Up.LEFT}


def test_panels_keep_the_marked_top_end_up() -> None:
    made = panels(wall(90), wish())

    assert {(panel.up, panel.may_turn) for panel in made.values()} == {(Up.TOP, False)}


def test_a_panel_larger_than_the_sheet_is_told() -> None:
    """A sheet of 49 by 97 with 1/2 in of clean-up gives 48 by 96; the wall is 100 in high."""
    layout = lay_out(alone(wall(96, 100)), wish(stock=Stock(inch(49), inch(97), inch("1/2"))))

    told = [finding for finding in layout.findings if finding.about is About.SHEET]
    assert str(told[0].told) == "panel B1 is cut 8′-4″ long, and the sheet gives 8′-0″"
    assert [finding.where for finding in told] == ["B1", "B2", "B3", "B4"]


def test_a_rest_that_goes_to_the_last_panel_is_told() -> None:
    layout = lay_out(alone(wall(96)), wish())

    assert [str(each.told) for each in layout.findings] == [
        "panel B4 takes a rest of 3/16″, too narrow for a reveal and a panel"
    ]


def test_an_edge_held_off_counts_from_the_reveal() -> None:
    made = panels(wall(96, conditions={"left": held_off("1/4"), "top": held_off("1/2")}), wish())

    assert made["B1"].shape[0][0] == (inch("1/4"), 0)
    assert made["B4"].size_nm == size("23 3/4", "95 1/2")


@pytest.mark.parametrize(
    ("more", "kind", "message"),
    [
        (
            {"stock": Stock(inch(23), inch(96))},
            WiderThanSheet,
            "panels of 1′-11 13/16″ are wider than the sheet gives, 1′-11″; "
            "a module of 1′-11 3/16″ or a sheet that gives 1′-11 13/16″ would do",
        ),
        ({"least_nm": inch(24)}, LayoutRefused, "a least width of 1′-11 13/16″ or"),
        ({"start": Start.CENTERS}, LayoutRefused, "joints are to fall on centers and none are told"),
        ({"reveal_nm": inch(12)}, LayoutRefused, "leave a panel no wider than the reveal"),
        ({"module_nm": 0}, NotASize, "module: 0″ is not a size"),
        ({"reveal_nm": -1}, NotASize, "is below zero"),
    ],
)
def test_a_wish_that_nothing_meets_is_refused(more: dict, kind: type[Exception], message: str) -> None:
    with pytest.raises(kind, match=message):
        Wish(**{"module_nm": inch(24), "reveal_nm": inch("3/16"), **more})


def test_a_sheet_that_clean_up_eats_is_refused() -> None:
    with pytest.raises(NotASize, match="an edge clean-up of 2′-0″ leaves nothing of the sheet"):
        Stock(inch(48), inch(96), inch(24))


def test_edge_band_goes_round_a_notch() -> None:
    """The door's reveal goes from 39 13/16 on and up to 84 3/16: the notch of panel 2 grows by 1/4 both ways."""
    band = Band(inch("1/4"), on=frozenset({Meets.OPENING}))

    made = panels(wall(96, openings=(door(40, 40),)), wish(band=band))

    assert made["B2"].cut_shape[0][1:3] == ((inch("39 9/16"), 0), (inch("39 9/16"), inch("84 7/16")))


def test_a_piece_shorter_than_the_least_width_is_told() -> None:
    layout = lay_out(alone(wall(96, 86, openings=(door(24, "23 13/16"),))), wish(least_nm=inch(4)))

    assert "panel B2 is 1 13/16″ long, less than 4″" in [str(each.told) for each in layout.findings]


def test_a_piece_too_small_for_its_edge_band_is_told() -> None:
    band = Band(inch(1), on=frozenset({Meets.OPENING}), edges=frozenset({"top"}))

    layout = lay_out(alone(wall(96, 86, openings=(door("24 3/16", "23 7/16"),))), wish(band=band))

    assert "panel B2 is too small for its edge band" in [str(each.told) for each in layout.findings]


def two_raked(**more: object) -> list[Panel]:
    """A rise of 3 in 4 over 40 in: 60 to 90, and 90 to 120; joint without a reveal."""
    surface = raked("A", inch(80), inch(60), inch(120), PLAIN)
    return list(lay_out(alone(surface), Wish(inch(40), 0, start=Start.LEFT, **more)).panels)


def test_two_raked_panels_pair_in_one_rectangle_where_they_may_be_turned() -> None:
    """60 and 120 make 180 high; a kerf of 1/4 square to 3 in 4 is 5/16 upright (3-4-5 triangle)."""
    one, other = two_raked(may_turn=True)

    pair = paired(one, other, inch("1/4"))

    assert pair is not None
    assert (pair.width_nm, pair.length_nm) == (inch(40), inch("180 5/16"))


def test_panels_that_keep_their_top_end_up_do_not_pair() -> None:
    assert paired(*two_raked(), inch("1/4")) is None


def test_a_raked_panel_does_not_pair_with_a_plain_one() -> None:
    (plain,) = lay_out(alone(wall(40)), Wish(inch(40), 0, may_turn=True)).panels

    assert paired(two_raked(may_turn=True)[0], plain, inch("1/8")) is None
