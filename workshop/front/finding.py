"""Finding a sheet, lot, job, room, drawing, order, sample, delivery, material, supplier or person by number or name."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from django.db.models import Model, Q, QuerySet
from django.urls import reverse
from django.utils.translation import gettext as _

from jobs import giving
from jobs.models import Client, Drawing, Job, Room
from materials.models import Bill, Delivery, Lot, Material, Order, Sample, Sheet, Supplier
from workshop.models import Person

MOST_OF_A_KIND = 10
_NUMBER = re.compile(r"[0-9]{1,9}")
_SHEET = re.compile(r"([0-9]{1,9})[-/ ]([0-9]{1,6})[ABab]?")


@dataclass(frozen=True)
class Found:
    name: str
    more: str
    url: str


def find(text: str, *, for_owner: bool = False) -> list[Found]:
    """What a short text could mean; a sheet is found as lot and number, 8-31. Bills and people are for the owner."""
    text = text.replace("\0", "").strip()[:60]
    if not text:
        return []
    found = [*_numbered(text), *_of_jobs(text), *_of_buying(text)]
    return list(dict.fromkeys([*found, *(_for_owner(text) if for_owner else [])]))


def _numbered(text: str) -> Iterator[Found]:
    """What carries this number; each is one row by an index."""
    if found := _SHEET.fullmatch(text):
        yield from _sheets(int(found[1]), int(found[2]))
    if not _NUMBER.fullmatch(text):
        return
    number = int(text)
    for job in Job.objects.filter(number=number).select_related("client"):
        yield _job(job)
    for order in Order.objects.filter(number=number).select_related("supplier"):
        yield Found(_("Order %(order)s") % {"order": order}, order.supplier.name, _to("materials:order", order))
    for delivery in Delivery.objects.filter(number=number).select_related("supplier"):
        yield _delivery(delivery)
    for lot in Lot.objects.filter(number=number).select_related("material"):
        yield _lot(lot)


def _sheets(lot: int, number: int) -> Iterator[Found]:
    """A sheet with its tone group, and the room that has it."""
    sheets = list(Sheet.objects.filter(lot__number=lot, number=number).select_related("lot__material", "tone_group"))
    rooms = giving.rooms_of_sheets(sheets) if sheets else {}
    for sheet in sheets:
        words = [_("lot %(lot)s") % {"lot": sheet.lot.number}, sheet.lot.material.name]
        words += [sheet.tone_group.name] if sheet.tone_group else []
        words += [rooms[sheet.pk]] if sheet.pk in rooms else []
        yield Found(_("Sheet %(number)s") % {"number": sheet.number}, ", ".join(words), _to("materials:sheet", sheet))


def _of_jobs(text: str) -> Iterator[Found]:
    people = Q(architect__icontains=text) | Q(general_contractor__icontains=text)
    named = Q(name__icontains=text) | Q(site__icontains=text) | people
    for job in _some(Job.objects.filter(named).select_related("client")):
        yield _job(job)
    for room in _some(Room.objects.filter(name__icontains=text).select_related("job")):
        yield Found(room.name, _("room of job %(job)s") % {"job": room.job}, _to("jobs:room", room))
    drawings = Drawing.objects.filter(Q(number__icontains=text) | Q(name__icontains=text))
    for drawing in _some(drawings.select_related("job")):
        name = _("Drawing %(number)s") % {"number": drawing.number}
        words = [drawing.name] if drawing.name else []
        words.append(_("job %(job)s") % {"job": drawing.job})
        yield Found(name, ", ".join(words), _to("jobs:drawing", drawing))
    clients = Client.objects.filter(Q(name__icontains=text) | Q(contact__icontains=text))
    for client in _some(clients):
        yield Found(client.name, _with(_("client"), client.contact), _to("jobs:client", client))


def _of_buying(text: str) -> Iterator[Found]:
    for delivery in _some(Delivery.objects.filter(slip_number__icontains=text).select_related("supplier")):
        yield _delivery(delivery)
    for lot in _some(Lot.objects.filter(batch_number__icontains=text).select_related("material")):
        yield _lot(lot)
    samples = Sample.objects.filter(Q(what__icontains=text) | Q(sent_to__icontains=text))
    for sample in _some(samples.select_related("material")):
        words = {"material": sample.material.name, "to": sample.sent_to}
        yield Found(sample.what, _("sample, %(material)s, sent to %(to)s") % words, _to("materials:sample", sample))
    for material in _some(Material.objects.matching(text)):
        yield Found(material.name, material.get_kind_display(), _to("materials:material", material))
    for supplier in _some(Supplier.objects.matching(text)):
        yield Found(supplier.name, _with(_("supplier"), supplier.contact), _to("materials:supplier", supplier))


def _for_owner(text: str) -> Iterator[Found]:
    bills = Bill.objects.filter(number__icontains=text).select_related("delivery__supplier")
    for bill in _some(bills):
        words = {"number": bill.delivery.number, "supplier": bill.delivery.supplier.name}
        name = _("%(kind)s %(number)s") % {"kind": bill.get_kind_display(), "number": bill.number}
        yield Found(name, _("%(supplier)s, delivery %(number)s") % words, _to("materials:delivery", bill.delivery))
    people = Person.objects.filter(Q(name__icontains=text) | Q(username__icontains=text))
    for person in _some(people):
        yield Found(person.name, person.get_role_display(), _to("front:person", person))


def _job(job: Job) -> Found:
    return Found(_("Job %(job)s") % {"job": job}, job.client.name, _to("jobs:job", job))


def _lot(lot: Lot) -> Found:
    words = [lot.material.name]
    words += [_("batch %(batch)s") % {"batch": lot.batch_number}] if lot.batch_number else []
    return Found(_("Lot %(lot)s") % {"lot": lot}, ", ".join(words), _to("materials:lot", lot))


def _delivery(delivery: Delivery) -> Found:
    words = {"supplier": delivery.supplier.name, "slip": delivery.slip_number}
    more = _("%(supplier)s, slip %(slip)s") % words
    return Found(_("Delivery %(delivery)s") % {"delivery": delivery}, more, _to("materials:delivery", delivery))


def _with(what: str, who: str) -> str:
    return f"{what}, {who}" if who else what


def _some(rows: QuerySet) -> QuerySet:
    return rows[:MOST_OF_A_KIND]


def _to(name: str, row: Model) -> str:
    return reverse(name, args=[row.pk])
