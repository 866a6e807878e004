"""Order lines shared out to jobs: the page, the rule, what is said on the order, and which needs they serve."""

import pytest
from django.core.exceptions import ValidationError
from django.test import Client as Browser
from django.urls import reverse

from jobs import line_shares
from jobs.models import Job, LineShare
from materials import order_lines
from materials.models import OrderLine
from tests.jobs.sharing import TODAY
from tests.makers import hand, make_job, make_material, make_order, post
from tests.together import at_once
from tests.typed import NUMBERS
from workshop import actions
from workshop.actions import Stale
from workshop.models import Action, Person


@pytest.fixture(autouse=True)
def today(settings) -> None:
    settings.FIXED_TODAY = TODAY


def url(line: OrderLine) -> str:
    return reverse("jobs:line_jobs", args=[line.pk])


def sent(**shares: object) -> dict[str, object]:
    """What the page sends for jobs by key: _7="20" typed where nothing was."""
    found = {}
    for name, typed in shares.items():
        found |= {f"share{name}": typed, f"was_share{name}": "0"}
    return found


def shared(line: OrderLine) -> dict[int, int]:
    return dict(LineShare.objects.filter(line=line).values_list("job__number", "quantity_micro"))


def told() -> str:
    return actions.sentence_of(Action.objects.first())


def test_a_line_is_shared_out_and_the_rest_is_for_stock(
    owner_client: Browser, line: OrderLine, school: Job, hall: Job
) -> None:
    answer = post(owner_client, url(line), **sent(**{f"_{school.pk}": "20", f"_{hall.pk}": "10"}))

    assert (answer.status_code, answer.url) == (303, reverse("materials:order", args=[line.order_id]))
    assert shared(line) == {12: 20_000_000, 13: 10_000_000}
    words = "20 sheets for 12 Music school, 10 sheets for 13 Recital hall, 12 sheets for stock"
    assert told() == f"Order 34: Ash-veneered plywood: {words}"
    assert words in owner_client.get(answer.url).content.decode()


def test_the_page_offers_the_jobs_that_need_the_material(
    owner_client: Browser, line: OrderLine, school: Job, hall: Job
) -> None:
    make_job(number=14, name="Lobby")

    form = owner_client.get(url(line)).context["form"]

    assert [job.number for job in form.jobs] == [12, 13]
    assert "14 Lobby" in str(form["other"])


def test_another_job_can_be_named_before_it_needs_anything(owner_client: Browser, line: OrderLine) -> None:
    job = make_job(number=14)

    post(owner_client, url(line), other=job.pk, other_micro="5")

    assert shared(line) == {14: 5_000_000}


def test_nothing_takes_a_share_back(owner_client: Browser, line: OrderLine, school: Job) -> None:
    line_shares.share_out(line=line, by=hand(None), shares={school.pk: 5_000_000}, was={})

    post(owner_client, url(line), **{f"share_{school.pk}": "0", f"was_share_{school.pk}": "5000000"})

    assert shared(line) == {}
    assert told() == "Order 34: Ash-veneered plywood: 42 sheets for stock"


def test_a_line_that_is_not_shared_out_is_for_stock(owner_client: Browser, line: OrderLine) -> None:
    html = owner_client.get(reverse("materials:order", args=[line.order_id])).content.decode()

    assert "For stock" in html
    assert url(line) in html


# Refused


def test_all_that_is_ordered_can_be_shared_out(owner_client: Browser, line: OrderLine, school: Job, hall: Job) -> None:
    answer = post(owner_client, url(line), **sent(**{f"_{school.pk}": "30", f"_{hall.pk}": "12"}))

    assert (answer.status_code, sum(shared(line).values())) == (303, 42_000_000)


def test_what_is_too_much_is_said_with_what_there_is(owner_client: Browser, line: OrderLine, school: Job) -> None:
    answer = post(owner_client, url(line), **sent(**{f"_{school.pk}": "43"}))

    assert "43 sheets are shared out, and the line has 42 sheets." in answer.content.decode()
    assert shared(line) == {}


@pytest.mark.parametrize("typed", [*(case for case in NUMBERS if case.id != "nothing"), "2 1/2"])
def test_no_number_trips_a_share(owner_client: Browser, line: OrderLine, school: Job, typed: str) -> None:
    answer = post(owner_client, url(line), **sent(**{f"_{school.pk}": typed}))

    assert (answer.status_code, shared(line)) == (422, {})


@pytest.mark.parametrize(
    "fields",
    [
        {"other": "999999", "other_micro": "5"},
        {"other": "x", "other_micro": "5"},
        {"other": str(10**30), "other_micro": "5"},
        {"other": "", "other_micro": "5"},
    ],
)
def test_another_job_that_is_not_there_is_refused(owner_client: Browser, line: OrderLine, fields: dict) -> None:
    answer = post(owner_client, url(line), **fields)

    assert (answer.status_code, LineShare.objects.count()) == (422, 0)


