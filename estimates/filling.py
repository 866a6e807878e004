"""Estimate lines from what a job's rooms need and from their planned hours."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from estimates import pricing, rates
from estimates.estimate import check_undo, opened
from estimates.models import Estimate, EstimateLine
from estimates.rates import Rated
from jobs.models import Job, Need, RoomStage
from materials.models import Material
from workshop import actions
from workshop.actions import Hand, recorded
from workshop.calculations.money import PPM, round_half_up
from workshop.calculations.units import MICRO

FILLED = (EstimateLine.Source.NEED, EstimateLine.Source.WASTE, EstimateLine.Source.HOURS)

Kept = Mapping[str, EstimateLine]


def fill(*, job: Job, by: Hand) -> Estimate:
    """Write the lines that follow from needs and planned hours anew.

    Typed lines stay. A filled line that was changed is a typed one, and nothing is written beside it.

    Raises:
        ValidationError: the job has neither needs nor planned hours, or the estimate would not make a price.
    """
    needs, hours = needs_of(job), hours_of(job)
    if not needs and not hours:
        message = _("No room says yet what it needs or how many hours are planned. Add that, or a line by hand.")
        raise ValidationError(message)
    prices = rates.of_materials([need.material for need in needs], job.currency)
    with recorded(by, "estimate.fill", about=[job], job=str(job)) as record:
        record.answer = reverse("estimates:estimate", args=[job.pk])
        estimate = opened(record, job)
        record.thing = estimate
        record.remove_many(list(estimate.lines.select_for_update().filter(source__in=FILLED)))
        kept = {line.stands_for: line for line in estimate.lines.exclude(stands_for="")}
        lines = [*_material_lines(estimate, needs, prices, kept), *_labor_lines(estimate, hours, kept)]
        record.add_many(_in_places(lines))
        pricing.check(estimate)
    return estimate


def needs_of(job: Job) -> list[Need]:
    needs = Need.objects.filter(room__job=job).select_related("room", "material")
    return list(needs.order_by("room__place", "room", "pk"))


def hours_of(job: Job) -> list[RoomStage]:
    """The planned stages of each room, in the order of the work."""
    planned = RoomStage.objects.filter(room__job=job, planned_minutes__gt=0).select_related("stage")
    return list(planned.order_by("room__place", "room", "stage__place"))


def _material_lines(
    estimate: Estimate, needs: Sequence[Need], prices: Mapping[int, Rated], kept: Kept
) -> Iterator[EstimateLine]:
    for need in needs:
        of_need = f"{need.room_id}:{need.material_id}"
        line = kept.get(f"need:{of_need}")
        if line is None:
            line = _need_line(estimate, need, prices[need.material_id], f"need:{of_need}")
            yield line
        waste = round_half_up(Fraction(line.quantity_micro * estimate.waste_ppm, PPM))
        if waste and f"waste:{of_need}" not in kept:
            yield _waste_line(line, waste, need.material, f"waste:{of_need}")


def _need_line(estimate: Estimate, need: Need, rate: Rated, stands_for: str) -> EstimateLine:
    return _line(
        estimate,
        room_id=need.room_id,
        klass=EstimateLine.Klass.MATERIAL,
        description=need.material.name,
        material=need.material,
        quantity_micro=need.quantity_micro,
        unit=need.material.unit,
        price_unit=need.material.unit,
        **rate.fields,
        source=EstimateLine.Source.NEED,
        stands_for=stands_for,
    )


def _waste_line(line: EstimateLine, waste_micro: int, material: Material, stands_for: str) -> EstimateLine:
    """Waste at the rate of the line above it, also where that was typed."""
    return _line(
        line.estimate,
        room_id=line.room_id,
        klass=line.klass,
        description=_("%(material)s, waste") % {"material": material.name[:100]},
        material=material,
        quantity_micro=waste_micro,
        unit=line.unit,
        price_micro=line.price_micro,
        price_unit=line.price_unit,
        basis=line.basis,
        basis_supplier_id=line.basis_supplier_id,
        basis_on=line.basis_on,
        place=line.place,
        source=EstimateLine.Source.WASTE,
        stands_for=stands_for,
    )


def _labor_lines(estimate: Estimate, hours: Sequence[RoomStage], kept: Kept) -> Iterator[EstimateLine]:
    """A line for each operation of a room: hours as planned, to the minute, at the operation's price of an hour.

    A line that was changed when the hours of a whole lane made one line stands for all its operations still.
    """
    hour_rates = rates.of_hours(estimate.job.currency)
    for row in hours:
        stands_for = f"hours:{row.room_id}:{row.stage_id}"
        if stands_for not in kept and f"hours:{row.room_id}:{row.stage.lane}" not in kept:
            yield _line(
                estimate,
                room_id=row.room_id,
                klass=EstimateLine.Klass.LABOR,
                description=row.stage.full_name,
                quantity_micro=row.planned_minutes * MICRO,
                unit="minute",
                price_unit="hour",
                **hour_rates.of(row.stage).fields,
                source=EstimateLine.Source.HOURS,
                stands_for=stands_for,
            )


def _line(estimate: Estimate, **fields: object) -> EstimateLine:
    measures = {name: fields[name] for name in ("quantity_micro", "unit", "price_micro", "price_unit")}
    total = pricing.line_total(**measures, currency=estimate.job.currency)
    return EstimateLine(estimate=estimate, total_minor=total, **fields)


def _in_places(lines: Sequence[EstimateLine]) -> list[EstimateLine]:
    """Number the lines of each room; waste has the place of its line, and comes after it."""
    count: Counter[int | None] = Counter()
    for line in lines:
        if line.source != EstimateLine.Source.WASTE:
            count[line.room_id] += 1
        if not line.place:
            line.place = count[line.room_id]
    return list(lines)


actions.say("estimate.fill", gettext_lazy("Estimate filled from needs and planned hours"), check_undo=check_undo)
