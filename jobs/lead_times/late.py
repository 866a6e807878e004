"""What is late: counted for the shop, and told for each room of a job. Worked out once after each action."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from datetime import date
from typing import NamedTuple

from django.core.cache import cache
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from jobs.lead_times.days import last_day
from jobs.lead_times.kept import KEPT_SECONDS, last_action
from jobs.lead_times.outlook import Outlook, outlook
from jobs.lead_times.supply import OpenNeed
from jobs.models import Job
from workshop import clock, pages


class Delay(NamedTuple):
    """A material that comes too late for a room, or should have been ordered for it: by how many calendar days."""

    room: int
    material: str
    kind: str
    days: int
    is_ordered: bool

    @property
    def words(self) -> str:
        if not self.is_ordered:
            return _("%(material)s not ordered") % {"material": self.material}
        words = ngettext("%(material)s %(days)s day late", "%(material)s %(days)s days late", self.days)
        return words % {"material": self.material, "days": self.days}


def late_count() -> int:
    """How many orders and materials to order are late today."""
    count, _delays = _keys(clock.today())
    found = cache.get(count)
    return _work_out(clock.today())[0] if found is None else found


def delays(job: Job, today: date) -> list[Delay]:
    """What comes too late for the rooms of a job."""
    _count, key = _keys(today)
    found = cache.get(key)
    if found is None:
        found = _work_out(today)[1]
    return [Delay(*facts) for facts in found.get(job.pk, [])]


def late_by_room(job: Job, today: date) -> dict[int, str]:
    """For each room of a job whose material comes too late, the words for the latest of it."""
    return late_words(delays(job, today))


def late_words(found: Sequence[Delay]) -> dict[int, str]:
    """For each room that waits for late material, the words for the latest of it."""
    worst: dict[int, Delay] = {}
    for delay in found:
        if delay.room not in worst or delay.days > worst[delay.room].days:
            worst[delay.room] = delay
    return {room: delay.words for room, delay in worst.items()}


def _keys(today: date) -> tuple[str, str]:
    """The names under which both are kept until the next action."""
    last = last_action()
    return f"late-{last}-{today}", f"delays-{last}-{today}"


def _work_out(today: date) -> tuple[int, dict[int, list[tuple]]]:
    """How much is late, and by job the facts of its delays as plain values, which are read again quickly."""
    count, late = _keys(today)
    state = outlook(today)
    found: dict[int, list[tuple]] = defaultdict(list)
    for need in state.needs:
        found[need.room.job.pk] += map(tuple, _delays(state, need))
    by_job = {job: listed for job, listed in found.items() if listed}
    cache.set_many({count: len(state.late), late: by_job}, KEPT_SECONDS)
    return len(state.late), by_job


def _delays(state: Outlook, need: OpenNeed) -> Iterator[Delay]:
    """What of a need is late: each order that serves it too late, and what no order does."""
    due = state.needed[need.pk]
    if due is None:
        return
    of = (need.room.pk, need.material.name, need.material.kind)
    for line, _quantity in state.cover.coming.get(need.pk, []):
        days = (state.order_of[line].arrives_on - due).days
        if days > 0:
            yield Delay(*of, days, True)
    if state.cover.missing[need.pk]:
        days = (state.today - (last_day(need.material, due) or due)).days
        if days > 0:
            yield Delay(*of, days, False)


pages.COUNT_LATE.append(late_count)
