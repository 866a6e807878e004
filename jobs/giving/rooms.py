"""What rooms need and have of the sheet materials."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field

from django.db.models import Count, Q, QuerySet
from django.utils.translation import gettext as _

from jobs.giving.words import HALF_MICRO, shown_sheets
from jobs.models import Given, Job, Need, Room
from materials.models import Half, Material, Sheet, ToneGroup


@dataclass
class RoomRow:
    """What a room needs and has of a sheet material."""

    room: Room
    need_halves: int
    groups: list[tuple[ToneGroup | None, int]] = field(default_factory=list)

    @property
    def has_halves(self) -> int:
        return sum(halves for _group, halves in self.groups)

    @property
    def short_halves(self) -> int:
        return max(self.need_halves - self.has_halves, 0)

    @property
    def over_words(self) -> str:
        """What it has beyond its need, in words; empty where it has no more than that."""
        over = self.has_halves - self.need_halves
        if over <= 0:
            return ""
        words = {"room": self.room.name, "sheets": shown_sheets(over)}
        return _("%(room)s now has %(sheets)s more than it needs.") % words

    @property
    def has_two_groups(self) -> bool:
        return len(self.groups) > 1

    @property
    def need_micro(self) -> int:
        return self.need_halves * HALF_MICRO

    @property
    def has_micro(self) -> int:
        return self.has_halves * HALF_MICRO

    @property
    def group_micros(self) -> list[tuple[ToneGroup | None, int]]:
        return [(group, halves * HALF_MICRO) for group, halves in self.groups]


def sheet_materials(job: Job, room: Room | None = None) -> list[Material]:
    """The sheet materials a job's rooms, or one of them, need or have."""
    needed = Need.objects.filter(room__job=job)
    given = Given.objects.filter(room__job=job)
    if room:
        needed, given = needed.filter(room=room), given.filter(room=room)
    found = Q(pk__in=needed.values("material")) | Q(pk__in=given.values("half__sheet__lot__material"))
    return list(Material.objects.filter(found, kind=Material.Kind.SHEET).order_by("name"))


def room_rows(job: Job, material: Material) -> list[RoomRow]:
    """Each room of the job that needs or has the material; a constant number of queries."""
    need = dict(Need.objects.filter(room__job=job, material=material).values_list("room", "quantity_micro"))
    groups = {group.pk: group for group in material.tone_groups.all()}
    counted = (
        Given.objects.filter(room__job=job, half__sheet__lot__material=material)
        .values_list("room", "half__sheet__tone_group")
        .annotate(n=Count("pk"))
        .order_by("half__sheet__tone_group__place")
    )
    has: dict[int, list[tuple[ToneGroup | None, int]]] = defaultdict(list)
    for room, group, n in counted:
        has[room].append((groups.get(group), n))
    rooms = [room for room in job.rooms.all() if room.pk in need or room.pk in has]
    return [RoomRow(room, -(-need.get(room.pk, 0) // HALF_MICRO), has[room.pk]) for room in rooms]


def halves_of(room: Room) -> QuerySet[Half]:
    """What a room has, in the order of the numbers on the backs."""
    halves = Half.objects.filter(given__room=room).select_related("sheet__lot", "sheet__tone_group")
    return halves.order_by("sheet__lot__number", "sheet__number", "side")


def rooms_of_sheets(sheets: Iterable[Sheet]) -> dict[int, str]:
    """The room, or rooms, that hold something of each sheet; told as one half where the other is free."""
    held: dict[int, list[str]] = defaultdict(list)
    chosen = sheets.values("pk") if isinstance(sheets, QuerySet) else [sheet.pk for sheet in sheets]
    rows = Given.objects.filter(half__sheet__in=chosen)
    for sheet, room in rows.order_by("half").values_list("half__sheet", "room__name"):
        held[sheet].append(room)
    return {sheet: _rooms_words(rooms) for sheet, rooms in held.items()}


def _rooms_words(rooms: list[str]) -> str:
    """A room for each half given, in words."""
    if len(rooms) == 1:
        return _("%(room)s (one half)") % {"room": rooms[0]}
    return _(" and ").join(dict.fromkeys(rooms))
