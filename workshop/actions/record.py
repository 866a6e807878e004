"""One action in one transaction: the client's key, the rows it changes, and what it is about."""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import datetime
from uuid import uuid4

from django.core.exceptions import ValidationError
from django.db import DataError, IntegrityError, OperationalError, models, transaction
from django.db.models import ProtectedError
from django.utils.translation import gettext as _

from workshop import clock
from workshop.actions.rows import fields_of, has_version, plain, thing_of
from workshop.models import Action, ActionAbout, Person

A_BATCH = 200


class AlreadyDone(Exception):
    """The key was used before: `action` is what was done then, and its answer is the answer."""

    def __init__(self, action: Action) -> None:
        super().__init__(f"done before as action {action.pk}")
        self.action = action


class Stale(ValidationError):
    """Somebody else saved the row since it was read: `row` is as it is now."""

    def __init__(self, row: models.Model) -> None:
        super().__init__(_("Somebody saved this meanwhile. Look at it again, then send it once more."))
        self.row = row


class _KeyTaken(Exception):
    pass


def new_key() -> str:
    return uuid4().hex


@dataclass(frozen=True)
class Hand:
    """Who does it, under which client key, and when it happened (the moment of recording unless told)."""

    person: Person | None
    key: str = field(default_factory=new_key)
    happened_at: datetime | None = None


class Record:
    """What one action does to the rows. Made by `recorded` only."""

    def __init__(self, by: Hand, verb: str, thing: models.Model | None, words: Mapping[str, object]) -> None:
        self.thing: models.Model | str | None = thing
        self.answer = ""
        self.words: dict[str, object] = dict(words)
        self._about: list[models.Model | str] = []
        self._before: list[dict] = []
        self._after: list[dict] = []
        self._kept = False
        moment = clock.now()
        try:
            with transaction.atomic():
                self.action = Action.objects.create(
                    key=by.key,
                    person=by.person,
                    happened_at=by.happened_at or moment,
                    recorded_at=moment,
                    verb=verb,
                    thing="",
                )
        except IntegrityError as error:
            raise _KeyTaken from error

    def about(self, *things: models.Model | str) -> None:
        """Name further things the action belongs to, whose traces show it; also those it removes."""
        self._about += [thing_of(t) if isinstance(t, models.Model) and t.pk else t for t in things]

    def keep(self) -> None:
        """Keep the action although no row is told, as when a password changes."""
        self._kept = True

    def add(self, row: models.Model) -> models.Model:
        row.full_clean()
        row.save(force_insert=True)
        self._note(row, None, fields_of(row))
        return row

    def add_many(self, rows: Sequence[models.Model]) -> list[models.Model]:
        """Add rows that were checked in plain code; the database's constraints hold what is left."""
        if not rows:
            return []
        made = type(rows[0])._base_manager.bulk_create(rows, batch_size=A_BATCH)
        for row in made:
            self._note(row, None, fields_of(row))
        return made

    def save(self, row: models.Model, *, version: int | None = None, **changes: object) -> models.Model:
        """Save changed fields of a row read before; `version` is the one the person saw when they began.

        Raises:
            Stale: the row was saved by somebody else since.
            ValidationError: the row would not be valid, or is gone.
        """
        if version is not None and row.version != version:
            raise Stale(row)
        before = fields_of(row, changes)
        for name, value in changes.items():
            setattr(row, name, value)
        after = fields_of(row, changes)
        changed = [name for name in after if after[name] != before[name]]
        if not changed:
            return row
        row.full_clean()
        self._write(row, changed)
        self._note(row, {n: before[n] for n in changed}, {n: after[n] for n in changed})
        return row

    def save_many(self, rows: Sequence[models.Model], changes: Sequence[Mapping[str, object]]) -> None:
        """Save changed fields of rows of one model, locked before and checked in plain code, in few steps."""
        saved = []
        for row, values in zip(rows, changes, strict=True):
            before = fields_of(row, values)
            for name, value in values.items():
                setattr(row, name, value)
            after = fields_of(row, values)
            changed = [name for name in after if after[name] != before[name]]
            if changed:
                saved.append((row, {n: before[n] for n in changed}, {n: after[n] for n in changed}))
        if not saved:
            return
        model = type(saved[0][0])
        names = {name for values in changes for name in values}
        if has_version(model):
            names.add("version")
            for row, _before, _after in saved:
                row.version += 1
        model._base_manager.bulk_update([row for row, _before, _after in saved], sorted(names), batch_size=A_BATCH)
        for row, before, after in saved:
            self._note(row, before, after)

    def remove(self, row: models.Model) -> None:
        """Remove a row; what goes into the record is the row as it is in the database now."""
        now = row._meta.model._base_manager.select_for_update().filter(pk=row.pk).first()
        if now is None:
            raise _gone()
        if self.thing == row:
            self.thing = thing_of(row)
        row.delete()
        self._note(now, _whole(now), None)

    def remove_many(self, rows: Sequence[models.Model]) -> None:
        """Remove rows of one model, locked before, in as few steps as there are batches of them."""
        for start in range(0, len(rows), A_BATCH):
            batch = rows[start : start + A_BATCH]
            batch[0]._meta.model._base_manager.filter(pk__in=[row.pk for row in batch]).delete()
            for row in batch:
                self._note(row, _whole(row), None)

    def _write(self, row: models.Model, names: Sequence[str]) -> None:
        values = {name: getattr(row, name) for name in names}
        everybody = row._meta.model._base_manager
        rows = everybody.filter(pk=row.pk)
        if has_version(row._meta.model):
            rows = rows.filter(version=row.version)
            values["version"] = row.version + 1
        if not rows.update(**values):
            now = everybody.filter(pk=row.pk).first()
            raise Stale(now) if now else _gone()
        if "version" in values:
            row.version = values["version"]

    def _note(self, row: models.Model, before: dict | None, after: dict | None) -> None:
        self._before.append({"row": thing_of(row), "fields": before})
        self._after.append({"row": thing_of(row), "fields": after})

    def close(self) -> None:
        if not self._after and not self._kept:
            self.action.delete()
            return
        first = self._after[0]["row"] if self._after else ""
        self.action.thing = _name(self.thing) or first
        self.action.words = plain(self.words)
        self.action.before, self.action.after = self._before, self._after
        self.action.answer = self.answer
        self.action.save()
        things = dict.fromkeys(filter(None, [self.action.thing, *map(_name, self._about)]))
        ActionAbout.objects.bulk_create(
            (ActionAbout(action=self.action, thing=thing) for thing in things), batch_size=A_BATCH
        )


