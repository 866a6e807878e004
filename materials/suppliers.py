"""Who the shop buys from."""

from django.core.exceptions import ValidationError
from django.db.models import QuerySet
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from materials.calculations.lead_time import LONGEST_LEAD, LeadTime, LeadTimeOutOfRange
from materials.models import Supplier
from workshop import actions, names
from workshop.actions import Hand, recorded
from workshop.models.shop import LEAD_UNITS


def add(*, by: Hand, back: str = "", **fields: object) -> Supplier:
    """A new supplier; `back` is the address that asked for it and takes its number at the end."""
    lead(fields["lead_count"], fields["lead_unit"])
    with recorded(by, "supplier.add", name=fields["name"]) as record:
        _check_name(fields["name"], Supplier.objects.all())
        supplier = record.add(Supplier(**fields))
        record.answer = f"{back}{supplier.pk}" if back else reverse("materials:supplier", args=[supplier.pk])
    return supplier


def change(*, supplier: Supplier, by: Hand, version: int, **fields: object) -> Supplier:
    lead(fields["lead_count"], fields["lead_unit"])
    with recorded(by, "supplier.change", supplier, name=fields["name"]) as record:
        record.answer = reverse("materials:supplier", args=[supplier.pk])
        _check_name(fields["name"], Supplier.objects.exclude(pk=supplier.pk))
        record.save(supplier, version=version, **fields)
    return supplier


def _check_name(name: str, others: QuerySet[Supplier]) -> None:
    message = _("There is a supplier named %(name)s. Add what tells them apart.")
    names.check_new(name, others.values_list("name", flat=True), message)


def lead_of(count: int, unit: str) -> LeadTime:
    """A lead time as it is kept; one too long to plan with, which no form takes, counts as the longest there is."""
    unit = unit if unit in LONGEST_LEAD else "days"
    return LeadTime(min(count, LONGEST_LEAD[unit]), unit)


def lead(count: int, unit: str) -> LeadTime:
    """The lead time, or a refusal at the field `lead_count`."""
    try:
        return LeadTime(count, unit)
    except LeadTimeOutOfRange as error:
        most = LONGEST_LEAD[unit]
        message = _("%(count)s %(unit)s is too long to plan with. Type 0 to %(most)s, or choose another unit.")
        words = {"count": count, "unit": dict(LEAD_UNITS)[unit], "most": most}
        refusal = ValidationError(message, params={**words, "would_do": [str(most)]})
        raise ValidationError({"lead_count": refusal}) from error


actions.say("supplier.add", gettext_lazy("Supplier %(name)s added"))
actions.say("supplier.change", gettext_lazy("Supplier %(name)s changed"))
