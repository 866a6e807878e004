"""Cut-outs and marks for access in their panels. Figures by hand."""

from jobs.calculations.panels import CAUTION, About, Centers, Layout, Start, Wish, cut_outs_at_rows, extensions, lay_out
from jobs.calculations.surfaces import AccessMark, CutOut, CutOutKind, EdgeCondition, EdgeKind, alone
from tests.jobs.calculations.surfaces.making import BATTENED, held_off, inch, wall


def box(x: str | int, y: str | int = 20, name: str = "box") -> CutOut:
    return CutOut(name, CutOutKind.BOX, inch(x), inch(y), inch("4 1/4"), inch("4 1/4"), inch(3))


def laid(cut_out: CutOut, clear: str | int = 0, **more: object) -> Layout:
    asked = Wish(inch(24), inch("3/16"), start=Start.LEFT, clear_nm=inch(clear))
    return lay_out(alone(wall(96, 96, cut_outs=(cut_out,), **more)), asked)


def told(layout: Layout) -> list[str]:
    return [str(finding.told) for finding in layout.findings if finding.about is About.CUT_OUT]


def test_a_box_is_placed_from_the_left_side_and_the_foot_of_its_panel() -> None:
    """Panel 2 begins at 24 in; a base covers the wall up to 1/2 in."""
    layout = laid(box(36), conditions={"foot": EdgeCondition(EdgeKind.COVERED, inch("1/2"))})

    (placed,) = layout.panels[1].cut_outs
    assert (placed.from_left_nm, placed.from_foot_nm) == (inch(12), inch("19 1/2"))
    assert told(layout) == []


def test_a_box_is_placed_in_the_panel_as_it_is_cut() -> None:
    """With 1/2 in to spare for a scribe the panel begins 1/2 in farther left."""
    layout = laid(box(12), conditions={"left": EdgeCondition(EdgeKind.SCRIBED, inch("1/2"))})

    assert layout.panels[0].cut_outs[0].from_left_nm == inch("12 1/2")


def test_a_box_over_a_joint_is_told_with_both_panels() -> None:
    assert told(laid(box(25))) == ["box lies over a joint of B1, B2"]


def test_a_box_at_the_side_of_its_panel_is_told_with_what_is_left() -> None:
    """Centered 28 in: its left side at 25 7/8, the panel's at 24."""
    assert told(laid(box(28), clear=2)) == ["box lies 1 7/8″ from a side of panel B2, less than 2″"]
    assert told(laid(box(28), clear="1 7/8")) == []


def test_a_box_in_the_reveal_of_an_edge_is_told() -> None:
    assert told(laid(box("2 1/8"), conditions={"left": held_off("1/4")})) == ["box reaches beyond the panelled face"]


def test_a_box_in_a_screw_row_is_told() -> None:
    surface = wall(cut_outs=(box(36),), level_nm=inch(40))

    found = cut_outs_at_rows(surface, [inch(-24), inch(-20), inch(0)], inch("1/2"))

    assert [str(finding.told) for finding in found] == ["box lies in the screw row at −1′-8″"]


def test_a_box_comes_forward_by_the_whole_build_up_and_a_caution_goes_with_it() -> None:
    (found,) = extensions(wall(cut_outs=(box(36),), build_up=BATTENED))

    assert found.by_nm == inch("1 1/2")
    assert "licensed electrician" in CAUTION


def test_a_panel_with_a_mark_can_be_taken_off() -> None:
    asked = Wish(inch(24), inch("3/16"), start=Start.LEFT)

    layout = lay_out(alone(wall(96, marks=(AccessMark("valve", inch(60), inch(10)),))), asked)

    assert [panel.is_removable for panel in layout.panels] == [False, False, True, False]


def test_joints_that_miss_the_studs_are_listed() -> None:
    """Studs at 16 in from 0: joints centered 23 29/32, 47 29/32 and 71 29/32 miss 24's neighbors 32 and 16 by 7 29/32,
    48 by 3/32, and 64 and 80 by 7 29/32."""
    asked = Wish(inch(24), inch("3/16"), start=Start.LEFT, centers=Centers(inch(16)))

    layout = lay_out(alone(wall(96)), asked)

    assert [str(finding.told) for finding in layout.findings if finding.about is About.CENTERS] == [
        "the joint at 1′-11 13/16″ misses the nearest center by 7 29/32″",
        "the joint at 3′-11 13/16″ misses the nearest center by 3/32″",
        "the joint at 5′-11 13/16″ misses the nearest center by 7 29/32″",
    ]
