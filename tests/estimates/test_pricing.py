"""The price of a job, worked by hand from the house rule for the order of overhead to tax.

The check values 528.89 at 8.25 % and 100.00 over 600.00 and 300.00 stand in that rule.
"""

from fractions import Fraction

import pytest

from estimates.calculations.pricing import (
    Amounts,
    CostLine,
    DiscountTooLarge,
    PricingError,
    Terms,
    price_job,
)
from workshop.calculations.costs import Rate
from workshop.calculations.money import AmountTooLarge, RateOutOfRange
from workshop.calculations.units import WrongDimension

PRACTICE, RECITAL, LOBBY = "Practice room 1", "Recital room", "Lobby"
MATERIAL = frozenset({"material"})


def _material(total_minor: int, room: str | None = PRACTICE) -> CostLine:
    return CostLine(room, "material", total_minor)


def _labor(total_minor: int, hours: Fraction | int, room: str | None = PRACTICE) -> CostLine:
    return CostLine(room, "labor", total_minor, hours)


MUSIC_SCHOOL = [
    _material(50000),
    _material(11235),
    _labor(48000, 10),
    _material(120480, RECITAL),
    _labor(90000, Fraction(75, 4), RECITAL),
    CostLine(None, "other", 31500),
]
USUAL = Terms(
    overhead_ppm=120_000,
    contingency_ppm=50_000,
    profit_ppm=200_000,
    discount_minor=10000,
    tax_ppm=82_500,
    taxed_classes=MATERIAL,
)


@pytest.mark.parametrize(
    ("klass", "amounts"),
    [
        ("material", Amounts(181715, 21806, 10176, 42739, 5174)),
        ("labor", Amounts(138000, 16560, 7728, 32458, 3929)),
        ("other", Amounts(31500, 3780, 1764, 7409, 897)),
    ],
)
def test_each_step_is_rounded_once_for_the_job_and_class(klass: str, amounts: Amounts) -> None:
    """Material: 12 % of 1,817.15 is 218.058; 5 % of 2,035.21 is 101.7605; 20 % of 2,136.97 is 427.394."""
    assert price_job(MUSIC_SCHOOL, USUAL).of_class(klass) == amounts


@pytest.mark.parametrize(
    ("room", "amounts"),
    [
        (PRACTICE, Amounts(61235, 7348, 3429, 14402, 1744)),
        (RECITAL, Amounts(120480, 14458, 6747, 28337, 3430)),
    ],
)
def test_each_step_is_split_over_the_rooms_by_their_cost_of_the_class(room: str, amounts: Amounts) -> None:
    """Overhead 218.06 in shares of 73.4826... and 144.5773...; the discount of 51.74 goes by price."""
    assert price_job(MUSIC_SCHOOL, USUAL).parts[room, "material"] == amounts


def test_tax_is_computed_once_on_the_discounted_price_of_the_taxed_classes_and_added() -> None:
    """2,564.36 less 51.74 is 2,512.62; at 8.25 % 207.29115."""
    price = price_job(MUSIC_SCHOOL, USUAL)

    assert price.taxable_minor == 251262
    assert price.tax_minor == 20729
    assert price.net_minor == 485635
    assert price.total_minor == 506364


def test_the_tax_on_taxed_material_of_528_89_at_8_25_percent_is_43_63() -> None:
    lines = [_material(30000), _material(22889, RECITAL), _labor(90000, 20)]

    price = price_job(lines, Terms(tax_ppm=82_500, taxed_classes=MATERIAL))

    assert price.tax_minor == 4363
    assert price.total_minor == 142889 + 4363


def test_a_price_of_100_that_holds_tax_at_8_25_percent_holds_7_62() -> None:
    terms = Terms(tax_ppm=82_500, taxed_classes=MATERIAL, tax_inclusive=True)

    price = price_job([_material(10000), _labor(5000, 1)], terms)

    assert price.tax_minor == 762
    assert price.net_minor == 15000 - 762
    assert price.total_minor == 15000


