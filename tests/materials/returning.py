"""Sheets on their way back, for the tests of returns."""

from datetime import date

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import Given, Room
from materials.models import Delivery, Half, Lot, Sheet, SheetReturn, Supplier, ToneGroup
from tests.makers import make_delivery, make_ladder, make_material, make_order, make_supplier, post

DAY = date(2026, 11, 25)


@pytest.fixture
def supplier(db: None) -> Supplier:
    return make_supplier(name="Supplier A")


@pytest.fixture
def delivery(supplier: Supplier, owner_client: Browser) -> Delivery:
    """42 sheets at 71.50 and 315.00 freight, counted: 79.00 each (house rule, deliveries)."""
    sheets = make_material(name="Ash-veneered plywood")
    make_ladder(sheets)
    order = make_order(supplier=supplier, material=sheets, freight_minor=31_500, placed_on=date(2026, 10, 26))
    delivery = make_delivery(supplier=supplier, number=18, slip_number="40172")
    typed = {f"good_{order.lines.get().pk}": "42"}
    post(owner_client, reverse("materials:delivery_count", args=[delivery.pk]), **typed)
    return delivery


@pytest.fixture
def lot(delivery: Delivery) -> Lot:
    return Lot.objects.select_related("material", "delivery_line__delivery__supplier").get()


@pytest.fixture
def pale(lot: Lot) -> ToneGroup:
    return lot.material.tone_groups.first()


def sheet(number: int) -> Sheet:
    return Sheet.objects.select_related("lot__material", "tone_group").get(number=number)


def ask(browser: Browser, lot: Lot, numbers: str = "3, 17", **typed: object) -> object:
    values = {"numbers": numbers, "asked_on": "2026-11-25", "why": "Veneer loose"}
    return post(browser, reverse("materials:return_new", args=[lot.pk]), **{**values, **typed})


def collect(browser: Browser, *rows: SheetReturn, **typed: object) -> object:
    values = {"rows": [row.pk for row in rows], "collected_on": "2026-11-27"}
    return post(browser, reverse("materials:returns_collect"), **{**values, **typed})


def credit(browser: Browser, row: SheetReturn, **typed: object) -> object:
    values = {"number": "C 81", "dated_on": "2026-11-30", "amount_minor": "71.50"}
    return post(browser, reverse("materials:return_credit", args=[row.pk]), **{**values, **typed})


def in_room(number: int, room: Room) -> None:
    Given.objects.create(half=Half.objects.get(sheet__number=number, side="A"), room=room)
