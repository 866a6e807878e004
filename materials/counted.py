"""One row of a delivery as counted: what it says in words, and what is refused of it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from materials.buying import MOST_MICRO
from materials.calculations import packs
from materials.models import Material, Order, OrderLine
from workshop.calculations.units import MICRO, from_micro
from workshop.templatetags.figures import quantity as quantity_text

MOST_SHEETS = 2_000
MOST_PIECES = 100_000


@dataclass(frozen=True)
class Counted:
    """One row of a delivery as counted, in millionths of the unit the material is bought in.

    `name` is what the form calls the row; `good` and `damaged` stay in the shop, `refused` went back with the
    driver, `short` is on the slip and was not there. `damaged_numbers` are the sheets that are damaged, the last
    ones where none is named. `keeps_over` says that more than was ordered came, and stays.
    """

    name: str
    material: Material
    order_line: OrderLine | None = None
    good_micro: int = 0
    damaged_micro: int = 0
    refused_micro: int = 0
    short_micro: int = 0
    is_billed: bool = False
    price_micro: int | None = None
    damaged_numbers: Sequence[int] = ()
    keeps_over: bool = False
    batch_number: str = ""
    use_by_on: date | None = None

    @property
    def kept_micro(self) -> int:
        return self.good_micro + self.damaged_micro

    @property
    def lot_micro(self) -> int:
        """What of it makes the lot, in the used unit; one bought unit holds what it held when it was ordered."""
        holds = self.order_line.contains_micro if self.order_line else self.material.buy_contains_micro
        return packs.used_micro(self.kept_micro, holds)

    @property
    def is_empty(self) -> bool:
        return not (self.kept_micro or self.refused_micro or self.short_micro)


def said(rows: Sequence[Counted], overs: Mapping[str, int]) -> str:
    """What came, in words: Ash-veneered plywood 42 sheets, of them 3 damaged; Solid ash 8/4 180 bd ft."""
    parts = []
    for row in rows[:3]:
        part = f"{row.material.name} {quantity_text(row.kept_micro, row.material.bought_unit)}"
        if row.damaged_micro:
            damaged = quantity_text(row.damaged_micro, row.material.bought_unit)
            part = _("%(kept)s, of them %(damaged)s damaged") % {"kept": part, "damaged": damaged}
        if overs[row.name]:
            over = quantity_text(overs[row.name], row.material.bought_unit)
            part = _("%(kept)s, %(over)s more than ordered") % {"kept": part, "over": over}
        parts.append(part)
    if len(rows) > 3:
        parts.append(_("and %(count)s more") % {"count": len(rows) - 3})
    return "; ".join(parts)


def check(row: Counted) -> None:
    """Refuse what cannot have come, at the field it was typed in."""
    _check_damaged_numbers(row)
    if row.lot_micro > MOST_MICRO:
        raise ValidationError({f"good_{row.name}": _("This is more than can be kept. Check the count.")})
    if not row.material.is_bought_whole:
        return
    most = MOST_SHEETS if row.material.is_sheet else MOST_PIECES
    counts = [from_micro(c) for c in (row.good_micro, row.damaged_micro, row.refused_micro, row.short_micro)]
    if any(Fraction(c).denominator != 1 for c in counts) or from_micro(row.kept_micro) > most:
        message = _("One delivery takes up to %(most)s of a material, in whole ones. Count the rest on another slip.")
        raise ValidationError({f"good_{row.name}": ValidationError(message, params={"most": most})})


def overs_of(rows: Sequence[Counted]) -> dict[str, int]:
    """How much more than was still to come arrived of each row, by the rows' names; ask inside the transaction.

    Whole things of which more stays than was ordered are asked about, as it may be a slip of the key. Lumber and
    other measured goods seldom come to the foot; more of them is told, not asked about.
    """
    ordered = {row.order_line.pk for row in rows if row.order_line}
    list(Order.objects.select_for_update().filter(lines__in=ordered).order_by("pk").values_list("pk"))
    lines = {line.pk: line for line in OrderLine.objects.with_arrived().filter(pk__in=ordered)}
    if len(lines) < len(ordered):
        raise ValidationError(_("A line was taken off its order meanwhile. Look at this page again, then count."))
    overs, problems = {}, {}
    for row in rows:
        to_come = lines[row.order_line.pk].to_come_micro if row.order_line else None
        overs[row.name] = 0 if to_come is None else max(row.kept_micro + row.refused_micro - to_come, 0)
        if to_come is None or row.keeps_over or row.kept_micro <= to_come or not row.material.is_bought_whole:
            continue
        words = {"kept": row.kept_micro // MICRO, "over": (row.kept_micro - to_come) // MICRO}
        message = _("%(kept)s are %(over)s more than were to come. Mark that they stay, or count them as refused.")
        problems[f"over_{row.name}"] = ValidationError(message, params=words)
    if problems:
        raise ValidationError(problems)
    return overs


def _check_damaged_numbers(row: Counted) -> None:
    kept, damaged = row.kept_micro // MICRO, row.damaged_micro // MICRO
    if not row.damaged_numbers:
        return
    if len(row.damaged_numbers) != damaged:
        message = _("These are %(numbers)s sheets, and %(damaged)s are counted as damaged. Make both the same.")
        words = {"numbers": len(row.damaged_numbers), "damaged": damaged}
    elif max(row.damaged_numbers) > kept:
        message = _("There is no sheet %(number)s: %(kept)s are kept, numbered from 1 to %(kept)s.")
        words = {"number": max(row.damaged_numbers), "kept": kept}
    else:
        return
    raise ValidationError({f"numbers_{row.name}": ValidationError(message, params=words)})
