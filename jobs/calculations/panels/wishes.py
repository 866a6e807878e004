"""What is asked of a layout: module, reveal, where it starts, what a panel must keep to."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from jobs.calculations.surfaces.errors import LayoutRefused, NotASize, Told, WiderThanSheet
from jobs.calculations.surfaces.sizes import check_amount, check_size
from workshop.calculations.lengths import GRID_NM

THE_MODULE = "module"
NO_PANEL = "a module of %(module)s and a reveal of %(reveal)s leave a panel no wider than the reveal"
TOO_WIDE = "its panels of %(panel)s are wider than the sheet gives, %(usable)s"
LEAST_TOO_WIDE = "a least width of %(least)s is wider than a panel, %(panel)s"
NO_SHEET_LEFT = "an edge clean-up of %(cleanup)s leaves nothing of the sheet"
NO_CENTERS = "joints are to fall on centers and none are told"
MODULE_OF = "a module of %(length)s"
REVEAL_OF = "a reveal of %(length)s"
SHEET_OF = "a sheet that gives %(length)s"
LEAST_OF = "a least width of %(length)s"
CLEANUP_OF = "a clean-up of %(length)s"
CENTERS_OF = "centers of %(length)s"
BALANCED_START = "a balanced layout"


class Run(StrEnum):
    """Which way the panels stand."""

    UP = "up"
    ACROSS = "across"


class Start(StrEnum):
    """Where a layout starts; for panels that run across, the foot is its left end."""

    LEFT = "from the left end"
    RIGHT = "from the right end"
    PANEL = "centered on a panel"
    JOINT = "centered on a joint"
    BALANCED = "balanced"
    CENTERS = "on centers"


class AtOpening(StrEnum):
    """What is done where neither a shift nor equal panels keep joints clear of an opening."""

    NOTCH = "notch"
    JOINT = "joint"


class Up(StrEnum):
    """Where the sheet's marked top end lies."""

    TOP = "top"
    LEFT = "left"
    RIGHT = "right"


class Meets(StrEnum):
    """What a side of a panel meets."""

    JOINT = "joint"
    CROSS_JOINT = "cross joint"
    OPENING = "opening"
    EDGE = "edge"


@dataclass(frozen=True)
class Stock:
    """A sheet as it comes; `cleanup_nm` falls off every edge, the kerf inside it."""

    width_nm: int
    length_nm: int
    cleanup_nm: int = 0

    def __post_init__(self) -> None:
        check_size(self.width_nm, "width_nm", "sheet")
        check_size(self.length_nm, "length_nm", "sheet")
        check_amount(self.cleanup_nm, "cleanup_nm", "sheet")
        if 2 * self.cleanup_nm >= min(self.width_nm, self.length_nm):
            would_do = Told(CLEANUP_OF, {"length": 0}), Told(CLEANUP_OF, {"length": GRID_NM * 8})
            raise NotASize("cleanup_nm", "sheet", Told(NO_SHEET_LEFT, {"cleanup": self.cleanup_nm}), would_do)

    @property
    def usable_width_nm(self) -> int:
        """Between the cleaned edges."""
        return self.width_nm - 2 * self.cleanup_nm

    @property
    def usable_length_nm(self) -> int:
        """Between the cleaned ends."""
        return self.length_nm - 2 * self.cleanup_nm


@dataclass(frozen=True)
class Centers:
    """Studs or battens: the first one's center from the left end (or the foot), and their spacing."""

    spacing_nm: int
    first_nm: int = 0

    def __post_init__(self) -> None:
        check_size(self.spacing_nm, "spacing_nm", "centers")


@dataclass(frozen=True)
class Band:
    """Edge band or lipping, and on which sides of a panel it shows.

    Attributes:
        thickness_nm: taken off the cut size
        on: what the banded sides meet
        edges: names of surface edges that are banded
    """

    thickness_nm: int
    on: frozenset[Meets] = frozenset()
    edges: frozenset[str] = frozenset()

    def __post_init__(self) -> None:
        check_size(self.thickness_nm, "thickness_nm", "edge band")

    def covers(self, meets: Meets, of: str) -> bool:
        """Whether a side that meets this is banded."""
        return meets in self.on or (meets is Meets.EDGE and of in self.edges)


