"""Many rows saved in one action, and taken back in as few steps."""

from datetime import date

import pytest
from django.core.exceptions import ValidationError
from django.db import connection
from django.test.utils import CaptureQueriesContext

import tests.workshop.doing  # noqa: F401
from materials.models import Lot, Sheet
from tests.makers import hand, make_ladder, make_lot, make_sheets
from workshop import actions
from workshop.actions import recorded
from workshop.models import Action, Person

pytestmark = pytest.mark.django_db


@pytest.fixture
def lot() -> Lot:
    lot = make_lot()
    make_sheets(lot, 60)
    return lot


def save_all(person: Person, lot: Lot, landed_minor: int = 7_950) -> Action:
    with recorded(hand(person), "test.do", lot, name="lot") as record:
        sheets = list(lot.sheets.all())
        record.save_many(sheets, [{"landed_minor": landed_minor} for _sheet in sheets])
    return record.action


def test_each_row_is_saved_and_noted_with_what_it_was(owner: Person, lot: Lot) -> None:
    action = save_all(owner, lot)

    assert set(lot.sheets.values_list("landed_minor", "version")) == {(7_950, 2)}
    assert len(action.after) == 60
    assert action.before[0]["fields"] == {"landed_minor": 0}


def test_rows_that_do_not_change_are_neither_saved_nor_noted(owner: Person, lot: Lot) -> None:
    lot.sheets.filter(number__lte=58).update(landed_minor=7_950)

    action = save_all(owner, lot)

    assert len(action.after) == 2
    assert lot.sheets.get(number=1).version == 1


def test_an_action_that_changes_none_of_them_leaves_no_trace(owner: Person, lot: Lot) -> None:
    save_all(owner, lot, 0)

    assert not Action.objects.exists()


def test_many_are_taken_back_in_few_steps(owner: Person, lot: Lot) -> None:
    action = save_all(owner, lot)

    with CaptureQueriesContext(connection) as queries:
        actions.undo(action=action, by=hand(owner))

    assert set(lot.sheets.values_list("landed_minor", "version")) == {(0, 3)}
    assert len(queries) < 30


def test_rows_of_several_kinds_are_taken_back_together(owner: Person, lot: Lot) -> None:
    with recorded(hand(owner), "test.do", lot, name="lot") as record:
        record.save(lot, landed_minor=477_000)
        sheets = list(lot.sheets.all())
        record.save_many(sheets, [{"landed_minor": 7_950} for _sheet in sheets])
        record.save(lot.material, note="Dear")

    actions.undo(action=record.action, by=hand(owner))

    lot.refresh_from_db()
    assert (lot.landed_minor, lot.material.note) == (0, "")
    assert not lot.sheets.exclude(landed_minor=0).exists()


def test_none_is_taken_back_where_one_was_changed_since(owner: Person, lot: Lot) -> None:
    action = save_all(owner, lot)
    lot.sheets.filter(number=31).update(landed_minor=1)

    with pytest.raises(ValidationError, match="sheet 31 was changed since"):
        actions.undo(action=action, by=hand(owner))

    assert lot.sheets.filter(landed_minor=7_950).count() == 59


def test_where_they_do_not_fit_at_once_the_first_that_does_not_says_why(owner: Person, lot: Lot) -> None:
    group = make_ladder(lot.material)[0]
    for place, sheet in enumerate(lot.sheets.filter(number__lte=30), 1):
        lot.sheets.filter(pk=sheet.pk).update(tone_group=group, place=place)
    with recorded(hand(owner), "test.do", lot, name="lot") as record:
        sheets = list(lot.sheets.filter(number__lte=30))
        aside = {"tone_group": None, "place": None, "set_aside_on": date(2026, 11, 25), "set_aside_why": "Warped"}
        record.save_many(sheets, [aside for _sheet in sheets])
    lot.sheets.filter(number=31).update(tone_group=group, place=7)

    with pytest.raises(ValidationError, match="Another sheet lies in this place of the stack now"):
        actions.undo(action=record.action, by=hand(owner))

    assert Sheet.objects.filter(set_aside_why="Warped").count() == 30
