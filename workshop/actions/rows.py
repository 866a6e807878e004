"""Rows as plain values, and back."""

import json
from collections.abc import Collection, Mapping
from datetime import UTC, datetime

from django.apps import apps
from django.core.serializers.json import DjangoJSONEncoder
from django.db import models

UNTOLD = {"version", "password", "last_login"}


def thing_of(row: models.Model) -> str:
    """A row's name in the record: jobs.room:3."""
    return f"{row._meta.label_lower}:{row.pk}"


def model_of(thing: str) -> type[models.Model]:
    return apps.get_model(thing.split(":")[0])


def row_of(thing: str) -> models.Model | None:
    return model_of(thing)._base_manager.filter(pk=int(thing.split(":")[1])).first()


def plain(value: object) -> object:
    """A value as JSON gives it back."""
    if type(value) in (int, str, bool, type(None)):
        return value
    if isinstance(value, datetime) and value.tzinfo:
        value = value.astimezone(UTC)
    return json.loads(json.dumps(value, cls=DjangoJSONEncoder))


def fields_of(row: models.Model, names: Collection[str] | None = None) -> dict[str, object]:
    """The columns of a row as plain values, without those of UNTOLD."""
    fields = [f for f in row._meta.concrete_fields if f.name not in UNTOLD and not f.primary_key]
    if names is not None:
        fields = [f for f in fields if f.name in names or f.attname in names]
    return {f.attname: plain(f.get_prep_value(getattr(row, f.attname))) for f in fields}


def values_of(model: type[models.Model], fields: Mapping[str, object]) -> dict[str, object]:
    """Plain values as the model's own; columns it has no more are left out."""
    by_column = {f.attname: f for f in model._meta.concrete_fields}
    return {name: by_column[name].to_python(value) for name, value in fields.items() if name in by_column}


def has_version(model: type[models.Model]) -> bool:
    return any(f.name == "version" for f in model._meta.concrete_fields)
