"""A small shop with one of everything, and a telling figure wherever there is money."""

import io
from dataclasses import dataclass
from datetime import date

from django.db import models
from PIL import Image

from estimates.models import EstimateLine
from jobs.models import Given, Hours, LotShare
from materials.models import (
    Bill,
    DeliveryLine,
    DeliveryPhoto,
    Half,
    Material,
    OrderPayment,
    Price,
    Sample,
    SheetReturn,
)
from tests.makers import (
    hand,
    make_cutout,
    make_delivery,
    make_drawing,
    make_estimate,
    make_hours,
    make_job,
    make_ladder,
    make_line,
    make_lot,
    make_material,
    make_need,
    make_opening,
    make_order,
    make_revision,
    make_room,
    make_room_stage,
    make_sheets,
    make_stack,
    make_supplier,
    make_surface,
)
from workshop import actions, clock, photos, shop
from workshop.actions import recorded
from workshop.models import Action, Person, Photo, Shop, Work

MINOR, MICRO, PPM = 717_171, 7_171_710_000, 71_717
TELLING = ("7171.71", "7,171.71", "7171", "7,171", "717171", "717,171", "7.1717", "7.17")
"""How 7,171.71 and 7.1717 % could show through, in figures, fields and stored values."""

actions.say("world.price", "Prices changed")


@dataclass(frozen=True)
class World:
    """What the addresses lead to, by their name or by how the path begins, and all that has a trace."""

    by_name: dict[str, models.Model]
    by_path: dict[str, models.Model]
    things: list[models.Model]


def photo_of(person: Person) -> Photo:
    """A photo that lies where photos are kept."""
    content = io.BytesIO()
    Image.new("RGB", (8, 6), "#dfcca9").save(content, "JPEG")
    picture = photos.Picture(content.getvalue(), 8, 6)
    with photos.stored([picture], person) as rows:
        rows[0].added_at = clock.now()
        rows[0].save()
    return rows[0]


