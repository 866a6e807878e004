"""Small random problems, and their best values by trying every plan."""

from collections.abc import Iterator
from itertools import combinations
from random import Random

from jobs.calculations.tone.plan import Rooms, faults, plan
from jobs.calculations.tone.problem import Doorway, MoreNeedThanSheets, Problem, Room


def every_plan(problem: Problem) -> Iterator[Rooms]:
    """Every way to fill the rooms with the pieces there are, conditions not looked at."""

    def filled(room: int, left: tuple[int, ...]) -> Iterator[Rooms]:
        if room == len(problem.rooms):
            yield ()
            return
        for given in sorted(set(combinations(left, problem.rooms[room].need))):
            rest = list(left)
            for sheet in given:
                rest.remove(sheet)
            for others in filled(room + 1, tuple(rest)):
                yield (given, *others)

    yield from filled(0, tuple(sheet for sheet in problem.sheets for _ in range(problem.pieces)))


def best_by_trying(problem: Problem) -> tuple[int, int, int] | None:
    """The values of the best plan; none where no plan keeps every condition."""
    good = (plan(problem, rooms).value for rooms in every_plan(problem) if not faults(problem, rooms))
    return min(good, default=None)


def small_problem(seed: int) -> Problem:
    """A lot of a main batch and a darker one, and rooms with one or two of every kind of condition."""
    draw = Random(seed)
    pieces = 2 if seed % 4 == 3 else 1
    sheets = draw.randint(4, 5) if pieces == 2 else draw.randint(5, 8)
    tones = [(draw.gauss(80 - 6 * (draw.random() < 0.3), 1.5), draw.gauss(5, 0.5)) for _ in range(sheets)]
    far = [[round(10 * (abs(a - c) + abs(b - d))) for c, d in tones] for a, b in tones]
    number = draw.randint(1, 3)
    rooms = tuple(
        Room(
            need=draw.randint(0 if draw.random() < 0.1 else 1, 3),
            weight=draw.randint(1, 3),
            limit=draw.randint(10, 60) if draw.random() < 0.15 else None,
            counts=draw.random() > 0.15,
        )
        for _ in range(number)
    )

    def sometimes(share: float) -> bool:
        return draw.random() < share

    def room() -> int:
        return draw.randrange(number)

    wishes = draw.random()
    try:
        return Problem(
            differences=far,
            rooms=rooms,
            fixed=tuple((one, here, 1) for one, here in [(0, room())] if sometimes(0.3) and rooms[here].need),
            rejected=frozenset({sheets - 1} if sometimes(0.3) else ()),
            forbidden=frozenset({(1, room())} if sometimes(0.3) else ()),
            doorways=(
                (Doorway(0, 1, draw.randint(15, 50), draw.choice([None, None, 1])),)
                if number > 1 and sometimes(0.4) and rooms[0].need and rooms[1].need
                else ()
            ),
            together=((1, 2),) if sometimes(0.25) else (),
            lightness=tuple(round(1000 * light) for light, _ in tones),
            darkest=0 if wishes < 0.1 and rooms[0].need else None,
            lightest=number - 1 if wishes > 0.9 and rooms[-1].need else None,
            pieces=pieces,
        )
    except MoreNeedThanSheets:
        return small_problem(seed + 10_000)
