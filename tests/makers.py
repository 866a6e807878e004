"""Makers with sensible defaults: a test states only what it is about."""

from datetime import date
from itertools import count

from django.http import HttpResponse
from django.test import Client as Browser

from estimates.models import Estimate, EstimateLine
from jobs.models import (
    Client,
    Cutout,
    Drawing,
    Hours,
    Job,
    Need,
    Opening,
    Revision,
    Room,
    RoomStage,
    Stage,
    Surface,
)
from materials.models import (
    Delivery,
    Half,
    Lot,
    Material,
    Order,
    OrderLine,
    Sheet,
    Supplier,
    ToneGroup,
)
from workshop.actions import Hand, new_key
from workshop.models import Person

INCH_NM = 25_400_000
_numbers = count(1)
LADDER = [("Pale", "#eadfc9"), ("Cream", "#dfcca9"), ("Honey", "#d1b487"), ("Brown", "#b7946a")]


def hand(person: Person) -> Hand:
    return Hand(person=person)


def post(browser: Browser, url: str, *, key: str | None = None, htmx: bool = False, **data: object) -> HttpResponse:
    headers = {"HX-Request": "true"} if htmx else {}
    return browser.post(url, {"key": key or new_key(), **data}, headers=headers)


def make_supplier(**fields: object) -> Supplier:
    return Supplier.objects.create(**{"name": f"Supplier {next(_numbers)}", **fields})


def make_material(**fields: object) -> Material:
    kind = fields.setdefault("kind", Material.Kind.SHEET)
    unit = Material.UNITS_OF_KIND[kind][0]
    return Material.objects.create(**{"name": f"Ash-veneered plywood {next(_numbers)}", "unit": unit, **fields})


def make_ladder(material: Material) -> list[ToneGroup]:
    return [
        ToneGroup.objects.create(material=material, place=place, name=name, color=color)
        for place, (name, color) in enumerate(LADDER, 1)
    ]


def make_order(**fields: object) -> Order:
    """An order of one line, 42 sheets at 71.50 unless told; placed where `placed_on` is."""
    material = fields.pop("material", None) or make_material()
    line = {
        "quantity_micro": fields.pop("quantity_micro", 42_000_000),
        "price_micro": fields.pop("price_micro", 71_500_000),
    }
    values = {"number": next(_numbers), "currency": "USD", "lead_count": 4, "lead_unit": "weeks", **fields}
    values.setdefault("supplier", material.usual_supplier or make_supplier())
    order = Order.objects.create(**values)
    OrderLine.objects.create(order=order, material=material, **line)
    return order


def make_delivery(**fields: object) -> Delivery:
    number = next(_numbers)
    values = {"number": number, "slip_number": f"slip {number}", "currency": "USD", "arrived_on": date(2026, 11, 24)}
    values["supplier"] = fields.pop("supplier", None) or make_supplier()
    return Delivery.objects.create(**{**values, **fields})


def make_lot(**fields: object) -> Lot:
    material = fields.pop("material", None) or make_material()
    values = {"quantity_micro": 0, "currency": "USD", "arrived_on": date(2026, 11, 2), "number": next(_numbers)}
    return Lot.objects.create(material=material, **{**values, **fields})


def make_sheets(lot: Lot, how_many: int, **fields: object) -> list[Sheet]:
    first = lot.sheets.count() + 1
    sheets = Sheet.objects.bulk_create(
        Sheet(lot=lot, number=number, **fields) for number in range(first, first + how_many)
    )
    Half.objects.bulk_create(Half(sheet=sheet, side=side) for sheet in sheets for side in "AB")
    return sheets


def make_client(**fields: object) -> Client:
    return Client.objects.create(**{"name": f"Music school {next(_numbers)}", **fields})


def make_job(**fields: object) -> Job:
    client = fields.pop("client", None) or make_client()
    return Job.objects.create(client=client, **{"number": next(_numbers), "name": "Music school", **fields})


