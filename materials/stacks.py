"""What lies in the shop, lot by lot: how far each is sorted, and what of its stacks is free."""

from collections.abc import Sequence
from dataclasses import dataclass

from django.db.models import Count, Q

from materials import pad, sorting
from materials.models import Lot, Sheet, ToneGroup


@dataclass(frozen=True)
class Stack:
    """The sheets of one tone group of a lot; `free` are those no room has anything of."""

    group: ToneGroup
    total: int
    free: int


def count_sheets(lots: Sequence[Lot]) -> None:
    """Set on each lot `total`, `unsorted`, `aside` and `free`, its sheets; a constant number of queries."""
    sheets = Sheet.objects.here().filter(lot__in={lot.pk for lot in lots})
    counted = (
        sheets.values("lot")
        .order_by()
        .annotate(
            total=Count("pk"),
            unsorted=Count("pk", filter=Q(tone_group=None, set_aside_on=None)),
            aside=Count("pk", filter=Q(set_aside_on__isnull=False)),
        )
    )
    tallies = {row["lot"]: row for row in counted}
    taken = sheets.filter(sorting.in_use(sheets)).values("lot").order_by().annotate(n=Count("pk"))
    held = {row["lot"]: row["n"] for row in taken}
    for lot in lots:
        tally = tallies.get(lot.pk, {"total": 0, "unsorted": 0, "aside": 0})
        lot.total, lot.unsorted, lot.aside = tally["total"], tally["unsorted"], tally["aside"]
        lot.free = lot.total - lot.aside - held.get(lot.pk, 0)


def stacks_of(lot: Lot) -> list[Stack]:
    """The stacks of a lot from light to dark; groups with no sheet in it are left out."""
    sorted_sheets = lot.sheets.here().filter(tone_group__isnull=False)
    in_use = sorted_sheets.filter(sorting.in_use(sorted_sheets))
    taken = dict(in_use.order_by().values_list("tone_group").annotate(n=Count("pk")))
    groups = [group for group in pad.ladder(lot) if group.sheet_count]
    return [Stack(g, g.sheet_count, g.sheet_count - taken.get(g.pk, 0)) for g in groups]
