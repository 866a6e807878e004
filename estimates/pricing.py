"""An estimate's price as it stands: its lines and terms given to the calculation."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import timedelta
from fractions import Fraction
from functools import cached_property

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from estimates.calculations.pricing import (
    CLASSES,
    Amounts,
    CostLine,
    DiscountTooLarge,
    JobPrice,
    PricingError,
    Terms,
    price_job,
)
from estimates.models import Estimate, EstimateLine
from jobs.models import Room
from workshop import clock
from workshop.calculations.costs import cost, rate_from_micro
from workshop.calculations.money import (
    AmountTooLarge,
    MoneyError,
    margin_to_markup,
    markup_to_margin,
    plain_money,
    round_half_up,
    show_money,
)
from workshop.calculations.units import WrongDimension, from_micro, quantity
from workshop.language import decimal_mark, locale

Klass = EstimateLine.Klass
IN_AN_HOUR = {"hour": 1, "minute": 60}

MOST_LINES_OPEN = 60

OLD_AFTER = timedelta(days=180)
"""A supplier's price that holds from longer ago is told as old. Half a year: our choice, no source."""


@dataclass(frozen=True)
class ClassPart:
    """The lines of one class in a room, at cost."""

    name: str
    lines: list[EstimateLine]

    @property
    def cost_minor(self) -> int:
        return sum(line.total_minor for line in self.lines)

    @property
    def minutes(self) -> int:
        """Hours in the lines, to the minute; 0 where none are told in hours."""
        return _minutes(self.lines)


@dataclass
class RoomPart:
    """A room of an estimate, or the whole job where `room` is None: its lines and its price."""

    room: Room | None
    lines: list[EstimateLine] = field(default_factory=list)
    amounts: Amounts = field(default_factory=Amounts)
    by_class: list[Amounts] = field(default_factory=list)

    @property
    def cost_minor(self) -> int:
        return sum(line.total_minor for line in self.lines)

    @cached_property
    def classes(self) -> list[ClassPart]:
        """Its lines by class, those classes that have any."""
        parts = [ClassPart(label, [n for n in self.lines if n.klass == klass]) for klass, label in Klass.choices]
        return [part for part in parts if part.lines]

    @property
    def costs(self) -> list[int]:
        """The cost by class, in the order of CLASSES."""
        return [sum(line.total_minor for line in self.lines if line.klass == klass) for klass in CLASSES]

    @property
    def prices(self) -> list[int]:
        """The price by class, in the order of CLASSES, before discount."""
        return [amounts.before_discount_minor for amounts in self.by_class]


@dataclass
class Priced:
    """An estimate by room with its price; where lines and terms make no price, `problem` says why."""

    estimate: Estimate
    parts: list[RoomPart]
    price: JobPrice | None = None
    problem: str = ""

    @property
    def whole(self) -> Amounts:
        return self.price.whole

    @property
    def class_prices(self) -> list[int]:
        return [self.price.of_class(klass).before_discount_minor for klass in CLASSES]

    @property
    def taxed_words(self) -> str:
        return taxed_words(self.estimate)

    @property
    def is_open(self) -> bool:
        """Whether there are few enough lines to show them all at once; else each room's fold away by class."""
        return sum(len(part.lines) for part in self.parts) <= MOST_LINES_OPEN

    @property
    def class_costs(self) -> list[int]:
        return [self.price.of_class(klass).cost_minor for klass in CLASSES]

    @property
    def labor_minutes(self) -> int:
        return _minutes(line for part in self.parts for line in part.lines)

    @property
    def other_profit_ppm(self) -> int:
        """The markup told as a margin, or the margin as a markup, to a tenth of a per cent."""
        of = {Estimate.ProfitWay.MARKUP: markup_to_margin, Estimate.ProfitWay.MARGIN: margin_to_markup}
        return round_half_up(Fraction(of[self.estimate.profit_way](self.estimate.profit_ppm), 1000)) * 1000

    @property
    def filled(self) -> list[EstimateLine]:
        return [line for part in self.parts for line in part.lines if line.source != EstimateLine.Source.TYPED]

    @property
    def unpriced(self) -> int:
        """How many lines were filled without a rate, because the shop knows none."""
        return sum(not line.price_micro for line in self.filled)

    @property
    def without_price(self) -> list[EstimateLine]:
        """One line for each material and operation that was filled without a rate."""
        return _one_of_each(line for line in self.filled if not line.price_micro)

    @property
    def with_old_price(self) -> list[EstimateLine]:
        """One line for each material that was filled at a price from long ago."""
        before = clock.today() - OLD_AFTER
        return _one_of_each(n for n in self.filled if n.material_id and n.basis_on and n.basis_on < before)


