"""Lines and terms of an estimate, and the price they make. How a price is made is held in test_pricing.py."""

import pytest
from django.core.exceptions import ValidationError

from estimates import estimate as estimates
from estimates import pricing
from estimates.models import Estimate, EstimateLine
from jobs import job as jobs
from jobs.models import Job
from tests.makers import hand, make_estimate, make_job, make_line, make_room
from tests.together import at_once
from workshop import actions
from workshop.actions import Stale
from workshop.models import Action, Person, Shop

LUMP = {"quantity_micro": 1_000_000, "unit": "lump", "price_unit": "lump", "klass": "other"}


def add(job: Job, owner: Person, price: int = 100_000_000, **fields: object) -> EstimateLine:
    values = {"room": None, "description": "Delivery", "price_micro": price, **LUMP, **fields}
    return estimates.add_line(job=job, by=hand(owner), **values)


def change_terms(estimate: Estimate, owner: Person, **fields: object) -> Estimate:
    return estimates.change_terms(job=estimate.job, by=hand(owner), version=estimate.version, **fields)


def undo(verb: str, owner: Person) -> None:
    actions.undo(action=Action.objects.filter(verb=verb).order_by("pk").first(), by=hand(owner))


@pytest.mark.parametrize(
    ("micro", "unit", "price", "price_unit", "minor"),
    [
        (42_000_000, "sheet", 71_500_000, "sheet", 300_300),
        # 147 1/2 in of trim at 3.85 a foot is 47.32, as in workshop.calculations.costs
        (147_500_000, "inch", 3_850_000, "foot", 4_732),
        # 20 minutes at 65.00 an hour are 21.666..., half up 21.67
        (20_000_000, "minute", 65_000_000, "hour", 2_167),
        (1_000_000, "lump", 5_000, "lump", 1),  # half a cent is rounded up
        (1_000_000, "lump", 4_999, "lump", 0),
    ],
)
def test_a_line_is_quantity_times_rate_rounded_once(
    micro: int, unit: str, price: int, price_unit: str, minor: int
) -> None:
    total = pricing.line_total(
        quantity_micro=micro, unit=unit, price_micro=price, price_unit=price_unit, currency="USD"
    )

    assert total == minor


@pytest.mark.parametrize(("currency", "minor"), [("USD", 7150), ("JPY", 72), ("KWD", 71_500)])
def test_a_line_is_rounded_to_the_minor_unit_of_its_currency(currency: str, minor: int) -> None:
    """ISO 4217: JPY has no minor unit, USD two places, KWD three."""
    measures = {"quantity_micro": 1_000_000, "unit": "sheet", "price_micro": 71_500_000, "price_unit": "sheet"}

    assert pricing.line_total(**measures, currency=currency) == minor


def test_the_first_line_opens_the_estimate_at_the_shops_usual_terms(owner: Person) -> None:
    Shop.get()
    Shop.objects.update(overhead_ppm=100_000, profit_ppm=200_000, tax_ppm=82_500)
    job = make_job()

    line = add(job, owner)

    row = line.estimate
    assert (row.overhead_ppm, row.profit_ppm, row.tax_ppm, line.total_minor) == (100_000, 200_000, 82_500, 10_000)
    assert actions.sentence_of(Action.objects.get()) == "Estimate: Delivery added"
    assert [action.verb for action in actions.trace(job)] == ["estimate_line.add"]


def test_units_that_do_not_go_together_are_refused_at_the_field(owner: Person) -> None:
    with pytest.raises(ValidationError) as refused:
        add(make_job(), owner, unit="sheet", price_unit="hour")

    assert refused.value.message_dict["price_unit"] == [
        "A quantity in this unit has no price per that one. Choose the same unit for both."
    ]
    assert (Estimate.objects.count(), Action.objects.count()) == (0, 0)


def test_a_line_of_more_than_can_be_kept_is_refused_at_the_field(owner: Person) -> None:
    with pytest.raises(ValidationError) as refused:
        add(make_job(), owner, price=10**17, quantity_micro=2_000_000)

    assert refused.value.message_dict.keys() == {"price_micro"}


def test_lines_that_come_to_more_than_can_be_kept_are_refused(owner: Person) -> None:
    job = make_job()
    add(job, owner, price=10**17)

    with pytest.raises(ValidationError, match="The estimate comes to more than can be kept"):
        add(job, owner, price=10_000)

    assert EstimateLine.objects.count() == 1


def test_a_room_of_another_job_is_refused(owner: Person) -> None:
    with pytest.raises(ValidationError, match="This room is in another job"):
        add(make_job(), owner, room=make_room())


def test_a_job_whose_currency_changed_meanwhile_takes_no_line(owner: Person) -> None:
    job = make_job()
    Job.objects.update(currency="JPY")

    with pytest.raises(ValidationError, match="The job is in JPY now"):
        add(job, owner)


def test_a_job_with_lines_or_a_discount_keeps_its_currency(owner: Person) -> None:
    with_line, with_discount, with_terms = (make_estimate() for _number in range(3))
    make_line(with_line, 100)
    Estimate.objects.filter(pk=with_discount.pk).update(discount_minor=100)

    assert [jobs.has_amount(each.job) for each in (with_line, with_discount, with_terms)] == [True, True, False]


