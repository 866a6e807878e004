"""Clients and jobs, with their drawings, rooms, needs and planned hours."""

from collections.abc import Iterator
from fractions import Fraction

from jobs import clients, closing, drawing_list, job, needs, plan, rooms
from jobs.models import Client, Drawing, Job, Room, Stage
from workshop.forms import HoursField
from workshop.front.demo.setting import Setting, Step, job_of, material_of, micro, now

FIGURES = {"unit_system": "us", "precision_nm": 1_587_500, "currency": "USD"}


def steps(setting: Setting) -> Iterator[Step]:
    first_day = min(row["made"] for row in setting.scenario["jobs"])
    for row in setting.scenario["clients"]:
        yield Step(first_day, lambda row=row: clients.add(by=setting.by(), **row))
    for row in setting.scenario["jobs"]:
        yield Step(row["made"], lambda row=row: _job(setting, row))
        for drawing in row.get("drawings", []):
            yield from _of_drawing(setting, row["job"]["name"], drawing)
        if "closed" in row:
            yield Step(row["closed"], lambda row=row: _close(setting, row["job"]["name"]))


def _job(setting: Setting, row: dict) -> None:
    client = Client.objects.get(name=row["client"])
    made = job.add(by=setting.by(), client=client, **FIGURES, **row["job"])
    for room in row["rooms"]:
        _room(setting, made, room)


def _room(setting: Setting, of: Job, row: dict) -> None:
    days = {"starts_on": setting.on(row["starts"]), "wanted_on": setting.on(row["wanted"])}
    fire_class = row.get("fire_class", "")
    room = rooms.add(job=of, by=setting.by(), name=row["name"], fire_class=fire_class, **days)
    for name, quantity in row["needs"].items():
        material = material_of(name)
        needs.add(room=room, by=setting.by(), material=material, quantity_micro=micro(quantity, material.unit))
    _plan(setting, room, row)


def _plan(setting: Setting, room: Room, row: dict) -> None:
    stages_of = list(room.room_stages.select_related("stage"))
    was = {s.pk: plan.planned(s) for s in stages_of}
    planned = {s.pk: _planned(setting, s.stage, row) for s in stages_of}
    plan.change(room=room, by=setting.by(), plan=planned, was=was)


def _planned(setting: Setting, stage: Stage, row: dict) -> plan.Planned:
    """The hours for ten panels, to the quarter of an hour, and the pieces that go through a stage."""
    for_ten = HoursField().read(setting.scenario["hours_for_ten"][stage.lane][stage.name])
    minutes = int(Fraction(for_ten * row["scale"], 10 * 15) + Fraction(1, 2)) * 15
    total = {"panels": row["panels"], "trim": row["trim"]}.get(stage.lane, 1)
    return plan.Planned(minutes if total else 0, total)


def _of_drawing(setting: Setting, of: str, row: dict) -> Iterator[Step]:
    """The drawing comes with its first revision, the others after it."""
    first, *later = row["revisions"]
    about = {"number": row["number"], "name": row["name"]}
    yield Step(
        first["received"],
        lambda: drawing_list.add(job=job_of(of), by=setting.by(), **about, **_revision(setting, first)),
    )
    for revision in later:
        yield Step(revision["received"], lambda revision=revision: _revise(setting, of, row["number"], revision))


def _revise(setting: Setting, of: str, number: str, revision: dict) -> None:
    drawing = Drawing.objects.select_related("job").get(job=job_of(of), number=number)
    drawing_list.add_revision(drawing=drawing, by=setting.by(), **_revision(setting, revision))


def _revision(setting: Setting, row: dict) -> dict[str, object]:
    dated_on = setting.on(row["dated"])
    return {"letter": row["letter"], "dated_on": dated_on, "received_on": now(), "note": row.get("note", "")}


def _close(setting: Setting, of: str) -> None:
    closing.close(job=job_of(of), by=setting.by(), closed_on=now())