@pytest.mark.parametrize(
    "lines",
    [
        [_material(60000), _material(30000, RECITAL)],
        [_material(60000), _labor(30000, 6)],
    ],
    ids=["two rooms", "two classes"],
)
def test_a_fixed_discount_of_100_over_600_and_300_is_66_67_and_33_33(lines: list[CostLine]) -> None:
    price = price_job(lines, Terms(discount_minor=10000))

    assert [amounts.discount_minor for amounts in price.parts.values()] == [6667, 3333]
    assert price.total_minor == 80000


def test_a_fixed_discount_goes_over_the_classes_first_and_then_over_their_rooms() -> None:
    """1.00 over classes of 2.00 and 1.00 is 0.67 and 0.33; 0.67 over two rooms alike is 0.34 and 0.33."""
    lines = [_material(100), _labor(100, 1), _material(100, RECITAL)]

    price = price_job(lines, Terms(discount_minor=100))

    assert price.parts[PRACTICE, "material"].discount_minor == 34
    assert price.parts[RECITAL, "material"].discount_minor == 33
    assert price.parts[PRACTICE, "labor"].discount_minor == 33


def test_a_discount_in_per_cent_is_rounded_once_for_each_class_and_split_by_cost() -> None:
    """2.5 % of 300.05 is 7.50125, in shares of 5.0000... and 2.4999...."""
    price = price_job([_material(20003), _material(10002, RECITAL)], Terms(discount_ppm=25_000))

    assert [amounts.discount_minor for amounts in price.parts.values()] == [500, 250]


def test_profit_as_a_margin_is_a_part_of_the_price() -> None:
    price = price_job([_material(10000)], Terms(profit_way="margin", profit_ppm=200_000))

    assert price.whole.profit_minor == 2500
    assert price.total_minor == 12500


@pytest.mark.parametrize(
    ("currency", "per_hour", "overhead"),
    [("USD", "18.50", 18963), ("JPY", "1850", 18963), ("KWD", "5.625", 57656)],
)
def test_overhead_can_be_set_for_an_hour(currency: str, per_hour: str, overhead: int) -> None:
    """10.25 h at 18.50 are 189.625; in KWD 10.25 h at 5.625 are 57.65625."""
    terms = Terms(overhead_way="hour", overhead_rate=Rate(Fraction(per_hour), currency, "hour"))
    lines = [_material(100000), _labor(48000, Fraction("10.25"))]

    price = price_job(lines, terms)

    assert price.of_class("labor").overhead_minor == overhead
    assert price.of_class("material").overhead_minor == 0


def test_overhead_for_hours_without_a_cost_goes_over_the_rooms_alike() -> None:
    terms = Terms(overhead_way="hour", overhead_rate=Rate(Fraction(1), "USD", "hour"))

    price = price_job([_labor(0, 1), _labor(0, 2, RECITAL)], terms)

    assert [price.of_room(room).overhead_minor for room in price.rooms] == [150, 150]


def test_of_equal_remainders_the_earlier_room_takes_the_cent() -> None:
    """1 % of 1.50 is 1.5 cents, so 2; the rooms stand in the order of their first line of any class."""
    lines = [_labor(1, 1, RECITAL), _material(50), _material(50, LOBBY), _material(50, RECITAL)]

    price = price_job(lines, Terms(overhead_ppm=10_000))

    assert price.rooms == (RECITAL, PRACTICE, LOBBY)
    assert [price.parts[room, "material"].overhead_minor for room in price.rooms] == [1, 1, 0]


def test_what_belongs_to_the_whole_job_takes_its_share_beside_the_rooms() -> None:
    price = price_job(MUSIC_SCHOOL, USUAL)

    assert price.rooms == (PRACTICE, RECITAL, None)
    assert price.of_room(None).price_minor == 43556


