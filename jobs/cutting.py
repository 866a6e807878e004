"""The panels of a job cut from sheets: how many sheets it takes, how each is cut, and the fence settings in order.

Worked out anew whenever it is looked at, by the fast method; nothing of it is kept.
"""

from collections import defaultdict
from dataclasses import dataclass, field, replace
from fractions import Fraction

from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from jobs.calculations.cutting import (
    Answer,
    CuttingProblem,
    CuttingProblemError,
    Part,
    Saw,
    StockSheet,
    fence_settings,
    first_answer,
    fits,
    sequence,
)
from jobs.drawings.cutting_plan import sheet_drawing
from jobs.models import Job
from jobs.surfaces import quantities
from jobs.surfaces.told import size_text
from materials.models import Material
from workshop.drawings import on_screen, svg

WIDE, NARROW, MOST_DRAWN = 620, 350, 40
SIZES = {"kerf", "size", "trim"}


@dataclass
class SheetCut:
    """A sheet as it is cut, drawn."""

    wide: SafeString
    narrow: SafeString


@dataclass
class MaterialPlan:
    """What one material's panels come to."""

    material: Material
    panels: int = 0
    sheets: int = 0
    at_least: int = 0
    is_proven: bool = False
    waste_percent: str = ""
    cuts: list[SheetCut] = field(default_factory=list)
    settings: list[str] = field(default_factory=list)
    refusal: str = ""
    too_large: list[str] = field(default_factory=list)
    waits: list[str] = field(default_factory=list)


def plans(job: Job, *, kerf_nm: int, cleanup_nm: int) -> list[MaterialPlan]:
    """A cutting plan for each panel material of a job, over all its rooms."""
    parts: dict[Material, dict[tuple, list[str]]] = defaultdict(lambda: defaultdict(list))
    waits: dict[Material, list[str]] = defaultdict(list)
    for found in quantities.of_job(job):
        for row in found.surfaces:
            layout = found.read.layouts.get(row.name)
            if layout is None or row.material is None:
                continue
            if not row.may_be_cut:
                waits[row.material].append(f"{found.room.name} {row.name}")
            for panel in layout.panels:
                width, length = panel.cut_size_nm
                key = (width, length, panel.may_turn, found.room.name)
                parts[row.material][key].append(panel.name)
    saw = Saw(kerf_nm, cleanup_nm)
    return [_plan(material, sizes, saw, job, waits[material]) for material, sizes in parts.items()]


def _plan(material: Material, sizes: dict[tuple, list[str]], saw: Saw, job: Job, waits: list[str]) -> MaterialPlan:
    plan = MaterialPlan(material, sum(map(len, sizes.values())), waits=waits)
    if not material.width_nm or not material.length_nm:
        plan.refusal = _("Its size is not known. Type width and length of the sheet at the material.")
        return plan
    stock = StockSheet(material.length_nm, material.width_nm, name=material.name)
    wanted = []
    for (width, length, turns, room), names in sizes.items():
        part = Part(length, width, may_turn=turns, room=room)
        parts = [replace(part, name=f"{room} {name}") for name in names]
        if fits(part, stock, saw):
            wanted += parts
        else:
            plan.too_large += [f"{each.name}, {size_text(width, job)} × {size_text(length, job)}" for each in parts]
    plan.panels = len(wanted)
    if not wanted:
        return plan
    try:
        problem = CuttingProblem((stock,), tuple(wanted), saw)
        answer = first_answer(problem)
    except CuttingProblemError as error:
        plan.refusal = _told(error, job)
        return plan
    _tell(plan, problem, answer, job)
    return plan


def _tell(plan: MaterialPlan, problem: CuttingProblem, answer: Answer, job: Job) -> None:
    sheets = answer.plan.sheets
    plan.sheets, plan.at_least, plan.is_proven = len(sheets), answer.lower_bound, answer.is_proven
    stock = problem.stock[0]
    used = sum(part.length * part.width * part.quantity for part in problem.parts)
    waste = 1 - Fraction(used, max(len(sheets), 1) * stock.length * stock.width)
    plan.waste_percent = f"{round(waste * 100)}"

    def show(nm: int) -> str:
        return size_text(nm, job)

    for number, sheet in enumerate(sheets[:MOST_DRAWN], 1):
        name = _("Sheet %(number)s of %(all)s") % {"number": number, "all": len(sheets)}
        drawing = sheet_drawing(sheet, stock, problem.parts, show=show, name=name)
        plan.cuts.append(SheetCut(svg(on_screen(drawing, WIDE)), svg(on_screen(drawing, NARROW))))
    settings = fence_settings(sequence(problem, answer.plan))
    plan.settings = [f"{_(kind)}: {show(setting)}" for kind, setting in settings]


def _told(error: CuttingProblemError, job: Job) -> str:
    """What cannot be cut, its sizes as the job writes them."""
    facts = {name: size_text(value, job) if name in SIZES else value for name, value in vars(error).items()}
    words = {
        "KerfTooLarge": _("The kerf of %(kerf)s is larger than %(part)s. A thinner blade would do, or a larger part."),
        "NothingLeftOfSheet": _(
            "Edge clean-up of %(trim)s leaves nothing of the sheet. Less of it, or a larger sheet."
        ),
    }
    text = words.get(type(error).__name__)
    return text % facts if text else str(error)
