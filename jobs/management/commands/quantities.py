"""`manage.py quantities JOB --json`: what a drawing comes to, lengths as exact text, to be checked from outside."""

import json
from argparse import ArgumentParser
from fractions import Fraction

from django.core.management.base import BaseCommand, CommandError

from jobs.calculations.panels import Layout, Panel
from jobs.calculations.surfaces import regions
from jobs.calculations.takeoff import Unit
from jobs.models import Job
from jobs.surfaces import quantities, reading
from jobs.surfaces.told import in_words

NM_OF = {"us": 25_400_000, "metric": 1_000_000}
UNIT = {"us": "in", "metric": "mm"}


class Command(BaseCommand):
    help = "Print what the drawing of a job comes to: surfaces, panels with the size they are cut to, take-off."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("job", type=int, help="the job's number")
        parser.add_argument("--json", action="store_true", help="as JSON, lengths as exact fractions")

    def handle(self, *args: object, job: int, **options: object) -> None:
        row = Job.objects.filter(number=job).first()
        if row is None:
            numbers = ", ".join(str(each) for each in Job.objects.values_list("number", flat=True)[:5]) or "none"
            raise CommandError(f"There is no job {job}. There are: {numbers}.")
        rooms = [_room(each) for each in quantities.of_job(row)]
        told = {"job": str(row), "unit": UNIT[row.unit_system], "rooms": rooms}
        self.stdout.write(json.dumps(told, indent=2, ensure_ascii=False))


def _room(found: quantities.Quantities) -> dict[str, object]:
    system = found.room.job.unit_system
    return {
        "room": found.room.name,
        "surfaces": [_surface(row, found, system) for row in found.surfaces],
        "take_off": [
            {
                "kind": figure.kind.value,
                "surface": figure.surface,
                "place": figure.place,
                "of": figure.of,
                "amount": _amount(figure.amount, figure.kind.unit, system),
            }
            for figure in found.figures
        ],
        "sums": [
            {"kind": each.kind.value, "of": each.of, "amount": _amount(each.amount, each.kind.unit, system)}
            for each in quantities.sums(found.figures)
        ],
    }


def _surface(row: object, found: quantities.Quantities, system: str) -> dict[str, object]:
    width, left, right = reading.sizes(row)
    layout = found.read.layouts.get(row.name)
    error = found.read.refused.get(row.name)
    return {
        "name": row.name,
        "kind": row.kind,
        "shape": row.shape,
        "width": exact(width, system),
        "height_left": exact(left, system),
        "height_right": exact(right, system),
        "measured": row.measured is not None,
        "refused": str(error) if error else None,
        "panels": [_panel(panel, system) for panel in layout.panels] if layout else [],
        "told": [in_words(each.told, found.room.job) for each in layout.findings] if layout else [],
        "sheet": _sheet(layout, system),
    }


def _sheet(layout: Layout | None, system: str) -> list[str] | None:
    stock = layout.wish.stock if layout else None
    return [exact(stock.width_nm, system), exact(stock.length_nm, system)] if stock else None


def _panel(panel: Panel, system: str) -> dict[str, object]:
    left, foot, _, _ = regions.bounds(panel.shape)
    width, length = panel.cut_size_nm
    return {
        "name": panel.name,
        "left": exact(left, system),
        "foot": exact(foot, system),
        "cut_across_grain": exact(width, system),
        "cut_along_grain": exact(length, system),
        "corners": [[exact(x, system), exact(y, system)] for outline in panel.shape for x, y in outline],
        "raked_cuts": [str(cut.slope) for cut in panel.raked_cuts],
        "notched": panel.is_notched,
        "cut_outs": [
            {
                "what": placed.cut_out.name,
                "from_left": exact(placed.from_left_nm, system),
                "from_foot": exact(placed.from_foot_nm, system),
            }
            for placed in panel.cut_outs
        ],
        "up": panel.up.value,
        "removable": panel.is_removable,
    }


def exact(nm: Fraction | int, system: str) -> str:
    """A length as an exact fraction of the job's unit: 381/16 for 23 13/16 in."""
    return str(Fraction(nm) / NM_OF[system])


def _amount(amount: Fraction | int, unit: Unit, system: str) -> str:
    if unit is Unit.COUNT:
        return str(amount)
    return str(Fraction(amount) / (NM_OF[system] ** 2 if unit is Unit.AREA else NM_OF[system]))