def test_a_cancelled_order_is_not_shared_out(owner: Person, line: OrderLine, school: Job) -> None:
    line.order.cancelled_on = TODAY
    line.order.save()

    with pytest.raises(ValidationError, match="Order 34 is cancelled"):
        line_shares.share_out(line=line, by=hand(owner), shares={school.pk: 1_000_000}, was={})


def test_what_somebody_shared_out_meanwhile_is_shown_beside_what_was_typed(
    owner_client: Browser, line: OrderLine, school: Job
) -> None:
    post(owner_client, url(line), **sent(**{f"_{school.pk}": "20"}))

    stale = post(owner_client, url(line), **sent(**{f"_{school.pk}": "8"}))
    again = post(
        owner_client,
        url(line),
        **{f"share_{school.pk}": "8", f"was_share_{school.pk}": stale.context["form"].data[f"was_share_{school.pk}"]},
    )

    assert stale.status_code == 422
    assert "Stored now: 20" in stale.content.decode()
    assert (again.status_code, shared(line)) == (303, {12: 8_000_000})


def test_no_less_is_ordered_than_is_shared_out(owner: Person, line: OrderLine, school: Job) -> None:
    line_shares.share_out(line=line, by=hand(owner), shares={school.pk: 20_000_000}, was={})
    change = {"price_micro": line.price_micro, "is_closed": False, "version": line.version}

    with pytest.raises(ValidationError, match="20 sheets of it are shared out to jobs"):
        order_lines.change(line=line, by=hand(owner), quantity_micro=19_000_000, **change)


def test_a_line_that_is_shared_out_stays_on_the_order(owner: Person, line: OrderLine, school: Job) -> None:
    line_shares.share_out(line=line, by=hand(owner), shares={school.pk: 20_000_000}, was={})
    line.order.lines.create(material=make_material(), quantity_micro=1_000_000, price_micro=0)

    with pytest.raises(ValidationError, match="It is in use and stays"):
        order_lines.remove(line=line, by=hand(owner))


def test_staff_see_whom_a_line_is_for_and_cannot_share_it_out(
    staff_client: Browser, line: OrderLine, school: Job
) -> None:
    line_shares.share_out(line=line, by=hand(None), shares={school.pk: 20_000_000}, was={})

    html = staff_client.get(reverse("materials:order", args=[line.order_id])).content.decode()

    assert "20 sheets for 12 Music school, 22 sheets for stock" in html
    assert url(line) not in html
    assert staff_client.get(url(line)).status_code == 403
    assert post(staff_client, url(line), **sent(**{f"_{school.pk}": "1"})).status_code == 403


# Twice, at once, and back


def test_the_same_key_twice_shares_out_once(owner_client: Browser, line: OrderLine, school: Job) -> None:
    key, fields = actions.new_key(), sent(**{f"_{school.pk}": "20"})

    first = post(owner_client, url(line), key=key, **fields)
    second = post(owner_client, url(line), key=key, **fields)

    assert (first.url, Action.objects.count()) == (second.url, 1)


def test_undo_gives_the_shares_back_to_stock(owner: Person, line: OrderLine, school: Job) -> None:
    line_shares.share_out(line=line, by=hand(owner), shares={school.pk: 20_000_000}, was={})

    actions.undo(action=Action.objects.first(), by=hand(owner))

    assert shared(line) == {}


def test_a_share_comes_back_only_while_so_much_is_ordered(owner: Person, line: OrderLine, school: Job) -> None:
    line_shares.share_out(line=line, by=hand(owner), shares={school.pk: 20_000_000}, was={})
    was = {school.pk: 20_000_000}
    line_shares.share_out(line=line, by=hand(owner), shares={school.pk: 0}, was=was)
    taken_back = Action.objects.first()
    change = {"price_micro": line.price_micro, "is_closed": False, "version": line.version}
    order_lines.change(line=line, by=hand(owner), quantity_micro=10_000_000, **change)

    with pytest.raises(ValidationError, match="20 sheets are shared out, and the line has 10 sheets"):
        actions.undo(action=taken_back, by=hand(owner))


@pytest.mark.django_db(transaction=True)
def test_two_who_share_out_the_same_line_at_once_never_share_out_too_much() -> None:
    person = Person.objects.create_user("owner", "a long enough password", name="Rosa Marten", role="owner")
    plywood = make_material(name="Ash-veneered plywood")
    line = make_order(material=plywood).lines.select_related("order", "material").get()
    jobs = iter([make_job(number=12).pk, make_job(number=13).pk])

    got = at_once(
        lambda: line_shares.share_out(line=line, by=hand(person), shares={next(jobs): 30_000_000}, was={}), times=2
    )

    assert sum(shared(line).values()) == 30_000_000
    assert [type(each) for each in got if each is not None] == [ValidationError]


def test_the_rule_tells_a_stale_share(owner: Person, line: OrderLine, school: Job) -> None:
    line_shares.share_out(line=line, by=hand(owner), shares={school.pk: 20_000_000}, was={})

    with pytest.raises(Stale):
        line_shares.share_out(line=line, by=hand(owner), shares={school.pk: 1_000_000}, was={})
