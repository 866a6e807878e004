"""The question before a room would hold sheets of two tone groups: it is asked once, and done when it is meant."""

from collections import defaultdict
from collections.abc import Collection, Sequence

from django.core.exceptions import ValidationError
from django.db.models import Count
from django.utils.translation import ngettext

from jobs.giving.words import told_groups
from jobs.models import Given, Room
from materials.models import Half, ToneGroup


class WouldMix(ValidationError):
    """A room would hold more tone groups of a material than it does; `question` says which."""

    def __init__(self, question: str) -> None:
        super().__init__(question, code="mixes")
        self.question = question


def check(room: Room, halves: Sequence[Half], leaving: Collection[int] = ()) -> None:
    """Ask where a room would hold a tone group more beside those it holds.

    Args:
        halves: what the room is to get; their sheets with lot and group are at hand.
        leaving: halves that leave the room at the same time, by their keys.

    Raises:
        WouldMix: with what the room would hold.
    """
    for material in {half.sheet.lot.material_id for half in halves}:
        coming = [half for half in halves if half.sheet.lot.material_id == material]
        holds = _held(room, material, leaving)
        new = {half.sheet.tone_group_id for half in coming} - holds.keys()
        if new and len(new | holds.keys()) > 1:
            raise WouldMix(_question(room, holds, coming))


def _held(room: Room, material: int, leaving: Collection[int]) -> dict[int | None, int]:
    """The halves a room has of each tone group of a material, light to dark."""
    rows = Given.objects.filter(room=room, half__sheet__lot__material=material).exclude(half__in=leaving)
    groups = rows.order_by("half__sheet__tone_group__place").values_list("half__sheet__tone_group")
    return dict(groups.annotate(n=Count("pk")))


def _question(room: Room, holds: dict[int | None, int], coming: Sequence[Half]) -> str:
    counted: dict[int | None, int] = defaultdict(int, holds)
    for half in coming:
        counted[half.sheet.tone_group_id] += 1
    groups = ToneGroup.objects.in_bulk([key for key in counted if key])
    named = sorted(
        ((groups.get(key), n) for key, n in counted.items()), key=lambda each: each[0].place if each[0] else 0
    )
    words = ngettext(
        "%(room)s would hold %(count)s tone group: %(groups)s.",
        "%(room)s would hold %(count)s tone groups: %(groups)s.",
        len(named),
    )
    return words % {"room": room.name, "count": len(named), "groups": told_groups(named)}
