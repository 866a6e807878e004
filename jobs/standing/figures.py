"""What is known of a room and of a job, and the words for it."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from django.urls import reverse
from django.utils.translation import gettext as _

from jobs.calculations import progress
from jobs.hours import bare
from jobs.models import Job, Need, Room, RoomStage, Stage
from materials.models import ToneGroup
from workshop import clock
from workshop.calculations import units
from workshop.language import decimal_mark

HALF_MICRO = 500_000


@dataclass(frozen=True)
class Tone:
    """Half sheets of one tone group in a room; `group` is None for sheets not sorted yet.

    `of` names the material where a room has sheets of more than one.
    """

    group: ToneGroup | None
    halves: int
    of: str = ""

    @property
    def count(self) -> str:
        return sheets(self.halves * HALF_MICRO)


@dataclass(frozen=True)
class Next:
    """What to do next in a room, the page where it is done, and the button that leads there."""

    words: str
    url: str
    button: str = ""
    is_late: bool = False


@dataclass
class RoomStanding:
    """One room: its stages, what it has of what it needs, and time spent of time planned."""

    room: Room
    stages: list[RoomStage]
    slots: list[dict[str, object]] = field(default_factory=list)
    tones: list[Tone] = field(default_factory=list)
    needs: int = 0
    sheets_needed_micro: int = 0
    sheets_given_micro: int = 0
    sheets_short_micro: int = 0
    are_sheets_free: bool = False
    are_sheets_coming: bool = False
    spent_minutes: int = 0
    late: str = ""

    def __post_init__(self) -> None:
        self.progress = progress.progress([as_stage(row) for row in self.stages])

    @property
    def is_begun(self) -> bool:
        return self.spent_minutes > 0 or any(row.done for row in self.stages)

    @property
    def mark(self) -> str:
        if self.progress.is_done:
            return "done"
        if self.late:
            return "late"
        return "in_work" if self.is_begun else "not_started"

    @property
    def mark_words(self) -> str:
        words = {
            "late": _("Late"),
            "done": _("Done"),
            "in_work": _("In work"),
            "not_started": _("Not started"),
        }
        return words[self.mark]

    @property
    def sheets_words(self) -> str:
        if not self.sheets_needed_micro and not self.sheets_given_micro:
            return ""
        given = units.edit_quantity(units.from_micro(self.sheets_given_micro), "sheet", decimal_mark())
        return _("%(given)s of %(needed)s") % {"given": given, "needed": sheets(self.sheets_needed_micro)}

    @property
    def hours_words(self) -> str:
        return hours_words(self.spent_minutes, self.progress.planned_minutes)

    @property
    def next(self) -> Next:
        return next_of(self)

    @property
    def sentence(self) -> str:
        """The stage bar in one sentence."""
        return _("%(room)s: %(percent)s%% done. %(next)s.") % {
            "room": self.room.name,
            "percent": self.progress.percent,
            "next": self.next.words,
        }


@dataclass
class JobStanding:
    """A job: its rooms in their order, and the whole."""

    job: Job
    rooms: list[RoomStanding]
    ruler: list[dict[str, object]]

    def __post_init__(self) -> None:
        self.progress = progress.progress([as_stage(row) for room in self.rooms for row in room.stages])
        self.spent_minutes = sum(room.spent_minutes for room in self.rooms)

    @property
    def words(self) -> str:
        if not self.progress.planned_minutes:
            return _("%(percent)s%% done; no hours planned yet") % {"percent": self.progress.percent}
        spent, planned = bare(self.spent_minutes), bare(self.progress.planned_minutes)
        return _("%(percent)s%% done; %(spent)s of %(planned)s planned hours spent") % {
            "percent": self.progress.percent,
            "spent": spent,
            "planned": planned,
        }


@dataclass(frozen=True)
class NeedRow:
    """A material a room takes, and how much of it the room has."""

    need: Need
    given_micro: int
    caution: str = ""

    @property
    def words(self) -> str:
        unit = self.need.material.unit
        given = units.edit_quantity(units.from_micro(self.given_micro), unit, decimal_mark())
        needed = units.show_quantity(units.from_micro(self.need.quantity_micro), unit, decimal_mark())
        return _("%(given)s of %(needed)s") % {"given": given, "needed": needed}

    @property
    def short_micro(self) -> int:
        return max(self.need.quantity_micro - self.given_micro, 0)

    @property
    def over_micro(self) -> int:
        return max(self.given_micro - self.need.quantity_micro, 0)


def sheets(micro: int) -> str:
    return units.show_quantity(units.from_micro(micro), "sheet", decimal_mark())


def hours_words(spent: int, planned: int) -> str:
    if not planned:
        return _("%(spent)s h, none planned") % {"spent": bare(spent)}
    return _("%(spent)s of %(planned)s h") % {"spent": bare(spent), "planned": bare(planned)}


def as_stage(row: RoomStage) -> progress.Stage:
    return progress.Stage(row.planned_minutes, row.total, row.done, row.stage_id, row.stage.lane)


def next_of(standing: RoomStanding) -> Next:
    """What is next: late material, the room's list, its sheets to give or to order, its plan, its stages in order."""
    room = standing.room
    page = reverse("jobs:room", args=[room.pk])
    if standing.progress.is_done:
        return Next(_("Done"), reverse("jobs:job", args=[room.job_id]), _("To the other rooms"))
    if standing.late:
        return Next(standing.late, page, is_late=True)
    if not standing.needs and not standing.is_begun:
        url = reverse("jobs:need_new", args=[room.pk])
        return Next(_("Next: list what it takes"), url, _("List what it takes"))
    lacks_sheets = standing.sheets_short_micro and not _panels_done(standing.stages)
    short, buying = {"sheets": sheets(standing.sheets_short_micro)}, reverse("jobs:lead_times")
    if lacks_sheets and standing.are_sheets_free:
        url = reverse("jobs:giving", args=[room.job_id])
        return Next(_("Next: give %(sheets)s") % short, url, _("Give %(sheets)s") % short)
    if lacks_sheets and not standing.are_sheets_coming:
        return Next(_("Next: order %(sheets)s") % short, buying, _("Order %(sheets)s") % short)
    if not standing.progress.planned_minutes and not standing.is_begun:
        url = reverse("jobs:room_plan", args=[room.pk])
        return Next(_("Next: plan the stages"), url, _("Plan the stages"))
    if lacks_sheets:
        return Next(_("Next: %(sheets)s to come") % short, buying, _("See when they come"))
    return Next(_("Next: %(stage)s") % {"stage": _stage_words(standing)}, page)


