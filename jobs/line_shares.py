"""Order lines for one job, for several, or for stock: so much of a line is for a job, the rest is for stock.

A share is in the unit the line is bought in. Stock serves whichever job needs it first.
"""

from collections.abc import Mapping, Sequence

from django.core.exceptions import ValidationError
from django.db.models import Prefetch, Q, Sum
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from jobs.models import Job, LineShare
from materials import line_notes, order_lines
from materials.line_notes import LineNote
from materials.models import OrderLine
from workshop import actions
from workshop.actions import Hand, Stale, recorded
from workshop.models import Action
from workshop.templatetags.figures import quantity as quantity_text

MOST_TOLD = 4
OF_OPEN_JOBS = Prefetch(
    "job_shares", LineShare.objects.filter(job__closed_on=None).order_by("job__number").select_related("job")
)


def share_out(*, line: OrderLine, by: Hand, shares: Mapping[int, int], was: Mapping[int, int]) -> None:
    """Say how much of an order line is for which job.

    Args:
        shares: what was typed for each job, by its key; 0 takes its share back [micro].
        was: what the person saw when they began [micro].

    Raises:
        Stale: somebody shared it out otherwise meanwhile.
        ValidationError: more than the line has; the order is cancelled.
    """
    order, material = line.order, line.material
    with recorded(by, "line.share_out", line, about=[order, material], number=order.number) as record:
        record.answer = reverse("materials:order", args=[order.pk])
        order_lines.open_order(order)
        line = OrderLine.objects.select_for_update(of=["self"]).select_related("material").get(pk=line.pk)
        now = {share.job_id: share for share in line.job_shares.select_related("job")}
        jobs = Job.objects.in_bulk([*shares])
        for key, micro in shares.items():
            share = now.get(key)
            stored = share.quantity_micro if share else 0
            if stored == micro:
                continue
            if stored != was.get(key, 0):
                raise Stale(line)
            record.about(jobs[key])
            if share is None:
                record.add(LineShare(line=line, job=jobs[key], quantity_micro=micro))
            elif micro:
                record.save(share, quantity_micro=micro)
            else:
                record.remove(share)
        _check(line)
        record.words["what"] = f"{material.name}: {told(line, _shares_of(line))}"


def jobs_for(line: OrderLine) -> list[Job]:
    """The jobs a line can be for, each with `share_micro`: open ones that need its material, and those with a share."""
    shares = dict(line.job_shares.values_list("job", "quantity_micro"))
    needing = Q(closed_on=None, rooms__needs__material=line.material_id)
    jobs = list(Job.objects.filter(needing | Q(pk__in=shares)).distinct().order_by("number"))
    for job in jobs:
        job.share_micro = shares.get(job.pk, 0)
    return jobs


def told(line: OrderLine, shares: Sequence[LineShare]) -> str:
    """Whom a line is for: "20 sheets for 12 Music school, 22 sheets for stock"."""
    unit = line.material.bought_unit
    words = [
        _("%(quantity)s for %(job)s") % {"quantity": quantity_text(share.quantity_micro, unit), "job": share.job}
        for share in shares[:MOST_TOLD]
    ]
    if others := shares[MOST_TOLD:]:
        rest = quantity_text(sum(share.quantity_micro for share in others), unit)
        words.append(_("%(quantity)s for other jobs") % {"quantity": rest})
    if stock := line.quantity_micro - sum(share.quantity_micro for share in shares):
        words.append(_("%(quantity)s for stock") % {"quantity": quantity_text(stock, unit)})
    return ", ".join(words)


def promised_micro(line: OrderLine) -> int:
    """How much of a line is for jobs."""
    return int(LineShare.objects.filter(line=line).aggregate(n=Sum("quantity_micro"))["n"] or 0)


def of_lines(lines: Sequence[OrderLine]) -> dict[int, list[LineNote]]:
    """What is said of whom a line is for; one query."""
    found: dict[int, list[LineShare]] = {line.pk: [] for line in lines}
    for share in LineShare.objects.filter(line__in=lines).order_by("job__number").select_related("job"):
        found[share.line_id].append(share)
    return {
        line.pk: [
            LineNote(
                _whom_for(line, found[line.pk]), url=reverse("jobs:line_jobs", args=[line.pk]), link=_("Share out")
            )
        ]
        for line in lines
    }


def _whom_for(line: OrderLine, shares: Sequence[LineShare]) -> str:
    return told(line, shares) if shares else _("For stock")


def _shares_of(line: OrderLine) -> list[LineShare]:
    return list(LineShare.objects.filter(line=line).order_by("job__number").select_related("job"))


def _check(line: OrderLine) -> None:
    """Refuse to promise more of a line than is ordered."""
    promised = promised_micro(line)
    if promised > line.quantity_micro:
        unit = line.material.bought_unit
        message = _("%(promised)s are shared out, and the line has %(ordered)s. Lower a share, or order more first.")
        params = {"promised": quantity_text(promised, unit), "ordered": quantity_text(line.quantity_micro, unit)}
        raise ValidationError(message, params=params)


def _check_undo(action: Action) -> None:
    """A share comes back only while the line has so much."""
    line = actions.row_of(action.thing)
    if line:
        _check(line)


order_lines.PROMISED_MICRO.append(promised_micro)
line_notes.SAID_BY.append(of_lines)

actions.say("line.share_out", gettext_lazy("Order %(number)s: %(what)s"), check_undo=_check_undo)
