"""One drawing, written as svg for pages and into PDFs: lines, shapes, words and dimensions in mm, each with a role.

    panel = Piece([Shape(corners, "object", "#eadfc9")], href, "B4")
    drawing = Drawing("Wall B, ten panels", [panel], 0, 0, 5639, 2438)
    svg(on_screen(drawing, 956))
    DrawingPart(fitted(drawing, 520, 400).plot)

It knows no subject. Reading order: model, roles, plotting, svg, pdf.
"""

from workshop.drawings.model import Chain, Drawing, Grain, Line, Mark, Piece, Shape, Tally, Words
from workshop.drawings.plotting import on_paper, on_screen
from workshop.drawings.svg import svg

__all__ = [
    "Chain",
    "Drawing",
    "Grain",
    "Line",
    "Mark",
    "Piece",
    "Shape",
    "Tally",
    "Words",
    "on_paper",
    "on_screen",
    "svg",
]
