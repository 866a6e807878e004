"""The pull list of a job: which sheets come off which stack for each room."""

from dataclasses import dataclass, field

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
