"""How much to buy: the unit a material is bought in, what one holds, and what a supplier sells of it at least.

Orders, prices and deliveries count in the bought unit; lots, needs and cover count in the used unit.
"""

from collections.abc import Mapping
from fractions import Fraction

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from materials.calculations import packs
from materials.models import Lot, Material, OrderLine, Price
from workshop import clock
from workshop.calculations.money import from_minor, minor_digits, show_price, to_minor
from workshop.calculations.units import (
    MAX_AMOUNT,
    MICRO,
    UNITS,
    WrongDimension,
    amount_in,
    edit_quantity,
    from_micro,
    quantity,
    to_micro,
)
from workshop.language import decimal_mark, locale
from workshop.models import Shop
from workshop.templatetags.figures import quantity as quantity_text

MOST_IN_ONE = 1_000_000
MOST_MICRO = MAX_AMOUNT * MICRO


def settled(unit: str, buy_unit: str, contains_micro: int | None) -> tuple[str, int]:
    """The bought unit and what one holds, as they are kept; nothing and one where it is bought as it is used.

    A unit of the same kind holds what it holds: a gallon is four quarts, whatever is typed.
    """
    if not buy_unit or buy_unit == unit:
        return "", MICRO
    words = {"one": UNITS[buy_unit].one, "many": UNITS[unit].many}
    try:
        holds = to_micro(amount_in(quantity(1, buy_unit), unit))
    except WrongDimension:
        return buy_unit, _typed(contains_micro, words)
    if contains_micro not in (None, holds):
        right = edit_quantity(from_micro(holds), unit, decimal_mark())
        message = _("One %(one)s is %(right)s %(many)s. Type %(right)s, or leave it empty.")
        params = {**words, "right": right, "would_do": [right]}
        raise ValidationError({"buy_contains_micro": ValidationError(message, params=params)})
    return buy_unit, holds


def _typed(contains_micro: int | None, words: dict[str, str]) -> int:
    if contains_micro is None:
        message = _("How many %(many)s does one %(one)s hold? Type it, or choose no other unit to buy in.")
        raise ValidationError({"buy_contains_micro": ValidationError(message, params=words)})
    if not 0 < contains_micro <= MOST_IN_ONE * MICRO:
        message = _("One %(one)s holds more than nothing and up to %(most)s %(many)s. Type 12 or 500.")
        params = {**words, "most": MOST_IN_ONE, "would_do": ["12", "500"]}
        raise ValidationError({"buy_contains_micro": ValidationError(message, params=params)})
    return contains_micro


def used_micro(line: OrderLine, bought_micro: int) -> int:
    """How much of the used unit an amount of an order line is; one bought unit holds what it held when ordered."""
    return packs.used_micro(bought_micro, line.contains_micro)


def bought_text(material: Material, bought_micro: int, contains_micro: int | None = None) -> str:
    """An amount as it is ordered: 42 sheets, 4 boxes (2000 pieces)."""
    bought = quantity_text(bought_micro, material.bought_unit)
    if not material.buy_unit:
        return bought
    used = packs.used_micro(bought_micro, contains_micro or material.buy_contains_micro)
    return f"{bought} ({quantity_text(used, material.unit)})"


def line_text(line: OrderLine) -> str:
    """What a line asks for: 4 boxes (2000 pieces)."""
    return bought_text(line.material, line.quantity_micro, line.contains_micro)


def check_packs(material: Material, minimum_micro: int | None, pack_micro: int | None) -> None:
    """Refuse a least quantity that is no number of whole packs."""
    instead = packs.would_do(minimum_micro, pack_micro) if minimum_micro and pack_micro else ()
    if instead:
        unit = material.bought_unit
        one, two = (edit_quantity(from_micro(micro), unit, decimal_mark()) for micro in instead)
        message = _("The least quantity is not in whole packs of %(pack)s. Type %(one)s or %(two)s.")
        params = {"pack": quantity_text(pack_micro, unit), "one": one, "two": two, "would_do": [one, two]}
        raise ValidationError({"minimum_micro": ValidationError(message, params=params)})


def check_quantity(material: Material, price: Price | None, bought_micro: int) -> None:
    """Refuse what the supplier does not sell: less than the least quantity, or a part of a pack."""
    if packs.used_micro(bought_micro, material.buy_contains_micro) > MOST_MICRO:
        message = _("This is more than can be kept. Check the quantity, or order it in two parts.")
        raise ValidationError({"quantity_micro": message})
    if price is None:
        return
    least, pack = price.minimum_micro or 0, price.pack_micro or 0
    instead = packs.would_do(bought_micro, pack or 1, least)
    if not instead:
        return
    unit = material.bought_unit
    would_do = [edit_quantity(from_micro(micro), unit, decimal_mark()) for micro in instead]
    params = {
        "supplier": price.supplier.name,
        "least": quantity_text(least, unit),
        "pack": quantity_text(pack, unit),
        "one": quantity_text(instead[0], unit),
        "two": quantity_text(instead[1], unit),
        "would_do": would_do,
    }
    if bought_micro < least:
        message = _("%(supplier)s sells %(least)s at least. Order %(one)s or %(two)s.")
    else:
        message = _("%(supplier)s sells it in packs of %(pack)s. Order %(one)s or %(two)s.")
    raise ValidationError({"quantity_micro": ValidationError(message, params=params)})


def to_buy_micro(material: Material, wanted_micro: int, price: Price | None = None) -> int:
    """How much to order so that it holds what is wanted, in whole packs and not below the least quantity."""
    pack = price.pack_micro if price and price.pack_micro else 0
    step = pack or (MICRO if material.is_bought_whole else 1)
    least = price.minimum_micro or 0 if price else 0
    return packs.bought_micro(wanted_micro, material.buy_contains_micro, step, least)


def asked_of_usual(materials: Mapping[int, Material]) -> dict[int, Price]:
    """What each material's usual supplier asks today, by material; one query."""
    usual = {material.pk: material.usual_supplier_id for material in materials.values()}
    asked = Price.objects.filter(material__in=usual, currency=Shop.get().currency, from_on__lte=clock.today())
    found = asked.select_related("supplier").order_by("from_on", "pk")
    return {price.material_id: price for price in found if usual[price.material_id] == price.supplier_id}


def order_words(wanted: Mapping[Material, int]) -> dict[int, str]:
    """What to order of the usual supplier, where that is another amount than is wanted: order 4 boxes (2000 pieces)."""
    prices = asked_of_usual({material.pk: material for material in wanted})
    words = {}
    for material, micro in wanted.items():
        buys = to_buy_micro(material, micro, prices.get(material.pk))
        if material.buy_unit or buys != micro:
            words[material.pk] = _("order %(what)s") % {"what": bought_text(material, buys)}
    return words


def landed_each_text(lot: Lot) -> str:
    """What one used unit of a lot costs landed, led by ≈ where it is rounded: $0.0485 a piece."""
    if not lot.quantity_micro:
        return ""
    each = from_minor(lot.landed_minor, lot.currency) / from_micro(lot.quantity_micro)
    shown = Fraction(to_minor(each * 100, lot.currency), 100 * 10 ** minor_digits(lot.currency))
    words = {"price": show_price(to_micro(shown), lot.currency, locale()), "unit": UNITS[lot.material.unit].one}
    return ("" if shown == each else "≈ ") + _("%(price)s a %(unit)s") % words
