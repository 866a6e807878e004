"""What a room takes of each material; typed here until the drawing computes it."""

from fractions import Fraction

from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from jobs.models import Need, Room
from materials.models import Material
from workshop import actions
from workshop.actions import Hand, recorded
from workshop.calculations import units
from workshop.language import decimal_mark

MOST_MICRO = 1_000_000 * units.MICRO
# What a need is counted in at least: sheets are given in halves, counted things are whole.
STEPS = {
    "sheet": Fraction(1, 2),
    "board": Fraction(1),
    "piece": Fraction(1),
    "box": Fraction(1),
}


def add(*, room: Room, by: Hand, material: Material, quantity_micro: int, answer: str = "") -> Need:
    """Put a material on a room's list.

    Raises:
        ValidationError: it is on the list, or the quantity cannot be counted out.
    """
    _check(material, quantity_micro)
    words = {"room": room.name, "quantity": shown(material, quantity_micro), "material": material.name}
    with recorded(by, "need.add", about=[room, room.job, material], **words) as record:
        record.answer = answer or reverse("jobs:room", args=[room.pk])
        need = record.add(Need(room=room, material=material, quantity_micro=quantity_micro))
    return need


def change(*, need: Need, by: Hand, version: int, material: Material, quantity_micro: int) -> Need:
    """Change what a room takes.

    Raises:
        Stale: somebody saved it since it was read.
        ValidationError: the other material is on the list, or the quantity cannot be counted out.
    """
    _check(material, quantity_micro)
    room = need.room
    words = {"room": room.name, "quantity": shown(material, quantity_micro), "material": material.name}
    with recorded(by, "need.change", need, about=[room, room.job, need.material, material], **words) as record:
        record.answer = reverse("jobs:room", args=[room.pk])
        need = Need.objects.select_for_update().get(pk=need.pk)
        record.save(need, version=version, material=material, quantity_micro=quantity_micro)
    return need


def remove(*, need: Need, by: Hand) -> None:
    room, material = need.room, need.material
    with recorded(
        by, "need.remove", about=[room, room.job, material], room=room.name, material=material.name
    ) as record:
        record.answer = reverse("jobs:room", args=[room.pk])
        record.thing = room
        record.remove(need)


def shown(material: Material, quantity_micro: int) -> str:
    return units.show_quantity(units.from_micro(quantity_micro), material.unit, decimal_mark())


def _check(material: Material, quantity_micro: int) -> None:
    amount = units.from_micro(quantity_micro)
    if quantity_micro > MOST_MICRO:
        raise ValidationError(
            {
                "quantity_micro": _("%(typed)s is more than a room takes. Type a smaller number, or split the room.")
                % {"typed": shown(material, quantity_micro)}
            }
        )
    step = STEPS.get(material.unit)
    if step is None or (amount / step).denominator == 1:
        return
    less, more = (amount // step) * step, (amount // step + 1) * step
    would_do = [units.edit_quantity(each, material.unit, decimal_mark()) for each in (less, more) if each]
    if len(would_do) == 1:
        would_do.append(units.edit_quantity(more + step, material.unit, decimal_mark()))
    message = _("%(typed)s cannot be counted out: sheets go in halves. Type %(one)s or %(other)s.")
    if step == 1:
        message = _("%(typed)s cannot be counted out: they come whole. Type %(one)s or %(other)s.")
    params = {
        "typed": shown(material, quantity_micro),
        "one": would_do[0],
        "other": would_do[1],
        "would_do": would_do,
    }
    raise ValidationError({"quantity_micro": ValidationError(message, params=params)})


actions.say("need.add", gettext_lazy("%(room)s needs %(quantity)s of %(material)s"))
actions.say("need.change", gettext_lazy("%(room)s needs %(quantity)s of %(material)s now"))
actions.say("need.remove", gettext_lazy("%(room)s no longer needs %(material)s"))
