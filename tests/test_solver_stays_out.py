"""The optimizer is loaded by the functions that solve, by nothing else: no page waits for it, all answers do without.

OR-Tools takes a second and 100 MB to load; a phone at the saw must not pay for that.
"""

import subprocess
import sys

import pytest

LOADS_ALL = """
import sys, os, pkgutil, importlib
import django
django.setup()
from django.urls import get_resolver
list(get_resolver().url_patterns)
for app in ("workshop", "materials", "jobs", "estimates"):
    package = importlib.import_module(app)
    for module in pkgutil.walk_packages(package.__path__, f"{app}."):
        if not any(part in module.name for part in (".migrations.", ".wsgi", ".settings")):
            importlib.import_module(module.name)
print(sorted({name.split(".")[0] for name in sys.modules} & {"ortools", "pandas"}))
"""
FIRST_ANSWER = """
import sys
sys.modules["ortools"] = sys.modules["numpy"] = None
from jobs.calculations.cutting import CuttingProblem, Part, Saw, StockSheet, first_answer
parts = tuple(Part(2438, 605, name=f"B{number}") for number in range(8))
answer = first_answer(CuttingProblem((StockSheet(2464, 1245),), parts, Saw(3, 6)))
print(len(answer.plan.sheets), answer.is_searched)
"""


def printed(code: str) -> str:
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, timeout=120, check=False, encoding="utf-8"
    )
    assert done.returncode == 0, done.stderr[-2000:]
    return done.stdout.strip()


def test_no_module_of_the_app_loads_the_optimizer(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DJANGO_SETTINGS_MODULE", "workshop.settings")

    assert printed(LOADS_ALL) == "[]"


def test_a_first_cutting_plan_comes_without_the_optimizer() -> None:
    assert printed(FIRST_ANSWER) == "4 False"
