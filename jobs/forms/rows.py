"""Forms over many rows: one that changes each of them, one that chooses some."""

import re
from collections.abc import Iterable, Sequence

from django import forms
from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import QuerySet
from django.utils.translation import gettext as _

from workshop.forms import Form

KEY = re.compile(r"[0-9]{1,18}")


class RowsForm(Form):
    """One form over many rows: a field `<column>_<pk>` for each, and beside it, hidden, what it was.

    What it was stands in for a version, since counting a stage also counts its version up and takes nothing
    away from who plans it.
    """

    def __init__(self, *args: object, **options: object) -> None:
        super().__init__(*args, **options)
        for row in self.rows():
            fields = self.fields_of(row)
            if self.is_bound and not any(f"{column}_{row.pk}" in self.data for column in fields):
                continue
            for column, field in fields.items():
                self.fields[f"{column}_{row.pk}"] = field
                self.fields[f"was_{column}_{row.pk}"] = forms.CharField(
                    widget=forms.HiddenInput, required=False, max_length=60
                )
                self.initial[f"{column}_{row.pk}"] = getattr(row, field.column)
                self.initial[f"was_{column}_{row.pk}"] = getattr(row, field.column)

    def rows(self) -> Iterable[models.Model]:
        raise NotImplementedError

    def fields_of(self, row: models.Model) -> dict[str, forms.Field]:
        raise NotImplementedError

    def stale(self) -> None:
        """Somebody changed rows meanwhile: show both values, and let the next send mean it."""
        self.add_error(
            None,
            ValidationError(_("This was changed meanwhile. What you typed stands. Send it again to keep yours.")),
        )
        for row in self.rows():
            for column in self.fields_of(row):
                name = f"{column}_{row.pk}"
                field = self.fields.get(name)
                stored = getattr(row, field.column) if field else None
                if field is None or str(stored) == self.data.get(f"was_{name}"):
                    continue
                self._rewrite(**{f"was_{name}": stored})
                if self.cleaned_data.get(name) != stored:
                    self.add_error(
                        name,
                        ValidationError(_("Stored now: %(value)s"), params={"value": field.prepare_value(stored)}),
                    )


def on_column(column: str, field: forms.Field) -> forms.Field:
    field.column = column
    return field


class RowsField(forms.ModelMultipleChoiceField):
    """Rows by their keys; a key larger than a database knows is one that is not there."""

    def clean(self, value: Sequence[str]) -> QuerySet:
        if all(KEY.fullmatch(str(key)) for key in value or ()):
            return super().clean(value)
        raise ValidationError(self.error_messages["invalid_choice"], code="invalid_choice")