def _minutes(lines: Iterable[EstimateLine]) -> int:
    return round_half_up(sum((hours_of(line) or 0 for line in lines), Fraction(0)) * 60)


def _one_of_each(lines: Iterable[EstimateLine]) -> list[EstimateLine]:
    first: dict[object, EstimateLine] = {}
    for line in lines:
        first.setdefault(line.material_id or line.description, line)
    return list(first.values())


def line_total(*, quantity_micro: int, unit: str, price_micro: int, price_unit: str, currency: str) -> int:
    """Quantity times rate in minor units, rounded once.

    Raises:
        ValidationError: the quantity cannot be priced per that unit, or the amount is too large; at the field.
    """
    rate = rate_from_micro(price_micro, currency, price_unit)
    try:
        return cost(quantity(from_micro(quantity_micro), unit), rate)
    except WrongDimension as error:
        message = _("A quantity in this unit has no price per that one. Choose the same unit for both.")
        raise ValidationError({"price_unit": message}) from error
    except AmountTooLarge as error:
        message = _("The line comes to more than can be kept. Type a smaller rate or quantity.")
        raise ValidationError({"price_micro": message}) from error


def terms_of(estimate: Estimate) -> Terms:
    taxed = {
        "material": estimate.is_material_taxed,
        "labor": estimate.is_labor_taxed,
        "other": estimate.is_other_taxed,
    }
    return Terms(
        overhead_way=estimate.overhead_way,
        overhead_ppm=estimate.overhead_ppm,
        overhead_rate=rate_from_micro(estimate.overhead_hour_micro, estimate.job.currency, "hour"),
        contingency_ppm=estimate.contingency_ppm,
        profit_way=estimate.profit_way,
        profit_ppm=estimate.profit_ppm,
        discount_minor=estimate.discount_minor,
        discount_ppm=estimate.discount_ppm,
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


def check(estimate: Estimate) -> None:
    """Refuse terms or lines that make no price.

    Raises:
        ValidationError: the discount is more than the price, the sum is too large, or a rate is none.
    """
    try:
        price_of(estimate, list(estimate.lines.all()))
    except (PricingError, MoneyError) as error:
        raise refusal(error, estimate.job.currency) from error


def refusal(error: PricingError | MoneyError, currency: str) -> ValidationError:
    if isinstance(error, DiscountTooLarge):
        message = _("The discount is more than the price, %(most)s. Type that or less.")
        most = {
            "most": show_money(error.most_minor, currency, locale()),
            "would_do": [plain_money(error.most_minor, currency, decimal_mark())],
        }
        return ValidationError({"discount_minor": ValidationError(message, params=most)})
    if isinstance(error, AmountTooLarge):
        return ValidationError(_("The estimate comes to more than can be kept. Make a line smaller."))
    return ValidationError(_("The terms make no price: %(typed)s. Change them."), params={"typed": error.typed})


def price_of(estimate: Estimate, lines: Sequence[EstimateLine]) -> JobPrice:
    """The price of an estimate whose lines are at hand, in the order of the rooms.

    Raises:
        PricingError, MoneyError: its lines and terms make no price.
    """
    costs = [CostLine(line.room_id, line.klass, line.total_minor, hours_of(line)) for line in lines]
    return price_job(costs, terms_of(estimate))


def hours_of(line: EstimateLine) -> Fraction | None:
    """The hours in a line of labor, on which overhead can be set."""
    if line.klass != Klass.LABOR or line.unit not in IN_AN_HOUR:
        return None
    return from_micro(line.quantity_micro) / IN_AN_HOUR[line.unit]


def priced(estimate: Estimate) -> Priced:
    """The estimate by room with its totals; a constant number of queries."""
    lines = sorted(estimate.lines.select_related("room", "basis_supplier"), key=_place)
    parts: dict[int | None, RoomPart] = {}
    for line in lines:
        parts.setdefault(line.room_id, RoomPart(line.room)).lines.append(line)
    found = Priced(estimate, list(parts.values()))
    try:
        found.price = price_of(estimate, lines)
    except (PricingError, MoneyError) as error:
        found.problem = " ".join(refusal(error, estimate.job.currency).messages)
        return found
    for key, part in parts.items():
        part.amounts = found.price.of_room(key)
        part.by_class = [found.price.parts.get((key, klass), Amounts()) for klass in CLASSES]
    return found


def _place(line: EstimateLine) -> tuple[bool, int, int, int, str, bool, int]:
    """Rooms in the order of installation, then the whole job; waste under its material."""
    room, (kind, _colon, of) = line.room, line.stands_for.partition(":")
    in_room = (line.place, of, kind == "waste", line.pk)
    return (room is None, room.place if room else 0, line.room_id or 0, *in_room)
