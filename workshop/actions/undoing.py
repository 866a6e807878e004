"""The way back: every row an action changed is put back, if none of them was changed since."""

from collections.abc import Sequence
from itertools import groupby

from django.core.exceptions import ValidationError
from django.db import IntegrityError, models, transaction
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from workshop.actions.record import A_BATCH, Hand, Record, recorded
from workshop.actions.rows import fields_of, model_of, values_of
from workshop.actions.told import say, sentence_of, verb_of
from workshop.models import Action, Person

Noted = tuple[dict, dict]
MANY = 20


def may_undo(action: Action, person: Person) -> bool:
    """Whether there is a way back from it, and this person may take it: their own, the owner everybody's."""
    verb = verb_of(action)
    return bool(verb and verb.undoable and (person.is_owner or action.person_id == person.pk))


def can_undo(action: Action, person: Person) -> bool:
    return action.undone_by_id is None and may_undo(action, person)


def undo(*, action: Action, by: Hand) -> Action:
    """Put back every row the action changed, if none of them was changed since.

    Raises:
        ValidationError: there is no way back, or it was taken before, or a row was changed or used since; the
            message says which.
    """
    verb, what = verb_of(action), sentence_of(action)
    with recorded(by, "action.undo", what=what) as record:
        action = Action.objects.select_for_update().get(pk=action.pk)
        if verb is None or not verb.undoable or not action.after:
            raise ValidationError(_("There is no way back from this: %(what)s") % {"what": what})
        if action.undone_by_id:
            raise ValidationError(_("This was taken back before: %(what)s") % {"what": what})
        record.thing, record.answer = action.thing, action.answer
        for noted in _steps_back(action):
            _put_back(record, noted)
        if verb.check_undo:
            verb.check_undo(action)
        record.about(*action.about.values_list("thing", flat=True))
        action.undone_by = record.action
        action.save(update_fields=["undone_by"])
    return record.action


def _steps_back(action: Action) -> list[list[Noted]]:
    """What was noted, last first; rows of one model that were added or removed one after another in one step.

    So are many rows that were saved one after another, each once, as the sheets of a lot by an invoice.
    """
    noted = reversed(list(zip(action.before, action.after, strict=True)))
    steps = []
    for (_model, was_saved), group in groupby(noted, key=_kind):
        rows = list(group)
        at_once = not was_saved or MANY <= len(rows) == len({after["row"] for _before, after in rows})
        steps += [rows] if at_once else [[one] for one in rows]
    return steps


def _kind(noted: Noted) -> tuple[str, bool]:
    before, after = noted
    if before["fields"] is None:
        return "added " + after["row"].split(":")[0], False
    if after["fields"] is None:
        return "removed " + after["row"].split(":")[0], False
    return "saved " + after["row"].split(":")[0], True


def _put_back(record: Record, noted: Sequence[Noted]) -> None:
    before, after = noted[0]
    try:
        model = model_of(after["row"])
    except LookupError as error:
        raise ValidationError(
            _("There is no way back from this: it was made by an older version of the app.")
        ) from error
    rows = _as_noted(model, noted)
    if before["fields"] is None:
        record.remove_many(rows)
    elif after["fields"] is None:
        _bring_back(record, model, [was for was, _gone in noted])
    else:
        _save_back(record, rows, [values_of(model, was["fields"]) for was, _now in noted])


def _save_back(record: Record, rows: Sequence[models.Model], changes: Sequence[dict]) -> None:
    if len(rows) > 1:
        try:
            with transaction.atomic():
                record.save_many(rows, changes)
            return
        except IntegrityError:  # one after another they may fit, or one of them says why not
            rows = [row._meta.model._base_manager.get(pk=row.pk) for row in rows]
    for row, values in zip(rows, changes, strict=True):
        record.save(row, **values)


def _as_noted(model: type[models.Model], noted: Sequence[Noted]) -> list[models.Model]:
    """The rows as they are now, locked; refused where one is not as the action left it."""
    wanted = {_pk(after): after["fields"] for _before, after in noted}
    found: dict[int, models.Model] = {}
    keys = list(wanted)
    for start in range(0, len(keys), A_BATCH):
        rows = model._base_manager.select_for_update().filter(pk__in=keys[start : start + A_BATCH])
        found |= {row.pk: row for row in rows}
    for pk, left in wanted.items():
        row = found.get(pk)
        now = fields_of(row, left) if row is not None and left is not None else None
        if now != left or (left is None and row is not None):
            raise ValidationError(
                _("Not taken back: %(name)s was changed since. Take back the later change first.")
                % {"name": _called(model, row)}
            )
    return [found[pk] for pk in keys if pk in found]


def _bring_back(record: Record, model: type[models.Model], sides: Sequence[dict]) -> None:
    rows = []
    for side in sides:
        fields = dict(side["fields"])
        if "version" in fields:
            fields["version"] += 1
        rows.append(model(pk=_pk(side), **values_of(model, fields)))
    _check_belonging(model, rows)
    try:
        with transaction.atomic():
            record.add_many(rows)
    except IntegrityError:
        _say_which(rows)
        raise


def _check_belonging(model: type[models.Model], rows: Sequence[models.Model]) -> None:
    for field in (f for f in model._meta.concrete_fields if f.is_relation):
        keys = {getattr(row, field.attname) for row in rows} - {None}
        if field.related_model._base_manager.filter(pk__in=keys).count() < len(keys):
            raise ValidationError(
                _("Not taken back: the %(name)s it belongs to was taken out since. Bring that back first.")
                % {"name": field.related_model._meta.verbose_name}
            )


def _say_which(rows: Sequence[models.Model]) -> None:
    """The words of the first row that does not fit beside what is there now."""
    for row in rows:
        try:
            row.full_clean()
        except ValidationError as error:
            raise ValidationError(_("Not taken back: %(why)s") % {"why": " ".join(error.messages)}) from error


def _pk(side: dict) -> int:
    return int(side["row"].split(":")[1])


def _called(model: type[models.Model], row: models.Model | None) -> str:
    name = str(model._meta.verbose_name)
    return f"{name} {row}" if row is not None else name


say("action.undo", gettext_lazy("Taken back: %(what)s"), undo=False)
