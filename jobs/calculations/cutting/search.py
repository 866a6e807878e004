"""Looking for a cheaper plan: take some parts out, put them back in a random order, keep what is not worse.

Ruin and recreate with a goal: sheets may cost less than the best plan, and the parts that then have no place are
worked down to none. A part goes to the rest it fills best by one of several measures, and the rest is split by one full
cut. Method after Gardeyn and Wauters 2022 (goal-driven ruin and recreate for guillotine bin packing) and Burke and
Bykov 2017 (late acceptance), written from the idea.
"""

from collections.abc import Callable
from random import Random

from jobs.calculations.cutting.builder import ANY_SPLIT, BIG_REST, LONG_SIDE, Builder
from jobs.calculations.cutting.instance import Instance
from jobs.calculations.cutting.tree import Layout, Piece, gather, pieces_below

REMOVED_AT_ONCE, BLINK = 5, 0.01
MANY_PARTS_ON_A_SHEET, MEMORIES, STEPS_OF_A_MEMORY, SHAKEN = 12, (20, 200), 8_000, 40
STEPS_BETWEEN_LOOKS, STEPS_BETWEEN_GATHERING, MOST_PATTERNS = 16, 20, 12_000

Pattern = tuple[int, tuple[int, ...]]
"""A kind of sheet and the kinds of the parts cut from it, in order."""

Tree = tuple
"""(length, width, direction, kids) of a piece, (length, width, kind, turned, None) of a part."""


