"""A plotted drawing in a PDF: a flowable of the document family, and the bar to measure a scale by."""

from dataclasses import dataclass

from reportlab.lib.colors import Color, HexColor, white
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from workshop.documents.lettering import EDGE, HAIR, INK, Style, width_of, write
from workshop.drawings.model import Drawing
from workshop.drawings.plotting import Path, Plot, Text, on_paper
from workshop.drawings.roles import LETTERS, PAPER_STROKES, Stroke

PT_OF_MM = 72 / 25.4
SCALES = (1, 2, 5, 10, 20, 25, 50, 100, 200)
COLORS: dict[str, Color] = {"ink": INK, "edge": EDGE, "hair": HAIR, "grain": HexColor("#8a6d45")}
MARKS = {"dimension": Stroke(0.4), "mark": Stroke(1.0), "tally": Stroke(0.7)}
UNDER = {"paper": white, "ink": INK}


@dataclass(frozen=True)
class Scaled:
    """A drawing at a whole scale; 1:`ratio`."""

    plot: Plot
    ratio: int


def fitted(drawing: Drawing, width: float, height: float) -> Scaled:
    """Return the drawing at the largest usual scale at which it fits a space [pt].

    Returns:
        the drawing plotted, and its ratio; the smallest usual scale where none fits.
    """
    for ratio in SCALES:
        plot = on_paper(drawing, PT_OF_MM / ratio)
        if plot.width <= width and plot.height <= height:
            break
    return Scaled(plot, ratio)


class DrawingPart(Flowable):
    """A drawing among the parts of a document, at the left, never split."""

    def __init__(self, plot: Plot) -> None:
        super().__init__()
        self.plot = plot

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        return width, self.plot.height

    def draw(self) -> None:
        draw(self.canv, self.plot, 0, self.plot.height)


class CheckBar(Flowable):
    """A bar of a stated length on the paper, so that a print can be measured before it is trusted."""

    def __init__(self, length: float, text: str) -> None:
        """Take the length [pt] and the words beside it."""
        super().__init__()
        self.length, self.text = length, text

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        return width, 24

    def draw(self) -> None:
        self.canv.setStrokeColor(INK)
        self.canv.setLineWidth(1)
        self.canv.line(0, 8, self.length, 8)
        for x in (0, self.length / 2, self.length):
            self.canv.line(x, 4, x, 12)
        write(self.canv, self.text, Style(8.5), self.length + 8, 5)


def draw(canvas: Canvas, plot: Plot, left: float, top: float) -> None:
    """Draw with the upper left corner at a place of the page [pt from its foot]."""
    canvas.saveState()
    canvas.setLineJoin(0)
    for piece in plot.pieces:
        for part in piece.paths:
            if isinstance(part, Text):
                _write(canvas, part, left, top)
            else:
                _stroke(canvas, part, left, top)
    canvas.restoreState()


def _stroke(canvas: Canvas, path: Path, left: float, top: float) -> None:
    look = PAPER_STROKES.get(path.role) or MARKS[path.role]
    canvas.setLineWidth(look.weight)
    canvas.setStrokeColor(COLORS[look.color])
    canvas.setDash(list(look.dash))
    points = [(left + x, top - y) for x, y in path.points]
    line = canvas.beginPath()
    line.moveTo(*points[0])
    if path.curve:
        line.curveTo(*points[1], *points[2], *points[3])
    else:
        for point in points[1:]:
            line.lineTo(*point)
    if path.closed:
        line.close()
    if path.fill.startswith("hatch-"):
        _hatch(canvas, points)
    elif path.fill:
        canvas.setFillColor(UNDER.get(path.fill) or HexColor(path.fill))
    canvas.drawPath(line, stroke=1, fill=int(bool(path.fill) and not path.fill.startswith("hatch-")))


def _hatch(canvas: Canvas, points: list[tuple[float, float]]) -> None:
    """Lines at 45 degrees within the outline, as not usable or existing parts are shown."""
    canvas.saveState()
    outline = canvas.beginPath()
    outline.moveTo(*points[0])
    for point in points[1:]:
        outline.lineTo(*point)
    outline.close()
    canvas.clipPath(outline, stroke=0, fill=0)
    canvas.setLineWidth(0.35)
    canvas.setStrokeColor(EDGE)
    canvas.setDash()
    xs, ys = [x for x, _ in points], [y for _, y in points]
    tall = max(ys) - min(ys)
    at = min(xs) - tall
    while at < max(xs):
        canvas.line(at, min(ys), at + tall, max(ys))
        at += 4.5
    canvas.restoreState()


def _write(canvas: Canvas, text: Text, left: float, top: float) -> None:
    style = Style(text.size, LETTERS[text.lettering].font)
    shift = {"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor] * width_of(text.text, style)
    x, y = left + text.at[0], top - text.at[1]
    canvas.saveState()
    canvas.translate(x, y)
    if text.turned:
        canvas.rotate(90)
    write(canvas, text.text, style, -shift, 0)
    canvas.restoreState()
