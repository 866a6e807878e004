"""The files of the project, as the tests of its shape read them."""

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PACKAGES = ("workshop", "materials", "jobs", "estimates")
LAYERS = {"workshop": 0, "materials": 1, "jobs": 2, "estimates": 3, "workshop.front": 4}


def path_of(file: Path) -> str:
    return file.relative_to(ROOT).as_posix()


def modules(*packages: str) -> list[Path]:
    """Our own modules, without those that are generated."""
    found = (file for package in packages for file in (ROOT / package).rglob("*.py"))
    return sorted(file for file in found if "migrations" not in file.parts)


@cache
def tree(file: Path) -> ast.Module:
    return ast.parse(file.read_text(encoding="utf-8"))


def calculations() -> list[Path]:
    return [file for file in modules(*PACKAGES) if "calculations" in file.parts]


def dotted(file: Path) -> str:
    return path_of(file).removesuffix(".py").removesuffix("/__init__").replace("/", ".")


def layer(module: str) -> int | None:
    """Which layer a dotted name belongs to; none where it is not ours."""
    names = (name for name in sorted(LAYERS, key=len, reverse=True) if f"{module}.".startswith(f"{name}."))
    return next((LAYERS[name] for name in names), None)


def imported(file: Path) -> Iterator[str]:
    """Every name a module imports, anywhere in it."""
    for node in ast.walk(tree(file)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def public_functions(file: Path) -> Iterator[ast.FunctionDef]:
    for node in tree(file).body:
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
            yield node


def arguments(function: ast.FunctionDef) -> list[str]:
    spec = function.args
    named = [*spec.posonlyargs, *spec.args, *spec.kwonlyargs, spec.vararg, spec.kwarg]
    return [argument.arg for argument in named if argument]


def section(docstring: str, name: str) -> str:
    """The lines under a heading of a docstring, until the next heading."""
    found = re.search(rf"^{name}:\n((?:    .*\n?|\n)+)", docstring, re.MULTILINE)
    return found[1] if found else ""


def units(docstring: str) -> dict[str, str | None]:
    """Each argument a docstring describes with the unit its description ends in."""
    described: dict[str, str] = {}
    for line in section(docstring, "Args").splitlines():
        if begins := re.match(r"    \*{0,2}(\w+): (.*)", line):
            name, described[begins[1]] = begins[1], begins[2]
        elif line.strip():
            described[name] += " " + line.strip()
    ends = {name: re.search(r"\[([^\[\]]+)\]$", text.strip()) for name, text in described.items()}
    return {name: end[1] if end else None for name, end in ends.items()}


def templates() -> list[Path]:
    return sorted((ROOT / "templates").rglob("*.html"))


def template_name(file: Path) -> str:
    return file.relative_to(ROOT / "templates").as_posix()


@cache
def source(file: Path) -> str:
    """A template without its comments."""
    return re.sub(r"\{#.*?#\}|\{% comment.*?endcomment %\}", "", file.read_text(encoding="utf-8"), flags=re.DOTALL)
