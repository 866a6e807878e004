from collections.abc import Sequence

from django.http import HttpRequest
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from jobs import drawing_list
from jobs.models import Job, Room
from workshop.pages import Block, Cell, Link


def of_job(request: HttpRequest, job: Job, page: str, around: Sequence[Link] = ()) -> Block:
    """The title block of a page about a whole job."""
    count = job.rooms.count()
    rooms = ngettext("%(count)s room", "%(count)s rooms", count) % {"count": count}
    url = reverse("jobs:job", args=[job.pk])
    cells = [Cell(_("Job"), str(job), url), Cell(_("Rooms"), rooms, url)]
    return _block(request, job, page, cells, around, [job])


def of_room(request: HttpRequest, room: Room, page: str, around: Sequence[Link] = ()) -> Block:
    """The title block of a page about one room."""
    cells = [
        Cell(_("Job"), str(room.job), reverse("jobs:job", args=[room.job_id])),
        Cell(_("Room"), room.name, reverse("jobs:room", args=[room.pk])),
    ]
    return _block(request, room.job, page, cells, around, [room])


def drawings_cell(job: Job) -> Cell:
    """The revision worked to, and the way to the job's drawings."""
    return Cell(_("Drawings"), drawing_list.title_words(job) or _("None"), reverse("jobs:drawings", args=[job.pk]))


def _block(
    request: HttpRequest,
    job: Job,
    page: str,
    cells: Sequence[Cell],
    around: Sequence[Link],
    about: Sequence[Job | Room],
) -> Block:
    third = drawings_cell(job)
    return Block(request, page=page, nav="jobs", cells=cells, third=third, around=around, about=about)
