"""The cut trees of a search: every step can be undone, and nothing of a sheet is lost."""

from random import Random

import pytest

from jobs.calculations.cutting.builder import Builder
from jobs.calculations.cutting.instance import Instance, instance_of
from jobs.calculations.cutting.plan import tight
from jobs.calculations.cutting.problem import CuttingProblem, Part, StockSheet
from jobs.calculations.cutting.search import Search, frozen
from jobs.calculations.cutting.tree import Layout, pieces_below


@pytest.fixture
def instance() -> Instance:
    random = Random(3)
    parts = tuple(Part(random.randint(5, 60), random.randint(4, 40), 2, True) for _ in range(20))
    return instance_of(CuttingProblem((StockSheet(96, 48), StockSheet(60, 40, 1, 3)), parts))


def picture(layout: Layout) -> tuple:
    """All there is to a layout, whatever the order of sheets and pieces."""

    def sorted_tree(tree: tuple) -> tuple:
        return tree if tree[-1] is None else (*tree[:3], tuple(sorted(map(sorted_tree, tree[3]), key=str)))

    return (
        sorted((sheet.stock, sheet.used, str(sorted_tree(frozen(sheet.root)))) for sheet in layout.sheets),
        sorted((rest.free_length, rest.free_width) for rest in layout.rests),
        layout.left,
        layout.cost,
    )


@pytest.mark.parametrize("seed", range(30))
def test_steps_that_are_undone_leave_the_layout_as_it_was(instance: Instance, seed: int) -> None:
    random = Random(seed)
    layout = Layout(instance)
    builder = Builder(layout, random)
    for kind in instance.pieces:
        builder.insert(kind, 0)
    layout.log = []
    before = picture(layout)

    removed = []
    for _ in range(4):
        if layout.sheets:
            removed += layout.remove(random.choice(pieces_below(random.choice(layout.sheets).root)))
    for kind in removed:
        builder.insert(kind, 0.1)
    layout.undo()

    assert picture(layout) == before


def test_parts_and_rests_add_up_to_the_sheets(instance: Instance) -> None:
    search = Search(instance, 1)
    search.build()
    for _ in range(3):
        search.run(lambda: search.steps % 200 == 0, 0)

        parts = sum(sheet.used for sheet in search.layout.sheets)
        rests = sum(rest.free_length * rest.free_width for rest in search.layout.rests)

        assert parts + rests == sum(sheet.area for sheet in search.layout.sheets)


def test_pieces_give_way_to_the_rest_beside_them() -> None:
    part = (6, 4, 0, False, None)

    assert tight((9, 9, 1, ((9, 7, 0, (part,)),))) == (9, 9, 1, ((9, 4, 0, (part,)),))
