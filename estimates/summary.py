"""The client's cost summary: the estimate's figures and the rooms' materials, gathered for paper."""

from collections import defaultdict
from collections.abc import Sequence

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
from estimates.pricing import Priced, RoomPart
from jobs import drawing_list, giving
from jobs.giving import HALF_MICRO
from jobs.models import Given, Job, LotShare, Need, Room
from materials.models import Lot, Material, ToneGroup
from workshop import clock
from workshop.calculations import units
from workshop.calculations.money import show_percent
from workshop.documents import Tone, full_date
from workshop.language import decimal_mark, locale
from workshop.letterhead import letterhead, lines_of
from workshop.models import Shop

LANGUAGE = "en-us"


def pdf(priced: Priced) -> bytes:
    return cost_summary(gathered(priced))


def gathered(priced: Priced) -> CostSummary:
    """All the document says, as it stands today."""
    estimate, shop = priced.estimate, Shop.get()
    job = estimate.job
    materials = materials_by_room(job)
    return CostSummary(
        letterhead=letterhead(shop),
        number=str(estimate),
        language=LANGUAGE,
        currency=job.currency,
        paper=shop.paper,
        day=clock.today(),
        valid_until=estimate.valid_until,
        client=Named(job.client.name, _one_line(job.client.address)),
        job=Named(str(job)),
        architect=Named(job.architect) if job.architect else None,
        general_contractor=Named(job.general_contractor) if job.general_contractor else None,
        rooms=tuple(_room_price(part) for part in priced.parts),
        subtotal=RoomPrice(_("Subtotal"), priced.whole.before_discount_minor, *priced.class_prices),
        discount_minor=-priced.whole.discount_minor,
        discount_name=_discount_name(estimate),
        total_minor=priced.price.total_minor,
        taxes=_taxes(priced),
        site=Named(_one_line(job.site)) if job.site else None,
        drawings=_drawings(job),
        materials=tuple(RoomMaterials(room.name, tuple(lines)) for room, lines, _amounts in materials),
        material_totals=_totals(materials),
        exclusions=lines_of(estimate.exclusions),
        notes=lines_of(estimate.notes),
    )


def _drawings(job: Job) -> Named | None:
    """The revision the price is for, with its year as on any document; else what was typed with the job."""
    revision = drawing_list.latest(job)
    if revision is None:
        return Named(job.drawings) if job.drawings else None
    day = full_date(revision.dated_on, LANGUAGE)
    return Named(_("Rev %(letter)s, %(day)s") % {"letter": revision.letter, "day": day})


def _discount_name(estimate: Estimate) -> str:
    """A discount in per cent says how much of the price it is."""
    if not estimate.discount_ppm:
        return ""
    return _("Discount, %(rate)s") % {"rate": show_percent(estimate.discount_ppm, locale())}


def _room_price(part: RoomPart) -> RoomPrice:
    name = part.room.name if part.room else _("Whole job")
    return RoomPrice(name, part.amounts.before_discount_minor, *part.prices)


def _taxes(priced: Priced) -> tuple[TaxLine, ...]:
    estimate = priced.estimate
    if not estimate.tax_ppm or not priced.taxed_words:
        return ()
    line = TaxLine(
        name=_("Sales tax"),
        rate_ppm=estimate.tax_ppm,
        on=priced.taxed_words,
        base_minor=priced.price.taxable_minor,
        tax_minor=priced.price.tax_minor,
        included=estimate.is_tax_inside,
    )
    return (line,)


def _one_line(text: str) -> str:
    return ", ".join(lines_of(text))


def _told(micro: int, unit: str) -> str:
    return units.show_quantity(units.from_micro(micro), unit, decimal_mark())


Found = tuple[Room, list[MaterialLine], list[tuple[Material, int]]]
Lots = dict[str, tuple[int, tuple[Tone, ...]]]


def materials_by_room(job: Job) -> list[Found]:
    """What each room is made of: from its lots where it was given, from its needs where not; constant queries."""
    given = _given(job)
    needs: dict[int, list[Need]] = defaultdict(list)
    for need in Need.objects.filter(room__job=job).select_related("material").order_by("pk"):
        needs[need.room_id].append(need)
    found = [(room, *_of_room(given[room.pk], needs[room.pk])) for room in job.rooms.all()]
    return [(room, lines, amounts) for room, lines, amounts in found if lines]


def _of_room(has: dict[Material, Lots], needs: Sequence[Need]) -> tuple[list[MaterialLine], list[tuple[Material, int]]]:
    """A room's lines and amounts: each material with its lots first, then what it needs beside them."""
    needed = {need.material: need.quantity_micro for need in needs}
    lines, amounts = [], []
    for material in {**needed, **has}:
        lots = has.get(material, {})
        for lot, (micro, tones) in lots.items():
            lines.append(MaterialLine(material.name, _told(micro, material.unit), lot, tones))
            amounts.append((material, micro))
        rest = needed.get(material, 0) - sum(micro for micro, _tones in lots.values())
        if rest > 0:
            lines.append(MaterialLine(material.name, _told(rest, material.unit)))
            amounts.append((material, rest))
    return lines, amounts


def _given(job: Job) -> dict[int, dict[Material, Lots]]:
    """By room, material and lot: how much, and in which tone groups."""
    result: dict[int, dict[Material, Lots]] = defaultdict(lambda: defaultdict(dict))
    for (room, lot), counts in _halves_by_lot(job).items():
        halves = sum(counts.values())
        result[room][lot.material][str(lot)] = (halves * HALF_MICRO, _tones(counts))
    for share in LotShare.objects.filter(room__job=job).select_related("lot__material").order_by("lot__number"):
        result[share.room_id][share.lot.material][str(share.lot)] = (share.quantity_micro, ())
    return result


def _halves_by_lot(job: Job) -> dict[tuple[int, Lot], dict[ToneGroup | None, int]]:
    """By room and lot: halves of each tone group, light to dark."""
    counted = Given.objects.filter(room__job=job).values_list("room", "half__sheet__lot", "half__sheet__tone_group")
    counted = list(
        counted.annotate(n=Count("pk")).order_by("half__sheet__lot__number", "half__sheet__tone_group__place")
    )
    lots = Lot.objects.select_related("material").in_bulk({lot for _room, lot, _group, _n in counted})
    groups = ToneGroup.objects.in_bulk({group for _room, _lot, group, _n in counted if group})
    result: dict[tuple[int, Lot], dict[ToneGroup | None, int]] = defaultdict(dict)
    for room, lot, group, n in counted:
        result[room, lots[lot]][groups.get(group)] = n
    return result


def _tones(counts: dict[ToneGroup | None, int]) -> tuple[Tone, ...]:
    """The groups as they are drawn; each with its count where there are several."""
    is_alone = len(counts) == 1
    sorted_ones = [(group, halves) for group, halves in counts.items() if group]
    return tuple(
        Tone(group.name, group.color, group.place, "" if is_alone else giving.counted(halves))
        for group, halves in sorted_ones
    )


def _totals(found: Sequence[Found]) -> tuple[tuple[str, str], ...]:
    sums: dict[Material, int] = defaultdict(int)
    for _room, _lines_of_room, amounts in found:
        for material, micro in amounts:
            sums[material] += micro
    return tuple((material.name, _told(micro, material.unit)) for material, micro in sums.items())
