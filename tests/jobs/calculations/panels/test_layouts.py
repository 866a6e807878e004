"""Layouts of whole faces: what holds for every wall. Areas and widths are compared exactly."""

from fractions import Fraction
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.calculations.panels import AtOpening, Band, Layout, Meets, Run, Start, Wish, lay_out
from jobs.calculations.surfaces import (
    EdgeCondition,
    EdgeKind,
    Face,
    LeastWidthNotKept,
    MakingError,
    Opening,
    OpeningKind,
    Surface,
    alone,
    gabled,
    raked,
    rectangle,
    regions,
    stepped,
)
from tests.jobs.calculations.surfaces.making import PLAIN, inch
from workshop.calculations.lengths import GRID_NM


def grid(least: int | Fraction, most: int) -> st.SearchStrategy[int]:
    """Lengths on the 1/64 in grid between two sizes in inches."""
    return st.integers(int(least * 64), most * 64).map(lambda number: number * GRID_NM)


@st.composite
def conditions(draw: st.DrawFn, edges: tuple[str, ...]) -> dict[str, EdgeCondition]:
    kinds = st.sampled_from([EdgeKind.REVEAL, EdgeKind.COVERED, EdgeKind.SCRIBED])
    return {edge: EdgeCondition(draw(kinds), draw(grid(0, 1))) for edge in edges if draw(st.booleans())}


