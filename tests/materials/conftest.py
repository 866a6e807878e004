"""The shop's day in these tests, Wednesday, November 25, 2026; a lot to sort, and an order with its delivery."""

from datetime import date

import pytest
from pytest_django import Settings

from materials.models import Delivery, Lot, Material, Order, OrderLine, Supplier, ToneGroup
from tests.makers import make_delivery, make_ladder, make_lot, make_material, make_order, make_sheets, make_supplier

INCH_NM = 25_400_000


@pytest.fixture(autouse=True)
def today(settings: Settings) -> date:
    settings.FIXED_TODAY = date(2026, 11, 25)
    return settings.FIXED_TODAY


@pytest.fixture
def lot(db: None) -> Lot:
    """Sixty sheets of 49 by 97 in, and four tone groups to sort them to."""
    material = make_material(name="Ash-veneered plywood", species="ash", width_nm=49 * INCH_NM, length_nm=97 * INCH_NM)
    lot = make_lot(number=8, material=material)
    make_ladder(material)
    make_sheets(lot, 60)
    return lot


@pytest.fixture
def groups(lot: Lot) -> list[ToneGroup]:
    return list(lot.material.tone_groups.all())


@pytest.fixture
def supplier(db: None) -> Supplier:
    return make_supplier(name="Supplier A")


@pytest.fixture
def sheets(db: None) -> Material:
    return make_material(name="Ash-veneered plywood")


@pytest.fixture
def order(supplier: Supplier, sheets: Material) -> Order:
    """42 sheets at 71.50 and 315.00 freight: the check values of the house rule on deliveries."""
    return make_order(supplier=supplier, material=sheets, freight_minor=31_500, placed_on=date(2026, 10, 26))


@pytest.fixture
def line(order: Order) -> OrderLine:
    return order.lines.get()


@pytest.fixture
def delivery(supplier: Supplier) -> Delivery:
    return make_delivery(supplier=supplier, number=18, slip_number="40172")