class Search:
    """A plan that is being improved; every complete plan found is kept in `best`, every good sheet in `patterns`."""

    def __init__(self, instance: Instance, seed: int = 1) -> None:
        self.instance, self.random = instance, Random(seed)
        self.layout = Layout(instance)
        self.builder = Builder(self.layout, self.random)
        self.bag = list(instance.pieces)
        self.best: list[tuple[int, Tree]] | None = None
        self.best_cost: int | None = None
        self.patterns: dict[Pattern, Tree] = {}
        self.memory = [0]
        self.turn = 0
        self.short = 0
        self.steps = self.steps_then = 0

    # Taking parts out

    def _ruin(self, parts: int) -> list[int]:
        layout, removed = self.layout, []
        while len(removed) < parts and layout.sheets:
            sheet, other = self.random.choice(layout.sheets), self.random.choice(layout.sheets)
            if self.random.random() < 0.5 and other.used * sheet.area < sheet.used * other.area:
                sheet = other
            removed += layout.remove(self.random.choice(pieces_below(sheet.root)))
        return removed

    def _recreate(self, bag: list[int]) -> list[int]:
        kinds, chance = self.instance.kinds, self.random.random()
        self.random.shuffle(bag)
        if chance < 0.4:
            bag.sort(key=lambda kind: -kinds[kind].area)
        elif chance < 0.6:
            bag.sort(key=lambda kind: -max(kinds[kind].length, kinds[kind].width))
        elif chance < 0.7:
            bag.sort(key=lambda kind: -kinds[kind].length)
        elif chance < 0.8:
            bag.sort(key=lambda kind: -kinds[kind].width)
        elif chance < 0.9:
            bag.sort(key=lambda kind: -min(kinds[kind].length, kinds[kind].width))
        self.builder.measure = self.random.randrange(3)
        self.builder.split = self.random.choice((BIG_REST, BIG_REST, LONG_SIDE, ANY_SPLIT))
        return [kind for kind in bag if not self.builder.insert(kind, BLINK)]

    # The search

    def build(self) -> None:
        """Make a first plan: the largest parts first, each into the rest it fills best."""
        areas = self.layout.areas
        self.bag = [
            kind for kind in sorted(self.bag, key=lambda kind: -areas[kind]) if not self.builder.insert(kind, 0)
        ]
        self._settle()

    def run(self, is_over: Callable[[], bool], goal: int) -> bool:
        """Look until a better plan is found (true), or until time is over or the goal reached (false)."""
        layout, random, areas = self.layout, self.random, self.layout.areas
        if self.best_cost is not None and self.best_cost <= goal:
            return False
        while True:
            self.steps += 1
            if self.steps % STEPS_BETWEEN_LOOKS == 0 and is_over():
                return False
            layout.log = []
            removed = self._ruin(1 + int(random.expovariate(1 / REMOVED_AT_ONCE)))
            bag = self._recreate(removed + self.bag)
            short = sum([areas[kind] for kind in bag])
            memory = self.memory
            slot = self.steps % len(memory)
            if short <= self.short or short <= memory[slot]:
                self.bag, self.short = bag, short
            else:
                layout.undo()
            memory[slot] = min(memory[slot], self.short)
            if self.steps % STEPS_BETWEEN_GATHERING == 0:
                self._gather_patterns()
            if not self.bag:
                self._settle()
                return True
            if self.steps - self.steps_then > STEPS_OF_A_MEMORY:
                self._shake()

    def _shake(self) -> None:
        """Where nothing was found for long, change the memory; with several sizes empty some sheets now and then."""
        if len(self.instance.sheets) > 1 and self.turn % len(MEMORIES) == 0:
            for sheet in self.random.sample(self.layout.sheets, len(self.layout.sheets) * SHAKEN // 100):
                for kid in list(sheet.root.kids):
                    self.bag += self.layout.remove(kid)
            self.layout.log = []
            self.short = sum(self.layout.areas[kind] for kind in self.bag)
        self._remember(self.turn + 1)

    def _settle(self) -> None:
        """Keep a complete plan as the best, and make room for a better one by giving a sheet back."""
        layout = self.layout
        if not self.bag and (self.best_cost is None or layout.cost < self.best_cost):
            self._gather_patterns()
            self.best = [(sheet.stock, frozen(sheet.root)) for sheet in layout.sheets]
            self.best_cost = self.builder.limit = layout.cost
        while self.builder.limit is not None and layout.cost >= self.builder.limit:
            weakest = min(layout.sheets, key=lambda sheet: sheet.used / sheet.area * (0.8 + 0.4 * self.random.random()))
            for kid in list(weakest.root.kids):
                self.bag += layout.remove(kid)
        layout.log = []
        self.short = sum(layout.areas[kind] for kind in self.bag)
        crowded = len(self.instance.pieces) > MANY_PARTS_ON_A_SHEET * max(1, len(layout.sheets))
        self._remember(int(crowded))

    def _remember(self, turn: int) -> None:
        """Begin to accept what is not worse than some steps ago: a short memory is greedy, a long one wanders."""
        self.turn, self.steps_then = turn, self.steps
        self.memory = [self.short] * MEMORIES[turn % len(MEMORIES)]

    def _gather_patterns(self) -> None:
        if len(self.patterns) >= MOST_PATTERNS:
            return
        for sheet in self.layout.sheets:
            kinds: list[int] = []
            gather(sheet.root, kinds)
            pattern = (sheet.stock, tuple(sorted(kinds)))
            if pattern not in self.patterns:
                self.patterns[pattern] = frozen(sheet.root)

    def adopt(self, sheets: list[tuple[int, Tree]]) -> bool:
        """Take over sheets that hold every part at least once; true where that made a better plan."""
        layout = self.layout
        for sheet in list(layout.sheets):
            for kid in list(sheet.root.kids):
                layout.remove(kid)
        spare = [-len(kind.items) for kind in self.instance.kinds]
        self.builder.limit = None
        for stock, tree in sheets:
            opened = layout.take_sheet(stock, tree[2])
            self._grow(opened.root, tree)
            kinds: list[int] = []
            gather(opened.root, kinds)
            opened.used = sum(layout.areas[kind] for kind in kinds)
            for kind in kinds:
                spare[kind] += 1
        self._drop(spare)
        self.bag = [kind for kind, count in enumerate(spare) for _ in range(-count)]
        is_better = not self.bag and (self.best_cost is None or layout.cost < self.best_cost)
        if not is_better:
            self.builder.limit = self.best_cost
        self._settle()
        return is_better

    def _drop(self, spare: list[int]) -> None:
        """Take out parts that are there more often than needed."""
        for sheet in list(self.layout.sheets):
            for piece in pieces_below(sheet.root):
                if piece.kind >= 0 and spare[piece.kind] > 0:
                    spare[piece.kind] -= 1
                    self.layout.remove(piece)

    def _grow(self, piece: Piece, tree: Tree) -> None:
        """Make the pieces of a kept tree again below a piece of the same size."""
        layout = self.layout
        for kept in tree[3]:
            if kept[-1] is None:
                kid = layout.part(kept[0], kept[1], piece, kept[2], kept[3])
            else:
                kid = Piece(kept[0], kept[1], kept[2], piece, piece.sheet, piece.depth + 1)
                self._grow(kid, kept)
            piece.kids.append(kid)
            if piece.direction == 0:
                piece.free_length -= kid.length
            else:
                piece.free_width -= kid.width
        if piece.free_length and piece.free_width:
            layout.rests[piece] = None
        else:
            layout.rests.pop(piece, None)


def frozen(piece: Piece) -> Tree:
    """Return a piece as nested tuples that no later step changes.

    Args:
        piece: a piece of a sheet [-]

    Returns:
        (length, width, direction, kids) for a piece, (length, width, kind, turned, None) for a part.

    Example: a part of 3 by 2 of kind 0 is (3, 2, 0, False, None).

    Source: house rule.
    """
    if piece.kind >= 0:
        return (piece.length, piece.width, piece.kind, piece.turned, None)
    return (piece.length, piece.width, piece.direction, tuple([frozen(kid) for kid in piece.kids]))
