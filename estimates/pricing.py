"""An estimate's price as it stands: its lines and terms given to the calculation."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from estimates.calculations.pricing import Amounts, CostLine, DiscountTooLarge, JobPrice, Terms, price_job
from estimates.models import Estimate, EstimateLine
from jobs.models import Room
from workshop.calculations.costs import cost, rate_from_micro
from workshop.calculations.money import AmountTooLarge, show_money
from workshop.calculations.units import UNITS, WrongDimension, from_micro, quantity
from workshop.language import locale

KLASSES = ("material", "labor", "other")


@dataclass
class RoomPart:
    """A room of an estimate, or the whole job where `room` is None: its lines and its price."""

    room: Room | None
    lines: list[EstimateLine] = field(default_factory=list)
    amounts: Amounts = field(default_factory=Amounts)
    by_klass: dict[str, Amounts] = field(default_factory=dict)

    @property
    def cost_minor(self) -> int:
        return sum(line.total_minor for line in self.lines)

    @property
    def prices(self) -> list[int]:
        """The price by class, in the order of KLASSES, before discount."""
        return [self.by_klass[klass].before_discount_minor for klass in KLASSES]


@dataclass
class Priced:
    estimate: Estimate
    parts: list[RoomPart]
    price: JobPrice

    @property
    def whole(self) -> Amounts:
        return self.price.whole

    @property
    def klass_prices(self) -> list[int]:
        return [self.price.of_class(klass).before_discount_minor for klass in KLASSES]

    @property
    def taxed_words(self) -> str:
        return taxed_words(self.estimate)


def line_total(*, quantity_micro: int, unit: str, price_micro: int, price_unit: str, currency: str) -> int:
    """Quantity times rate in minor units, rounded once.

    Raises:
        ValidationError: the quantity cannot be priced per that unit, or the amount is too large; at the field.
    """
    rate = rate_from_micro(price_micro, currency, price_unit)
    try:
        if UNITS[unit].dimension != UNITS[price_unit].dimension:
            raise WrongDimension(UNITS[unit].dimension, UNITS[price_unit].dimension, price_unit)
        return cost(quantity(from_micro(quantity_micro), unit), rate)
    except WrongDimension as error:
        raise ValidationError(
            {
                "price_unit": _(
                    "A quantity in this unit has no price per that one. Choose the same unit for both."
                )
            }
        ) from error
    except AmountTooLarge as error:
        raise ValidationError(
            {"price_micro": _("The line comes to more than can be kept. Type a smaller rate or quantity.")}
        ) from error


def terms_of(estimate: Estimate) -> Terms:
    taxed = {
        "material": estimate.is_material_taxed,
        "labor": estimate.is_labor_taxed,
        "other": estimate.is_other_taxed,
    }
    return Terms(
        overhead_ppm=estimate.overhead_ppm,
        contingency_ppm=estimate.contingency_ppm,
        profit_way=estimate.profit_way,
        profit_ppm=estimate.profit_ppm,
        discount_minor=estimate.discount_minor,
        tax_ppm=estimate.tax_ppm,
        taxed_classes=frozenset(klass for klass, is_taxed in taxed.items() if is_taxed),
        tax_inclusive=estimate.is_tax_inside,
    )


def taxed_words(estimate: Estimate) -> str:
    """What the tax is on: "materials", "materials and labor"."""
    words = [
        (estimate.is_material_taxed, _("materials")),
        (estimate.is_labor_taxed, _("labor")),
        (estimate.is_other_taxed, _("other")),
    ]
    return _(" and ").join(word for is_taxed, word in words if is_taxed)


def check(estimate: Estimate, lines: Sequence[EstimateLine] | None = None) -> None:
    """Refuse terms or lines that make no price.

    Raises:
        ValidationError: the discount is more than the price, or the sum is too large.
    """
    rows = list(estimate.lines.all()) if lines is None else lines
    try:
        priced_lines(estimate, rows)
    except DiscountTooLarge as error:
        currency = estimate.job.currency
        raise ValidationError(
            {
                "discount_minor": _("The discount is more than the price, %(most)s. Type that or less.")
                % {"most": show_money(error.most_minor, currency, locale())}
            }
        ) from error
    except AmountTooLarge as error:
        raise ValidationError(
            _("The estimate comes to more than can be kept. Make a line smaller.")
        ) from error


def priced_lines(estimate: Estimate, lines: Sequence[EstimateLine]) -> JobPrice:
    """The price of an estimate whose lines are at hand."""
    return price_job(
        [CostLine(line.room_id, line.klass, line.total_minor) for line in lines], terms_of(estimate)
    )


def priced(estimate: Estimate) -> Priced:
    """The estimate by room with its totals; a constant number of queries."""
    lines = list(estimate.lines.select_related("room", "material"))
    price = priced_lines(estimate, lines)
    parts: dict[int | None, RoomPart] = {}
    for line in lines:
        parts.setdefault(line.room_id, RoomPart(line.room)).lines.append(line)
    for key, part in parts.items():
        part.amounts = price.of_room(key)
        part.by_klass = {klass: price.parts.get((key, klass), Amounts()) for klass in KLASSES}
    ordered = sorted(
        parts.values(),
        key=lambda p: (p.room is None, p.room.place if p.room else 0, p.room.pk if p.room else 0),
    )
    return Priced(estimate, ordered, price)
