"""What the giving page says: stacks, rooms, and which tone group each room would get."""

from collections.abc import Sequence
from dataclasses import dataclass
from hashlib import sha256

from django.core.exceptions import ValidationError
from django.db.models import Count, Q
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from jobs import giving
from jobs.calculations.giving import RoomNeed, RoomSuggestion, Suggestion, suggest
from jobs.giving import RoomRow, Stack, counted, shown_sheets, told
from jobs.models import Job, Room
from materials.models import Material, Sheet, ToneGroup

Plan = list[tuple[Room, ToneGroup, int]]


@dataclass
class RoomTable:
    """A room's row with what it is suggested to get."""

    row: RoomRow
    gives: list[tuple[ToneGroup, int]]

    @property
    def first_gift(self) -> tuple[ToneGroup, str] | None:
        """The group the row's button gives, and how much of it as it is typed."""
        if not self.gives:
            return None
        group, halves = self.gives[0]
        return group, counted(halves)

    @property
    def warning(self) -> str:
        return giving.two_groups_words(self.row.room, self.row.groups) if self.row.has_two_groups else ""


@dataclass
class Table:
    """One sheet material of a job: its stacks, its rooms, the suggestion in words."""

    material: Material
    stacks: list[Stack]
    rooms: list[RoomTable]
    words: list[str]
    unsorted: int
    set_aside: int

    @property
    def free_micro(self) -> int:
        return sum(stack.free_micro for stack in self.stacks)

    @property
    def need_micro(self) -> int:
        return sum(room.row.need_micro for room in self.rooms)

    @property
    def has_micro(self) -> int:
        return sum(room.row.has_micro for room in self.rooms)

    @property
    def is_short(self) -> bool:
        return any(room.row.short_halves for room in self.rooms)

    @property
    def can_give(self) -> bool:
        return any(room.gives for room in self.rooms)

    @property
    def plan(self) -> Plan:
        return [(room.row.room, group, halves) for room in self.rooms for group, halves in room.gives]

    @property
    def plan_seen(self) -> str:
        """Short for the suggestion as it is shown; what is sent back with it can be held against the one of now."""
        gifts = [f"{room.pk}.{group.pk}.{halves}" for room, group, halves in self.plan]
        return sha256(" ".join(gifts).encode()).hexdigest()[:16]

    def check_seen(self, seen: str) -> None:
        """Refuse to give by a suggestion that is another one than was seen."""
        if seen != self.plan_seen:
            raise ValidationError(_("Stacks or needs changed meanwhile. Look at the suggestion as it is now."))


def tables(job: Job) -> list[Table]:
    return [table(job, material) for material in giving.sheet_materials(job)]


def table(job: Job, material: Material) -> Table:
    """One material of the job; a constant number of queries."""
    stacks, rows = giving.stacks(material), giving.room_rows(job, material)
    found = _suggest(stacks, rows)
    by_room = {room.key: room for room in found.rooms}
    counts = Sheet.objects.filter(lot__material=material, left_on=None, tone_group=None).aggregate(
        unsorted=Count("pk", filter=Q(set_aside_on=None)),
        set_aside=Count("pk", filter=Q(set_aside_on__isnull=False)),
    )
    return Table(
        material=material,
        stacks=stacks,
        rooms=[RoomTable(row, _gifts(by_room[row.room.pk], stacks)) for row in rows],
        words=_words(found, rows, stacks),
        unsorted=counts["unsorted"],
        set_aside=counts["set_aside"],
    )


def _suggest(stacks: Sequence[Stack], rows: Sequence[RoomRow]) -> Suggestion:
    place = {stack.group.pk: index for index, stack in enumerate(stacks)}
    needs = [
        RoomNeed(row.room.pk, row.short_halves, tuple(place[group.pk] for group, _n in row.groups if group))
        for row in rows
    ]
    return suggest(needs, [stack.free_halves for stack in stacks])


def _gifts(room: RoomSuggestion, stacks: Sequence[Stack]) -> list[tuple[ToneGroup, int]]:
    return [(stacks[index].group, halves) for index, halves in room.gives]


def _words(found: Suggestion, rows: Sequence[RoomRow], stacks: Sequence[Stack]) -> list[str]:
    """What the suggestion does and what it leaves, in sentences."""
    names = {row.room.pk: row.room.name for row in rows}
    words = [_gives_words(names[room.key], room, _gifts(room, stacks)) for room in found.rooms if room.gives]
    words += [
        _("%(room)s still lacks %(sheets)s.") % {"room": names[room.key], "sheets": shown_sheets(room.missing)}
        for room in found.rooms
        if room.missing
    ]
    return words


def _gives_words(name: str, room: RoomSuggestion, gifts: Sequence[tuple[ToneGroup, int]]) -> str:
    sentence = _("%(room)s gets %(gifts)s.") % {"room": name, "gifts": told(gifts)}
    if not room.steps:
        return sentence
    steps = ngettext(
        "It then holds groups %(steps)s step apart.", "It then holds groups %(steps)s steps apart.", room.steps
    )
    return f"{sentence} {steps % {'steps': room.steps}}"
