"""The client's cost summary: the estimate's figures and the rooms' materials, gathered for paper."""

from collections import defaultdict

from django.db.models import Count
from django.utils.translation import gettext as _

from estimates.documents.cost_summary import (
    CostSummary,
    MaterialLine,
    Named,
    RoomMaterials,
    RoomPrice,
    TaxLine,
    cost_summary,
)
from estimates.models import Estimate
from estimates.pricing import Priced, RoomPart, priced
from jobs.models import Given, Job, LotShare, Need, Room
from materials.models import Material
from workshop import clock
from workshop.calculations import units
from workshop.documents import Letterhead, Tone
from workshop.language import decimal_mark
from workshop.models import Shop

HALF_MICRO = 500_000


def pdf(estimate: Estimate) -> bytes:
    return cost_summary(gathered(estimate))


def gathered(estimate: Estimate) -> CostSummary:
    """All the document says, as it stands today."""
    job, state, shop = estimate.job, priced(estimate), Shop.get()
    materials = materials_by_room(job)
    return CostSummary(
        letterhead=letterhead(shop),
        number=str(estimate),
        language="en-us",
        currency=job.currency,
        paper=shop.paper,
        day=clock.today(),
        valid_until=estimate.valid_until,
        client=Named(job.client.name, _one_line(job.client.address)),
        job=Named(str(job), job.architect and _("Architect: %(name)s") % {"name": job.architect}),
        rooms=tuple(_room_price(part) for part in state.parts),
        subtotal=RoomPrice(_("Subtotal"), state.whole.before_discount_minor, *state.klass_prices),
        discount_minor=-state.whole.discount_minor,
        total_minor=state.price.total_minor,
        taxes=_taxes(estimate, state),
        site=Named(_one_line(job.site)) if job.site else None,
        drawings=Named(job.drawings) if job.drawings else None,
        materials=tuple(RoomMaterials(room.name, tuple(lines)) for room, lines, _amounts in materials),
        material_totals=_totals(materials),
        exclusions=_lines(estimate.exclusions),
        notes=_lines(estimate.notes),
    )


def letterhead(shop: Shop) -> Letterhead:
    contact = ", ".join(filter(None, [shop.phone, shop.email]))
    return Letterhead(str(shop), shop.trade, tuple(filter(None, [*_lines(shop.address), contact])))


def _room_price(part: RoomPart) -> RoomPrice:
    name = part.room.name if part.room else _("Whole job")
    return RoomPrice(name, part.amounts.before_discount_minor, *part.prices)


def _taxes(estimate: Estimate, state: Priced) -> tuple[TaxLine, ...]:
    if not estimate.tax_ppm or not state.taxed_words:
        return ()
    line = TaxLine(
        name=_("Sales tax"),
        rate_ppm=estimate.tax_ppm,
        on=state.taxed_words,
        base_minor=state.price.taxable_minor,
        tax_minor=state.price.tax_minor,
        included=estimate.is_tax_inside,
    )
    return (line,)


def _lines(text: str) -> tuple[str, ...]:
    return tuple(filter(None, (line.strip() for line in text.splitlines())))


def _one_line(text: str) -> str:
    return ", ".join(_lines(text))


def _told(micro: int, unit: str) -> str:
    return units.show_quantity(units.from_micro(micro), unit, decimal_mark())


Found = tuple[Room, list[MaterialLine], list[tuple[Material, int]]]


def materials_by_room(job: Job) -> list[Found]:
    """What each room is made of: from its lots where it was given, from its needs where not; constant queries."""
    given = _given(job)
    needs: dict[int, list[Need]] = defaultdict(list)
    for need in Need.objects.filter(room__job=job).select_related("material").order_by("pk"):
        needs[need.room_id].append(need)
    result = []
    for room in job.rooms.all():
        lines: list[MaterialLine] = []
        amounts: list[tuple[Material, int]] = []
        has = given.get(room.pk, {})
        for material, lots in has.items():
            for lot, (micro, tones) in lots.items():
                lines.append(MaterialLine(material.name, _told(micro, material.unit), lot, tones))
                amounts.append((material, micro))
        for need in needs[room.pk]:
            rest = need.quantity_micro - sum(micro for micro, _t in has.get(need.material, {}).values())
            if rest > 0:
                lines.append(MaterialLine(need.material.name, _told(rest, need.material.unit)))
                amounts.append((need.material, rest))
        if lines:
            result.append((room, lines, amounts))
    return result


def _given(job: Job) -> dict[int, dict[Material, dict[str, tuple[int, tuple[Tone, ...]]]]]:
    """By room, material and lot: how much, and in which tone groups."""
    halves = (
        Given.objects.filter(room__job=job)
        .values("room", "half__sheet__lot__material", "half__sheet__lot__number")
        .values_list(
            "room",
            "half__sheet__lot__material",
            "half__sheet__lot__number",
            "half__sheet__tone_group__name",
            "half__sheet__tone_group__color",
            "half__sheet__tone_group__place",
        )
        .annotate(n=Count("pk"))
        .order_by("half__sheet__lot__number", "half__sheet__tone_group__place")
    )
    shares = LotShare.objects.filter(room__job=job).select_related("lot__material").order_by("lot__number")
    materials = {
        m.pk: m for m in Material.objects.filter(lots__sheets__halves__given__room__job=job).distinct()
    }
    groups: dict[tuple[int, int, int], list[tuple[str | None, str, int, int]]] = defaultdict(list)
    for room, material, lot, name, color, place, n in halves:
        groups[room, material, lot].append((name, color, place, n))
    result: dict = defaultdict(lambda: defaultdict(dict))
    for (room, material, lot), found in groups.items():
        alone = len(found) == 1
        tones = tuple(
            Tone(
                name,
                color,
                place,
                "" if alone else units.edit_quantity(units.from_micro(n * HALF_MICRO), "sheet"),
            )
            for name, color, place, n in found
            if name
        )
        result[room][materials[material]][str(lot)] = (sum(n for *_tone, n in found) * HALF_MICRO, tones)
    for share in shares:
        result[share.room_id][share.lot.material][str(share.lot)] = (share.quantity_micro, ())
    return result


def _totals(found: list[Found]) -> tuple[tuple[str, str], ...]:
    sums: dict[Material, int] = defaultdict(int)
    for _room, _lines_of_room, amounts in found:
        for material, micro in amounts:
            sums[material] += micro
    return tuple((material.name, _told(micro, material.unit)) for material, micro in sums.items())
