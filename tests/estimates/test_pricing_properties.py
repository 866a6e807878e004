"""Properties of a price over random jobs, and a second engine written from the rule with plain fractions."""

from fractions import Fraction
from math import floor

from hypothesis import given, settings
from hypothesis import strategies as st

from estimates.calculations.pricing import CLASSES, CostLine, JobPrice, Terms, price_job
from workshop.calculations.costs import Rate
from workshop.calculations.money import PPM

ROOMS = ["Practice room 1", "Practice room 2", "Recital room", "Lobby", None]

cost_lines = st.lists(
    st.builds(
        CostLine,
        room=st.sampled_from(ROOMS),
        klass=st.sampled_from(CLASSES),
        total_minor=st.integers(0, 5000) | st.integers(0, 10**9),
        hours=st.none() | st.fractions(0, 200, max_denominator=60),
    ),
    min_size=1,
    max_size=30,
)
signed_lines = st.lists(
    st.builds(
        CostLine,
        room=st.sampled_from(ROOMS),
        klass=st.sampled_from(CLASSES),
        total_minor=st.integers(-(10**8), 10**8),
    ),
    max_size=20,
)
rates = st.integers(0, 500_000)
tax = {
    "tax_ppm": st.integers(0, 300_000),
    "taxed_classes": st.frozensets(st.sampled_from(CLASSES)),
    "tax_inclusive": st.booleans(),
}
common = {
    "contingency_ppm": rates,
    "profit_way": st.sampled_from(["markup", "margin"]),
    "profit_ppm": rates,
    "discount_ppm": st.just(0) | st.integers(0, 900_000),
} | tax
hourly = st.builds(Rate, st.fractions(0, 100, max_denominator=100), st.just("USD"), st.just("hour"))
terms_without_fixed_discount = st.builds(Terms, overhead_ppm=rates, **common) | st.builds(
    Terms, overhead_way=st.just("hour"), overhead_rate=hourly, **common
)


@st.composite
def jobs(draw: st.DrawFn) -> tuple[list[CostLine], Terms]:
    lines = draw(cost_lines)
    terms = draw(terms_without_fixed_discount)
    if draw(st.booleans()):
        most = price_job(lines, _with(terms, discount_ppm=0)).whole.price_minor
        terms = _with(terms, discount_ppm=0, discount_minor=draw(st.integers(0, most)))
    return lines, terms


def _with(terms: Terms, **fields: object) -> Terms:
    return Terms(**(vars(terms) | fields))


@settings(deadline=None)
@given(jobs())
def test_parts_add_up_to_the_whole(job: tuple[list[CostLine], Terms]) -> None:
    lines, terms = job

    price = price_job(lines, terms)

    assert price.whole.cost_minor == sum(line.total_minor for line in lines)
    assert sum((price.of_room(room).price_minor for room in price.rooms), 0) == price.whole.price_minor
    assert sum((price.of_class(klass).price_minor for klass in CLASSES), 0) == price.whole.price_minor
    assert price.net_minor + price.tax_minor == price.total_minor
    assert price.whole.price_minor == (price.total_minor if terms.tax_inclusive else price.net_minor)


@settings(deadline=None)
@given(jobs())
def test_a_discount_takes_no_class_below_zero_and_a_fixed_one_no_room(
    job: tuple[list[CostLine], Terms],
) -> None:
    lines, terms = job

    price = price_job(lines, terms)

    assert all(price.of_class(klass).price_minor >= 0 for klass in CLASSES)
    if not terms.discount_ppm:
        assert all(amounts.price_minor >= 0 for amounts in price.parts.values())
    if terms.discount_minor:
        assert price.whole.discount_minor == terms.discount_minor


@settings(deadline=None)
@given(jobs())
def test_class_totals_and_tax_do_not_depend_on_the_rooms(job: tuple[list[CostLine], Terms]) -> None:
    lines, terms = job
    in_one_room = [CostLine("Lobby", line.klass, line.total_minor, line.hours) for line in lines]

    price, whole = price_job(lines, terms), price_job(in_one_room, terms)

    assert [price.of_class(klass) for klass in CLASSES] == [whole.of_class(klass) for klass in CLASSES]
    assert price.total_minor == whole.total_minor


