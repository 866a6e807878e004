"""What was and what is, as sentences people read."""

from datetime import date

import pytest

from materials.models import Sheet, Supplier, ToneGroup
from tests.makers import (
    hand,
    make_lot,
    make_material,
    make_order,
    make_room_stage,
    make_sheets,
)
from tests.workshop.doing import add_client
from workshop import clock
from workshop.actions import recorded
from workshop.models import Action, Person, Shop
from workshop.telling import MOST_LINES, Teller

pytestmark = pytest.mark.django_db


def saved(person: Person, row: object, **fields: object) -> Action:
    with recorded(hand(person), "test.do", row, name="it") as record:
        record.save(row, **fields)
    return record.action


@pytest.fixture
def rows(owner: Person) -> dict[str, object]:
    lot = make_lot()
    group = ToneGroup.objects.create(material=lot.material, place=1, name="Pale", color="#eadfc9")
    order = make_order(currency="EUR")
    return {
        "sheet": make_sheets(lot, 1)[0],
        "group": group,
        "material": make_material(width_nm=1_244_600_000),
        "order": order,
        "line": order.lines.get(),
        "shop": Shop.get(),
        "supplier": make_supplier_of_weeks(),
        "stage": make_room_stage(planned_minutes=90),
        "lot": lot,
        "owner": owner,
    }


def make_supplier_of_weeks() -> Supplier:
    return Supplier.objects.create(name="Supplier A", lead_unit="weeks")


@pytest.mark.parametrize(
    ("name", "changes", "said"),
    [
        ("sheet", {"note": "A scratch"}, "Note: was empty, is A scratch"),
        ("sheet", {"is_damaged": True}, "Damaged: was no, is yes"),
        ("sheet", {"set_aside_on": date(2026, 11, 23)}, "Set aside on: was empty, is Mon, Nov 23"),
        ("supplier", {"lead_unit": "months"}, "Counted in: was weeks, is months"),
        ("material", {"width_nm": 1_257_300_000}, "Width: was 4′-1″, is 4′-1 1/2″"),
        ("order", {"freight_minor": 31_500}, "Freight: was €0.00, is €315.00"),
        ("line", {"price_micro": 72_125_000}, "Price: was €71.50, is €72.125"),
        ("line", {"quantity_micro": 42_500_000}, "Quantity: was 42, is 42.5"),
        ("shop", {"tax_ppm": 82_500}, "Sales tax: was 0%, is 8.25%"),
        ("shop", {"hour_price_micro": 65_000_000}, "Price of an hour: was $0.00, is $65.00"),
        ("stage", {"planned_minutes": 100}, "Planned hours: was 1:30 h, is 1:40 h"),
        ("stage", {"done": 1}, "Done: was 0, is 1"),
        ("lot", {"landed_minor": 310_350}, "Landed minor: was $0.00, is $3,103.50"),
    ],
)
def test_a_changed_value_is_told_as_people_write_it(
    rows: dict, owner: Person, name: str, changes: dict, said: str
) -> None:
    action = saved(owner, rows[name], **changes)

    with clock.as_if(date(2026, 11, 25)):
        assert Teller(with_money=True).changed_values(action) == [said]


def test_what_a_change_points_at_is_told_by_name(rows: dict, owner: Person) -> None:
    action = saved(owner, rows["sheet"], tone_group=rows["group"], place=1)

    told = Teller(with_money=True).changed_values(action)

    assert told == ["Tone group: was empty, is Pale", "Place in the stack: was empty, is 1"]


def test_what_a_change_pointed_at_and_is_gone_is_told_so(rows: dict, owner: Person) -> None:
    action = saved(owner, rows["sheet"], tone_group=rows["group"], place=1)
    Sheet.objects.update(tone_group=None, place=None)
    rows["group"].delete()

    assert Teller(with_money=True).changed_values(action)[0] == "Tone group: was empty, is gone"


def test_lengths_are_told_in_the_shops_system(rows: dict, owner: Person) -> None:
    Shop.objects.update(unit_system="metric")
    action = saved(owner, rows["material"], width_nm=1_250_000_000)

    assert Teller(with_money=True).changed_values(action) == ["Width: was 1244.6 mm, is 1250 mm"]


@pytest.mark.parametrize(
    ("name", "changes"),
    [
        ("order", {"freight_minor": 717_171}),
        ("line", {"price_micro": 7_171_710_000}),
        ("shop", {"tax_ppm": 71_717, "hour_price_micro": 7_171_710_000}),
        ("lot", {"landed_minor": 717_171}),
    ],
)
def test_without_money_no_amount_price_or_rate_is_told(rows: dict, owner: Person, name: str, changes: dict) -> None:
    action = saved(owner, rows[name], **changes)

    assert Teller(with_money=False).changed_values(action) == []


def test_rows_added_and_taken_out_are_told_by_the_sentence_alone(owner: Person) -> None:
    assert Teller(with_money=True).changed_values(add_client(owner)) == []


def test_many_changes_are_cut_short(owner: Person) -> None:
    sheets = make_sheets(make_lot(), 20)
    with recorded(hand(owner), "test.do", name="") as record:
        for sheet in sheets:
            record.save(sheet, note="Ash")

    assert len(Teller(with_money=True).changed_values(record.action)) == MOST_LINES


@pytest.mark.parametrize("row", ["jobs.gone:1", "jobs.client:1"])
def test_columns_and_tables_of_older_versions_are_passed_over(db: None, row: str) -> None:
    action = Action(before=[{"row": row, "fields": {"fax": "1"}}], after=[{"row": row, "fields": {"fax": "2"}}])

    assert Teller(with_money=True).changed_values(action) == []
