"""A drawing in mm brought to a scale: plain strokes and letters that a writer of svg or PDF sets down as they are.

Places are px or points from the upper left corner, y downward. Lettering, ticks, arrows and the distance of dimension
rows keep their size whatever the scale.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

from workshop.documents.lettering import Style, printable, width_of
from workshop.drawings.model import Chain, Drawing, Grain, Item, Line, Mark, Piece, Point, Shape, Tally, Words
from workshop.drawings.roles import LETTERS, PAPER, SCREEN, Medium

FIRST_ROW, ROW = 47, 40
TICK, ABOVE, NARROW = 5, 6, 8
EDGE_ROOM = 12


@dataclass(frozen=True)
class Path:
    points: Sequence[Point]
    role: str
    fill: str = ""
    closed: bool = False
    curve: bool = False


@dataclass(frozen=True)
class Text:
    at: Point
    text: str
    size: float
    lettering: str
    anchor: str
    turned: bool = False


@dataclass(frozen=True)
class Plotted:
    """A piece at its scale, still one thing to tap."""

    paths: Sequence[Path | Text]
    href: str = ""
    label: str = ""


@dataclass
class Plot:
    """A drawing at its scale: its size, and `per_mm`, how many px or points one mm takes."""

    sentence: str
    width: float
    height: float
    per_mm: float
    pieces: list[Plotted] = field(default_factory=list)


def plot(drawing: Drawing, medium: Medium, *, width: float | None = None, per_mm: float | None = None) -> Plot:
    """Return a drawing brought to a width, or to a scale.

    Args:
        drawing: what is drawn [mm]
        medium: the screen or paper
        width: the whole width it may take, margins with it [px or pt]
        per_mm: the scale instead; one of the two is given [px or pt of 1 mm]
    """
    sides = _margins(drawing, medium)
    if per_mm is None:
        per_mm = max(0.001, (width - sides.left - sides.right) / max(drawing.width, 1e-9))
    done = Plot(
        drawing.sentence,
        sides.left + drawing.width * per_mm + sides.right,
        sides.top + drawing.height * per_mm + sides.bottom,
        per_mm,
    )

    def place(point: Point) -> Point:
        x = sides.left + (point[0] - drawing.left) * per_mm
        return x, sides.top + (drawing.top - point[1]) * per_mm

    plotter = _Plotter(place, per_mm, medium)
    done.pieces = [plotter.piece(piece) for piece in drawing.pieces]
    return done


@dataclass(frozen=True)
class _Sides:
    left: float
    right: float
    top: float
    bottom: float


def _margins(drawing: Drawing, medium: Medium) -> _Sides:
    """Room for the rows of dimensions, below and at the left, and for lettering that stands out."""
    chains = [item for piece in drawing.pieces for item in piece.items if isinstance(item, Chain)]
    below = max((_away(chain) + 2 * EDGE_ROOM for chain in chains if chain.axis == "x"), default=EDGE_ROOM)
    left = max((_away(chain) + 2 * EDGE_ROOM for chain in chains if chain.axis == "y"), default=EDGE_ROOM)
    return _Sides(left * medium.gap, EDGE_ROOM * medium.gap, EDGE_ROOM * medium.gap, below * medium.gap)


def _away(chain: Chain) -> float:
    """How far the line of a chain lies from its object; below, the pieces' names stand between the two [px]."""
    return (FIRST_ROW / 2 if chain.axis == "y" else FIRST_ROW) + ROW * chain.row


