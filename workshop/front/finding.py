"""Finding a sheet, job, room, order, delivery, material, supplier or client by number or name."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from django.db.models import QuerySet
from django.urls import reverse
from django.utils.translation import gettext as _

from jobs.models import Client, Job, Room
from materials.models import Delivery, Lot, Material, Order, Sheet, Supplier

MOST_OF_A_KIND = 10
_NUMBER = re.compile(r"[0-9]{1,9}")
_SHEET = re.compile(r"([0-9]{1,9})[-/ ]([0-9]{1,6})[ABab]?")


@dataclass(frozen=True)
class Found:
    name: str
    more: str
    url: str


def find(text: str) -> list[Found]:
    """What a short text could mean; a sheet is found as lot and number, 8-31."""
    text = text.replace("\0", "").strip()[:60]
    return list(dict.fromkeys([*_numbered(text), *_named(text)])) if text else []


def _numbered(text: str) -> Iterator[Found]:
    if found := _SHEET.fullmatch(text):
        lot, number = int(found[1]), int(found[2])
        for sheet in Sheet.objects.filter(lot__number=lot, number=number).select_related("lot__material"):
            words = _("lot %(lot)s, %(material)s") % {
                "lot": sheet.lot.number,
                "material": sheet.lot.material.name,
            }
            yield Found(_("Sheet %(number)s") % {"number": sheet.number}, words, _to("materials:sheet", sheet))
    if not _NUMBER.fullmatch(text):
        return
    number = int(text)
    for job in Job.objects.filter(number=number).select_related("client"):
        yield Found(_("Job %(job)s") % {"job": job}, job.client.name, _to("jobs:job", job))
    for order in Order.objects.filter(number=number).select_related("supplier"):
        yield Found(_("Order %(order)s") % {"order": order}, order.supplier.name, _to("materials:order", order))
    for delivery in Delivery.objects.filter(number=number).select_related("supplier"):
        yield _delivery(delivery)
    for lot in Lot.objects.filter(number=number).select_related("material"):
        yield Found(_("Lot %(lot)s") % {"lot": lot}, lot.material.name, _to("materials:lot", lot))


def _named(text: str) -> Iterator[Found]:
    for job in _some(Job.objects.filter(name__icontains=text).select_related("client")):
        yield Found(_("Job %(job)s") % {"job": job}, job.client.name, _to("jobs:job", job))
    for room in _some(Room.objects.filter(name__icontains=text).select_related("job")):
        yield Found(room.name, _("room of job %(job)s") % {"job": room.job}, _to("jobs:room", room))
    for delivery in _some(Delivery.objects.filter(slip_number__icontains=text).select_related("supplier")):
        yield _delivery(delivery)
    for material in _some(Material.objects.filter(name__icontains=text)):
        yield Found(material.name, material.get_kind_display(), _to("materials:material", material))
    for supplier in _some(Supplier.objects.filter(name__icontains=text)):
        yield Found(supplier.name, _("supplier"), _to("materials:supplier", supplier))
    for client in _some(Client.objects.filter(name__icontains=text)):
        yield Found(client.name, _("client"), _to("jobs:client", client))


def _delivery(delivery: Delivery) -> Found:
    words = _("%(supplier)s, slip %(slip)s") % {
        "supplier": delivery.supplier.name,
        "slip": delivery.slip_number,
    }
    return Found(_("Delivery %(delivery)s") % {"delivery": delivery}, words, _to("materials:delivery", delivery))


def _some(rows: QuerySet) -> QuerySet:
    return rows[:MOST_OF_A_KIND]


def _to(name: str, row: object) -> str:
    return reverse(name, args=[row.pk])
