"""What can be wrong with a surface or a layout, told with its field, its facts and two things that would do.

Every text is constant, with `%(name)s` for a fact, so that a page can translate it; lengths among the facts are whole
nanometers, which a page shows in the job's system. The exception's own message shows them in inches.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from workshop.calculations.lengths import show_length

Fact = int | str
"""A length in nanometers, or a name."""


@dataclass(frozen=True)
class Told:
    """A sentence with its facts: `text` is constant and can be translated."""

    text: str
    facts: Mapping[str, Fact] = field(default_factory=dict)

    def __str__(self) -> str:
        shown = {name: show_length(fact) if isinstance(fact, int) else fact for name, fact in self.facts.items()}
        return self.text % shown


class MakingError(ValueError):
    """Something typed that no wall, ceiling or layout can have.

    Attributes:
        field: the field it was typed in, a name of the argument or attribute
        of: the name of the wall, opening, cut-out or panel it belongs to
        reason: why not
        would_do: two things that would do
    """

    def __init__(self, field: str, of: str, reason: Told, would_do: tuple[Told, Told]) -> None:
        self.field, self.of, self.reason, self.would_do = field, of, reason, would_do
        first, second = would_do
        super().__init__(f"{of}: {reason}; {first} or {second} would do")


class NotASize(MakingError):
    """A size of zero or less, or beyond a kilometer."""


class NotASurface(MakingError):
    """Corners that do not go round one surface."""


class SizesContradict(MakingError):
    """Measured sizes that no wall can have together."""


class OpeningOutside(MakingError):
    """An opening that reaches beyond its surface."""


class OpeningsOverlap(MakingError):
    """Two openings, or their reveals, in one place."""


class CutOutOutside(MakingError):
    """A cut-out beyond its surface, in an opening or over another cut-out."""


class MarkOutside(MakingError):
    """A mark for access where there is no panel."""


class NoSuchEdge(MakingError):
    """A condition for an edge, or a meeting at an edge, that the surface does not have."""


class NameTwice(MakingError):
    """Two things of one name where names tell them apart."""


class EdgesContradict(MakingError):
    """Edge conditions that do not go together: of the edge itself, or of the two surfaces that meet there."""


class NothingLeft(MakingError):
    """Edge conditions that leave no face to be panelled."""


class LayoutRefused(MakingError):
    """A module, reveal or least width with which nothing can be laid out."""


class WiderThanSheet(LayoutRefused):
    """Panels that the sheet does not give."""


class LeastWidthNotKept(LayoutRefused):
    """Neither balanced layout keeps the least width.

    Attributes:
        largest_least_nm: the largest least width that a balanced layout keeps
        last_panel_nm: width of the last panel in the layout from one end
    """

    def __init__(
        self, of: str, reason: Told, would_do: tuple[Told, Told], largest_least_nm: int, last_panel_nm: int
    ) -> None:
        self.largest_least_nm, self.last_panel_nm = largest_least_nm, last_panel_nm
        super().__init__("least_nm", of, reason, would_do)
