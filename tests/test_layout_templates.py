"""The shape of the templates: fragments with one root, nothing the policy refuses, forms that carry their key."""

import ast
import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

from tests import layout
from tests.layout import ROOT, path_of, template_name

MOST_LINES_OF_A_FRAGMENT = 60
TEMPLATES = [pytest.param(file, id=template_name(file)) for file in layout.templates()]
FRAGMENTS = [case for case in TEMPLATES if case.values[0].name.startswith("_")]


class Roots(HTMLParser):
    """The elements of a template that stand in no other, with their ids."""

    EMPTY = {"input", "br", "img", "hr", "meta", "link", "use", "path", "rect", "source"}

    def __init__(self, text: str) -> None:
        super().__init__()
        self.depth, self.ids, self.beside = 0, [], ""
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if not self.depth:
            self.ids.append(dict(attrs).get("id"))
        if tag not in self.EMPTY:
            self.depth += 1

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if not self.depth:
            self.ids.append(dict(attrs).get("id"))

    def handle_endtag(self, tag: str) -> None:
        self.depth -= tag not in self.EMPTY

    def handle_data(self, data: str) -> None:
        if not self.depth:
            self.beside += data.strip()


def markup(file: Path) -> str:
    kept_aside = re.sub(r"\{% blocktranslate asvar.*?endblocktranslate %\}", "", layout.source(file), flags=re.DOTALL)
    return re.sub(r"\{%.*?%\}|\{\{.*?\}\}", "", kept_aside, flags=re.DOTALL)


@pytest.mark.parametrize("file", FRAGMENTS)
def test_a_fragment_has_one_root_that_carries_its_name(file: Path) -> None:
    roots = Roots(markup(file))

    stem = file.stem.removeprefix("_")
    assert (len(roots.ids), roots.beside, roots.depth) == (1, "", 0)
    assert roots.ids[0] in (stem, stem.replace("_", "-"), None) or roots.ids[0].startswith(
        (f"{stem.replace('_', '-')}-", "late-line-")
    )


@pytest.mark.parametrize("file", FRAGMENTS)
def test_a_fragment_is_short(file: Path) -> None:
    assert len(file.read_text(encoding="utf-8").splitlines()) <= MOST_LINES_OF_A_FRAGMENT


def swapped() -> set[str]:
    """Fragments that views answer with alone."""
    written = "".join(file.read_text(encoding="utf-8") for file in layout.modules(*layout.PACKAGES))
    return set(re.findall(r'"(\w+/_\w+\.html)"', written))


@pytest.mark.parametrize("name", sorted(swapped()))
def test_a_fragment_that_is_swapped_carries_its_name_as_id_and_is_part_of_a_page(name: str) -> None:
    file = ROOT / "templates" / name
    stem = file.stem.removeprefix("_")

    assert Roots(markup(file)).ids == [stem]
    assert any(f'{{% include "{name}"' in layout.source(page) for page in layout.templates())


@pytest.mark.parametrize("name", sorted(swapped()))
def test_a_fragment_that_is_swapped_is_asked_for_by_a_test(name: str) -> None:
    stem = Path(name).stem.removeprefix("_")
    tests = [file.read_text(encoding="utf-8") for file in layout.modules("tests")]

    asking = [
        text for text in tests if re.search(r"htmx=True|hx[-_]request", text, re.IGNORECASE) and f'id="{stem}"' in text
    ]

    assert asking


FORBIDDEN = {
    "a script written into the page": r"<script(?![^>]*\ssrc=)",
    "a style written into the page": r"<style\b",
    "a style attribute": r"\sstyle\s*=",
    "an attribute that runs a script": r"<[^>]*\son[a-z]+\s*=",
    "hx-on": r"\shx-on[:\s=]",
    "a value worked out by script": r"hx-vals\s*=\s*['\"]\s*(?:js|javascript):|\shx-vars\b",
    "a trigger with a filter": r"hx-trigger\s*=\s*\"[^\"]*\[",
    "an address that runs a script": r"(?:href|action|src)\s*=\s*[\"']?\s*javascript:",
    "another origin": r"(?:href|src|action)\s*=\s*[\"']\s*(?:https?:)?//",
    "text taken for markup": r"\|\s*safe\b|\{%\s*autoescape\s+off",
}


