"""An order line and the jobs that need its material."""

from datetime import date

from jobs.models import Job
from materials.models import Material
from tests.makers import make_job, make_need, make_room

TODAY = date(2026, 11, 25)
DEC_18, DEC_28 = date(2026, 12, 18), date(2026, 12, 28)


def needing(material: Material, number: int, name: str, quantity: int, starts_on: date = DEC_28) -> Job:
    """A job of one room that needs so much of a material."""
    job = make_job(number=number, name=name)
    room = make_room(job=job, name=f"Room of {number}", starts_on=starts_on)
    make_need(room=room, material=material, quantity_micro=quantity * 1_000_000)
    return job
