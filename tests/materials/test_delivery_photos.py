"""Photos of a delivery: taken at the truck, added later, taken out and brought back."""

from pathlib import Path

import pytest
from django.test import Client as Browser
from django.urls import reverse
from pytest_django import Settings

from materials.models import Delivery, DeliveryPhoto, Supplier
from tests.makers import hand, make_delivery, make_supplier, post
from tests.pictures import huge, picture, sent
from workshop import actions, photos
from workshop.actions import new_key, undo
from workshop.models import Action, Person, Photo

NEW = "/deliveries/new/"


@pytest.fixture(autouse=True)
def files(settings: Settings, tmp_path: Path) -> Path:
    settings.MEDIA_ROOT = tmp_path
    return tmp_path / "photos"


@pytest.fixture
def supplier(db: None) -> Supplier:
    return make_supplier(name="Supplier A")


@pytest.fixture
def delivery(supplier: Supplier) -> Delivery:
    return make_delivery(supplier=supplier, number=18, slip_number="40172")


def typed(supplier: Supplier, **fields: object) -> dict[str, object]:
    return {"supplier": supplier.pk, "slip_number": "40172", "bundles": "3", "arrived_on": "2026-11-24", **fields}


def add_url(delivery: Delivery) -> str:
    return reverse("materials:delivery_photos", args=[delivery.pk])


def page_of(browser: Browser, delivery: Delivery) -> str:
    return browser.get(reverse("materials:delivery", args=[delivery.pk])).content.decode()


def test_photos_are_taken_in_with_the_delivery(staff_client: Browser, supplier: Supplier, files: Path) -> None:
    post(staff_client, NEW, **typed(supplier, pictures=[sent(), sent(picture(kind="PNG"), "corner.png")]))

    delivery = Delivery.objects.get()
    shown = page_of(staff_client, delivery)
    assert delivery.photos.count() == len(list(files.iterdir())) == 2
    assert all(reverse("front:photo", args=[each.photo_id]) in shown for each in delivery.photos.all())
    assert "Photo 2 of delivery" in shown


def test_a_picture_that_cannot_be_read_takes_in_nothing(staff_client: Browser, supplier: Supplier, files: Path) -> None:
    answer = post(staff_client, NEW, **typed(supplier, pictures=[sent(), sent(b"no picture", "slip.pdf")]))

    assert answer.status_code == 422
    assert answer.context["form"].errors["pictures"][0].startswith("slip.pdf cannot be read as a picture.")
    assert not (Delivery.objects.exists() or Photo.objects.exists() or files.exists())


def test_a_refused_form_says_that_the_photos_must_be_chosen_again(staff_client: Browser, supplier: Supplier) -> None:
    answer = post(staff_client, NEW, **typed(supplier, slip_number="", pictures=[sent()]))

    assert "Choose the photos again" in answer.content.decode()


def test_a_slip_that_was_taken_in_before_leaves_no_files(
    staff_client: Browser, supplier: Supplier, delivery: Delivery, files: Path
) -> None:
    answer = post(staff_client, NEW, **typed(supplier, pictures=[sent()]))

    assert answer.status_code == 422
    assert reverse("materials:delivery", args=[delivery.pk]) in answer.content.decode()
    assert list(files.iterdir()) == []


def test_the_same_form_sent_twice_keeps_its_photos_once(staff_client: Browser, supplier: Supplier, files: Path) -> None:
    key = new_key()

    post(staff_client, NEW, key=key, **typed(supplier, pictures=[sent()]))
    post(staff_client, NEW, key=key, **typed(supplier, pictures=[sent()]))

    assert Photo.objects.count() == len(list(files.iterdir())) == 1


def test_photos_are_added_later(staff_client: Browser, delivery: Delivery) -> None:
    answer = post(staff_client, add_url(delivery), pictures=[sent(), sent()])

    assert answer.url == reverse("materials:delivery", args=[delivery.pk])
    assert delivery.photos.count() == 2
    assert actions.sentence_of(actions.trace(delivery).first()) == "Delivery 18: 2 photos added"


@pytest.mark.parametrize("sends", [[], [b""], [huge(60_000, 60_000)], [b"<script>"]])
def test_what_is_no_photo_adds_nothing(staff_client: Browser, delivery: Delivery, sends: list[bytes]) -> None:
    answer = post(staff_client, add_url(delivery), pictures=[sent(content) for content in sends])

    assert answer.status_code == 422
    assert answer.context["form"].errors["pictures"]
    assert not Photo.objects.exists()


def test_a_photo_is_taken_out_and_brought_back_with_its_file(
    staff_client: Browser, staff: Person, delivery: Delivery
) -> None:
    post(staff_client, add_url(delivery), pictures=[sent()])
    kept = DeliveryPhoto.objects.get()

    post(staff_client, reverse("materials:delivery_photo_remove", args=[kept.pk]))

    assert staff_client.get(reverse("front:photo", args=[kept.photo_id])).status_code == 404
    undo(action=Action.objects.get(verb="delivery_photo.remove"), by=hand(staff))
    assert photos.path_of(delivery.photos.get().photo).exists()
    assert staff_client.get(reverse("front:photo", args=[kept.photo_id])).status_code == 200


def test_taking_back_the_photos_takes_them_off_the_page(
    staff_client: Browser, staff: Person, delivery: Delivery
) -> None:
    post(staff_client, add_url(delivery), pictures=[sent()])

    undo(action=Action.objects.get(verb="delivery_photo.add"), by=hand(staff))

    assert not (delivery.photos.exists() or Photo.objects.exists())


def test_taking_back_the_delivery_takes_its_photos_with_it(
    staff_client: Browser, staff: Person, supplier: Supplier
) -> None:
    post(staff_client, NEW, **typed(supplier, pictures=[sent(), sent()]))

    undo(action=Action.objects.get(verb="delivery.take_in"), by=hand(staff))

    assert not (Delivery.objects.exists() or DeliveryPhoto.objects.exists() or Photo.objects.exists())


def test_a_photo_taken_out_twice_is_answered_with_the_delivery(staff_client: Browser, delivery: Delivery) -> None:
    post(staff_client, add_url(delivery), pictures=[sent()])
    url, key = reverse("materials:delivery_photo_remove", args=[DeliveryPhoto.objects.get().pk]), new_key()
    post(staff_client, url, key=key)

    answer = post(staff_client, url, key=key)

    assert answer.url == reverse("materials:delivery", args=[delivery.pk])


def test_a_photo_is_not_taken_out_by_looking(staff_client: Browser, delivery: Delivery) -> None:
    post(staff_client, add_url(delivery), pictures=[sent()])

    answer = staff_client.get(reverse("materials:delivery_photo_remove", args=[DeliveryPhoto.objects.get().pk]))

    assert answer.status_code == 405
    assert delivery.photos.count() == 1


def test_the_trace_holds_the_name_of_the_file_and_not_the_picture(staff_client: Browser, delivery: Delivery) -> None:
    post(staff_client, add_url(delivery), pictures=[sent()])

    told = Action.objects.get(verb="delivery_photo.add").after

    assert len(str(told)) < 1_000
