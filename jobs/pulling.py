"""The pull list of a job: which sheets come off which stack for each room."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import groupby

from django.db.models import F

from jobs.models import Given, Job, Room
from materials.models import Lot, Sheet, ToneGroup


@dataclass
class Pulled:
    """The sheets of one stack that a room has, from the top down; a half is named with its letter."""

    lot: Lot
    group: ToneGroup | None
    sides: dict[Sheet, str] = field(default_factory=dict)

    @property
    def pieces(self) -> list[str]:
        sheets = sorted(self.sides, key=lambda sheet: (-(sheet.place or 0), sheet.number))
        return [f"{sheet.number}{'' if len(self.sides[sheet]) == 2 else self.sides[sheet]}" for sheet in sheets]


@dataclass
class StackPull:
    """The sheets to take from one stack, from the top down, each with where its halves go."""

    lot: Lot
    group: ToneGroup | None
    sheets: list[tuple[Sheet, str]] = field(default_factory=list)


def pull_stacks(job: Job) -> list[StackPull]:
    """For each stack of which rooms of the job have something, its sheets; lots by number, groups light to dark."""
    given = (
        Given.objects.filter(room__job=job)
        .select_related("room", "half__sheet__lot__material", "half__sheet__tone_group")
        .order_by(
            "half__sheet__lot__number",
            "half__sheet__tone_group__place",
            F("half__sheet__place").desc(nulls_last=True),
            "half__sheet__number",
            "half__side",
        )
    )
    stacks: dict[tuple[int, int | None], StackPull] = {}
    for (lot, group), rows in groupby(given, key=lambda row: (row.half.sheet.lot, row.half.sheet.tone_group)):
        pulled = stacks.setdefault((lot.pk, group.pk if group else None), StackPull(lot, group))
        for sheet, halves in groupby(rows, key=lambda row: row.half.sheet):
            pulled.sheets.append((sheet, _goes_to(list(halves))))
    return list(stacks.values())


def _goes_to(halves: Sequence[Given]) -> str:
    """The room of a whole sheet; of halves each with its letter: "A Practice 1, B Lobby"."""
    rooms = {row.room.name for row in halves}
    if len(halves) == 2 and len(rooms) == 1:
        return rooms.pop()
    return ", ".join(f"{row.half.side} {row.room.name}" for row in halves)


def pull_lists(job: Job) -> list[tuple[Room, list[Pulled]]]:
    """For each room that has sheets, in the order of installation, its stacks; one query."""
    given = (
        Given.objects.filter(room__job=job)
        .select_related("room", "half__sheet__lot__material", "half__sheet__tone_group")
        .order_by("room__place", "room", "half__sheet__lot__number", "half__sheet__tone_group__place", "half__side")
    )
    rooms: dict[Room, dict[tuple[int, int | None], Pulled]] = {}
    for row in given:
        sheet = row.half.sheet
        stacks = rooms.setdefault(row.room, {})
        pulled = stacks.setdefault((sheet.lot_id, sheet.tone_group_id), Pulled(sheet.lot, sheet.tone_group))
        pulled.sides[sheet] = pulled.sides.get(sheet, "") + row.half.side
    return [(room, list(stacks.values())) for room, stacks in rooms.items()]
