"""The shape of the tables: exact columns named with their unit, and nothing that vanishes unnoted."""

import re

import pytest
from django.apps import apps
from django.core.management import call_command
from django.db import models

from tests import layout

SUFFIXES = ("_minor", "_micro", "_nm")
MEASURED = re.compile(
    r"(?:^|_)(?:price|cost|freight|landed|discount|amount|fee|width|length|thickness|height|depth|quantity|precision)(?:_|$)"
)
OURS = [model for label in layout.PACKAGES for model in apps.get_app_config(label).get_models()]
FIELDS = [(model, field) for model in OURS for field in model._meta.concrete_fields]


def test_no_column_is_a_float_or_a_decimal() -> None:
    found = [str(field) for _model, field in FIELDS if isinstance(field, models.FloatField | models.DecimalField)]

    assert found == []


def test_money_lengths_and_quantities_are_big_whole_numbers_named_with_their_unit() -> None:
    measured = [field for _model, field in FIELDS if MEASURED.search(field.name)]

    wrong = [str(f) for f in measured if not isinstance(f, models.BigIntegerField) or not f.name.endswith(SUFFIXES)]

    told_by_another = {"price_unit", "unit", "has_usual_price", "discount_ppm"}
    assert [name for name in wrong if name.rsplit(".", 1)[1] not in told_by_another] == []
    assert len(measured) > 20


def test_every_big_whole_number_is_named_with_its_unit() -> None:
    big = [field for _model, field in FIELDS if type(field) is models.BigIntegerField]

    assert [str(field) for field in big if not field.name.endswith(SUFFIXES)] == []
    assert [str(f) for _m, f in FIELDS if f.name.endswith(SUFFIXES) and type(f) is not models.BigIntegerField] == []


def test_nothing_vanishes_with_something_else() -> None:
    def on_delete(field: models.Field) -> object:
        return field.remote_field.on_delete

    found = [str(f) for _m, f in FIELDS if f.is_relation and on_delete(f) is not models.PROTECT]

    assert found == []


def test_every_constraint_and_index_has_a_name_of_its_own() -> None:
    names = [each.name for model in OURS for each in (*model._meta.constraints, *model._meta.indexes)]

    assert len(names) == len(set(names))


@pytest.mark.django_db
def test_no_migration_is_missing() -> None:
    call_command("makemigrations", check=True, dry_run=True, verbosity=0)
