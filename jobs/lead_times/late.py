"""What is late: counted for the shop, and told for each room of a job."""

from datetime import date

from django.core.cache import cache
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from jobs.lead_times.days import last_day
from jobs.lead_times.outlook import Outlook, outlook
from jobs.models import Job, Need
from workshop import clock, pages
from workshop.models import Action

KEPT_SECONDS = 300


def late_count() -> int:
    """How many orders and materials to order are late today; counted anew after every action."""
    last = Action.objects.order_by("-pk").values_list("pk", flat=True).first()
    today = clock.today()
    return cache.get_or_set(f"late-{last}-{today}", lambda: len(outlook(today).late), KEPT_SECONDS)


def late_by_room(job: Job, today: date) -> dict[int, str]:
    """For each room of a job whose material comes too late, the words for the latest of it."""
    return late_words(outlook(today), job)


def late_words(state: Outlook, job: Job) -> dict[int, str]:
    """For each room of a job whose material comes too late, the words for the latest of it."""
    worst: dict[int, tuple[int, str]] = {}
    for need in state.needs:
        if need.room.job_id != job.pk:
            continue
        for days, words in _delays(state, need):
            if days > worst.get(need.room_id, (0, ""))[0]:
                worst[need.room_id] = (days, words)
    return {room: words for room, (_days, words) in worst.items()}


def days_late(state: Outlook, need: Need) -> int:
    """Days a need is late: by what comes for it, or by what should have been ordered for it; 0 where it is in time."""
    return max((days for days, _words in _delays(state, need)), default=0)


def _delays(state: Outlook, need: Need) -> list[tuple[int, str]]:
    """What of a need is late: calendar days and words for each order that serves it, and for what no order does."""
    due = state.needed[need.pk]
    if due is None:
        return []
    found = []
    for line, _quantity in state.cover.coming.get(need.pk, []):
        days = (state.order_of[line].arrives_on - due).days
        words = ngettext("%(material)s %(days)s day late", "%(material)s %(days)s days late", days)
        found.append((days, words % {"material": need.material.name, "days": days}))
    if state.cover.missing[need.pk]:
        days = (state.today - (last_day(need.material, due) or due)).days
        found.append((days, _("%(material)s not ordered") % {"material": need.material.name}))
    return [(days, words) for days, words in found if days > 0]


pages.COUNT_LATE.append(late_count)
