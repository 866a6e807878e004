"""Samples sent to client or architect: answered with a day, a note and a photo; an order that waits is held."""

from datetime import date
from pathlib import Path

import pytest
from django.test import Client as Browser
from django.urls import reverse
from pytest_django import Settings

from materials import samples
from materials.models import DeliveryLine, Material, Order, Sample
from tests.makers import hand, make_delivery, make_material, make_order, post
from tests.pictures import sent
from tests.queries import queries_of
from tests.typed import DAYS, KEYS, TEXTS
from workshop import actions
from workshop.actions import new_key, undo
from workshop.models import Action, Person, Photo

NEW = "/samples/new/"
LIST = "/samples/"
NOV_16 = date(2026, 11, 16)


def page(sample: Sample, name: str = "sample") -> str:
    return reverse(f"materials:{name}", args=[sample.pk])


def is_held(order: Order) -> bool:
    return Order.objects.with_state().get(pk=order.pk).is_waiting


def make_sample(**fields: object) -> Sample:
    material = fields.pop("material", None) or make_material()
    values = {"what": "Finish panel, satin", "sent_to": "Example Architects", "sent_on": NOV_16, **fields}
    return Sample.objects.create(material=material, **values)


@pytest.fixture(autouse=True)
def _media(settings: Settings, tmp_path: Path) -> None:
    settings.MEDIA_ROOT = tmp_path


@pytest.fixture
def plywood(db: None) -> Material:
    return make_material(name="Ash-veneered plywood")


@pytest.fixture
def order(plywood: Material) -> Order:
    return make_order(number=34, material=plywood)


@pytest.fixture
def typed(plywood: Material) -> dict[str, object]:
    words = {"what": "Finish panel, satin", "sent_to": "Example Architects", "sent_on": "2026-11-16"}
    return {"material": plywood.pk, **words}