@dataclass(frozen=True)
class _Plotter:
    place: Callable[[Point], Point]
    per_mm: float
    medium: Medium

    def piece(self, piece: Piece) -> Plotted:
        return Plotted([path for item in piece.items for path in self.item(item)], piece.href, piece.label)

    def item(self, item: Item) -> Iterator[Path | Text]:
        match item:
            case Line():
                yield Path([self.place(point) for point in item.points], item.role)
            case Shape():
                yield Path([self.place(point) for point in item.points], item.role, item.fill, closed=True)
            case Words():
                yield from self.words(item)
            case Chain():
                yield from self.chain(item)
            case Mark():
                yield from self.mark(item)
            case Tally():
                yield from self.tally(item)
            case Grain():
                yield from self.grain(item)

    def words(self, words: Words) -> Iterator[Text]:
        text, size = printable(words.text), self.medium.size(words.lettering)
        if words.room is not None:
            wide = width_of(text, Style(size, LETTERS[words.lettering].font))
            size = min(size, size * words.room * self.per_mm / wide) if wide else size
            if size < self.medium.least:
                return
        x, y = self.place(words.at)
        lift = words.lift * self.medium.gap
        at = (x - lift, y) if words.turned else (x, y - lift)
        yield Text(at, text, size, words.lettering, words.anchor, words.turned)

    def chain(self, chain: Chain) -> Iterator[Path | Text]:
        gap, upright = self.medium.gap, chain.axis == "y"
        away = _away(chain) * gap

        def at(along: float, off: float) -> Point:
            """A place on the chain's line, `off` px or points outward from it."""
            x, y = self.place((chain.base, along) if upright else (along, chain.base))
            return (x - away - off, y) if upright else (x, y + away + off)

        places, texts = self.gathered(chain)
        yield Path([at(places[0], 0), at(places[-1], 0)], "dimension")
        for place in places:
            x, y = at(place, 0)
            tick = TICK * gap
            yield Path([(x - tick, y + tick), (x + tick, y - tick)], "dimension")
            yield Path([at(place, tick), at(place, -away + 8 * gap)], "hair")
        for start, end, text in zip(places, places[1:], texts, strict=False):
            yield self.figure(at, (start + end) / 2, (end - start) * self.per_mm, text, chain)

    def figure(self, at: Callable[[float, float], Point], middle: float, room: float, text: str, chain: Chain) -> Text:
        """A size in the middle above its line; one too wide for its gap goes to the other side of the line."""
        name = "whole" if chain.whole else "figure"
        size = self.medium.size(name)
        fits = width_of(printable(text), Style(size, LETTERS[name].font)) <= room - 2
        above, below = ABOVE * self.medium.gap, ABOVE * self.medium.gap + size * 0.75
        off = (above if fits else -below) if chain.axis == "y" else (-above if fits else below)
        return Text(at(middle, off), printable(text), size, name, "middle", chain.axis == "y")

    def gathered(self, chain: Chain) -> tuple[list[float], list[str]]:
        """Equal neighbors whose text is wider than their gap, as one gap with their count."""
        style = Style(self.medium.size("figure"), LETTERS["figure"].font)
        places, texts = [chain.places[0]], []
        at = 0
        while at < len(chain.texts):
            end = at + 1
            narrow = width_of(printable(chain.texts[at]), style) > self.gap_of(chain, at) - NARROW * self.medium.gap
            while narrow and end < len(chain.texts) and chain.texts[end] == chain.texts[at]:
                end += 1
            count = end - at
            texts.append(f"{count} × {chain.texts[at]}" if count > 1 else chain.texts[at])
            places.append(chain.places[end])
            at = end
        return places, texts

    def gap_of(self, chain: Chain, at: int) -> float:
        return (chain.places[at + 1] - chain.places[at]) * self.per_mm

    def mark(self, mark: Mark) -> Iterator[Path]:
        x, y = self.place(mark.at)
        unit = self.medium.gap
        y += mark.drop * unit
        if mark.sign == "tick":
            yield Path([(x - 9 * unit, y), (x - 3 * unit, y + 7 * unit), (x + 9 * unit, y - 9 * unit)], "mark")
            return
        yield Path([(x, y), (x, y + 13 * unit)], "mark")
        yield Path([(x - 4 * unit, y + 6 * unit), (x, y), (x + 4 * unit, y + 6 * unit)], "mark", "ink", closed=True)

    def tally(self, tally: Tally) -> Iterator[Path]:
        x, y = self.place(tally.at)
        unit = self.medium.gap
        y += tally.drop * unit
        strokes = min(tally.place, 5)
        start = x - (strokes - 1) * 5 * unit / 2
        for number in range(strokes):
            left = start + number * 5 * unit
            yield Path([(left + unit, y), (left - unit, y + 14 * unit)], "tally")

    def grain(self, grain: Grain) -> Iterator[Path]:
        for points in _arches(grain):
            yield Path([self.place(point) for point in points], "grain", curve=True)


def _arches(grain: Grain) -> Iterator[list[Point]]:
    """Nested arches that rise from the foot, as curves of one cubic arc each: start, two handles, end."""
    long, short = (grain.width, grain.height) if grain.across else (grain.height, grain.width)
    for number in range(1, 6):
        half = short * (0.5 - 0.07 * number)
        reach = long * (0.94 - 0.16 * number)
        if half <= 0 or reach <= 0:
            return
        arch = [(-half, 0.0), (-half * 0.72, reach * 1.3), (half * 0.72, reach * 1.3), (half, 0.0)]
        if grain.across:
            yield [(grain.left + along, grain.bottom + short / 2 + side) for side, along in arch]
        else:
            yield [(grain.left + short / 2 + side, grain.bottom + along) for side, along in arch]


def on_screen(drawing: Drawing, width: float) -> Plot:
    """Return the drawing as wide as a page has room [px]."""
    return plot(drawing, SCREEN, width=width)


def on_paper(drawing: Drawing, per_mm: float) -> Plot:
    """Return the drawing at a scale [pt of 1 mm drawn]; 1:20 is 72 / 25.4 / 20."""
    return plot(drawing, PAPER, per_mm=per_mm)
