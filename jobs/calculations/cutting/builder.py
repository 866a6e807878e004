"""Putting parts onto sheets one after the other: each into the rest it fills best, which one full cut splits."""

from random import Random

from jobs.calculations.cutting.tree import Layout, Piece

BY_AREA, BY_SIDE, BY_SQUARES = range(3)
BIG_REST, LONG_SIDE, ANY_SPLIT = range(3)


class Builder:
    """Chooses rests and cuts on a layout, by a measure and a way of splitting that can be changed at any time.

    `limit` is the cost that all sheets together have to stay below, none for no limit.
    """

    def __init__(self, layout: Layout, random: Random) -> None:
        self.layout, self.instance, self.random = layout, layout.instance, random
        instance = self.instance
        self.sizes = [kind.sizes for kind in instance.kinds]
        self.restricted = instance.is_restricted
        self.kept_apart = any(
            len(kind.stock) < sum(self._fits(kind.sizes, stock) for stock in range(len(instance.sheets)))
            for kind in instance.kinds
        )
        self.by_price = sorted(
            range(len(instance.sheets)), key=lambda stock: instance.sheets[stock].cost / instance.sheets[stock].area
        )
        self.measure, self.split = BY_AREA, BIG_REST
        self.limit: int | None = None

    def _fits(self, sizes: list[tuple[int, int, bool]], stock: int) -> bool:
        sheet = self.instance.sheets[stock]
        return any(length <= sheet.length and width <= sheet.width for length, width, _ in sizes)

    def insert(self, kind: int, blink: float) -> bool:
        """Put one part into the rest it fills best, else on a new sheet; false where there is no place for it."""
        best, least, chance = None, None, self.random.random
        rests, measure = self.layout.rests, self.measure
        for length, width, turned in self.sizes[kind]:
            fitting = [rest for rest in rests if rest.free_length >= length and rest.free_width >= width]
            if self.kept_apart:
                fitting = [rest for rest in fitting if rest.sheet.stock in self.instance.kinds[kind].stock]
            if self.restricted:
                fitting = [rest for rest in fitting if self._ways(rest, length, width)]
            for rest in fitting:
                if blink and chance() < blink:
                    continue
                along, across = rest.free_length, rest.free_width
                if measure == BY_AREA:
                    score = along * across
                elif measure == BY_SIDE:
                    score = min(along - length, across - width)
                else:
                    one, other = self._squares(along, across, length, width)
                    score = (along * across) ** 2 - max(one, other)
                if least is None or score < least:
                    least, best = score, (rest, length, width, turned)
        if best is None:
            best = self._on_new_sheet(kind)
        if best is None:
            return False
        rest, length, width, turned = best
        self.layout.place(rest, length, width, kind, turned, self._across_first(rest, length, width))
        return True

    @staticmethod
    def _squares(along: int, across: int, length: int, width: int) -> tuple[int, int]:
        """Sum of the squared areas of the two rests, cut across the length first or along it first."""
        more_length, more_width = along - length, across - width
        return (
            (more_length * across) ** 2 + (length * more_width) ** 2,
            (along * more_width) ** 2 + (more_length * width) ** 2,
        )

    def _across_first(self, rest: Piece, length: int, width: int) -> bool:
        more_length, more_width = rest.free_length - length, rest.free_width - width
        if self.split == BIG_REST:
            across_first = max(more_length * rest.free_width, length * more_width) >= max(
                rest.free_length * more_width, more_length * width
            )
        elif self.split == LONG_SIDE:
            across_first = more_length >= more_width
        else:
            across_first = self.random.random() < 0.5
        if self.random.random() < 0.05:
            across_first = not across_first
        if self.restricted:
            ways = self._ways(rest, length, width)
            return across_first if across_first in ways else ways[0]
        return across_first

    def _ways(self, rest: Piece, length: int, width: int) -> list[bool]:
        """Which first cuts the saw allows for a part in this rest."""
        most, reach = self.instance.most_stages, self.instance.reach
        ways = []
        for across_first in (True, False):
            exact = length == rest.free_length or width == rest.free_width
            follows = exact or across_first == (rest.direction == 0)
            fills = length == rest.free_length and width == rest.free_width
            level = rest.depth + (not follows)
            ends = (width == rest.free_width) if rest.direction == 0 else (length == rest.free_length)
            if most is not None and level + (not (fills or (follows and ends))) > most:
                continue
            if self.instance.rips_first and rest.depth == 1 and not (rest.kids or (follows and rest.direction == 1)):
                continue
            if reach is not None and not self._reaches(rest, length, width, follows, reach):
                continue
            ways.append(across_first)
        return ways

    @staticmethod
    def _reaches(rest: Piece, length: int, width: int, follows: bool, reach: int) -> bool:
        """Whether every cut can be set: of the pieces side by side all but one are within reach of the fence.

        What is left over does not count, as it can come off in slices.
        """
        if rest.direction == 0:
            sizes = [kid.length for kid in rest.kids] + [length if follows else rest.free_length]
        else:
            sizes = [kid.width for kid in rest.kids] + [width if follows else rest.free_width]
        return sum([size > reach for size in sizes]) <= 1

    def _on_new_sheet(self, kind: int) -> tuple[Piece, int, int, bool] | None:
        layout, instance = self.layout, self.instance
        room = None if self.limit is None else self.limit - layout.cost
        stock = [
            number
            for number in self.by_price
            if layout.left[number]
            and number in instance.kinds[kind].stock
            and (room is None or instance.sheets[number].cost < room)
        ]
        if not stock:
            return None
        number = stock[0] if self.random.random() < 0.5 else self.random.choice(stock)
        sheet = instance.sheets[number]
        direction = 1 if instance.rips_first else self.random.randrange(2)
        for first in (direction, 1 - direction):
            opened = layout.take_sheet(number, first)
            ways = [
                size
                for size in self.sizes[kind]
                if size[0] <= sheet.length
                and size[1] <= sheet.width
                and (not self.restricted or self._ways(opened.root, size[0], size[1]))
            ]
            if ways:
                length, width, turned = self.random.choice(ways)
                return opened.root, length, width, turned
            layout.close_last()
        return None
