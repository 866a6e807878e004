"""Estimate lines from what a job's rooms need and from their planned hours."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from django.core.exceptions import ValidationError
from django.db.models import Sum
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from estimates import pricing
from estimates.estimate import opened
from estimates.models import Estimate, EstimateLine
from jobs.models import Job, Need, RoomStage, Stage
from materials.models import Material, OrderLine, Price
from workshop import actions, clock
from workshop.actions import Hand, recorded
from workshop.calculations.money import PPM, round_half_up
from workshop.calculations.units import MICRO
from workshop.models import Shop

LABOR = {
    Stage.Lane.PANELS: gettext_lazy("Panels, in the shop"),
    Stage.Lane.TRIM: gettext_lazy("Trim, in the shop"),
    Stage.Lane.SITE: gettext_lazy("On site"),
}
FILLED = (EstimateLine.Source.NEED, EstimateLine.Source.WASTE, EstimateLine.Source.HOURS)


@dataclass(frozen=True)
class Basis:
    """Where a material's rate comes from."""

    price_micro: int
    words: str


def fill(*, job: Job, by: Hand) -> Estimate:
    """Write the lines that follow from needs and planned hours anew; typed lines stay.

    Raises:
        ValidationError: the job has neither needs nor planned hours, or the estimate would not make a price.
    """
    needs = list(
        Need.objects.filter(room__job=job).select_related("room", "material").order_by("room__place", "pk")
    )
    hours = list(
        RoomStage.objects.filter(room__job=job, planned_minutes__gt=0)
        .values_list("room", "stage__lane")
        .annotate(minutes=Sum("planned_minutes"))
        .order_by("room__place", "stage__lane")
    )
    if not needs and not hours:
        raise ValidationError(
            _(
                "No room says yet what it needs or how many hours are planned. Add that to a room, or add a line by hand."
            )
        )
    bases = price_bases([need.material for need in needs], job.currency)
    with recorded(by, "estimate.fill", about=[job], job=str(job)) as record:
        record.answer = reverse("estimates:estimate", args=[job.pk])
        estimate = opened(record, job)
        record.thing = estimate
        for line in estimate.lines.filter(source__in=FILLED):
            record.remove(line)
        lines = [*_material_lines(estimate, needs, bases), *_labor_lines(estimate, hours)]
        for place, line in enumerate(lines, 1):
            line.place = place
        record.add_many(lines)
        pricing.check(estimate)
    return estimate


def _material_lines(estimate: Estimate, needs: Sequence[Need], bases: dict[int, Basis]) -> list[EstimateLine]:
    lines = []
    for need in needs:
        material, price = need.material, bases[need.material_id].price_micro
        lines.append(
            _line(estimate, need, need.quantity_micro, price, material.name, EstimateLine.Source.NEED)
        )
        if estimate.waste_ppm:
            waste = round_half_up(Fraction(need.quantity_micro * estimate.waste_ppm, PPM))
            words = _("%(material)s, waste") % {"material": material.name}
            lines.append(_line(estimate, need, waste, price, words[:120], EstimateLine.Source.WASTE))
    return lines


def _line(estimate: Estimate, need: Need, quantity: int, price: int, words: str, source: str) -> EstimateLine:
    unit = need.material.unit
    total = pricing.line_total(
        quantity_micro=quantity, unit=unit, price_micro=price, price_unit=unit, currency=estimate.job.currency
    )
    return EstimateLine(
        estimate=estimate,
        room=need.room,
        klass=EstimateLine.Klass.MATERIAL,
        description=words,
        material=need.material,
        quantity_micro=quantity,
        unit=unit,
        price_micro=price,
        price_unit=unit,
        total_minor=total,
        source=source,
    )


def _labor_lines(estimate: Estimate, hours: Sequence[tuple[int, str, int]]) -> list[EstimateLine]:
    price = Shop.get().hour_price_micro
    lanes = list(LABOR)
    lines = []
    for room, lane, minutes in sorted(hours, key=lambda row: lanes.index(row[1])):
        measure = {
            "quantity_micro": minutes * MICRO,
            "unit": "minute",
            "price_micro": price,
            "price_unit": "hour",
        }
        lines.append(
            EstimateLine(
                estimate=estimate,
                room_id=room,
                klass=EstimateLine.Klass.LABOR,
                description=str(LABOR[lane]),
                total_minor=pricing.line_total(**measure, currency=estimate.job.currency),
                source=EstimateLine.Source.HOURS,
                **measure,
            )
        )
    return lines


def price_bases(materials: Sequence[Material], currency: str) -> dict[int, Basis]:
    """The rate of each material: its supplier's latest price, else what was last ordered, else nothing."""
    wanted = {material.pk: material for material in materials}
    bases = {pk: Basis(0, _("no price yet")) for pk in wanted}
    ordered = OrderLine.objects.filter(material__in=wanted, order__currency=currency).select_related("order")
    for line in ordered.order_by("order__number", "pk"):
        bases[line.material_id] = Basis(line.price_micro, _("order %(order)s") % {"order": line.order.number})
    prices = Price.objects.filter(material__in=wanted, currency=currency, from_on__lte=clock.today())
    for price in prices.select_related("supplier").order_by("from_on", "pk"):
        usual = wanted[price.material_id].usual_supplier_id
        if usual in (None, price.supplier_id):
            words = _("%(supplier)s, from %(day)s") % {
                "supplier": price.supplier.name,
                "day": clock.day_text(price.from_on),
            }
            bases[price.material_id] = Basis(price.price_micro, words)
    return bases


actions.say("estimate.fill", gettext_lazy("Estimate filled from needs and planned hours"))
