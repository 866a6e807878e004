"""Materials the shop buys, and what each supplier asks for them."""

from django.core.exceptions import ValidationError
from django.db.models import QuerySet
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from materials import buying, tones
from materials.models import Material, Price, Supplier
from workshop import actions, clock, names
from workshop.actions import Hand, recorded
from workshop.models import Action, Shop

UNCOUNTED = {"tonegroup", "sample"}


def add(*, by: Hand, kind: str, back: str = "", **fields: object) -> Material:
    """A new material; sheets come with the ladder of tones the shop can change.

    `back` is the address that asked for it and takes its number at the end.
    """
    fields.setdefault("unit", Material.UNITS_OF_KIND[kind][0])
    fields |= _bought(fields["unit"], fields)
    with recorded(by, "material.add", name=fields["name"]) as record:
        _check_name(fields["name"], Material.objects.all())
        material = record.add(Material(kind=kind, **fields))
        if material.is_sheet:
            record.add_many(tones.first_ladder(material))
        record.about(*filter(None, [material.usual_supplier]))
        record.answer = f"{back}{material.pk}" if back else reverse("materials:material", args=[material.pk])
    return material


def change(*, material: Material, by: Hand, version: int, **fields: object) -> Material:
    """Another word or size; once it is used, the units it is counted and bought in stay."""
    fields |= _bought(fields.get("unit", material.unit), fields)
    with recorded(by, "material.change", material, name=fields["name"]) as record:
        changed = [n for n in ("unit", "buy_unit") if fields.get(n, getattr(material, n)) != getattr(material, n)]
        if changed and is_used(material):
            message = _("It is counted in this unit already. Keep it, or add a material of its own.")
            raise ValidationError({changed[0]: message})
        record.answer = reverse("materials:material", args=[material.pk])
        _check_name(fields["name"], Material.objects.exclude(pk=material.pk))
        record.save(material, version=version, **fields)
    return material


def _check_name(name: str, others: QuerySet[Material]) -> None:
    message = _("There is a material named %(name)s. Add what tells them apart.")
    names.check_new(name, others.values_list("name", flat=True), message)


def _bought(unit: str, fields: dict[str, object]) -> dict[str, object]:
    """The unit it is bought in and what one holds, where they are told."""
    if "buy_unit" not in fields:
        return {}
    buy_unit, holds = buying.settled(unit, fields["buy_unit"], fields.get("buy_contains_micro"))
    return {"buy_unit": buy_unit, "buy_contains_micro": holds}


def is_used(material: Material) -> bool:
    """Whether a price, an order, a lot or anything else in the shop counts in this material's unit."""
    counting = [r for r in material._meta.related_objects if r.related_model._meta.model_name not in UNCOUNTED]
    return any(r.related_model._base_manager.filter(**{r.field.name: material}).exists() for r in counting)


def add_price(*, material: Material, supplier: Supplier, by: Hand, **fields: object) -> Price:
    """What a supplier asks from a day on; the least quantity is told in whole packs."""
    about = [material, supplier]
    buying.check_packs(material, fields.get("minimum_micro"), fields.get("pack_micro"))
    with recorded(by, "price.add", about=about, material=material.name, supplier=supplier.name) as record:
        price = Price(material=material, supplier=supplier, currency=Shop.get().currency, **fields)
        record.add(price)
        record.words["day"] = clock.day_text(price.from_on)
        record.answer = reverse("materials:material", args=[material.pk])
    return price


def _check_undo(action: Action) -> None:
    """No way back to a unit once something is counted in the new one."""
    changed = any({"unit", "buy_unit"} & after["fields"].keys() for after in action.after)
    material = actions.row_of(action.thing)
    if changed and material and is_used(material):
        message = _("Not taken back: %(material)s is counted in its new unit already.")
        raise ValidationError(message, params={"material": material.name})


actions.say("material.add", gettext_lazy("Material %(name)s added"))
actions.say("material.change", gettext_lazy("Material %(name)s changed"), check_undo=_check_undo)
actions.say("price.add", gettext_lazy("Price of %(supplier)s for %(material)s from %(day)s"))
