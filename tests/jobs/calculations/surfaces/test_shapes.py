"""Surfaces as the shop measures them; figures by hand."""

from jobs.calculations.surfaces import (
    EdgeCondition,
    EdgeKind,
    SurfaceKind,
    gabled,
    l_shaped,
    mirrored,
    polygon,
    raked,
    regions,
    sloped_ceiling,
    stepped,
)
from tests.jobs.calculations.surfaces.making import PLAIN, door, inch, square_inches, wall, window


def test_a_wall_of_18_ft_6_by_8_ft_has_148_square_feet() -> None:
    assert square_inches(regions.area(wall(222, 96).region)) == 148 * 144


def test_a_raked_wall_has_the_mean_of_its_heights() -> None:
    surface = raked("A", inch(120), inch(96), inch(126), PLAIN)

    assert square_inches(regions.area(surface.region)) == 120 * 111
    assert (surface.edge("top").run_nm, surface.edge("top").rise_nm) == (-inch(120), -inch(30))


def test_a_gabled_wall_has_two_rakes() -> None:
    surface = gabled("A", inch(192), inch(96), inch(96), inch(128), inch(96), PLAIN)

    assert surface.edge_names == ("foot", "right", "right rake", "left rake", "left")
    assert square_inches(regions.area(surface.region)) == 192 * 96 + 192 * 32 // 2


def test_a_sloped_ceiling_has_its_true_length() -> None:
    """120 level and 90 up are 150 along the slope (3-4-5 triangle)."""
    ceiling = sloped_ceiling("ceiling", inch(144), inch(120), inch(90), PLAIN)

    assert ceiling.height_nm == inch(150)
    assert ceiling.kind is SurfaceKind.CEILING


def test_an_l_shaped_ceiling_lacks_a_corner() -> None:
    ceiling = l_shaped("ceiling", inch(240), inch(120), inch(60), inch(48), PLAIN, kind=SurfaceKind.CEILING)

    assert square_inches(regions.area(ceiling.region)) == 240 * 120 - 60 * 48
    assert sorted(ceiling.edge_names) == ["foot", "left", "right 1", "right 2", "top 1", "top 2"]


def test_a_stepped_top_goes_from_step_to_step() -> None:
    surface = stepped("A", ((inch(48), inch(96)), (inch(48), inch(108)), (inch(24), inch(96))), PLAIN)

    assert square_inches(regions.area(surface.region)) == 48 * 96 + 48 * 108 + 24 * 96


def test_corners_may_be_told_in_either_direction() -> None:
    corners = ((0, 0), (inch(40), 0), (0, inch(30)))

    one, other = polygon("A", corners, PLAIN), polygon("A", corners[::-1], PLAIN)

    assert set(one.edges) == set(other.edges)
    assert one.edge("top").length_nm == inch(50)


def test_a_mirrored_wall_has_everything_on_the_other_hand() -> None:
    surface = gabled(
        "A",
        inch(192),
        inch(96),
        inch(90),
        inch(128),
        inch(80),
        PLAIN,
        openings=(door(10), window(100, 36, 40, 40)),
        conditions={"left": EdgeCondition(EdgeKind.LAPS)},
    )

    other = mirrored(surface, "C")

    assert [opening.left_nm for opening in other.openings] == [inch(192 - 46), inch(192 - 140)]
    assert other.conditions == {"right": EdgeCondition(EdgeKind.LAPS)}
    assert other.edge("left").length_nm == inch(90)
    assert other.edge("right rake").length_nm == surface.edge("left rake").length_nm
    assert mirrored(other, "A").openings == surface.openings
