"""The rates an estimate is filled with, and where each comes from: materials by their prices, hours by operation."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction

from estimates.models import EstimateLine, OperationRate
from jobs.models import Stage
from materials.models import Material, OrderLine, Price
from workshop import clock
from workshop.calculations.money import round_half_up
from workshop.calculations.units import MICRO
from workshop.models import Shop

Basis = EstimateLine.Basis


@dataclass(frozen=True)
class Rated:
    """A rate in millionths with what it rests on; a rate of nothing rests on nothing."""

    price_micro: int = 0
    basis: str = ""
    supplier: int | None = None
    on: date | None = None

    @property
    def fields(self) -> dict[str, object]:
        """As the columns of a line."""
        return {
            "price_micro": self.price_micro,
            "basis": self.basis,
            "basis_supplier_id": self.supplier,
            "basis_on": self.on,
        }


def of_materials(materials: Sequence[Material], currency: str) -> dict[int, Rated]:
    """The rate of each material: its usual supplier's latest price, else as last ordered, else what others ask, else 0.

    A material without a usual supplier takes the latest price of any. Prices of days to come do not count yet.
    """
    wanted = {material.pk: material for material in materials}
    usual, ordered, others = {}, {}, {}
    prices = Price.objects.filter(material__in=wanted, currency=currency, from_on__lte=clock.today())
    for price in prices.order_by("from_on", "pk"):
        material = wanted[price.material_id]
        is_usual = material.usual_supplier_id in (None, price.supplier_id)
        micro = _each(price.price_micro, material.buy_contains_micro)
        (usual if is_usual else others)[material.pk] = Rated(micro, Basis.QUOTED, price.supplier_id, price.from_on)
    lines = OrderLine.objects.filter(material__in=wanted, order__currency=currency).select_related("order")
    placed = lines.filter(order__placed_on__isnull=False, order__cancelled_on=None)
    for line in placed.order_by("order__placed_on", "order__number", "pk"):
        micro = _each(line.price_micro, line.contains_micro)
        ordered[line.material_id] = Rated(micro, Basis.ORDERED, line.order.supplier_id, line.order.placed_on)
    return dict.fromkeys(wanted, Rated()) | others | ordered | usual


def _each(price_micro: int, contains_micro: int) -> int:
    """What one used unit costs where one bought unit holds several, to the nearest millionth."""
    return round_half_up(Fraction(price_micro * MICRO, contains_micro))


@dataclass(frozen=True)
class HourRates:
    """The rate of an hour of each operation that has one of its own, and of every other."""

    shop: Rated
    own: Mapping[tuple[str, str], Rated] = field(default_factory=dict)

    def of(self, stage: Stage) -> Rated:
        return self.own.get((stage.lane, stage.name), self.shop)


def of_hours(currency: str) -> HourRates:
    """What hours cost today; nothing where the shop reckons in another currency."""
    shop = Shop.get()
    if shop.currency != currency:
        return HourRates(Rated())
    own = {
        operation: Rated(rate.price_micro, Basis.OPERATION, on=rate.from_on)
        for operation, rate in today().items()
        if rate.price_micro is not None
    }
    of_shop = Rated(shop.hour_price_micro, Basis.SHOP) if shop.hour_price_micro else Rated()
    return HourRates(of_shop, own)


def today() -> dict[tuple[str, str], OperationRate]:
    """For each operation the row that holds today, by lane and name."""
    rows = OperationRate.objects.filter(from_on__lte=clock.today()).order_by("from_on")
    return {(row.lane, row.name): row for row in rows}
