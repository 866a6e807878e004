"""Board plans: small problems against every plan there is, published problems against their known best answers."""

import json
import subprocess
import sys
from fractions import Fraction
from pathlib import Path
from random import Random

import pytest

from jobs.calculations.milling.boards import instance as instances
from jobs.calculations.milling.boards import solve
from jobs.calculations.milling.boards.bounds import first_bound
from jobs.calculations.milling.boards.fill import Filler
from jobs.calculations.milling.boards.instance import instance_of
from jobs.calculations.milling.boards.problem import (
    BoardPiece,
    BoardProblem,
    BoardProblemError,
    KerfTooLarge,
    NothingLeftOfBoard,
    NumberOutOfRange,
    PieceTooLong,
    StockBoard,
    TooFewBoards,
)
from jobs.calculations.milling.boards.solve import NO_OPTIMIZER, answers, first_answer
from tests.benchmarks.boards import faults, main, problem_of, read
from tests.jobs.calculations.milling.exhaustive import least_cost, random_problem

FILE = Path(__file__).resolve().parents[3] / "reference" / "cutting" / "boards_1d.json"
KNOWN = {instance["id"]: instance for instance in read(FILE)}


def last_answer(problem: BoardProblem, seconds: float = 2.0, seed: int = 1) -> solve.BoardAnswer:
    return list(answers(problem, seconds, seed))[-1]


# Small problems, everything tried


@pytest.mark.parametrize("seed", range(70))
def test_no_bound_is_above_the_best_plan_and_what_is_proven_is_best(seed: int) -> None:
    problem = random_problem(Random(seed))
    best = least_cost(problem)

    if best is None:
        with pytest.raises(BoardProblemError):
            last_answer(problem, 0.3)
        return
    answer = last_answer(problem)

    assert faults(problem, answer) == []
    assert first_bound(instance_of(problem)) <= best
    assert answer.lower_bound <= best <= answer.plan.cost
    assert not answer.is_proven or answer.plan.cost == best