def make_room(**fields: object) -> Room:
    job = fields.pop("job", None) or make_job()
    return Room.objects.create(
        job=job, **{"name": f"Practice {next(_numbers)}", "place": job.rooms.count() + 1, **fields}
    )


def make_need(**fields: object) -> Need:
    room = fields.pop("room", None) or make_room()
    material = fields.pop("material", None) or make_material()
    return Need.objects.create(room=room, material=material, **{"quantity_micro": 5_000_000, **fields})


def make_room_stage(
    *, room: Room | None = None, lane: str = "panels", name: str = "Cut", **fields: object
) -> RoomStage:
    room = room or make_room()
    place = Stage.FIRST_PLACE[lane] + room.job.stages.filter(lane=lane).count() + 1
    stage, _made = Stage.objects.get_or_create(job=room.job, lane=lane, name=name, defaults={"place": place})
    return RoomStage.objects.create(room=room, stage=stage, **fields)


def make_hours(*, room: Room | None = None, person: Person, **fields: object) -> Hours:
    values = {"worked_on": date(2026, 11, 2), "minutes": 90, **fields}
    return Hours.objects.create(room=room or make_room(), person=person, **values)


def make_stack(group: ToneGroup, how_many: int, lot: Lot | None = None) -> list[Sheet]:
    """Sheets of a lot on the stack of a group, the last one on top."""
    lot = lot or make_lot(material=group.material)
    top = lot.sheets.filter(tone_group=group).count()
    sheets = make_sheets(lot, how_many)
    for place, sheet in enumerate(sheets, top + 1):
        sheet.tone_group, sheet.place = group, place
    Sheet.objects.bulk_update(sheets, ["tone_group", "place"])
    return sheets


def make_estimate(**fields: object) -> Estimate:
    job = fields.pop("job", None) or make_job()
    return Estimate.objects.create(job=job, **fields)


def make_line(estimate: Estimate, total_minor: int, **fields: object) -> EstimateLine:
    """A typed line of one lump, in a currency of two places."""
    lump = {"quantity_micro": 1_000_000, "unit": "lump", "price_micro": total_minor * 10_000, "price_unit": "lump"}
    values = {"klass": "material", "description": f"Line {next(_numbers)}", **lump, **fields}
    return EstimateLine.objects.create(estimate=estimate, total_minor=total_minor, **values)


def make_drawing(**fields: object) -> Drawing:
    job = fields.pop("job", None) or make_job()
    return Drawing.objects.create(job=job, **{"number": f"A-{next(_numbers)}", **fields})


def make_revision(**fields: object) -> Revision:
    drawing = fields.pop("drawing", None) or make_drawing()
    days = {"dated_on": date(2026, 11, 2), "received_on": date(2026, 11, 24)}
    letter = "ABCDEFGHIJ"[drawing.revisions.count()]
    return Revision.objects.create(drawing=drawing, **{"letter": letter, **days, **fields})


def make_surface(**fields: object) -> Surface:
    room = fields.pop("room", None) or make_room()
    place = room.surfaces.count() + 1
    sizes = {"width_nm": 222 * INCH_NM, "height_nm": 96 * INCH_NM, "module_nm": 24 * INCH_NM, "reveal_nm": INCH_NM // 8}
    return Surface.objects.create(room=room, **{"name": "ABCDEFGHIJ"[place - 1], "place": place, **sizes, **fields})


def make_opening(**fields: object) -> Opening:
    surface = fields.pop("surface", None) or make_surface()
    sizes = {"left_nm": 100 * INCH_NM, "width_nm": 36 * INCH_NM, "height_nm": 80 * INCH_NM}
    return Opening.objects.create(surface=surface, kind="door", **{**sizes, **fields})


def make_cutout(**fields: object) -> Cutout:
    surface = fields.pop("surface", None) or make_surface()
    sizes = {"center_nm": 40 * INCH_NM, "center_height_nm": 20 * INCH_NM, "width_nm": 4 * INCH_NM}
    return Cutout.objects.create(
        surface=surface, **{**sizes, "height_nm": 4 * INCH_NM, "depth_nm": 2 * INCH_NM, **fields}
    )