@st.composite
def walls(draw: st.DrawFn) -> Surface:
    shape = draw(st.sampled_from(["rectangle", "raked", "gabled", "stepped"]))
    width, height, other = draw(grid(30, 260)), draw(grid(80, 130)), draw(grid(80, 130))
    if shape == "rectangle":
        bare = rectangle("A", width, height, PLAIN)
    elif shape == "raked":
        bare = raked("A", width, height, other, PLAIN)
    elif shape == "gabled":
        ridge = max(height, other) + draw(grid(1, 60))
        bare = gabled("A", width, height, other, ridge, width * draw(st.integers(1, 3)) // 4, PLAIN)
    else:
        second = height + draw(st.sampled_from([-1, 1])) * draw(grid(3, 40))
        bare = stepped("A", ((width // 2, height), (width - width // 2, second)), PLAIN)
    made = Surface("A", bare.kind, bare.outline, bare.edge_names, PLAIN, draw(conditions(bare.edge_names)))
    openings: list[Opening] = []
    for number in range(draw(st.integers(0, 3))):
        kind = draw(st.sampled_from(list(OpeningKind)))
        foot = 0 if kind is OpeningKind.DOOR else draw(grid(8, 40))
        edge = EdgeCondition(EdgeKind.REVEAL, draw(st.sampled_from([0, inch("3/16"), inch("1/2")])))
        place, size = draw(grid(0, 220)), (draw(grid(6, 60)), draw(grid(20, 60)))
        tried = [*openings, Opening(f"opening {number}", kind, place, foot, *size, edge)]
        try:
            made = Surface("A", bare.kind, bare.outline, bare.edge_names, PLAIN, made.conditions, tuple(tried))
        except MakingError:
            continue
        openings = tried
    return made


@st.composite
def wishes(draw: st.DrawFn) -> Wish:
    run = draw(st.sampled_from(list(Run)))
    return Wish(
        draw(grid(12, 48)),
        draw(grid(0, 1)),
        run=run,
        start=draw(st.sampled_from([start for start in Start if start is not Start.CENTERS])),
        least_nm=draw(grid(0, 6)),
        cross_nm=tuple(sorted({draw(grid(40, 60)), draw(grid(80, 110))})) if draw(st.booleans()) else (),
        band=draw(st.none() | st.builds(Band, grid(Fraction(1, 16), 1), st.frozensets(st.sampled_from(list(Meets))))),
        at_openings={f"opening {number}": draw(st.sampled_from(list(AtOpening))) for number in range(3)},
    )


def laid_out(face: Face, wish: Wish) -> Layout:
    try:
        return lay_out(face, wish)
    except LeastWidthNotKept as refused:
        return lay_out(face, Wish(**{**vars(wish), "least_nm": refused.largest_least_nm}))


def strips(layout: Layout) -> regions.Region:
    """Everything that is a reveal between panels."""
    left, foot, right, top = regions.bounds((layout.face.outline,))
    wish, across = layout.wish, layout.wish.between_courses_nm
    upright = wish.run is Run.UP
    joints = [
        regions.box(at, foot, at + wish.reveal_nm, top)
        if upright
        else regions.box(left, at, right, at + wish.reveal_nm)
        for at in layout.joints
    ]
    cross = [
        regions.box(left, at, right, at + across) if upright else regions.box(at, foot, at + across, top)
        for at in layout.cross_nm
    ]
    return regions.joined([*joints, *cross])


@given(walls(), wishes())
@settings(deadline=None, max_examples=60)
def test_panels_reveals_and_edges_add_up_to_the_surface(surface: Surface, wish: Wish) -> None:
    face = alone(surface)

    layout = laid_out(face, wish)

    upright = wish.run is Run.UP
    bounds, bare = regions.bounds((face.outline,)), regions.bounds(surface.region)
    first, last = (0, 2) if upright else (1, 3)
    columns = layout.columns
    total = sum(column.width for column in columns) + wish.reveal_nm * (len(columns) - 1)
    assert bounds[first] + total + (bare[last] - bounds[last]) == bare[last]
    gaps = [after.start - before.end for before, after in pairwise(columns)]
    assert gaps == [wish.reveal_nm] * (len(columns) - 1)
    if upright and {"left", "right"} <= set(surface.edge_names):
        ends = [surface.condition(name).held_off_nm for name in ("left", "right")]
        assert [bounds[0], surface.width_nm - bounds[2]] == ends


@given(walls(), wishes())
@settings(deadline=None, max_examples=60)
def test_panels_cover_everything_but_reveals_and_openings_and_do_not_overlap(surface: Surface, wish: Wish) -> None:
    face = alone(surface)

    layout = laid_out(face, wish)

    panels = [panel.shape for panel in layout.panels]
    assert all(regions.common(a, b) == () for i, a in enumerate(panels) for b in panels[i + 1 :])
    covered = regions.joined(panels)
    assert regions.without(covered, face.region) == ()
    assert regions.without(regions.without(face.region, covered), strips(layout)) == ()
    assert sum(panel.area for panel in layout.panels) == regions.area(covered)


@given(walls(), wishes())
@settings(deadline=None, max_examples=60)
def test_no_panel_is_wider_than_the_modules_but_for_a_rest(surface: Surface, wish: Wish) -> None:
    layout = laid_out(alone(surface), wish)

    for column in layout.columns:
        at_an_end = column in (layout.columns[0], layout.columns[-1])
        rests = 2 if len(layout.columns) == 1 else 1
        allowed = rests * wish.reveal_nm if at_an_end and wish.start is not Start.BALANCED else 0
        assert column.width <= wish.panel_nm + allowed
    for panel in layout.panels:
        across, along = panel.size_nm
        assert 0 < across <= max(column.width for column in layout.columns) + 1
        assert along > 0


@given(walls(), wishes())
@settings(deadline=None, max_examples=40)
def test_every_panel_has_a_name_of_its_own_and_closed_sides(surface: Surface, wish: Wish) -> None:
    layout = laid_out(alone(surface), wish)

    names = [panel.name for panel in layout.panels]
    assert len(set(names)) == len(names)
    for panel in layout.panels:
        assert sum(len(outline) for outline in panel.shape) == len(panel.sides)
        left, foot, right, top = regions.bounds(panel.shape)
        cut = regions.bounds(panel.cut_shape)
        assert max(left - cut[0], foot - cut[1], cut[2] - right, cut[3] - top) <= 4 * inch(1)
        if wish.band is None:
            assert regions.without(panel.shape, panel.cut_shape) == ()
        elif not any(condition.spare_nm for condition in surface.conditions.values()):
            assert regions.without(panel.cut_shape, panel.shape) == ()
