"""The stacks of a material: what of them is free, and which sheets a count takes."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.core.exceptions import ValidationError
from django.db.models import Count, Exists, OuterRef, QuerySet
from django.utils.translation import gettext as _

from jobs.calculations.giving import StackedSheet, pull_order
from jobs.giving.words import HALF_MICRO, counted, shown_sheets
from materials.models import Half, Lot, Material, Sheet, ToneGroup


@dataclass
class Stack:
    """The sheets of one tone group, in every lot of the material."""

    group: ToneGroup
    sheets: int = 0
    free_halves: int = 0

    @property
    def free_sheets(self) -> int:
        """Sheets of which something is free, as they are drawn."""
        return (self.free_halves + 1) // 2

    @property
    def free_micro(self) -> int:
        return self.free_halves * HALF_MICRO


def stacks(material: Material) -> list[Stack]:
    """The stacks of a material, light to dark, with what is free in each."""
    found = {group.pk: Stack(group) for group in material.tone_groups.all()}
    usable = Sheet.objects.usable().filter(lot__material=material).exclude(tone_group=None)
    for group, n in usable.values_list("tone_group").annotate(n=Count("pk")).order_by():
        found[group].sheets = n
    halves = free_halves([material]).exclude(sheet__tone_group=None)
    for group, n in halves.values_list("sheet__tone_group").annotate(n=Count("pk")).order_by():
        found[group].free_halves = n
    return list(found.values())


def free_halves(materials: Iterable[Material | int]) -> QuerySet[Half]:
    """Halves that can be given: of usable sheets, in no room."""
    return Half.objects.filter(
        given=None, sheet__lot__material__in=materials, sheet__set_aside_on=None, sheet__left_on=None
    )


def lots_with_free(materials: Iterable[Material]) -> QuerySet[Lot]:
    """Lots of which a sheet or a half can be given, oldest first."""
    free = free_halves(materials).filter(sheet__lot=OuterRef("pk"))
    return Lot.objects.filter(Exists(free)).select_related("material").order_by("number")


def pull(material: Material, group: ToneGroup, halves: int) -> list[Half]:
    """The halves to take for a count, from the stacks' tops, older lots first.

    Raises:
        ValidationError: the group has fewer free.
    """
    free = list(free_halves([material]).filter(sheet__tone_group=group).select_related("sheet__lot").order_by("side"))
    if len(free) < halves:
        raise ValidationError({"count": _too_few(group, len(free))})
    for half in free:
        half.sheet.tone_group = group
    return _from_stacks(free, halves)


def _too_few(group: ToneGroup, free: int) -> ValidationError:
    if not free:
        message = _("%(group)s has none free. Choose another tone group, or take some back first.")
        return ValidationError(message, params={"group": group.name})
    message = _("%(group)s has %(free)s free. Type that or less, or choose another tone group.")
    words = {"group": group.name, "free": shown_sheets(free), "would_do": [counted(free)]}
    return ValidationError(message, params=words)


def _from_stacks(free: Sequence[Half], wanted: int) -> list[Half]:
    """Whole sheets where there are enough of them; the odd half comes from a sheet that is open already."""
    halves_of: dict[int, list[Half]] = defaultdict(list)
    for half in free:
        halves_of[half.sheet_id].append(half)
    from_below = sorted(halves_of.values(), key=lambda found: (-found[0].sheet.lot.number, found[0].sheet.place))
    stack = [StackedSheet(found[0].sheet_id, place, len(found)) for place, found in enumerate(from_below, 1)]
    whole = [sheet for sheet in stack if sheet.free_halves == 2]
    opened = [sheet for sheet in stack if sheet.free_halves == 1]
    if 2 * len(whole) >= wanted - wanted % 2:
        stack = [*whole, *opened[-1:]] if wanted % 2 else whole
    return [half for taken in pull_order(stack, wanted) for half in halves_of[taken.key][: taken.halves]]