class TestSending:
    def test_a_sample_is_sent_and_waits_for_an_answer(
        self, staff_client: Browser, typed: dict[str, object], order: Order
    ) -> None:
        answer = post(staff_client, NEW, **typed, order=order.pk)

        sample = Sample.objects.get()
        assert answer.url == page(sample)
        assert "Order 34 waits for it." in staff_client.get(answer.url).content.decode()
        told = "Sample sent to Example Architects: Finish panel, satin"
        assert actions.sentence_of(actions.trace(order).first()) == told

    def test_the_same_form_sent_twice_adds_one(self, staff_client: Browser, typed: dict[str, object]) -> None:
        key = new_key()

        post(staff_client, NEW, key=key, **typed)
        post(staff_client, NEW, key=key, **typed)

        assert Sample.objects.count() == 1

    def test_the_address_fills_in_the_order_and_its_material(self, staff_client: Browser, order: Order) -> None:
        form = staff_client.get(NEW, {"order": order.pk}).context["form"]

        assert form["order"].value() == order.pk
        assert form["material"].value() == order.lines.get().material_id

    @pytest.mark.parametrize("query", ["order=x", "order=999999", "material=%00", f"material={10**40}"])
    def test_an_address_that_names_nothing_shows_the_empty_form(
        self, staff_client: Browser, db: None, query: str
    ) -> None:
        assert staff_client.get(f"{NEW}?{query}").status_code == 200

    @pytest.mark.parametrize("day", [*DAYS, "", "2026-11-26"])
    def test_a_day_it_cannot_have_been_sent_is_refused(
        self, staff_client: Browser, typed: dict[str, object], day: str
    ) -> None:
        answer = post(staff_client, NEW, **{**typed, "sent_on": day})

        assert answer.status_code == 422
        assert answer.context["form"].errors["sent_on"]
        assert not Sample.objects.exists()

    @pytest.mark.parametrize("field", ["what", "sent_to", "note"])
    @pytest.mark.parametrize("text", TEXTS)
    def test_a_text_that_cannot_be_kept_is_refused(
        self, staff_client: Browser, typed: dict[str, object], field: str, text: str
    ) -> None:
        answer = post(staff_client, NEW, **{**typed, field: text})

        assert answer.status_code == 422
        assert answer.context["form"].errors[field]

    @pytest.mark.parametrize("field", ["material", "order"])
    @pytest.mark.parametrize("key", [each for each in KEYS if getattr(each, "id", "") != "nothing"])
    def test_what_is_not_there_is_refused(
        self, staff_client: Browser, typed: dict[str, object], field: str, key: str
    ) -> None:
        answer = post(staff_client, NEW, **{**typed, field: key})

        assert answer.status_code == 422
        assert answer.context["form"].errors[field]

    def test_a_cancelled_order_waits_for_nothing(
        self, staff_client: Browser, typed: dict[str, object], order: Order
    ) -> None:
        Order.objects.update(cancelled_on=NOV_16)

        answer = post(staff_client, NEW, **typed, order=order.pk)

        assert answer.status_code == 422
        assert answer.context["form"].errors["order"]

    def test_sending_is_taken_back(self, staff_client: Browser, staff: Person, typed: dict[str, object]) -> None:
        post(staff_client, NEW, **typed)

        undo(action=Action.objects.get(), by=hand(staff))

        assert not Sample.objects.exists()

    def test_a_stale_change_shows_both_values(
        self, staff_client: Browser, typed: dict[str, object], plywood: Material
    ) -> None:
        sample = make_sample(material=plywood)
        post(staff_client, page(sample, "sample_edit"), **{**typed, "what": "Panel, matte"}, version="1")

        answer = post(staff_client, page(sample, "sample_edit"), **{**typed, "what": "Panel, gloss"}, version="1")

        assert answer.status_code == 422
        assert "Stored now: Panel, matte" in answer.content.decode()

    def test_an_order_named_by_mistake_waits_no_more(
        self, staff_client: Browser, typed: dict[str, object], order: Order, plywood: Material
    ) -> None:
        sample = make_sample(material=plywood, order=order)

        post(staff_client, page(sample, "sample_edit"), **typed, order="", version="1")

        assert not is_held(order)
        assert actions.trace(order).exists()

    def test_a_sample_answered_before_it_was_sent_is_refused(
        self, staff_client: Browser, typed: dict[str, object], plywood: Material
    ) -> None:
        sample = make_sample(material=plywood, is_approved=True, answered_on=date(2026, 11, 18))

        answer = post(staff_client, page(sample, "sample_edit"), **{**typed, "sent_on": "2026-11-19"}, version="1")

        assert answer.status_code == 422
        assert "It was answered on Wed, Nov 18." in answer.context["form"].errors["sent_on"][0]