def make_world(owner: Person, staff: Person) -> World:
    shop.change(shop=Shop.get(), by=hand(owner), version=1, hour_price_micro=MICRO, tax_ppm=PPM)
    supplier = make_supplier(name="Supplier A")
    ash = make_material(name="Ash-veneered plywood", usual_supplier=supplier)
    lumber = make_material(name="Solid ash 8/4", kind=Material.Kind.LUMBER, usual_supplier=supplier)
    Price.objects.create(material=ash, supplier=supplier, price_micro=MICRO, currency="USD", from_on=date(2026, 1, 1))
    ladder = make_ladder(ash)
    to_place = make_order(material=ash, price_micro=MICRO, freight_minor=MINOR)
    placed = make_order(
        material=ash, price_micro=MICRO, freight_minor=MINOR, placed_on=date(2026, 11, 2), promised_on=date(2026, 12, 4)
    )
    delivery = make_delivery(supplier=supplier, freight_minor=MINOR, counted_on=date(2026, 11, 24))
    to_count = make_delivery(supplier=supplier, freight_minor=MINOR)
    lot = make_lot(material=ash, landed_minor=MINOR, quantity_micro=7_000_000)
    stack = make_stack(ladder[0], 3, lot=lot)
    waiting = make_sheets(lot, 2, landed_minor=MINOR)
    set_aside = make_sheets(lot, 1, landed_minor=MINOR, set_aside_on=date(2026, 11, 24), set_aside_why="Warped")
    boards = make_lot(material=lumber, landed_minor=MINOR, quantity_micro=180_000_000)
    DeliveryLine.objects.create(
        delivery=delivery,
        material=ash,
        order_line=placed.lines.get(),
        kept_micro=7_000_000,
        refused_micro=1_000_000,
        price_micro=MICRO,
        landed_minor=MINOR,
        lot=lot,
    )
    job = make_job(name="Music school")
    room = make_room(job=job, name="Practice 1", starts_on=date(2026, 12, 7))
    empty = make_room(job=job, name="Practice 2")
    need = make_need(room=room, material=ash)
    make_need(room=room, material=lumber, quantity_micro=20_000_000)
    stage = make_room_stage(room=room, total=10, done=3, planned_minutes=600)
    unused = make_room_stage(room=make_room(job=job, name="Lobby"), name="Edge")
    unused.delete()
    hours = make_hours(room=room, person=staff)
    batch = make_hours(room=room, person=staff, stage=stage.stage)
    Hours.objects.filter(pk=batch.pk).update(batch=batch.pk)
    revision = make_revision(drawing=make_drawing(job=job))
    wall, bare_wall = make_surface(room=room), make_surface(room=room)
    opening, cutout = make_opening(surface=wall), make_cutout(surface=wall)
    Given.objects.create(half=Half.objects.filter(sheet=stack[2]).first(), room=room)
    LotShare.objects.create(lot=boards, room=room, quantity_micro=1_000_000)
    estimate = make_estimate(job=job, tax_ppm=PPM, discount_minor=0, profit_ppm=PPM)
    line: EstimateLine = make_line(estimate, MINOR, room=room, description="Ash panels")
    with recorded(hand(owner), "world.price", placed, about=[job, room, lot, supplier, ash, delivery]) as record:
        record.save(placed.lines.get(), price_micro=MICRO + 1_000_000)
        record.save(placed.lines.get(), price_micro=MICRO)
        record.save(lot, landed_minor=MINOR + 100)
        record.save(line, total_minor=MINOR + 100)
        record.save(line, total_minor=MINOR)
    work = Work.objects.create(kind="backup", key="all", time_box_seconds=60, asked_by=owner)
    payment = OrderPayment.objects.create(order=placed, what="Deposit", due_on=date(2026, 12, 1), amount_minor=MINOR)
    sample = Sample.objects.create(
        material=ash, order=placed, what="Finish panel", sent_to="Example Architects", sent_on=date(2026, 11, 20)
    )
    bill = Bill.objects.create(
        delivery=delivery,
        kind=Bill.Kind.INVOICE,
        number="R-9",
        dated_on=date(2026, 11, 25),
        amount_minor=MINOR,
    )
    going_back = make_sheets(lot, 1, landed_minor=MINOR, set_aside_on=date(2026, 11, 24), set_aside_why="Veneer loose")
    sheet_return = SheetReturn.objects.create(
        sheet=going_back[0], why="Veneer loose", asked_on=date(2026, 11, 24), credit_expected_minor=MINOR
    )
    finish = make_lot(material=make_material(name="Clear finish", kind=Material.Kind.FINISH), quantity_micro=6_000_000)
    picture = photo_of(owner)
    delivery_photo = DeliveryPhoto.objects.create(delivery=delivery, photo=picture)
    by_name = {
        "front:photo": picture,
        "materials:payment": payment,
        "materials:payment_paid": payment,
        "materials:payment_remove": payment,
        "materials:delivery_photo_remove": delivery_photo,
        "materials:lot_batch": finish,
        "front:person": owner,
        "front:undo": Action.objects.get(verb="world.price"),
        "front:work": work,
        "front:work_cancel": work,
        "jobs:stage_remove": stage.stage,
        "jobs:room_stage": stage,
        "jobs:need": need,
        "jobs:need_remove": need,
        "jobs:hours_edit": hours,
        "jobs:hours_remove": hours,
        "jobs:hours_batch": batch,
        "jobs:hours_batch_remove": batch,
        "jobs:client": job.client,
        "jobs:line_jobs": placed.lines.get(),
        "jobs:surface_plain": empty,
        "jobs:surface_measure": bare_wall,
        "materials:supplier": supplier,
        "materials:tone": ladder[0],
        "materials:tone_remove": ladder[3],
        "materials:order_line": to_place.lines.get(),
        "materials:order_line_remove": to_place.lines.get(),
        "materials:order_edit": to_place,
        "materials:order_place": to_place,
        "materials:order_line_new": to_place,
        "materials:delivery_count": to_count,
        "materials:sheet_sort": waiting[0],
        "materials:sheet_put_back": set_aside[0],
        "estimates:estimate_line": line,
        "estimates:estimate_line_remove": line,
    }
    by_path = {
        "jobs/": job,
        "rooms/": room,
        "materials/": ash,
        "orders/": placed,
        "deliveries/": delivery,
        "lots/": lot,
        "sheets/": stack[0],
        "drawings/": revision.drawing,
        "revisions/": revision,
        "surfaces/": wall,
        "openings/": opening,
        "cutouts/": cutout,
        "samples/": sample,
        "bills/": bill,
        "returns/": sheet_return,
    }
    things = [
        ash,
        lumber,
        supplier,
        to_place,
        placed,
        delivery,
        to_count,
        lot,
        job,
        room,
        need,
        stage,
        hours,
        revision,
        wall,
    ]
    return World(by_name, by_path, [*things, *waiting, *placed.lines.all()])