@dataclass(frozen=True)
class Wish:
    """What is asked of the layout of one surface.

    Attributes:
        module_nm: panel width and reveal
        reveal_nm: between two panels
        run: whether panels stand up or lie across
        start: where the layout starts
        least_nm: the least width of a panel or a leg
        grid_nm: what the shop measures to
        stock: the sheet, none where it does not matter yet
        cross_nm: cross joints; up: top edges of the panels below, from the level line; across: from the left end
        cross_reveal_nm: reveal of the cross joints, none for the same as the others
        centers: studs or battens that joints should fall on
        at_openings: notch or joint, by the opening's name; notch where nothing is said
        clear_nm: least distance of a cut-out from the sides of its panel
        band: edge band or lipping
        across_top: where the top end of panels that run across lies
        may_turn: whether panels may be turned end for end
    """

    module_nm: int
    reveal_nm: int
    run: Run = Run.UP
    start: Start = Start.BALANCED
    least_nm: int = 0
    grid_nm: int = GRID_NM
    stock: Stock | None = None
    cross_nm: tuple[int, ...] = ()
    cross_reveal_nm: int | None = None
    centers: Centers | None = None
    at_openings: Mapping[str, AtOpening] = field(default_factory=dict)
    clear_nm: int = 0
    band: Band | None = None
    across_top: Up = Up.LEFT
    may_turn: bool = False

    def __post_init__(self) -> None:
        _check(self)

    @property
    def panel_nm(self) -> int:
        """The width of a full panel."""
        return self.module_nm - self.reveal_nm

    @property
    def between_courses_nm(self) -> int:
        """The reveal of a cross joint."""
        return self.reveal_nm if self.cross_reveal_nm is None else self.cross_reveal_nm

    @property
    def up(self) -> Up:
        """Where the marked top end of every panel lies."""
        return Up.TOP if self.run is Run.UP else self.across_top


def _check(wish: Wish) -> None:
    check_size(wish.module_nm, "module_nm", THE_MODULE)
    check_size(wish.grid_nm, "grid_nm", THE_MODULE)
    for name in ("reveal_nm", "least_nm", "clear_nm"):
        check_amount(getattr(wish, name), name, THE_MODULE)
    check_amount(wish.between_courses_nm, "cross_reveal_nm", THE_MODULE)
    if wish.panel_nm <= wish.reveal_nm:
        facts = {"module": wish.module_nm, "reveal": wish.reveal_nm}
        would_do = Told(MODULE_OF, {"length": 8 * wish.reveal_nm}), Told(REVEAL_OF, {"length": wish.module_nm // 8})
        raise LayoutRefused("reveal_nm", THE_MODULE, Told(NO_PANEL, facts), would_do)
    if wish.stock and wish.panel_nm > (usable := wish.stock.usable_width_nm):
        would_do = Told(MODULE_OF, {"length": usable + wish.reveal_nm}), Told(SHEET_OF, {"length": wish.panel_nm})
        reason = Told(TOO_WIDE, {"panel": wish.panel_nm, "usable": usable})
        raise WiderThanSheet("module_nm", THE_MODULE, reason, would_do)
    if wish.least_nm > wish.panel_nm:
        would_do = Told(LEAST_OF, {"length": wish.panel_nm}), Told(LEAST_OF, {"length": wish.panel_nm // 4})
        reason = Told(LEAST_TOO_WIDE, {"least": wish.least_nm, "panel": wish.panel_nm})
        raise LayoutRefused("least_nm", THE_MODULE, reason, would_do)
    if wish.start is Start.CENTERS and wish.centers is None:
        would_do = Told(CENTERS_OF, {"length": wish.module_nm}), Told(BALANCED_START)
        raise LayoutRefused("centers", THE_MODULE, Told(NO_CENTERS), would_do)
