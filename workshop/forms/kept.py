"""What every form that changes something carries: the client's key, the row's version, and what was typed."""

import re
from collections.abc import Mapping, Sequence

from django import forms
from django.core.exceptions import NON_FIELD_ERRORS, ValidationError
from django.db import models
from django.http import HttpRequest
from django.utils.translation import gettext as _

from workshop import actions
from workshop.forms.fields import DayField
from workshop.forms.words import Spoken, name_no_choice
from workshop.models import Person

KEY = re.compile(r"\A[0-9a-f]{32}\Z")


class _Kept(Spoken):
    """What every form that changes something carries: the client's key and the hand that sends it."""

    def _make_key(self) -> None:
        self.fields["key"] = forms.CharField(widget=forms.HiddenInput, required=False)
        self.initial["key"] = actions.new_key()
        for field in self.fields.values():
            name_no_choice(field)
        if self.is_bound and not KEY.match(str(self.data.get(self.add_prefix("key"), ""))):
            self._rewrite(key=actions.new_key())
            self._key_was_bad = True
        else:
            self._key_was_bad = False

    def _rewrite(self, **values: object) -> None:
        self.data = self.data.copy()
        for name, value in values.items():
            self.data[self.add_prefix(name)] = str(value)

    def clean(self) -> dict[str, object] | None:
        cleaned = super().clean()
        if self._key_was_bad:
            raise ValidationError(_("This page was not read whole. Look at it again, then send it once more."))
        return cleaned

    def hand(self, request: HttpRequest) -> actions.Hand:
        person = request.user if isinstance(request.user, Person) else None
        return actions.Hand(person=person, key=self.cleaned_data["key"])

    def values(self, *without: str) -> dict[str, object]:
        """What was typed, without the key, the version and the fields named."""
        return {n: v for n, v in self.cleaned_data.items() if n not in ("key", "version", *without)}

    def refuse(self, error: ValidationError) -> None:
        """Show a rule's refusal: at its field where the form has it, else at the top."""
        if not hasattr(error, "error_dict"):
            self.add_error(None, error)
            return
        for name, problems in error.error_dict.items():
            self.add_error(name if name in self.fields and name != NON_FIELD_ERRORS else None, problems)


class Form(_Kept, forms.Form):
    def __init__(self, *args: object, **options: object) -> None:
        super().__init__(*args, **options)
        self._make_key()


class ActionForm(Form):
    """A button alone: nothing but the key."""


class _VersionField(forms.IntegerField):
    """The version of the row as the form was opened; whatever is none counts as one that is past."""

    def clean(self, value: object) -> int:
        try:
            return super().clean(value) or 0
        except ValidationError:
            return 0


class RowForm(_Kept, forms.ModelForm):
    """A form over one row. It reads and checks what was typed; a writing rule saves it.

    The row's uniqueness and constraints are the rule's to check, inside its transaction.
    """

    def __init__(self, *args: object, **options: object) -> None:
        super().__init__(*args, **options)
        self._make_key()
        if self.instance.pk:
            self.fields["version"] = _VersionField(widget=forms.HiddenInput, required=False)
            self.initial["version"] = self.instance.version
        for name, field in self.fields.items():
            if isinstance(field, forms.DateField) and not isinstance(field, DayField):
                self.fields[name] = DayField(
                    label=field.label,
                    help_text=field.help_text,
                    required=field.required,
                    initial=field.initial,
                )

    def _post_clean(self) -> None:
        pass

    @property
    def version(self) -> int:
        return self.cleaned_data.get("version") or 0

    def stale(self, row: models.Model) -> None:
        """Somebody saved the row meanwhile: show both values, and let the next send mean it."""
        last = actions.trace(row).first()
        who = last.person.initials if last and last.person else _("Somebody")
        self._rewrite(version=row.version)
        message = _("%(who)s saved this meanwhile. What you typed stands in the fields. Send it again to keep yours.")
        self.add_error(None, ValidationError(message, params={"who": who}))
        columns = {f.name: f.attname for f in row._meta.concrete_fields if f.name not in actions.UNTOLD}
        for name in self.fields:
            if name not in columns:
                continue
            typed = self.cleaned_data.get(name)
            if getattr(row, columns[name]) != (typed.pk if isinstance(typed, models.Model) else typed):
                shown = _shown(self[name], row, name)
                self.add_error(name, ValidationError(_("Stored now: %(value)s"), params={"value": shown or "–"}))


def _shown(bound: forms.BoundField, row: models.Model, name: str) -> str:
    value = getattr(row, name)
    if isinstance(value, models.Model):
        return str(value)
    if hasattr(row, f"get_{name}_display"):
        return str(getattr(row, f"get_{name}_display")())
    if value is True or value is False:
        return _("Yes") if value else _("No")
    return str(bound.field.prepare_value(value) if value is not None else "")


def unread(field: forms.BoundField) -> Sequence[str]:
    """What would do in place of what was typed, for the buttons below a field."""
    for error in field.form.errors.get(field.name, forms.utils.ErrorList()).as_data():
        if would_do := (error.params or {}).get("would_do"):
            return list(would_do)
    return []


def initial_from(request: HttpRequest, names: Mapping[str, str]) -> dict[str, str]:
    """First values of a form taken from the address, as /orders/new/?material=3."""
    return {name: request.GET[asked] for name, asked in names.items() if asked in request.GET}