def test_a_job_without_lines_costs_nothing() -> None:
    price = price_job([], Terms(overhead_ppm=120_000, tax_ppm=82_500, taxed_classes=MATERIAL))

    assert price.total_minor == 0
    assert price.rooms == ()


def test_a_job_that_takes_everything_out_again_is_the_same_price_negated() -> None:
    terms = Terms(
        overhead_ppm=123_456,
        contingency_ppm=50_000,
        profit_ppm=200_000,
        tax_ppm=82_500,
        taxed_classes=MATERIAL,
    )
    out = [CostLine(line.room, line.klass, -line.total_minor, line.hours) for line in MUSIC_SCHOOL]

    assert price_job(out, terms).total_minor == -price_job(MUSIC_SCHOOL, terms).total_minor


def test_a_room_with_a_credit_in_a_class_takes_no_share_of_it() -> None:
    price = price_job([_material(10000), _material(-2000, RECITAL)], Terms(overhead_ppm=100_000))

    assert price.parts[PRACTICE, "material"].overhead_minor == 800
    assert price.parts[RECITAL, "material"].overhead_minor == 0


def test_a_discount_may_take_the_whole_price() -> None:
    assert price_job([_material(10000)], Terms(discount_minor=10000)).total_minor == 0
    assert price_job([_material(10000)], Terms(discount_ppm=1_000_000)).total_minor == 0


def test_a_discount_of_more_than_the_price_is_refused() -> None:
    with pytest.raises(DiscountTooLarge, match="10001 minor units of discount are more than the price") as refused:
        price_job([_material(10000)], Terms(discount_minor=10001))

    assert refused.value.most_minor == 10000
    assert refused.value.would_do == ("0", "10000")


@pytest.mark.parametrize(
    ("fields", "kind", "message"),
    [
        ({"tax_ppm": -1}, RateOutOfRange, "it is below zero"),
        ({"overhead_ppm": -1}, RateOutOfRange, "it is below zero"),
        ({"contingency_ppm": 10_000_001}, RateOutOfRange, "it is more than 1,000 %"),
        ({"profit_way": "margin", "profit_ppm": 1_000_000}, RateOutOfRange, "leaves nothing for the cost"),
        ({"profit_way": "guess"}, PricingError, "'guess' is no way to set profit; markup or margin would do"),
        ({"overhead_way": "day"}, PricingError, "'day' is no way to set overhead; cost or hour would do"),
        ({"overhead_way": "hour"}, PricingError, "is no rate for an hour"),
        ({"discount_minor": -5}, PricingError, "-5 is a discount below zero; 0 or 5 would do"),
        ({"discount_ppm": 1_000_001}, PricingError, "100.0001 % is no discount; 5 % or 100 % would do"),
        (
            {"discount_minor": 5, "discount_ppm": 5},
            PricingError,
            "the fixed one alone or the per cent alone would do",
        ),
        (
            {"taxed_classes": frozenset({"glass"})},
            PricingError,
            "'glass' is no class of cost; material or labor would do",
        ),
    ],
)
def test_terms_that_cannot_stand_are_refused(fields: dict, kind: type[Exception], message: str) -> None:
    with pytest.raises(kind, match=message):
        Terms(**fields)


def test_a_line_of_an_unknown_class_is_refused() -> None:
    with pytest.raises(PricingError, match="'glass' is no class of cost"):
        CostLine(PRACTICE, "glass", 100)


def test_overhead_at_a_rate_that_is_not_for_a_time_is_refused() -> None:
    terms = Terms(overhead_way="hour", overhead_rate=Rate(Fraction(18), "USD", "sheet"))

    with pytest.raises(WrongDimension, match="a time cannot be told as a number of sheets"):
        price_job([_labor(48000, 10)], terms)


def test_a_job_beyond_the_largest_amount_is_refused() -> None:
    with pytest.raises(AmountTooLarge, match="it is more than an amount can be"):
        price_job([_material(10**13)], Terms(overhead_ppm=1))