class TestAnswering:
    @pytest.mark.parametrize(("said", "words"), [("yes", "approved"), ("no", "refused")])
    def test_the_answer_is_kept_with_its_day_and_note(
        self, staff_client: Browser, plywood: Material, said: str, words: str
    ) -> None:
        sample = make_sample(material=plywood)

        answer = post(
            staff_client, page(sample, "sample_answer"), is_approved=said, answered_on="2026-11-24", note="Less gloss"
        )

        sample.refresh_from_db()
        assert answer.url == page(sample)
        assert (sample.is_approved, sample.answered_on) == (said == "yes", date(2026, 11, 24))
        assert "Less gloss" in staff_client.get(answer.url).content.decode()
        told = f"Sample Finish panel, satin: {words} by Example Architects"
        assert actions.sentence_of(actions.trace(plywood).first()) == told

    def test_a_photo_of_what_was_signed_is_kept_with_it(self, staff_client: Browser, db: None) -> None:
        sample = make_sample()

        answer = post(
            staff_client, page(sample, "sample_answer"), is_approved="yes", answered_on="2026-11-24", pictures=[sent()]
        )

        photo = Photo.objects.get()
        sample.refresh_from_db()
        assert sample.photo == photo
        assert reverse("front:photo", args=[photo.pk]) in staff_client.get(answer.url).content.decode()

    def test_an_answer_with_its_photo_is_taken_back(self, staff_client: Browser, staff: Person) -> None:
        sample = make_sample()
        answer = {"is_approved": "no", "answered_on": "2026-11-24", "pictures": [sent()]}
        post(staff_client, page(sample, "sample_answer"), **answer)

        undo(action=Action.objects.get(), by=hand(staff))

        sample.refresh_from_db()
        assert (sample.answered_on, sample.photo) == (None, None)
        assert not Photo.objects.exists()

    def test_one_photo_belongs_to_an_answer(self, staff_client: Browser, db: None) -> None:
        pictures = [sent(name="one.jpg"), sent(name="two.jpg")]

        answer = post(
            staff_client,
            page(make_sample(), "sample_answer"),
            is_approved="yes",
            answered_on="2026-11-24",
            pictures=pictures,
        )

        assert answer.status_code == 422
        assert answer.context["form"].errors["pictures"]
        assert not Photo.objects.exists()

    @pytest.mark.parametrize("content", [b"", b"<svg/>", b"\0" * 100])
    def test_what_is_no_picture_is_refused_and_nothing_answered(
        self, staff_client: Browser, db: None, content: bytes
    ) -> None:
        sample = make_sample()

        answer = post(
            staff_client,
            page(sample, "sample_answer"),
            is_approved="yes",
            answered_on="2026-11-24",
            pictures=[sent(content)],
        )

        sample.refresh_from_db()
        assert answer.status_code == 422
        assert sample.answered_on is None

    @pytest.mark.parametrize("day", [*DAYS, "", "2026-11-26", "2026-11-15"])
    def test_a_day_it_cannot_have_been_answered_is_refused(self, staff_client: Browser, db: None, day: str) -> None:
        sample = make_sample()

        answer = post(staff_client, page(sample, "sample_answer"), is_approved="yes", answered_on=day)

        sample.refresh_from_db()
        assert answer.status_code == 422
        assert answer.context["form"].errors["answered_on"]
        assert sample.answered_on is None

    @pytest.mark.parametrize("said", ["", "maybe", "\0", "a" * 100_000])
    def test_an_answer_is_yes_or_no(self, staff_client: Browser, db: None, said: str) -> None:
        answer = post(staff_client, page(make_sample(), "sample_answer"), is_approved=said, answered_on="2026-11-24")

        assert answer.status_code == 422
        assert answer.context["form"].errors["is_approved"]

    def test_an_answer_is_given_once(self, staff_client: Browser, db: None) -> None:
        sample = make_sample(is_approved=True, answered_on=date(2026, 11, 18))

        answer = post(staff_client, page(sample, "sample_answer"), is_approved="no", answered_on="2026-11-24")

        sample.refresh_from_db()
        assert answer.status_code == 422
        assert "It was answered on Wed, Nov 18." in answer.content.decode()
        assert sample.is_approved

    def test_an_answer_is_taken_back(self, staff_client: Browser, staff: Person, order: Order) -> None:
        sample = make_sample(order=order)
        post(staff_client, page(sample, "sample_answer"), is_approved="yes", answered_on="2026-11-24")
        assert not is_held(order)

        undo(action=Action.objects.get(), by=hand(staff))

        sample.refresh_from_db()
        assert sample.answered_on is None
        assert is_held(order)

    def test_answering_asks_for_a_post(self, staff_client: Browser, db: None) -> None:
        assert staff_client.get(page(make_sample(), "sample_answer")).status_code == 405