@settings(deadline=None)
@given(signed_lines, terms_without_fixed_discount)
def test_a_job_of_negated_lines_is_the_negated_price(lines: list[CostLine], terms: Terms) -> None:
    negated = [CostLine(line.room, line.klass, -line.total_minor) for line in lines]

    assert price_job(negated, terms).total_minor == -price_job(lines, terms).total_minor


@settings(deadline=None)
@given(signed_lines, terms_without_fixed_discount)
def test_lines_below_zero_add_up_too(lines: list[CostLine], terms: Terms) -> None:
    price = price_job(lines, terms)

    assert sum((price.of_room(room).price_minor for room in price.rooms), 0) == price.whole.price_minor
    assert price.whole.cost_minor == sum(line.total_minor for line in lines)


@settings(deadline=None)
@given(jobs())
def test_a_second_engine_reaches_the_same_cents(job: tuple[list[CostLine], Terms]) -> None:
    lines, terms = job

    assert _as_dict(price_job(lines, terms)) == _second_engine(lines, terms)


def _as_dict(price: JobPrice) -> dict:
    rows = {key: [*vars(amounts).values()] for key, amounts in price.parts.items()}
    return rows | {"tax": price.tax_minor, "total": price.total_minor}


def _second_engine(lines: list[CostLine], terms: Terms) -> dict:
    rooms = list(dict.fromkeys(line.room for line in lines))
    rows, whole = {}, {}
    for klass in CLASSES:
        mine = [line for line in lines if line.klass == klass]
        if not mine:
            continue
        spent = sum(line.total_minor for line in mine)
        if terms.overhead_way == "hour":
            overhead = _half_up(sum((line.hours or 0) for line in mine) * terms.overhead_rate.price * 100)
        else:
            overhead = _half_up(Fraction(spent * terms.overhead_ppm, PPM))
        contingency = _half_up(Fraction((spent + overhead) * terms.contingency_ppm, PPM))
        base = spent + overhead + contingency
        part = Fraction(terms.profit_ppm, PPM)
        profit = _half_up(base * part if terms.profit_way == "markup" else base * part / (1 - part))
        whole[klass] = [overhead, contingency, profit, base + profit]
        for room in rooms:
            if any(line.room == room for line in mine):
                rows[room, klass] = [sum(line.total_minor for line in mine if line.room == room)]
    off = _shares(terms.discount_minor, [steps[3] for steps in whole.values()])
    for place, (klass, steps) in enumerate(whole.items()):
        keys = [(room, klass) for room in rooms if (room, klass) in rows]
        costs = [rows[key][0] for key in keys]
        for step in steps[:3]:
            _give(rows, keys, _shares(step, costs))
        if terms.discount_ppm:
            _give(rows, keys, _shares(_half_up(Fraction(steps[3] * terms.discount_ppm, PPM)), costs))
        else:
            _give(rows, keys, _shares(off[place], [sum(rows[key]) for key in keys]))
    prices = {klass: sum(sum(row[:4]) - row[4] for key, row in rows.items() if key[1] == klass) for klass in whole}
    taxed = sum(price for klass, price in prices.items() if klass in terms.taxed_classes)
    percent = Fraction(terms.tax_ppm, 10_000)
    paid = _half_up(taxed * percent / (100 + percent) if terms.tax_inclusive else taxed * percent / 100)
    total = sum(prices.values()) + (0 if terms.tax_inclusive else paid)
    return rows | {"tax": paid, "total": total}


def _half_up(value: Fraction) -> int:
    return floor(value + Fraction(1, 2))


def _shares(total: int, weights: list[int]) -> list[int]:
    weights = weights if any(weights) else [1] * len(weights)
    exact = [Fraction(total * weight, sum(weights)) for weight in weights]
    given_out = [floor(share) for share in exact]
    while sum(given_out) < total:
        owed = [
            share - floor(share) if has == floor(share) else Fraction(-1)
            for share, has in zip(exact, given_out, strict=True)
        ]
        given_out[owed.index(max(owed))] += 1
    return given_out


def _give(rows: dict, keys: list, shares: list[int]) -> None:
    for key, share in zip(keys, shares, strict=True):
        rows[key].append(share)
