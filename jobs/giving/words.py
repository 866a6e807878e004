"""Half sheets as they are said: 2 1/2 sheets, "5 Pale and 1 Honey"."""

from collections.abc import Iterable, Sequence

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from jobs.models import Room
from materials.models import Half, ToneGroup
from workshop.calculations import units
from workshop.language import decimal_mark

HALF_MICRO = 500_000


def shown_sheets(halves: int) -> str:
    """With the unit: 2 1/2 sheets."""
    return units.show_quantity(units.from_micro(halves * HALF_MICRO), "sheet", decimal_mark())


def counted(halves: int) -> str:
    """Without the unit, as it is typed: 2 1/2."""
    return units.edit_quantity(units.from_micro(halves * HALF_MICRO), "sheet", decimal_mark())


def told(groups: Iterable[tuple[ToneGroup | None, int]]) -> str:
    """So many halves of each group: "5 Pale", "2 1/2 Cream and 1 Honey"."""
    return _(" and ").join(f"{counted(halves)} {group.name if group else _('not sorted')}" for group, halves in groups)


def told_halves(halves: Sequence[Half]) -> str:
    """These halves by tone group, in the order in which they stand; their sheets and groups are at hand."""
    groups: dict[int | None, tuple[ToneGroup | None, int]] = {}
    for half in halves:
        group = half.sheet.tone_group
        _group, n = groups.get(half.sheet.tone_group_id, (group, 0))
        groups[half.sheet.tone_group_id] = (group, n + 1)
    return told(groups.values())


def told_groups(groups: Iterable[tuple[ToneGroup | None, int]]) -> str:
    """So many halves of each group, the groups first: "Pale 4, Cream 2"."""
    return ", ".join(f"{group.name if group else _('not sorted')} {counted(halves)}" for group, halves in groups)


def two_groups_words(room: Room, groups: Sequence[tuple[ToneGroup | None, int]]) -> str:
    names = told_groups(groups)
    return ngettext(
        "%(room)s holds %(count)s tone group: %(groups)s.",
        "%(room)s holds %(count)s tone groups: %(groups)s.",
        len(groups),
    ) % {"room": room.name, "count": len(groups), "groups": names}