class TestHeld:
    def test_an_order_waits_for_a_sample_without_an_answer(self, order: Order) -> None:
        assert not is_held(order)

        make_sample(order=order)

        assert is_held(order)

    def test_an_approved_sample_lets_the_order_go(self, order: Order) -> None:
        make_sample(order=order, is_approved=True, answered_on=NOV_16)

        assert not is_held(order)

    def test_a_refused_sample_holds_it_until_a_later_one_is_approved(self, order: Order, plywood: Material) -> None:
        make_sample(order=order, material=plywood, is_approved=False, answered_on=NOV_16)
        assert is_held(order)

        make_sample(order=order, material=plywood, is_approved=True, answered_on=NOV_16)

        assert not is_held(order)

    def test_an_approved_sample_of_another_material_does_not_let_it_go(self, order: Order, plywood: Material) -> None:
        make_sample(order=order, material=plywood, is_approved=False, answered_on=NOV_16)

        make_sample(order=order, is_approved=True, answered_on=NOV_16)

        assert is_held(order)

    def test_of_two_sent_at_once_both_must_be_approved(self, order: Order, plywood: Material) -> None:
        make_sample(order=order, material=plywood)
        make_sample(order=order, material=plywood, is_approved=True, answered_on=NOV_16)

        assert is_held(order)

    @pytest.mark.parametrize("end", ["cancelled", "arrived"])
    def test_an_order_that_is_over_waits_for_nothing(self, order: Order, end: str) -> None:
        make_sample(order=order)
        Order.objects.update(placed_on=NOV_16, cancelled_on=NOV_16 if end == "cancelled" else None)
        line = order.lines.get()
        if end == "arrived":
            DeliveryLine.objects.create(
                delivery=make_delivery(), material=line.material, order_line=line, kept_micro=42_000_000, price_micro=0
            )

        assert not is_held(order)

    def test_a_sample_for_no_order_holds_none(self, order: Order) -> None:
        make_sample()

        assert not is_held(order)

    def test_order_list_and_lead_times_say_so(self, staff_client: Browser, order: Order) -> None:
        Order.objects.update(placed_on=NOV_16)
        make_sample(order=order)

        shown = {url: staff_client.get(url).content.decode() for url in (page(order, "order"), "/orders/", "/buying/")}

        assert "Placed, held" in shown[page(order, "order")]
        assert "sent to Example Architects Mon, Nov 16, no answer yet" in shown[page(order, "order")]
        assert "Placed, held" in shown["/orders/"]
        assert "Waits for Finish panel, satin" in shown["/orders/"]
        assert "Held: a sample is not approved" in shown["/buying/"]

    @pytest.mark.parametrize("url", ["/orders/", LIST, "/buying/"])
    def test_lists_cost_the_same_with_one_sample_and_with_fifty(
        self, owner_client: Browser, order: Order, url: str
    ) -> None:
        Order.objects.update(placed_on=NOV_16)
        make_sample(order=order)
        make_sample(is_approved=True, answered_on=NOV_16)
        few = queries_of(owner_client, url)

        for _ in range(50):
            make_sample(order=make_order(placed_on=NOV_16))
            make_sample(is_approved=False, answered_on=NOV_16)

        assert queries_of(owner_client, url) <= few


class TestPages:
    def test_an_empty_list_says_what_to_do_first(self, staff_client: Browser, db: None) -> None:
        assert "No sample sent yet" in staff_client.get(LIST).content.decode()

    @pytest.mark.parametrize("words", ["satin", "Architects", "veneered"])
    def test_a_sample_is_found_by_what_it_is_who_has_it_and_its_material(
        self, staff_client: Browser, plywood: Material, words: str
    ) -> None:
        make_sample(material=plywood)

        assert "Finish panel, satin" in staff_client.get(LIST, {"q": words}).content.decode()

    def test_samples_stand_on_the_page_of_their_material(self, staff_client: Browser, plywood: Material) -> None:
        make_sample(material=plywood)

        shown = staff_client.get(reverse("materials:material", args=[plywood.pk])).content.decode()

        assert "Finish panel, satin" in shown

    def test_a_sample_does_not_count_in_the_materials_unit(self, staff_client: Browser, owner: Person) -> None:
        ash = make_material(kind="lumber", unit="board_foot")
        samples.add(material=ash, by=hand(owner), what="Offcut", sent_to="Example Architects", sent_on=NOV_16)
        url = reverse("materials:material_edit", args=[ash.pk])

        post(staff_client, url, name=ash.name, unit="foot", version="1")

        ash.refresh_from_db()
        assert ash.unit == "foot"
