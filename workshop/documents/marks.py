"""Marks drawn as lines: the two mirrored leaves of a flitch, and the tone swatch with its tally strokes."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.lib.colors import HexColor
from reportlab.pdfgen.canvas import Canvas

from workshop.documents.lettering import INK, Style, shortened, width_of, write

SWATCH_WIDTH, SWATCH_HEIGHT = 22.0, 11.0
DARK_STROKE, LIGHT_STROKE = "#2b1f10", "#ffffff"

_STROKE_STEP = 3.4
_BUNDLE_GAP = 2.6
_MOST_STROKES = 25
_LEANS = (1.1, 0.5, 1.3, 0.7)
_COLOR = re.compile("#[0-9a-fA-F]{6}")


@dataclass(frozen=True)
class Tone:
    """A tone group as it is shown: its color never stands without the strokes of its place and its name."""

    name: str
    color: str
    place: int
    count: str = ""

    @property
    def words(self) -> str:
        return f"{self.name} {self.count}" if self.count else self.name


@dataclass(frozen=True)
class Tones:
    """A table cell that shows tone groups, each as swatch, strokes and name."""

    tones: tuple[Tone, ...]

    def lines(self, width: float, style: Style) -> list["_ToneLine"]:
        lines: list[_ToneLine] = []
        x = width
        for tone in self.tones:
            swatch = swatch_width(tone.place)
            words = shortened(tone.words, style, width - swatch - 4)
            wide = swatch + 4 + width_of(words, style)
            if x + wide > width:
                lines.append(_ToneLine([], style))
                x = 0
            lines[-1].pieces.append((x, tone, words))
            x += wide + 10
        return lines


@dataclass(frozen=True)
class _ToneLine:
    pieces: list[tuple[float, Tone, str]]
    style: Style

    def draw(self, canvas: Canvas, x: float, baseline: float, _width: float) -> None:
        for offset, tone, words in self.pieces:
            draw_swatch(canvas, tone.color, tone.place, x + offset, baseline - 2)
            write(canvas, words, self.style, x + offset + swatch_width(tone.place) + 4, baseline)


def stroke_color(color: str) -> str:
    """Dark or white, the one that stands out more on the color (contrast by WCAG 2.2)."""
    light = _luminance(color)
    against_dark = (light + 0.05) / (_luminance(DARK_STROKE) + 0.05)
    against_white = 1.05 / (light + 0.05)
    return DARK_STROKE if against_dark >= against_white else LIGHT_STROKE


def _luminance(color: str) -> float:
    parts = (int(color[at : at + 2], 16) / 255 for at in (1, 3, 5))
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def tally(place: int) -> list[tuple[float, bool]]:
    """Where each stroke stands, and whether it crosses the four before it."""
    strokes = []
    x = 0.0
    for number in range(1, min(place, _MOST_STROKES) + 1):
        crosses = number % 5 == 0
        strokes.append((x - 4 * _STROKE_STEP if crosses else x, crosses))
        x += _BUNDLE_GAP if crosses else _STROKE_STEP
    return strokes


def _tally_width(place: int) -> float:
    return max((x + (3 * _STROKE_STEP if crosses else 0) for x, crosses in tally(place)), default=0.0)


def swatch_width(place: int) -> float:
    """Two bundles of five fit the swatch; more make it longer."""
    return max(SWATCH_WIDTH, _tally_width(place) + 8)


def draw_swatch(canvas: Canvas, color: str, place: int, x: float, y: float) -> None:
    """The swatch with its outline in ink and the strokes of its place; x and y are its lower left corner."""
    color = color if _COLOR.fullmatch(color) else LIGHT_STROKE
    width = swatch_width(place)
    canvas.saveState()
    canvas.setFillColor(HexColor(color))
    canvas.setStrokeColor(INK)
    canvas.setLineWidth(0.9)
    canvas.rect(x, y, width, SWATCH_HEIGHT, stroke=1, fill=1)
    canvas.setFillColor(HexColor(stroke_color(color)))
    left = x + (width - _tally_width(place)) / 2
    for number, (offset, crosses) in enumerate(tally(place)):
        if crosses:
            start, end = (left + offset - 1.6, y + 3.4), (left + offset + 3 * _STROKE_STEP + 1.6, y + 7.6)
        else:
            lean = _LEANS[number % len(_LEANS)]
            start, end = (left + offset - lean / 2, y + 2.2), (left + offset + lean / 2, y + 8.8)
        _pencil(canvas, start, end)
    canvas.restoreState()


def _pencil(canvas: Canvas, start: tuple[float, float], end: tuple[float, float]) -> None:
    """One stroke of a pencil: it lands broad and leaves thin."""
    (x1, y1), (x2, y2) = start, end
    length = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
    across_x, across_y = (y2 - y1) / length, (x1 - x2) / length
    path = canvas.beginPath()
    path.moveTo(x1 - across_x * 0.3, y1 - across_y * 0.3)
    path.lineTo(x1 + across_x * 0.3, y1 + across_y * 0.3)
    path.lineTo(x2 + across_x * 0.55, y2 + across_y * 0.55)
    path.lineTo(x2 - across_x * 0.55, y2 - across_y * 0.55)
    path.close()
    canvas.drawPath(path, stroke=0, fill=1)


_ARCHES: Sequence[tuple[float, float, float, float, float, float, float, float]] = (
    (16, 29.5, 10.5, 28.5, 4.5, 23, 2, 16),
    (16, 24.8, 10.5, 22.5, 7, 13, 6.2, 2),
    (16, 17.2, 13, 15, 11.2, 8.5, 10.6, 2),
)


def draw_mark(canvas: Canvas, x: float, y: float, size: float) -> None:
    """The mark: a square cut by its center line, arches of grain mirrored on both sides."""
    canvas.saveState()
    canvas.translate(x, y)
    canvas.scale(size / 32, size / 32)
    canvas.setStrokeColor(INK)
    canvas.setLineWidth(2)
    canvas.rect(1, 1, 30, 30)
    canvas.line(16, 1, 16, 31)
    canvas.setLineWidth(1.5)
    for x1, y1, x2, y2, x3, y3, x4, y4 in _ARCHES:
        canvas.bezier(x1, y1, x2, y2, x3, y3, x4, y4)
        canvas.bezier(32 - x1, y1, 32 - x2, y2, 32 - x3, y3, 32 - x4, y4)
    canvas.restoreState()
