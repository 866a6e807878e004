"""The order of panels along a wall: published walls, every order tried, halves side by side."""

import json
from itertools import pairwise, permutations
from random import Random

import pytest

from jobs.calculations.tone.wall import MOST_EXACT, NotOnThisWall, wall_order
from materials.calculations.color import differences, in_ten_thousandths, lab
from tests.jobs.calculations.tone.lots import SEQUENCE

WALLS = json.loads(SEQUENCE.read_text(encoding="utf-8"))


def drawn(seed: int, number: int) -> list[list[int]]:
    draw = Random(seed)
    tones = [(draw.gauss(0, 20), draw.gauss(0, 6)) for _ in range(number)]
    return [[round(abs(a - c) + abs(b - d)) for c, d in tones] for a, b in tones]


def worth(square: list[list[int]], order: tuple[int, ...]) -> tuple[int, int]:
    steps = [square[one][other] for one, other in pairwise(order)]
    return max(steps, default=0), sum(steps)


@pytest.mark.parametrize("wall", WALLS, ids=[wall["id"] for wall in WALLS])
def test_the_published_walls_have_their_best_order(wall: dict) -> None:
    found = wall_order(differences([lab(*panel["lab"]) for panel in wall["panels"]]))

    best = wall["best"]
    assert found.largest_step == in_ten_thousandths(best["largest_step"])
    assert found.total == in_ten_thousandths(best["total"])
    assert found.proven
    assert sorted(found.panels) == list(range(len(wall["panels"])))


@pytest.mark.parametrize("seed", range(20))
def test_no_order_of_a_short_wall_is_better(seed: int) -> None:
    square = drawn(seed, 1 + seed % 7)

    found = wall_order(square)

    assert (found.largest_step, found.total) == min(worth(square, order) for order in permutations(range(len(square))))


@pytest.mark.parametrize("number", [MOST_EXACT + 1, 24])
def test_a_long_wall_has_a_good_order_that_claims_no_proof(number: int) -> None:
    square = drawn(number, number)

    found = wall_order(square)

    assert sorted(found.panels) == list(range(number))
    assert (found.largest_step, found.total) == worth(square, found.panels)
    assert not found.proven
    assert found.largest_step_at_least <= found.largest_step
    by_tone = tuple(sorted(range(number), key=lambda at: square[0][at]))
    assert (found.largest_step, found.total) <= worth(square, by_tone)


def test_halves_of_one_sheet_hang_side_by_side_cut_edge_to_cut_edge() -> None:
    tones = [10, 40, 10, 25, 40, 70]
    square = [[abs(a - b) for a in tones] for b in tones]

    found = wall_order(square, halves=[(0, 2), (4, 1)])

    assert found.panels == (0, 2, 3, 4, 1, 5)
    assert (found.largest_step, found.total, found.proven) == (30, 60, True)


@pytest.mark.parametrize("seed", range(10))
def test_no_order_with_the_halves_side_by_side_is_better(seed: int) -> None:
    draw = Random(seed)
    tones = [draw.randint(0, 60) for _ in range(4)]
    panels = [tones[0], tones[0], tones[1], tones[1], tones[2], tones[3]]
    square = [[abs(a - b) for a in panels] for b in panels]

    found = wall_order(square, halves=[(0, 1), (2, 3)])

    def beside(order: tuple[int, ...]) -> bool:
        return {(0, 1), (2, 3)} <= set(pairwise(order))

    assert (found.largest_step, found.total) == min(worth(square, o) for o in permutations(range(6)) if beside(o))


@pytest.mark.parametrize("halves", [[(0, 3)], [(0, 1), (1, 2)], [(1, 1)]])
def test_halves_that_are_not_on_the_wall_are_refused(halves: list[tuple[int, int]]) -> None:
    with pytest.raises(NotOnThisWall, match="are not each once on this wall; each panel in one pair at most would do"):
        wall_order(drawn(1, 3), halves)


@pytest.mark.parametrize("number", [0, 1])
def test_a_wall_of_one_panel_or_none_has_no_step(number: int) -> None:
    found = wall_order([[0] * number] * number)

    assert (found.panels, found.largest_step, found.proven) == (tuple(range(number)), 0, True)