def test_a_changed_line_is_priced_anew_and_typed(owner: Person) -> None:
    line = make_line(make_estimate(), 100, source="need")

    values = {"room": None, "description": "Ash panels", "price_micro": 2_000_000, **LUMP, "klass": "material"}
    estimates.change_line(line=line, by=hand(owner), version=1, **values)

    line.refresh_from_db()
    assert (line.total_minor, line.source, line.description) == (200, "typed", "Ash panels")


def test_a_line_somebody_changed_meanwhile_is_stale(owner: Person) -> None:
    line = make_line(make_estimate(), 100)
    EstimateLine.objects.update(version=2)

    with pytest.raises(Stale):
        estimates.change_line(line=line, by=hand(owner), version=1, room=None, description="Ash", price_micro=1, **LUMP)


def test_a_line_is_taken_out_and_comes_back_by_undo(owner: Person) -> None:
    line = make_line(make_estimate(), 100)
    estimates.remove_line(line=line, by=hand(owner))
    assert EstimateLine.objects.count() == 0

    undo("estimate_line.remove", owner)

    assert EstimateLine.objects.get().total_minor == 100


@pytest.mark.parametrize(("discount", "is_taken"), [(9_999, True), (10_000, True), (10_001, False)])
def test_a_discount_of_more_than_the_price_is_refused_at_its_field(
    owner: Person, discount: int, is_taken: bool
) -> None:
    estimate = make_estimate()
    make_line(estimate, 10_000)

    try:
        change_terms(estimate, owner, discount_minor=discount)
    except ValidationError as refused:
        assert not is_taken
        assert refused.message_dict == {
            "discount_minor": ["The discount is more than the price, $100.00. Type that or less."]
        }
    assert Estimate.objects.get().discount_minor == (discount if is_taken else 0)


def test_a_line_the_discount_rests_on_is_not_taken_out(owner: Person) -> None:
    estimate = make_estimate(discount_minor=10_000)
    line = make_line(estimate, 10_000)

    with pytest.raises(ValidationError, match="The discount is more than the price"):
        estimates.remove_line(line=line, by=hand(owner))

    assert EstimateLine.objects.count() == 1


def test_a_line_the_discount_rests_on_is_not_taken_back_by_undo(owner: Person) -> None:
    job = make_job()
    add(job, owner)
    add(job, owner)
    change_terms(estimates.current(job), owner, discount_minor=15_000)

    with pytest.raises(ValidationError, match="The discount is more than the price"):
        actions.undo(action=Action.objects.filter(verb="estimate_line.add").first(), by=hand(owner))

    assert EstimateLine.objects.count() == 2


@pytest.mark.parametrize(("ppm", "is_taken"), [(999_999, True), (1_000_000, False), (2_000_000, False)])
def test_a_margin_of_the_whole_price_is_refused_at_its_field(owner: Person, ppm: int, is_taken: bool) -> None:
    estimate = make_estimate()
    make_line(estimate, 10_000)

    try:
        change_terms(estimate, owner, profit_ppm=ppm, profit_way="margin")
    except ValidationError as refused:
        assert not is_taken
        assert refused.message_dict == {"profit_ppm": ["A margin is less than 100 %. Type 30, or choose markup."]}
    assert (Estimate.objects.get().profit_ppm == ppm) is is_taken


def test_a_markup_may_be_more_than_the_whole_cost(owner: Person) -> None:
    estimate = make_estimate()
    make_line(estimate, 10_000)

    change_terms(estimate, owner, profit_ppm=2_000_000, profit_way="markup")

    assert pricing.priced(estimates.current(estimate.job)).price.total_minor == 30_000


def test_terms_somebody_saved_meanwhile_are_stale(owner: Person) -> None:
    estimate = make_estimate(version=2)
    estimate.version = 1

    with pytest.raises(Stale):
        change_terms(estimate, owner, waste_ppm=100_000)


def test_terms_of_an_estimate_somebody_opened_meanwhile_are_stale(owner: Person) -> None:
    estimate = make_estimate()

    with pytest.raises(Stale):
        estimates.change_terms(job=estimate.job, by=hand(owner), version=0, waste_ppm=100_000)


def test_terms_alone_open_an_estimate(owner: Person) -> None:
    estimates.change_terms(job=make_job(), by=hand(owner), version=0, waste_ppm=100_000)

    assert Estimate.objects.get().waste_ppm == 100_000


def test_undo_puts_terms_back(owner: Person) -> None:
    estimate = make_estimate(waste_ppm=50_000)
    change_terms(estimate, owner, waste_ppm=100_000, notes="Ask about the lobby.")

    undo("estimate.terms", owner)

    row = Estimate.objects.get()
    assert (row.waste_ppm, row.notes) == (50_000, "")


def test_stored_terms_that_make_no_price_are_told_and_not_priced(owner: Person) -> None:
    estimate = make_estimate(discount_minor=20_000)
    make_line(estimate, 10_000)

    priced = pricing.priced(estimate)

    assert (priced.price, len(priced.parts)) == (None, 1)
    assert priced.problem == "The discount is more than the price, $100.00. Type that or less."


@pytest.mark.django_db(transaction=True)
def test_two_lines_taken_out_at_once_leave_the_price_above_the_discount(owner: Person) -> None:
    estimate = make_estimate(discount_minor=10_000)
    lines = iter([make_line(estimate, 10_000), make_line(estimate, 10_000)])

    got = at_once(lambda: estimates.remove_line(line=next(lines), by=hand(owner)), times=2)

    assert sorted(isinstance(one, ValidationError) for one in got) == [False, True]
    assert EstimateLine.objects.count() == 1
