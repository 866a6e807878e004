"""What a counted delivery costs as quoted and as billed, and its landed cost worked out anew from both.

Count times price is owed until an invoice says otherwise; several invoices for one line add up. What is invoiced
without a line takes the place of freight and charges. Credits lower what they are for: a sheet, a line, or the
charges.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from materials.calculations import landed_cost
from materials.calculations.landed_cost import CreditTooLarge, Landed, LandedLine
from materials.models import Bill, Delivery, DeliveryLine, Lot, Sheet
from workshop.actions import Record
from workshop.calculations.costs import cost, rate_from_micro
from workshop.calculations.money import AmountTooLarge
from workshop.calculations.units import from_micro, quantity
from workshop.templatetags.figures import amount


@dataclass
class Billed:
    """What bills say of one line, or of freight and charges."""

    invoiced_minor: int | None = None
    credit_minor: int = 0
    of_sheets: dict[int, int] = field(default_factory=dict)

    @property
    def credits_minor(self) -> int:
        return self.credit_minor + sum(self.of_sheets.values())


@dataclass(frozen=True)
class LineFigures:
    """One line as quoted and as billed; `billed_minor` is after its credits."""

    line: DeliveryLine
    quoted_minor: int
    billed: Billed
    landed: LandedLine

    @property
    def owed_minor(self) -> int:
        return self.quoted_minor if self.billed.invoiced_minor is None else self.billed.invoiced_minor

    @property
    def billed_minor(self) -> int:
        return self.owed_minor - self.billed.credits_minor


@dataclass(frozen=True)
class Figures:
    """A delivery as quoted and as billed."""

    lines: Sequence[LineFigures]
    quoted_charges_minor: int
    charges: Billed
    unspread_minor: int

    @property
    def charges_minor(self) -> int:
        invoiced = self.charges.invoiced_minor
        return (self.quoted_charges_minor if invoiced is None else invoiced) - self.charges.credit_minor

    @property
    def quoted_total_minor(self) -> int:
        return sum(each.quoted_minor for each in self.lines) + self.quoted_charges_minor

    @property
    def billed_total_minor(self) -> int:
        return sum(each.billed_minor for each in self.lines) + self.charges_minor


def figures(delivery: Delivery) -> Figures:
    """What a counted delivery was quoted at and is billed at; a constant number of queries.

    Raises:
        ValidationError: bills that cannot all stand, as a credit of more than what it is for.
    """
    lines = list(delivery.lines.select_related("material", "lot", "order_line__order"))
    billed = _billed(delivery)
    charges = billed.get(None, Billed())
    invoiced = delivery.freight_minor if charges.invoiced_minor is None else charges.invoiced_minor
    if charges.credit_minor > invoiced:
        message = _("A credit of %(credit)s on freight and charges of %(most)s is too much. Type that or less.")
        words = {"credit": charges.credit_minor, "most": invoiced}
        raise _refusal("charges", message, {n: amount(v, delivery.currency) for n, v in words.items()})
    landed = _landed(delivery, lines, billed, invoiced - charges.credit_minor)
    rows = [
        LineFigures(line, _quoted_minor(line, delivery.currency), billed.get(line.pk, Billed()), figure)
        for line, figure in zip(lines, landed.lines, strict=True)
    ]
    return Figures(rows, delivery.freight_minor, charges, landed.unspread_minor)


def land_again(record: Record, delivery: Delivery) -> None:
    """Work the landed cost of lines, lots and sheets out anew, as part of an action that changed a bill.

    The action is told in the traces of the lots. What a room's sheets cost is read from them, so it follows.
    """
    for each in figures(delivery).lines:
        line, landed = each.line, each.landed
        record.save(line, landed_minor=landed.total_minor)
        if line.lot is None:
            continue
        lot = Lot.objects.select_for_update().get(pk=line.lot_id)
        record.about(lot)
        record.save(lot, landed_minor=landed.total_minor)
        if line.material.is_sheet:
            sheets = list(Sheet.objects.select_for_update().filter(lot=lot).order_by("number"))
            costs = landed.pieces_minor
            record.save_many(sheets, [{"landed_minor": costs[sheet.number - 1]} for sheet in sheets])


def _billed(delivery: Delivery) -> dict[int | None, Billed]:
    """What the bills come to, by the key of the line; freight and charges under None."""
    found: dict[int | None, Billed] = {}
    for bill in delivery.bills.select_related("sheet"):
        billed = found.setdefault(bill.line_id, Billed())
        if bill.kind == Bill.Kind.INVOICE:
            billed.invoiced_minor = (billed.invoiced_minor or 0) + bill.amount_minor
        elif bill.sheet:
            place = bill.sheet.number - 1
            billed.of_sheets[place] = billed.of_sheets.get(place, 0) + bill.amount_minor
        else:
            billed.credit_minor += bill.amount_minor
    return found


def _quoted_minor(line: DeliveryLine, currency: str) -> int:
    owed = line.kept_micro + (line.refused_micro + line.short_micro) * line.is_billed_for_missing
    unit = line.material.bought_unit
    return cost(quantity(from_micro(owed), unit), rate_from_micro(line.price_micro, currency, unit))


def _landed(
    delivery: Delivery, lines: Sequence[DeliveryLine], billed: Mapping[int | None, Billed], charges_minor: int
) -> Landed:
    given = [_as_given(line, delivery.currency, billed.get(line.pk, Billed())) for line in lines]
    try:
        return landed_cost.landed(given, charges_minor)
    except CreditTooLarge as error:
        line = lines[error.line]
        words = {"credit": error.typed, "most": int(error.would_do[1])}
        message = _("A credit of %(credit)s is more than the %(most)s it is for. Type that or less.")
        shown = {n: amount(v, delivery.currency) for n, v in words.items()}
        raise _refusal(f"line_{line.pk}", message, shown) from error
    except AmountTooLarge as error:
        raise ValidationError(_("Together this is more than an amount can be. Check what was typed.")) from error


def _as_given(line: DeliveryLine, currency: str, billed: Billed) -> landed_cost.DeliveryLine:
    return landed_cost.DeliveryLine(
        kept=from_micro(line.kept_micro),
        rate=rate_from_micro(line.price_micro, currency, line.material.bought_unit),
        refused=from_micro(line.refused_micro),
        refused_billed=line.is_billed_for_missing,
        short=from_micro(line.short_micro),
        short_billed=line.is_billed_for_missing,
        credit_minor=billed.credit_minor,
        piece_credits=billed.of_sheets,
        invoiced_minor=billed.invoiced_minor,
    )


def _refusal(name: str, message: str, words: Mapping[str, object]) -> ValidationError:
    return ValidationError({name: ValidationError(message, params=words)})
