"""The drawings a job is worked to, and their revisions; the one dated last stands in the job's title block."""

from datetime import date

from django.core.exceptions import ValidationError
from django.db.models import QuerySet
from django.urls import reverse
from django.utils.dateformat import format as date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from jobs.models import Drawing, Job, Revision
from workshop import actions, clock
from workshop.actions import Hand, recorded


def add(
    *,
    job: Job,
    by: Hand,
    number: str,
    name: str = "",
    letter: str = "",
    dated_on: date | None = None,
    received_on: date | None = None,
    note: str = "",
) -> Drawing:
    """Add a drawing to a job, with its first revision where one is named.

    Raises:
        ValidationError: a number the job has, a revision without a date, or days that cannot be.
    """
    has_revision = bool(letter or dated_on or note)
    if has_revision:
        _check_revision(letter, dated_on, received_on)
    with recorded(by, "drawing.add", about=[job], number=number) as record:
        record.answer = reverse("jobs:drawings", args=[job.pk])
        _check_number(job, number)
        drawing = record.add(Drawing(job=job, number=number, name=name))
        record.thing = drawing
        if has_revision:
            fields = {"letter": letter, "dated_on": dated_on, "received_on": received_on, "note": note}
            revision = record.add(Revision(drawing=drawing, **fields))
            record.words["number"] = f"{number} {words_of(revision)}"
    return drawing


def change(*, drawing: Drawing, by: Hand, version: int, number: str, name: str) -> Drawing:
    with recorded(by, "drawing.change", drawing, about=[drawing.job], number=number) as record:
        record.answer = reverse("jobs:drawings", args=[drawing.job_id])
        _check_number(drawing.job, number, but=drawing)
        record.save(drawing, version=version, number=number, name=name)
    return drawing


def remove(*, drawing: Drawing, by: Hand) -> None:
    """Take a drawing off the job's list, with its revisions."""
    with recorded(by, "drawing.remove", about=[drawing.job], number=drawing.number) as record:
        record.answer = reverse("jobs:drawings", args=[drawing.job_id])
        for revision in drawing.revisions.all():
            _check_unused(revision)
            record.remove(revision)
        record.thing = drawing.job
        record.remove(drawing)


def add_revision(
    *, drawing: Drawing, by: Hand, letter: str, dated_on: date, received_on: date, note: str = ""
) -> Revision:
    """Add a revision; the one dated last is worked to.

    Raises:
        ValidationError: a letter the drawing has, or days that cannot be.
    """
    _check_revision(letter, dated_on, received_on)
    with recorded(by, "revision.add", about=[drawing, drawing.job], number=drawing.number) as record:
        record.answer = reverse("jobs:drawing", args=[drawing.pk])
        _check_letter(drawing, letter)
        fields = {"letter": letter, "dated_on": dated_on, "received_on": received_on, "note": note}
        revision = record.add(Revision(drawing=drawing, **fields))
        record.words["revision"] = words_of(revision)
    return revision


def change_revision(*, revision: Revision, by: Hand, version: int, **fields: object) -> Revision:
    _check_revision(fields["letter"], fields["dated_on"], fields["received_on"])
    drawing = revision.drawing
    with recorded(by, "revision.change", revision, about=[drawing, drawing.job], number=drawing.number) as record:
        record.answer = reverse("jobs:drawing", args=[drawing.pk])
        _check_letter(drawing, fields["letter"], but=revision)
        record.save(revision, version=version, **fields)
        record.words["revision"] = words_of(revision)
    return revision


def remove_revision(*, revision: Revision, by: Hand) -> None:
    drawing = revision.drawing
    words = {"number": drawing.number, "revision": words_of(revision)}
    with recorded(by, "revision.remove", about=[drawing, drawing.job], **words) as record:
        record.answer = reverse("jobs:drawing", args=[drawing.pk])
        record.thing = drawing
        _check_unused(revision)
        record.remove(revision)


def listed(job: Job) -> QuerySet[Drawing]:
    """The drawings of a job by number, each with its revisions, the latest first."""
    return job.drawing_list.prefetch_related("revisions")


def latest(job: Job) -> Revision | None:
    """The revision dated last, of all drawings of the job; one query."""
    return Revision.objects.filter(drawing__job=job).order_by("-dated_on", "-pk").first()


def title_words(job: Job) -> str:
    """What the title block says of the job's drawings: the latest revision, else what was typed with the job."""
    revision = latest(job)
    return words_of(revision) if revision else job.drawings


def words_of(revision: Revision) -> str:
    """A revision as it is said: "Rev C, Nov 19", with the year only when it is not this one."""
    pattern = "M j" if revision.dated_on.year == clock.today().year else "M j, Y"
    return _("Rev %(letter)s, %(day)s") % {
        "letter": revision.letter,
        "day": date_format(revision.dated_on, pattern),
    }


def _check_unused(revision: Revision) -> None:
    """A revision that walls are drawn to stays."""
    if wall := revision.surfaces.select_related("room").first():
        message = _("%(revision)s is named at %(room)s, %(wall)s. Name another drawing there first, or keep this one.")
        words = {"revision": words_of(revision), "room": wall.room.name, "wall": wall.name}
        raise ValidationError(message % words)


def _check_revision(letter: str, dated_on: date | None, received_on: date | None) -> None:
    if not letter:
        raise ValidationError({"letter": _("A revision has a letter or a number. Type C or 3.")})
    if dated_on is None:
        raise ValidationError({"dated_on": _("A revision has a date. Type the day that stands on it.")})
    if received_on is None:
        raise ValidationError({"received_on": _("When did it come? Type that day, or today.")})
    if received_on > clock.today():
        message = _("%(day)s is still to come. Choose today, %(today)s, or a day before.")
        words = {"day": clock.day_text(received_on), "today": clock.day_text(clock.today())}
        raise ValidationError({"received_on": message % words})
    if dated_on > received_on:
        message = _("It is dated %(dated)s, after it came. Choose %(received)s or a day before, or correct the other.")
        words = {"dated": clock.day_text(dated_on), "received": clock.day_text(received_on)}
        raise ValidationError({"dated_on": message % words})


def _check_number(job: Job, number: str, but: Drawing | None = None) -> None:
    """Capital or small letters make no other number."""
    others = job.drawing_list.exclude(pk=but.pk) if but else job.drawing_list
    if others.filter(number__iexact=number).exists():
        raise ValidationError({"number": _("There is a drawing of this number. Add a revision to it.")})


def _check_letter(drawing: Drawing, letter: str, but: Revision | None = None) -> None:
    others = drawing.revisions.exclude(pk=but.pk) if but else drawing.revisions
    if others.filter(letter__iexact=letter).exists():
        message = _("Drawing %(number)s has a revision %(letter)s. Correct that one, or type the next letter.")
        raise ValidationError({"letter": message % {"number": drawing.number, "letter": letter}})


actions.say("drawing.add", gettext_lazy("Drawing %(number)s added"))
actions.say("drawing.change", gettext_lazy("Drawing %(number)s changed"))
actions.say("drawing.remove", gettext_lazy("Drawing %(number)s taken off the list"))
actions.say("revision.add", gettext_lazy("Drawing %(number)s: %(revision)s came"))
actions.say("revision.change", gettext_lazy("Drawing %(number)s: now %(revision)s"))
actions.say("revision.remove", gettext_lazy("Drawing %(number)s: %(revision)s taken out"))
