"""The demo job, made through the same rules as any other, with its days counted from today."""

import json
import secrets
from datetime import date, timedelta
from fractions import Fraction

from django.conf import settings
from django.contrib.auth.hashers import make_password
from django.db import transaction

from estimates import estimate, filling
from estimates.models import Estimate
from jobs import clients, giving, hours, job, needs, plan, rooms, stages
from jobs.models import Job as JobRow
from jobs.models import Room, RoomStage, Stage
from materials import catalog, deliveries, order_lines, orders, sorting, suppliers, tones
from materials.models import Material, OrderLine, Sheet, Supplier
from workshop import clock, people, shop
from workshop.actions import Hand
from workshop.calculations import lengths, money, units
from workshop.forms import HoursField
from workshop.models import Person, Shop

SCENARIO = settings.BASE_DIR / "fixtures" / "demo.json"


def load(password: str) -> None:
    """Make the demo if it is not there, and give its people this password, however short it is."""
    scenario = json.loads(SCENARIO.read_text(encoding="utf-8"))
    if not Person.objects.exists():
        with transaction.atomic():
            _Demo(scenario, clock.today(), secrets.token_urlsafe(24)).make()
    people_of_it = Person.objects.filter(username__in=[row["username"] for row in scenario["people"]])
    people_of_it.update(password=make_password(password))


def _micro(text: str, unit: str) -> int:
    return units.to_micro(units.read_quantity(text, unit))


def _price(text: str) -> int:
    return money.amount_to_micro(money.read_price(text, "USD"))


def _minor(text: str) -> int:
    return money.to_minor(money.read_money(text, "USD"), "USD")