def _panels_done(stages: Sequence[RoomStage]) -> bool:
    panels = [row for row in stages if row.stage.lane == Stage.Lane.PANELS and row.total]
    return bool(panels) and all(row.is_done for row in panels)


def _stage_words(standing: RoomStanding) -> str:
    """The stage in work, else the first one not begun: "cut panels, 8 of 12 left"."""
    rows = {row.stage_id: row for row in standing.stages}
    coming = [rows[stage.key] for stage in standing.progress.next_stages]
    if not coming:
        return _("add a stage")
    row = next((row for row in coming if row.done), coming[0])
    starts_on = standing.room.starts_on
    if not standing.is_begun and starts_on and starts_on > clock.today():
        return _("%(stage)s, from %(day)s") % {
            "stage": stage_words(row.stage),
            "day": clock.day_text(starts_on),
        }
    return left_words(row)


def left_words(row: RoomStage) -> str:
    if row.total > 1 and row.done:
        return _("%(stage)s, %(left)s of %(total)s left") % {
            "stage": stage_words(row.stage),
            "left": row.left,
            "total": row.total,
        }
    return stage_words(row.stage)


def stage_words(stage: Stage) -> str:
    """A stage inside a sentence."""
    name = stage.full_name
    return name[:1].lower() + name[1:]
