"""A shop of years, invented in bulk: 200 jobs, 2,400 rooms, 20,000 sheets, 50,000 hour entries, or a part of it.

The rows are what the rules would have written, made without them: nothing here is a check of a rule. Suppliers, jobs in
work with what they need, and orders on their way are as many whatever the years behind: a shop grows older, its benches
do not grow more.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from itertools import count, islice

from django.db import models, transaction

from estimates.models import Estimate, EstimateLine
from jobs import stages
from jobs.models import Client, Drawing, Given, Hours, Job, LotShare, Need, Revision, Room, RoomStage, Stage
from materials.models import (
    Delivery,
    DeliveryLine,
    Half,
    Lot,
    Material,
    Order,
    OrderLine,
    Price,
    Promise,
    Sample,
    Sheet,
    SheetReturn,
    Supplier,
    ToneGroup,
)
from workshop.models import Action, ActionAbout, Person, Shop

TODAY = date(2026, 11, 25)
JOBS, ROOMS_OF_A_JOB, HOURS, SUPPLIERS, MATERIALS, CLIENTS = 200, 12, 50_000, 60, 160, 160
LOTS, SHEETS_OF_A_LOT, ORDERS, ORDERS_OUT, TO_COUNT = 400, 60, 1_500, 30, 5
JOBS_OPEN = 20
SAMPLES, RETURNS = 300, 300
LADDER = [("Pale", "#eadfc9"), ("Cream", "#dfcca9"), ("Honey", "#d1b487"), ("Brown", "#b7946a")]
KINDS = [Material.Kind.SHEET, Material.Kind.LUMBER, Material.Kind.TRIM, Material.Kind.FINISH]


@dataclass(frozen=True)
class Volume:
    """What was made, for those who look at single pages of it."""

    owner: Person
    job: Job
    room: Room
    lot: Lot


@transaction.atomic
def fill(part: int = 1) -> Volume:
    """Make the shop, or one part in so many of it; orders on their way are as many in either."""
    people = _people()
    suppliers = _add(Supplier(name=f"Supplier {n}", lead_count=2 + n % 6) for n in range(SUPPLIERS))
    materials = _materials(suppliers, MATERIALS // part)
    clients = _add(Client(name=f"Client {n}") for n in range(CLIENTS // part))
    rooms = _jobs(clients, JOBS // part)
    _drawings(rooms)
    _orders(suppliers, materials, ORDERS // part)
    halves = _lots(materials, people, LOTS // part)
    _needs(rooms, materials, halves)
    _samples(materials, SAMPLES // part)
    _returns(RETURNS // part)
    _hours(rooms, people, HOURS // part)
    _estimates(rooms, materials)
    _actions(people[0], rooms, HOURS // 2 // part)
    job = open_job()
    lot = Lot.objects.filter(material__kind=Material.Kind.SHEET).order_by("pk").first()
    return Volume(people[0], job, job.rooms.first(), lot)


def open_job() -> Job:
    """One of the jobs in work, with as many behind it as before."""
    return Job.objects.filter(closed_on=None).order_by("pk")[JOBS_OPEN // 2]


def _add(rows: Iterable[models.Model]) -> list[models.Model]:
    """Add rows in steps; the made ones come back."""
    rows, made = iter(rows), []
    while step := list(islice(rows, 2_000)):
        made += type(step[0])._base_manager.bulk_create(step)
    return made


def _day(back: int) -> date:
    return TODAY - timedelta(days=back)


def _people() -> list[Person]:
    Shop.objects.create(pk=1, name="Shop A", hour_price_micro=64_000_000)
    return _add(
        Person(username=f"person{n}", name=f"Person {n}", role=Person.Role.STAFF if n else Person.Role.OWNER)
        for n in range(10)
    )


def _materials(suppliers: Sequence[Supplier], how_many: int) -> list[Material]:
    made = _add(
        Material(
            name=f"{kind.label} {n}",
            kind=kind,
            unit=Material.UNITS_OF_KIND[kind][0],
            usual_supplier=suppliers[n % len(suppliers)],
        )
        for n, kind in zip(range(how_many), _turning(KINDS), strict=False)
    )
    _add(
        Price(material=m, supplier=m.usual_supplier, price_micro=71_500_000, currency="USD", from_on=_day(days))
        for m in made
        for days in (400, 90)
    )
    _add(
        ToneGroup(material=m, place=place, name=name, color=color)
        for m in made
        if m.is_sheet
        for place, (name, color) in enumerate(LADDER, 1)
    )
    return made


def _turning(things: Sequence[object]) -> Iterator[object]:
    while True:
        yield from things


def _jobs(clients: Sequence[Client], how_many: int) -> list[Room]:
    jobs = _add(
        Job(
            number=n,
            name=f"Music school {n}",
            client=clients[n % len(clients)],
            closed_on=None if n > how_many - JOBS_OPEN else _day(how_many - n),
        )
        for n in range(1, how_many + 1)
    )
    rooms = _add(
        Room(
            job=job,
            name=f"Practice {place}",
            place=place,
            starts_on=TODAY + timedelta(days=job.number % 90 + place),
            wanted_on=TODAY + timedelta(days=job.number % 90 + place + 30),
        )
        for job in jobs
        for place in range(1, ROOMS_OF_A_JOB + 1)
    )
    of_job: dict[int, list[Stage]] = {}
    for stage in _add(stage for job in jobs for stage in stages.of_the_trade(job)):
        of_job.setdefault(stage.job_id, []).append(stage)
    _add(
        RoomStage(room=room, stage=stage, planned_minutes=240, total=10, done=10 if at < room.pk % 17 else 0)
        for room in rooms
        for at, stage in enumerate(of_job[room.job_id])
    )
    return rooms


def _drawings(rooms: Sequence[Room]) -> None:
    """A drawing of each room with two revisions."""
    drawings = _add(Drawing(job_id=room.job_id, number=f"A-{room.place}", name=room.name) for room in rooms)
    _add(
        Revision(drawing=drawing, letter=letter, dated_on=_day(days), received_on=_day(days - 2))
        for drawing in drawings
        for letter, days in (("A", 60), ("B", 30))
    )


def _orders(suppliers: Sequence[Supplier], materials: Sequence[Material], how_many: int) -> None:
    orders = _add(
        Order(
            number=n,
            supplier=suppliers[n % len(suppliers)],
            placed_on=_day(5 + how_many - n),
            currency="USD",
            lead_count=7,
            lead_unit="weeks",
            promised_on=TODAY + timedelta(days=n % 40),
        )
        for n in range(1, how_many + 1)
    )
    lines = _add(
        OrderLine(
            order=order,
            material=materials[(order.number + at) % len(materials)],
            quantity_micro=42_000_000,
            price_micro=71_500_000,
        )
        for order in orders
        for at in range(2)
    )
    _add(Promise(order=order, promised_on=order.promised_on, told_on=order.placed_on) for order in orders)
    deliveries = _add(
        Delivery(
            number=order.number,
            supplier_id=order.supplier_id,
            slip_number=f"S-{order.number}",
            arrived_on=_day(4),
            counted_on=None if order.number > how_many - ORDERS_OUT - TO_COUNT else _day(3),
            currency="USD",
        )
        for order in orders[: how_many - ORDERS_OUT]
    )
    of_order = {delivery.number: delivery for delivery in deliveries}
    arrived = {order.pk: of_order[order.number] for order in orders if order.number in of_order}
    _add(
        DeliveryLine(
            delivery=arrived[line.order_id],
            material_id=line.material_id,
            order_line=line,
            kept_micro=line.quantity_micro,
            price_micro=line.price_micro,
        )
        for line in lines
        if line.order_id in arrived and arrived[line.order_id].counted_on
    )


def _lots(materials: Sequence[Material], people: Sequence[Person], how_many: int) -> list[Half]:
    """Lots, five in six of sheets; the sheets sorted but for the last lots. The halves come back."""
    sheets_of = [m for m in materials if m.is_sheet]
    others = [m for m in materials if not m.is_sheet]
    lots = _add(
        Lot(
            number=n,
            material=(others if n % 6 == 0 else sheets_of)[n % len(others if n % 6 == 0 else sheets_of)],
            quantity_micro=60_000_000,
            currency="USD",
            landed_minor=429_000,
            arrived_on=_day(how_many - n),
        )
        for n in range(1, how_many + 1)
    )
    _from_deliveries(lots)
    ladders: dict[int, list[ToneGroup]] = {}
    for group in ToneGroup.objects.all():
        ladders.setdefault(group.material_id, []).append(group)
    sheets = _add(
        Sheet(
            lot=lot,
            number=number,
            landed_minor=7_150,
            sorted_by=people[number % len(people)],
            **_place(lot.number > how_many - 20, ladders[lot.material_id], number),
        )
        for lot in lots
        if lot.number % 6
        for number in range(1, SHEETS_OF_A_LOT + 1)
    )
    return _add(Half(sheet=sheet, side=side) for sheet in sheets for side in "AB")


def _from_deliveries(lots: Sequence[Lot]) -> None:
    """Each lot from a line of a delivery, as far as there are lines of its material."""
    lines: dict[int, list[DeliveryLine]] = {}
    for line in DeliveryLine.objects.all():
        lines.setdefault(line.material_id, []).append(line)
    came = []
    for lot in lots:
        if left := lines.get(lot.material_id):
            came.append(left.pop())
            came[-1].lot = lot
    DeliveryLine.objects.bulk_update(came, ["lot"], batch_size=500)


def _place(is_waiting: bool, ladder: Sequence[ToneGroup], number: int) -> dict[str, object]:
    if is_waiting:
        return {"tone_group": None, "place": None}
    return {"tone_group": ladder[number % len(ladder)], "place": (number - 1) // len(ladder) + 1}


def _needs(rooms: Sequence[Room], materials: Sequence[Material], halves: Sequence[Half]) -> None:
    """Four needs a room, of one material a kind, two a job; two of three rooms have their sheets."""
    by_kind = [[m for m in materials if m.kind == kind] for kind in KINDS]
    _add(
        Need(room=room, material=_of_job(of_kind, room), quantity_micro=5_000_000)
        for room in rooms
        for of_kind in by_kind
    )
    free: dict[int, list[Half]] = {}
    for half in halves:
        free.setdefault(half.sheet.lot.material_id, []).append(half)
    wanted = Need.objects.filter(material__kind=Material.Kind.SHEET).order_by("pk")
    _add(
        Given(half=free[need.material_id].pop(0), room_id=need.room_id)
        for need in wanted
        if need.room_id % 3
        for _half in range(min(10, len(free[need.material_id])))
    )
    boards = list(Lot.objects.exclude(material__kind=Material.Kind.SHEET))
    _add(
        LotShare(lot=boards[room.pk % len(boards)], room=room, quantity_micro=1_000_000)
        for room in rooms
        if room.pk % 3 == 0
    )


def _of_job(of_kind: Sequence[Material], room: Room) -> Material:
    """One of the two materials of its kind a job takes; jobs in work take of the same few."""
    first = room.job_id % (len(of_kind) if room.job.closed_on else 3)
    return of_kind[(first + room.place % 2) % len(of_kind)]


def _samples(materials: Sequence[Material], how_many: int) -> None:
    _add(
        Sample(
            material=materials[n % len(materials)],
            what=f"Finish panel {n}",
            sent_on=_day(20),
            sent_to="Architect",
            answered_on=_day(9) if n > 5 else None,
            is_approved=True if n > 5 else None,
        )
        for n in range(how_many)
    )


def _returns(how_many: int) -> None:
    sheets = list(Sheet.objects.filter(halves__given=None).distinct().order_by("-pk")[:how_many])
    Sheet.objects.filter(pk__in=[sheet.pk for sheet in sheets[4:]]).update(left_on=_day(20))
    _add(
        SheetReturn(sheet=sheet, why="Veneer is open", asked_on=_day(30), collected_on=_day(20) if at > 3 else None)
        for at, sheet in enumerate(sheets)
    )


def _hours(rooms: Sequence[Room], people: Sequence[Person], how_many: int) -> None:
    first: dict[int, Stage] = {}
    for stage in Stage.objects.all():
        first.setdefault(stage.job_id, stage)
    _add(
        Hours(
            room=room,
            stage=first[room.job_id],
            person=people[n // 10 % len(people)],
            worked_on=_day(n // 10 % 700),
            minutes=90,
            batch=n // 10 + 1 if n // 10 % 20 == 0 else None,
        )
        for n, room in zip(range(how_many), _turning(rooms), strict=False)
    )


def _estimates(rooms: Sequence[Room], materials: Sequence[Material]) -> None:
    terms = {"overhead_ppm": 120_000, "profit_ppm": 180_000, "tax_ppm": 82_500}
    jobs = dict.fromkeys(room.job_id for room in rooms)
    of_job = {row.job_id: row for row in _add(Estimate(job_id=job, **terms) for job in jobs)}
    _add(
        EstimateLine(
            estimate=of_job[room.job_id],
            room=room,
            klass="labor" if at > 3 else "material",
            description=f"Line {at}",
            quantity_micro=240_000_000 if at > 3 else 5_000_000,
            unit="minute" if at > 3 else "sheet",
            price_micro=64_000_000,
            price_unit="hour" if at > 3 else "sheet",
            total_minor=25_600 if at > 3 else 32_000,
            place=at,
        )
        for room in rooms
        for at in range(20)
    )


def _actions(owner: Person, rooms: Sequence[Room], how_many: int) -> None:
    moment = datetime(2026, 11, 24, 12, tzinfo=UTC)
    keys = count()
    actions = _add(
        Action(
            key=f"{next(keys):032x}",
            person=owner,
            happened_at=moment,
            recorded_at=moment,
            verb="room.change",
            thing=f"jobs.room:{room.pk}",
            words={"name": room.name},
            before=[{"row": f"jobs.room:{room.pk}", "fields": {"name": "Room"}}],
            after=[{"row": f"jobs.room:{room.pk}", "fields": {"name": room.name}}],
        )
        for _n, room in zip(range(how_many), _turning(rooms), strict=False)
    )
    _add(
        ActionAbout(action=action, thing=thing)
        for action, room in zip(actions, _turning(rooms), strict=False)
        for thing in (f"jobs.room:{room.pk}", f"jobs.job:{room.job_id}")
    )