@pytest.mark.parametrize("file", TEMPLATES)
@pytest.mark.parametrize("pattern", FORBIDDEN.values(), ids=FORBIDDEN)
def test_no_template_holds_what_the_policy_refuses(file: Path, pattern: str) -> None:
    assert re.findall(pattern, layout.source(file)) == []


def test_no_markup_in_code_holds_what_the_policy_refuses() -> None:
    patterns = [FORBIDDEN[name] for name in ("a style attribute", "an attribute that runs a script")]
    found = [
        f"{path_of(file)}:{node.lineno}"
        for file in layout.modules(*layout.PACKAGES)
        for node in ast.walk(layout.tree(file))
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and "<" in node.value
        if any(re.search(pattern, node.value) for pattern in patterns)
    ]

    assert found == []


KEY = (
    r'\{% key %\}|name="key"|\{\{ [\w.]+\.key \}\}|\{\{ (form|new|remove|taking) \}\}'
    r"|\.hidden_fields %\}\{\{ field \}\}"
)
"""A key written by hand or by tag, as a field of a form, or with the whole form or all its hidden fields."""


@pytest.mark.parametrize("file", TEMPLATES)
def test_every_form_that_changes_something_carries_token_and_key(file: Path) -> None:
    forms = re.findall(r"<form\b[^>]*method=\"post\".*?</form>", layout.source(file), re.DOTALL)

    assert [form for form in forms if "{% csrf_token %}" not in form] == []
    assert [form for form in forms if not re.search(KEY, form)] == []


@pytest.mark.parametrize("file", TEMPLATES)
def test_every_form_and_link_works_without_script(file: Path) -> None:
    tags = re.findall(r"<(\w+)((?:[^<>]|\{%.*?%\}|\{\{.*?\}\})*)>", layout.source(file))

    posts = [(tag, rest) for tag, rest in tags if "hx-post" in rest]
    gets = [(tag, rest) for tag, rest in tags if tag == "a" and "hx-get" in rest]
    assert [tag for tag, rest in posts if tag != "form" or "action=" not in rest] == []
    assert [tag for tag, rest in gets if "href=" not in rest] == []


def test_every_template_is_used() -> None:
    written = [file.read_text(encoding="utf-8") for file in layout.modules(*layout.PACKAGES)]
    text = "".join([*written, *map(layout.source, layout.templates())])
    djangos_own = {"403.html", "403_csrf.html", "404.html", "500.html"}

    names = {template_name(file) for file in layout.templates()}

    assert {name for name in names - djangos_own if f'"{name}"' not in text and f"'{name}'" not in text} == set()


@pytest.mark.parametrize("file", TEMPLATES)
def test_every_sentence_on_a_page_is_marked_for_translation(file: Path) -> None:
    told = r"\{% blocktranslate\b.*?\{% endblocktranslate %\}|\{% block body_class %\}.*?\{% endblock.*?%\}"
    text = re.sub(told, "", layout.source(file), flags=re.DOTALL)
    text = re.sub(r"\{%.*?%\}|\{\{.*?\}\}|<[^>]*>", "\n", text, flags=re.DOTALL)

    words = [line.strip() for line in text.splitlines() if re.search(r"[A-Za-z]{3,}", line)]

    assert [line for line in words if line not in ("Flitchbook", "- Flitchbook")] == []


ONWARD = {
    *("Back to the room", "Back to the job", "No more", "No more rooms", "Add rooms later", "Another kind"),
    *("Rates of operations", "Look again"),
}
"""Quiet links beside a button that lead on, and are no way out of a form."""


def test_the_way_out_of_a_form_has_one_name_everywhere() -> None:
    rows = [
        row
        for file in layout.templates()
        for row in re.findall(r'<div class="btn-row">.*?</div>', layout.source(file), re.S)
    ]
    links = [
        link for row in rows if "<button" in row for link in re.findall(r'<a class="btn is-quiet".*?</a>', row, re.S)
    ]
    names = {name for link in links for name in re.findall(r'translate "([^"]+)"', link)}

    assert names - ONWARD == {"Cancel"}