class _Demo:
    def __init__(self, scenario: dict, today: date, password: str) -> None:
        self.scenario, self.today, self.password = scenario, today, password
        self.people: dict[str, Person] = {}

    def make(self) -> None:
        with clock.as_if(self._day(-120)):
            self._shop_and_people()
            self._catalog()
            self._job()
        self._orders_and_deliveries()
        self._closed_orders()
        self._sorting()
        self._rooms_at_work()
        self._estimate()

    def _day(self, offset: int) -> date:
        return self.today + timedelta(days=offset)

    def _by(self, username: str = "demo") -> Hand:
        return Hand(person=self.people[username])

    def _shop_and_people(self) -> None:
        wanted = self.scenario["people"]
        first = people.make_owner(
            by=Hand(person=None), username=wanted[0]["username"], name=wanted[0]["name"], password=self.password
        )
        self.people[first.username] = first
        for person in wanted[1:]:
            self.people[person["username"]] = people.add(by=self._by(), password=self.password, **person)
        settled = dict(self.scenario["shop"])
        settled["hour_price_micro"] = _price(settled.pop("hour_price"))
        for name in ("overhead", "profit", "tax"):
            settled[f"{name}_ppm"] = money.read_percent(settled.pop(name))
        row = Shop.get()
        shop.change(shop=row, by=self._by(), version=row.version, **settled)

    def _catalog(self) -> None:
        for row in self.scenario["suppliers"]:
            count, unit = row["lead"]
            suppliers.add(by=self._by(), name=row["name"], phone=row["phone"], lead_count=count, lead_unit=unit)
        for row in self.scenario["materials"]:
            supplier = Supplier.objects.get(name=row["supplier"])
            sizes = {f"{n}_nm": lengths.read_length(row[n]) for n in ("thickness", "width", "length") if n in row}
            extra = {name: row[name] for name in ("species", "unit") if name in row}
            material = catalog.add(
                by=self._by(), kind=row["kind"], name=row["name"], usual_supplier=supplier, **sizes, **extra
            )
            catalog.add_price(
                material=material,
                supplier=supplier,
                by=self._by(),
                price_micro=_price(row["price"]),
                from_on=clock.today(),
            )
            self._ladder(material, row.get("ladder", []))

    def _ladder(self, material: Material, ladder: list[list[str]]) -> None:
        """Rename the groups a new sheet material comes with, and add what is missing."""
        groups = list(material.tone_groups.all())
        for place, (name, color) in enumerate(ladder, 1):
            if place <= len(groups):
                group = groups[place - 1]
                tones.change(group=group, by=self._by(), version=group.version, name=name, color=color, place=place)
            else:
                tones.add(material=material, by=self._by(), name=name, color=color)

    def _job(self) -> None:
        client = clients.add(by=self._by(), **self.scenario["client"])
        facts = {"unit_system": "us", "precision_nm": 1_587_500, "currency": "USD"}
        self.job = job.add(by=self._by(), client=client, **facts, **self.scenario["job"])
        for row in self.scenario["rooms"]:
            starts, wanted = self._day(row["starts"]), self._day(row["wanted"])
            room = rooms.add(job=self.job, by=self._by(), name=row["name"], starts_on=starts, wanted_on=wanted)
            for name, quantity in row["needs"].items():
                material = Material.objects.get(name=name)
                needs.add(room=room, by=self._by(), material=material, quantity_micro=_micro(quantity, material.unit))
            self._plan(room, row)

    def _plan(self, room: Room, row: dict) -> None:
        stages_of = list(room.room_stages.select_related("stage"))
        was = {s.pk: plan.planned(s) for s in stages_of}
        planned = {s.pk: self._planned(s.stage, row) for s in stages_of}
        plan.change(room=room, by=self._by(), plan=planned, was=was)

    def _planned(self, stage: Stage, row: dict) -> plan.Planned:
        for_ten = HoursField().read(self.scenario["hours_for_ten"][stage.lane][stage.name])
        minutes = int(Fraction(for_ten * row["scale"], 10 * 15) + Fraction(1, 2)) * 15
        total = {"panels": row["panels"], "trim": row["trim"]}.get(stage.lane, 1)
        return plan.Planned(minutes, total)

    def _orders_and_deliveries(self) -> None:
        steps = []
        for row in self.scenario["orders"]:
            steps.append((row["placed"], self._order, row))
        for row in self.scenario["deliveries"]:
            steps.append((row["arrived"], self._delivery, row))
        for offset, step, row in sorted(steps, key=lambda s: s[0]):
            with clock.as_if(self._day(offset)):
                step(row)

    def _order(self, row: dict) -> None:
        supplier = Supplier.objects.get(name=row["supplier"])
        (name, quantity, price), *_rest = row["lines"]
        material = Material.objects.get(name=name)
        count, unit = row.get("lead") or (supplier.lead_count, supplier.lead_unit)
        order = orders.add(
            by=self._by(),
            supplier=supplier,
            material=material,
            quantity_micro=_micro(quantity, material.unit),
            price_micro=_price(price),
            lead_count=count,
            lead_unit=unit,
            freight_minor=_minor(row["freight"]),
        )
        orders.place(order=order, placed_on=clock.today(), by=self._by())
        for told, promised, note in row["promises"]:
            with clock.as_if(self._day(told)):
                orders.promise(
                    order=order,
                    promised_on=self._day(promised),
                    told_on=self._day(told),
                    note=note,
                    by=self._by(),
                )

    def _delivery(self, row: dict) -> None:
        supplier = Supplier.objects.get(name=row["supplier"])
        delivery = deliveries.take_in(
            by=self._by("ari"),
            supplier=supplier,
            slip_number=row["slip"],
            arrived_on=clock.today(),
            bundles=row["bundles"],
            damage=row.get("damage", ""),
        )
        if "counted" in row:
            with clock.as_if(self._day(row["counted"])):
                lines = deliveries.expected_lines(delivery)
                counted = [self._counted(lines, *item) for item in row["rows"].items()]
                deliveries.count(
                    delivery=delivery, rows=counted, by=self._by("ari"), freight_minor=_minor(row["freight"])
                )

    def _closed_orders(self) -> None:
        """Orders of which the rest will not come, as where a supplier takes refused sheets off the bill."""
        for number, row in enumerate(sorted(self.scenario["orders"], key=lambda r: r["placed"]), 1):
            if "closed" in row:
                line = OrderLine.objects.get(order__number=number)
                with clock.as_if(self._day(row["closed"])):
                    order_lines.change(
                        line=line,
                        by=self._by(),
                        version=line.version,
                        quantity_micro=line.quantity_micro,
                        price_micro=line.price_micro,
                        is_closed=True,
                    )

    @staticmethod
    def _counted(lines: list[OrderLine], name: str, counts: dict[str, str]) -> deliveries.Counted:
        line = next(line for line in lines if line.material.name == name)
        micros = {f"{what}_micro": _micro(text, line.material.unit) for what, text in counts.items()}
        return deliveries.Counted(name=f"line_{line.pk}", material=line.material, order_line=line, **micros)

    def _sorting(self) -> None:
        row = self.scenario["sorting"]
        material = Material.objects.get(name=row["material"])
        groups = list(material.tone_groups.all())
        sheets = Sheet.objects.filter(lot__material=material).order_by("lot__number", "number")
        with clock.as_if(self._day(row["day"])):
            for sheet, tone in zip(sheets, row["tones"], strict=False):
                if tone == "-":
                    sorting.set_aside(sheet=sheet, why=self.scenario["set_aside_why"], by=self._by("ari"))
                else:
                    sorting.sort(sheet=sheet, group=groups[int(tone) - 1], by=self._by("ari"))

    def _rooms_at_work(self) -> None:
        for name, group, count in self.scenario["given"]:
            room = self._room(name)
            tone = Material.objects.get(name=self.scenario["sorting"]["material"]).tone_groups.get(name=group)
            with clock.as_if(self._day(-4)):
                giving.give(
                    room=room,
                    material=tone.material,
                    group=tone,
                    halves=int(units.read_quantity(count, "sheet") * 2),
                    by=self._by(),
                )
        for name, material, quantity in self.scenario["shares"]:
            lot = Material.objects.get(name=material).lots.order_by("number").first()
            micro = _micro(quantity, lot.material.unit)
            giving.give_quantity(room=self._room(name), lot=lot, quantity_micro=micro, by=self._by())
        for name, lane, username, offset, text in [(r[0], r[1:3], r[3], r[4], r[5]) for r in self.scenario["hours"]]:
            stage = Stage.objects.get(job=self.job, lane=lane[0], name=lane[1])
            with clock.as_if(self._day(offset)):
                hours.add(
                    room=self._room(name),
                    by=self._by(username),
                    person=self.people[username],
                    worked_on=self._day(offset),
                    minutes=HoursField().read(text),
                    stage=stage,
                )
        for name, lane, names, done in self.scenario["done"]:
            for row in RoomStage.objects.filter(room=self._room(name), stage__lane=lane, stage__name__in=names):
                stages.count(room_stage=row, by=self._by("ari"), done=done)

    def _room(self, name: str) -> Room:
        return Room.objects.get(job=self.job, name=name)

    def _estimate(self) -> None:
        wanted = self.scenario["estimate"]
        filling.fill(job=self.job, by=self._by())
        row = Estimate.objects.get(job=self.job)
        estimate.change_terms(
            job=self.job,
            by=self._by(),
            version=row.version,
            waste_ppm=money.read_percent(wanted["waste"]),
            contingency_ppm=money.read_percent(wanted["contingency"]),
            valid_until=self._day(wanted["valid"]),
            exclusions=wanted["exclusions"],
            notes=wanted["notes"],
        )
        filling.fill(job=JobRow.objects.get(pk=self.job.pk), by=self._by())
        for room, what, klass, quantity, unit, price in wanted["lines"]:
            estimate.add_line(
                job=self.job,
                by=self._by(),
                room=self._room(room) if room else None,
                description=what,
                klass=klass,
                quantity_micro=_micro(quantity, unit),
                unit=unit,
                price_micro=_price(price),
                price_unit=unit,
            )