@pytest.mark.parametrize("seed", range(25))
def test_sizes_too_fine_for_the_search_are_rounded_so_that_plans_and_bounds_hold(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(instances, "FINEST", 25)
    problem = random_problem(Random(seed))
    best = least_cost(problem)

    try:
        answer = last_answer(problem, 0.3)
    except TooFewBoards:
        return

    assert faults(problem, answer) == []
    assert answer.lower_bound <= best <= answer.plan.cost
    assert not answer.is_proven or answer.plan.cost == best


# Published problems: see tests/reference/SOURCES.md, boards_1d.json


@pytest.mark.parametrize(
    "name",
    [
        "Falkenauer_t60_00",
        "Falkenauer_u250_05",
        "N4C3W4_D",
        "Schwerin1_BPP42",
        "Waescher_TEST0058",
        "trim_p1_cap_rail",
        "trim_p3_with_rack",
        "trim_p4_base_shoe",
    ],
)
def test_a_published_best_answer_is_reached_and_proven(name: str) -> None:
    problem, units = problem_of(KNOWN[name])

    answer = last_answer(problem, 8)

    assert faults(problem, answer) == []
    assert (Fraction(answer.plan.cost, units), answer.is_proven) == (KNOWN[name]["best_known"], True)


@pytest.mark.parametrize("name", KNOWN)
def test_no_first_bound_is_above_a_published_plan(name: str) -> None:
    problem, units = problem_of(KNOWN[name])

    assert Fraction(first_bound(instance_of(problem)), units) <= KNOWN[name]["best_known"]


def test_first_answers_to_the_published_problems_are_within_two_percent_on_average() -> None:
    gaps = []
    for known in KNOWN.values():
        problem, units = problem_of(known)
        filler = Filler(instance_of(problem), 1)
        turns = iter(range(200))
        filler.run(lambda turns=turns: next(turns, None) is None, first_bound(filler.instance))
        gaps.append(Fraction(filler.best_cost, units) / known["best_known"] - 1)

    assert sum(gaps) / len(gaps) <= Fraction(2, 100)


def test_the_benchmark_writes_every_piece_and_finds_no_fault(tmp_path: Path) -> None:
    out = tmp_path / "solutions.json"

    code = main([str(FILE), "--seconds", "2", "--out", str(out), "--only", "N1C1W1_A", "trim_p1"])

    written = json.loads(out.read_text(encoding="utf-8"))
    assert code == 0
    assert set(written) == {"N1C1W1_A", "trim_p1_cap_rail"}
    assert sum(len(board["pieces"]) for board in written["N1C1W1_A"]["boards"]) == 50
    assert set(written["N1C1W1_A"]["boards"][0]) == {"stock", "pieces"}


# Rules of cutting


def test_a_last_piece_that_is_exact_loses_no_kerf() -> None:
    problem = BoardProblem((StockBoard(100),), (BoardPiece(32, 3),), kerf=2)

    board = first_answer(problem).plan.boards[0]

    assert [piece.start for piece in board.pieces] == [0, 34, 68]
    assert board.leftover == 0


def test_a_leftover_thinner_than_the_kerf_is_eaten() -> None:
    problem = BoardProblem((StockBoard(101),), (BoardPiece(32, 3),), kerf=2)

    assert first_answer(problem).plan.boards[0].leftover == 0


def test_the_end_cut_off_counts_at_both_ends_with_the_kerf_inside_it() -> None:
    problem = BoardProblem((StockBoard(100),), (BoardPiece(40, 2),), kerf=4, end_cut_off=8)

    board = first_answer(problem).plan.boards[0]

    assert [(piece.start, piece.length) for piece in board.pieces] == [(8, 40), (52, 40)]


def test_of_plans_with_as_many_boards_the_leftover_comes_in_one_piece() -> None:
    problem = BoardProblem((StockBoard(100),), (BoardPiece(60), BoardPiece(30), BoardPiece(50)), least_usable=40)

    boards = first_answer(problem).plan.boards

    assert sorted((board.leftover, board.is_kept) for board in boards) == [(10, False), (50, True)]


def test_boards_on_the_rack_are_taken_only_as_often_as_they_are_there() -> None:
    problem = BoardProblem((StockBoard(100, 10), StockBoard(50, 1, 2)), (BoardPiece(50, 5),))

    answer = last_answer(problem)

    assert sorted(board.stock for board in answer.plan.boards) == [0, 0, 1]
    assert (answer.plan.cost, answer.is_proven) == (21, True)


# Without the optimizer, in stages, in time


def test_without_the_optimizer_the_first_answer_still_comes_and_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(solve, "find_spec", lambda name: None)
    problem, _ = problem_of(KNOWN["Falkenauer_t60_00"])

    answer = last_answer(problem, 0.8)

    assert faults(problem, answer) == []
    assert (answer.is_searched, answer.note) == (False, NO_OPTIMIZER)


def test_answers_only_get_better() -> None:
    problem, _ = problem_of(KNOWN["Falkenauer_t120_04"])

    found = list(answers(problem, 8))

    assert [answer.plan.cost for answer in found] == sorted((answer.plan.cost for answer in found), reverse=True)
    assert [answer.lower_bound for answer in found] == sorted(answer.lower_bound for answer in found)


def test_a_search_that_is_stopped_keeps_its_first_answer() -> None:
    problem, _ = problem_of(KNOWN["HARD0"])

    found = list(answers(problem, 60, stop=lambda: True))

    assert len(found) == 1
    assert faults(problem, found[0]) == []


def test_nothing_to_cut_takes_no_board() -> None:
    assert first_answer(BoardProblem((StockBoard(100),), ())).plan.boards == ()


def test_importing_the_plans_loads_no_optimizer() -> None:
    program = (
        "import sys, jobs.calculations.milling.boards.solve\nprint('ortools' in sys.modules, 'numpy' in sys.modules)"
    )

    ended = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, encoding="utf-8")

    assert ended.stdout.split() == ["False", "False"]


# What cannot be meant


@pytest.mark.parametrize(
    ("problem", "error", "message"),
    [
        (
            BoardProblem((StockBoard(10),), (BoardPiece(12, name="A1"),)),
            PieceTooLong,
            "longer board, or a piece made up",
        ),
        (
            BoardProblem((StockBoard(10),), (BoardPiece(3, name="A1"),), kerf=4),
            KerfTooLarge,
            "kerf of 4 is larger than",
        ),
        (
            BoardProblem((StockBoard(10),), (BoardPiece(3),), end_cut_off=5),
            NothingLeftOfBoard,
            "leaves nothing of board 1",
        ),
        (BoardProblem((StockBoard(10),), (BoardPiece(0),)), NumberOutOfRange, "length of piece 1 is 0"),
        (BoardProblem((StockBoard(10),), (BoardPiece(2, 0),)), NumberOutOfRange, "quantity of piece 1 is 0"),
        (BoardProblem((StockBoard(10, 0),), (BoardPiece(2),)), NumberOutOfRange, "cost of board 1 is 0"),
        (BoardProblem((StockBoard(10, 1, 0),), (BoardPiece(2),)), PieceTooLong, "no board gives more than 0"),
        (BoardProblem((StockBoard(10, 1, 1),), (BoardPiece(8, 3),)), TooFewBoards, "2 pieces have no place"),
    ],
)
def test_what_cannot_be_meant_is_refused_with_two_things_that_would_do(
    problem: BoardProblem, error: type[BoardProblemError], message: str
) -> None:
    with pytest.raises(error, match=message):
        last_answer(problem, 0.5)
