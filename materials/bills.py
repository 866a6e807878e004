"""Invoices and credit notes that differ from the packing slip; each works the landed cost out anew."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from materials.landing import figures, land_again
from materials.models import Bill, Delivery, DeliveryLine, Sheet, Supplier
from workshop import actions
from workshop.actions import Hand, Record, recorded
from workshop.calculations.money import MAX_MINOR


@dataclass(frozen=True)
class BillLine:
    """What a bill says of a line or a sheet, or without either of freight and charges; `name` is the form's field."""

    name: str
    amount_minor: int
    line: DeliveryLine | None = None
    sheet: Sheet | None = None


def add(
    *, delivery: Delivery, kind: str, number: str, dated_on: date, lines: Sequence[BillLine], by: Hand, note: str = ""
) -> list[Bill]:
    """Enter an invoice or a credit note: only what it says otherwise than the slip.

    Raises:
        ValidationError: the delivery is not counted, nothing is told, it was entered before, or a credit is more
            than what it is for.
    """
    number = " ".join(number.split())
    words = {"number": delivery.number, "bill": number, "kind": kind_text(kind), "what": _said(lines)}
    with recorded(by, "bill.add", about=[delivery, delivery.supplier], **words) as record:
        delivery = _counted(delivery)
        if not lines:
            raise ValidationError(_("Nothing is typed. Type what the paper says of one line, or of the freight."))
        bills = [_add(record, delivery, kind, number, dated_on, line, note) for line in lines]
        _land(record, delivery)
    return bills


def change(*, bill: Bill, by: Hand, version: int, number: str, dated_on: date, amount_minor: int, note: str) -> Bill:
    with recorded(by, "bill.change", bill, about=_about(bill), **_words(bill)) as record:
        delivery = _counted(bill.delivery)
        _check_not_of_a_return(bill)
        fields = {"number": " ".join(number.split()), "dated_on": dated_on, "amount_minor": amount_minor, "note": note}
        record.save(bill, version=version, **fields)
        _check_once(bill, "number")
        _check_amount(bill, "amount_minor")
        _land(record, delivery)
    return bill


def remove(*, bill: Bill, by: Hand) -> None:
    with recorded(by, "bill.remove", bill, about=_about(bill), **_words(bill)) as record:
        delivery = _counted(bill.delivery)
        _check_not_of_a_return(bill)
        record.remove(bill)
        _land(record, delivery)


def kind_text(kind: str) -> str:
    return str(Bill.Kind(kind).label).lower()


def what_text(bill: Bill) -> str:
    """What a bill is for: a sheet, a line, or freight and charges."""
    if bill.sheet:
        return _("sheet %(sheet)s of lot %(lot)s") % {"sheet": bill.sheet.number, "lot": bill.sheet.lot.number}
    return bill.line.material.name if bill.line else _("freight and charges")


def add_credit(record: Record, sheet: Sheet, number: str, dated_on: date, amount_minor: int) -> Bill:
    """A credit note for one sheet, as part of another action, which says what for."""
    line = sheet.lot.delivery_line
    delivery = _counted(line.delivery)
    said = BillLine("amount_minor", amount_minor, line, sheet)
    bill = _add(record, delivery, Bill.Kind.CREDIT, " ".join(number.split()), dated_on, said, "")
    _land(record, delivery)
    return bill


def _about(bill: Bill) -> list[Delivery | Supplier]:
    return [bill.delivery, bill.delivery.supplier]


def _words(bill: Bill) -> dict[str, object]:
    number, kind = bill.delivery.number, kind_text(bill.kind)
    return {"number": number, "bill": bill.number, "kind": kind, "what": what_text(bill)}


def _counted(delivery: Delivery) -> Delivery:
    """The delivery, with nobody else at its bills until the transaction ends."""
    delivery = Delivery.objects.select_for_update().get(pk=delivery.pk)
    if not delivery.counted_on:
        message = _("Delivery %(number)s is not counted yet. Count it first: what was kept carries the cost.")
        raise ValidationError(message, params={"number": delivery.number})
    return delivery


def _add(record: Record, delivery: Delivery, kind: str, number: str, dated_on: date, said: BillLine, note: str) -> Bill:
    bill = Bill(
        delivery=delivery,
        kind=kind,
        number=number,
        dated_on=dated_on,
        line=said.line,
        sheet=said.sheet,
        amount_minor=said.amount_minor,
        note=note,
    )
    _check_amount(bill, said.name)
    _check_once(bill, "number")
    return record.add(bill)


def _land(record: Record, delivery: Delivery) -> None:
    if figures(delivery).billed_total_minor > MAX_MINOR:
        raise ValidationError(_("Together this is more than an amount can be. Check what was typed."))
    land_again(record, delivery)
    record.answer = reverse("materials:delivery", args=[delivery.pk])


def _check_amount(bill: Bill, name: str) -> None:
    if bill.kind == Bill.Kind.CREDIT and not bill.amount_minor:
        message = _("A credit of nothing changes nothing. Type what is credited, or leave it empty.")
        raise ValidationError({name: message})


def _check_once(bill: Bill, name: str) -> None:
    """The same paper says one thing of each line; the database holds it where a sheet is named."""
    same = Bill.objects.filter(delivery=bill.delivery_id, kind=bill.kind, number__iexact=bill.number)
    if same.filter(line=bill.line_id, sheet=bill.sheet_id).exclude(pk=bill.pk).exists():
        message = _("%(bill)s says something of %(what)s already. Change that on the delivery, or type another number.")
        words = {"bill": bill.number, "what": what_text(bill)}
        raise ValidationError({name: ValidationError(message, params=words)})


def _check_not_of_a_return(bill: Bill) -> None:
    of_return = {"sheet_return__credited_on": bill.dated_on, "sheet_return__credit_received_minor": bill.amount_minor}
    if bill.kind == Bill.Kind.CREDIT and Sheet.objects.filter(pk=bill.sheet_id, **of_return).exists():
        raise ValidationError(_("This is the credit of a return. Take it back under Last changes of the delivery."))


def _said(lines: Sequence[BillLine]) -> str:
    names = [what_text(Bill(line=each.line, sheet=each.sheet)) for each in lines]
    shown = ", ".join(dict.fromkeys(names[:3]))
    return _("%(names)s and %(count)s more") % {"names": shown, "count": len(names) - 3} if names[3:] else shown


actions.say("bill.add", gettext_lazy("Delivery %(number)s: %(kind)s %(bill)s, %(what)s; landed cost worked out anew"))
actions.say(
    "bill.change",
    gettext_lazy("Delivery %(number)s: %(kind)s %(bill)s changed, %(what)s; landed cost worked out anew"),
)
actions.say(
    "bill.remove",
    gettext_lazy("Delivery %(number)s: %(kind)s %(bill)s taken out, %(what)s; landed cost worked out anew"),
)