def _name(thing: models.Model | str | None) -> str:
    if isinstance(thing, models.Model):
        return thing_of(thing) if thing.pk else ""
    return thing or ""


def _whole(row: models.Model) -> dict[str, object]:
    """A removed row with its version, so that no form of before can pass for a new one if it comes back."""
    return fields_of(row) | ({"version": row.version} if has_version(row._meta.model) else {})


def _gone() -> ValidationError:
    return ValidationError(_("Somebody took this out meanwhile. Go back and look at what is left."))


@contextmanager
def recorded(
    by: Hand, verb: str, thing: models.Model | None = None, *, about: Sequence[models.Model] = (), **words: object
) -> Iterator[Record]:
    """Do one action in one transaction, or answer as the first time if its key was used before.

    Args:
        by: who does it, with the client's key.
        verb: noun and verb, "room.add"; `say` gives it its sentence.
        thing: what it is done to; the first row added where it is not there yet.
        about: the things it belongs to, whose traces show it.
        words: what the sentence names.

    Raises:
        AlreadyDone: the key was used before.
        ValidationError: the database refuses it, as where somebody did something in the same moment.
    """
    if done := Action.objects.filter(key=by.key).first():
        raise AlreadyDone(done)
    try:
        with transaction.atomic():
            record = Record(by, verb, thing, words)
            record.about(*about)
            yield record
            record.close()
    except _KeyTaken as taken:
        raise AlreadyDone(Action.objects.get(key=by.key)) from taken
    except ProtectedError as error:
        raise ValidationError(_("It is in use and stays. Take out what uses it first.")) from error
    except IntegrityError as error:
        raise ValidationError(
            _("Somebody changed this in the same moment. Look at it again, then send it once more.")
        ) from error
    except (DataError, OverflowError) as error:
        raise ValidationError(
            _("A number here is more than can be kept. Make it smaller, or do it in two parts.")
        ) from error
    except OperationalError as error:
        if not _was_crowded_out(error):
            raise
        raise ValidationError(
            _("Too many were writing in the same moment. Nothing was saved; send it once more.")
        ) from error


def _was_crowded_out(error: OperationalError) -> bool:
    """Whether the database gave this transaction up for others: a deadlock, or a lock that was not to be had."""
    cause = error.__cause__
    if getattr(cause, "sqlstate", None) in ("40001", "40P01", "55P03"):
        return True
    return getattr(cause, "sqlite_errorname", "").startswith(("SQLITE_BUSY", "SQLITE_LOCKED"))
