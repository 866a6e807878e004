"""What was and what is, told for one action."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

import tests.workshop.doing  # noqa: F401
from materials.models import Lot
from tests.makers import hand, make_lot, make_sheets
from workshop.actions import recorded
from workshop.models import Action, Person
from workshop.telling import Teller

pytestmark = pytest.mark.django_db


@pytest.fixture
def costed(owner: Person) -> Action:
    lot: Lot = make_lot(currency="EUR")
    make_sheets(lot, 60)
    with recorded(hand(owner), "test.do", lot, name="lot") as record:
        record.save(lot, landed_minor=477_000)
        sheets = list(lot.sheets.all())
        record.save_many(sheets, [{"landed_minor": 7_950 + (sheet.number <= 5)} for sheet in sheets])
    return record.action


def test_the_same_change_of_many_rows_is_told_once(costed: Action) -> None:
    assert Teller(with_money=True).changed_values(costed) == [
        "Landed cost: was €0.00, is €4,770.00",
        "Landed cost: was €0.00, is €79.51",
        "Landed cost: was €0.00, is €79.50",
    ]


def test_many_rows_cost_no_query_each(costed: Action) -> None:
    with CaptureQueriesContext(connection) as queries:
        Teller(with_money=True).changed_values(costed)

    assert len(queries) < 10


def test_staff_are_told_no_money(costed: Action) -> None:
    assert Teller(with_money=False).changed_values(costed) == []
