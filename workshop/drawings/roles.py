"""How each role looks: weights and dashes on the screen in px and on paper in points, and sizes of the lettering."""

from dataclasses import dataclass

from workshop.documents.lettering import MEDIUM, REGULAR, SEMIBOLD
from workshop.drawings.model import Lettering, Role


@dataclass(frozen=True)
class Stroke:
    """A line on paper: weight and dash in points, and the color's name."""

    weight: float
    color: str = "ink"
    dash: tuple[float, ...] = ()


PAPER_STROKES: dict[Role, Stroke] = {
    "base": Stroke(1.4),
    "frame": Stroke(1.4),
    "object": Stroke(1.0),
    "thin": Stroke(0.5),
    "hidden": Stroke(0.5, "edge", (3, 2)),
    "center": Stroke(0.4, "edge", (7, 2, 1.5, 2)),
    "hair": Stroke(0.35, "hair"),
    "grain": Stroke(0.3, "grain"),
    "chosen": Stroke(1.4),
}


@dataclass(frozen=True)
class Letters:
    """Lettering: its size on the screen in px, on paper in points, and its weight of the typeface."""

    screen: float
    paper: float
    font: str


LETTERS: dict[Lettering, Letters] = {
    "number": Letters(18, 10.5, SEMIBOLD),
    "whole": Letters(17, 10, SEMIBOLD),
    "figure": Letters(15, 8.5, MEDIUM),
    "name": Letters(14, 8.5, REGULAR),
    "note": Letters(14, 8.5, REGULAR),
}
LEAST_SCREEN, LEAST_PAPER = 11, 6


@dataclass(frozen=True)
class Medium:
    """Where a drawing goes: gaps are given in px and are `gap` of that here; `least` is the smallest lettering."""

    on_paper: bool
    gap: float
    least: float

    def size(self, lettering: Lettering) -> float:
        letters = LETTERS[lettering]
        return letters.paper if self.on_paper else letters.screen


SCREEN = Medium(on_paper=False, gap=1, least=LEAST_SCREEN)
PAPER = Medium(on_paper=True, gap=0.6, least=LEAST_PAPER)
