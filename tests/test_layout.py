"""The shape of the project, held by tests: who imports whom, what pure code says, what templates may not hold."""

import ast
import doctest
import importlib
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests import layout
from tests.layout import ROOT, path_of
from workshop.calculations.units import registry

MOST_LINES, MOST_LINES_OF_TESTS, MOST_LINES_OF_A_VIEW = 300, 400, 25

WIRING = {("workshop/start.py", "workshop.front.demo")}
"""Imports that point up, by name: the frame's start loads the demo, which is made by the rules of every app."""

MONEY_AND_COUNTS = {"-", "minor", "major", "micro", "ppm", "quantity", "millionths", "minute", "date"}
MEASURES = {"nm", "mm", "cm", "m", "inch", "foot", "day", "hour", "board_foot"}
"""Units an argument can have: those of money and counts, and those that the registry reads."""

CALCULATIONS = [pytest.param(file, id=path_of(file)) for file in layout.calculations()]


# Who imports whom


def test_calculations_are_imported_without_django_and_without_settings() -> None:
    names = [layout.dotted(file) for file in layout.calculations()]
    program = (
        "import sys, importlib\n"
        "class NoDjango:\n"
        "    def find_spec(self, name, path=None, target=None):\n"
        "        if name.split('.')[0] in ('django', 'psycopg', 'reportlab'):\n"
        "            raise ImportError(name)\n"
        "sys.meta_path.insert(0, NoDjango())\n"
        f"for name in {names!r}:\n"
        "    importlib.import_module(name)\n"
    )

    ended = subprocess.run([sys.executable, "-c", program], cwd=ROOT, capture_output=True, text=True, encoding="utf-8")

    assert (ended.returncode, ended.stderr) == (0, "")
    assert len(names) > 30


def test_calculations_open_no_file_and_know_no_clock() -> None:
    known = {"open", "time", "today", "now", "read_text", "write_text", "localdate"}
    found = [
        f"{path_of(file)}:{node.lineno}"
        for file in layout.calculations()
        for node in ast.walk(layout.tree(file))
        if isinstance(node, ast.Call)
        and (getattr(node.func, "id", None) in {"open", "print", "input"} or getattr(node.func, "attr", None) in known)
    ]

    assert found == []


def test_imports_point_down_only() -> None:
    up = {
        (path_of(file), name)
        for file in layout.modules(*layout.PACKAGES)
        for name in layout.imported(file)
        if (layout.layer(name) or 0) > layout.layer(layout.dotted(file))
    }

    assert up == WIRING


def test_documents_and_drawings_take_plain_values_and_ask_nobody() -> None:
    asking = re.compile(r"django\.(db|http|apps|shortcuts|forms)|.*\.(models|views|forms)(\.|$)")
    found = [
        (path_of(file), name)
        for file in layout.modules(*layout.PACKAGES)
        if {"documents", "drawings"} & set(file.relative_to(ROOT).parts[:-1])
        for name in layout.imported(file)
        if asking.match(name)
    ]

    assert found == []


def test_rules_and_calculations_know_no_request() -> None:
    shown = {"views", "forms", "front", "management", "templatetags"}
    frame = {"pages.py", "middleware.py", "doors.py", "failures.py", "server.py", "urls.py", "start.py", "wsgi.py"}
    found = [
        (path_of(file), name)
        for file in layout.modules(*layout.PACKAGES)
        if not shown & set(file.relative_to(ROOT).parts) and file.name not in frame
        for name in layout.imported(file)
        if name.startswith(("django.http", "django.shortcuts"))
    ]

    assert found == []


# What pure code says


@pytest.mark.parametrize("file", CALCULATIONS)
def test_every_argument_of_a_calculation_tells_its_unit(file: Path) -> None:
    untold = []
    for function in layout.public_functions(file):
        told = layout.units(ast.get_docstring(function) or "")
        untold += [
            f"{function.name}({name}) [{told.get(name)}]"
            for name in layout.arguments(function)
            if told.get(name) not in MONEY_AND_COUNTS | MEASURES
        ]

    assert untold == []


@pytest.mark.parametrize("unit", sorted(MEASURES))
def test_the_units_of_measure_are_those_the_registry_reads(unit: str) -> None:
    assert registry.Quantity(1, unit).magnitude == 1


@pytest.mark.parametrize("file", CALCULATIONS)
def test_every_calculation_says_what_it_gives_back_and_shows_an_example(file: Path) -> None:
    silent = []
    for function in layout.public_functions(file):
        told = ast.get_docstring(function) or ""
        gives_back = ast.unparse(function.returns) == "None" or re.search(r"\AReturn |^Returns:", told, re.MULTILINE)
        if not gives_back or not re.search(r"^Example:", told, re.MULTILINE):
            silent.append(function.name)

    assert silent == []


@pytest.mark.parametrize("file", CALCULATIONS)
def test_every_example_that_can_be_run_gives_what_it_shows(file: Path) -> None:
    assert doctest.testmod(importlib.import_module(layout.dotted(file))).failed == 0


@pytest.mark.parametrize("package", [*layout.PACKAGES, "tests"])
def test_every_function_tells_the_types_it_takes_and_gives(package: str) -> None:
    untold = [
        f"{path_of(file)}:{node.lineno} {node.name}"
        for file in layout.modules(package)
        for node in ast.walk(layout.tree(file))
        if isinstance(node, ast.FunctionDef) and node.returns is None and package != "tests"
    ]

    assert untold == []


# Sizes


@pytest.mark.parametrize("package", [*layout.PACKAGES, "tests"])
def test_no_file_is_longer_than_one_subject(package: str) -> None:
    lengths = {path_of(file): len(file.read_text(encoding="utf-8").splitlines()) for file in layout.modules(package)}

    most = MOST_LINES_OF_TESTS if package == "tests" else MOST_LINES
    assert {name: lines for name, lines in lengths.items() if lines > most} == {}


def test_no_view_is_longer_than_it_takes_to_ask_and_to_answer() -> None:
    long = [
        f"{path_of(file)} {node.name}"
        for file in layout.modules(*layout.PACKAGES)
        if "views" in file.parts or file.parent.name == "front"
        for node in layout.tree(file).body
        if isinstance(node, ast.FunctionDef) and node.end_lineno - node.lineno >= MOST_LINES_OF_A_VIEW
    ]

    assert long == []


def test_no_view_saves_or_removes_by_itself() -> None:
    writing = {"save", "create", "delete", "bulk_create", "update_or_create", "get_or_create"}
    found = [
        f"{path_of(file)}:{node.lineno} {node.func.attr}"
        for file in layout.modules(*layout.PACKAGES)
        if "views" in file.parts
        for node in ast.walk(layout.tree(file))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in writing
    ]

    assert found == []
