"""Rates by operation and the estimates of the jobs, filled from needs and planned hours, ready to print."""

from collections.abc import Iterator

from estimates import estimate, filling, operation_rates
from jobs.models import Job
from workshop.calculations import money
from workshop.front.demo.catalog import FIRST_DAY
from workshop.front.demo.setting import Setting, Step, job_of, micro, now, price, room_of


def steps(setting: Setting) -> Iterator[Step]:
    yield Step(FIRST_DAY, lambda: _rates(setting))
    for row in setting.scenario["estimates"]:
        yield Step(row["made"], lambda row=row: _estimate(setting, row))


def _rates(setting: Setting) -> None:
    prices = {(lane, name): price(text) for lane, name, text in setting.scenario["operation_rates"]}
    operation_rates.change(by=setting.by(), from_on=now(), prices=prices, was=dict.fromkeys(prices))


def _estimate(setting: Setting, row: dict) -> None:
    job = job_of(row["job"])
    estimate.change_terms(
        job=job,
        by=setting.by(),
        version=0,
        waste_ppm=money.read_percent(row["waste"]),
        contingency_ppm=money.read_percent(row["contingency"]),
        valid_until=setting.on(row["valid"]),
        exclusions=row["exclusions"],
        notes=row["notes"],
    )
    filling.fill(job=job, by=setting.by())
    for line in row["lines"]:
        _line(setting, job, *line)


def _line(setting: Setting, job: Job, room: str, what: str, klass: str, quantity: str, unit: str, rate: str) -> None:
    estimate.add_line(
        job=job,
        by=setting.by(),
        room=room_of(room) if room else None,
        description=what,
        klass=klass,
        quantity_micro=micro(quantity, unit),
        unit=unit,
        price_micro=price(rate),
        price_unit=unit,
    )
