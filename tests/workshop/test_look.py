"""The look as a whole: colors that can be read, and pages that need nothing but themselves.

Contrast after WCAG 2.2, success criteria 1.4.3 (text, 4.5) and 1.4.11 (lines and signs with a meaning, 3.0).
"""

import re
from pathlib import Path

import pytest
from django.template import Context, Template

from workshop.templatetags.marks import contrast

ROOT = Path(__file__).parents[2]
STATIC = ROOT / "workshop" / "static" / "workshop"
STYLES = (STATIC / "workshop.css").read_text(encoding="utf-8")
TEMPLATES = sorted((ROOT / "templates").rglob("*.html"))


def palette(after: str) -> dict[str, str]:
    part = STYLES[STYLES.index(after) :]
    return dict(re.findall(r"--([a-z0-9-]+): (#[0-9a-f]{6})", part[: part.index("}")]))


LIGHT = palette("color-scheme: light dark")
DARK = palette("@media (prefers-color-scheme: dark)")


@pytest.mark.parametrize("scheme", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("ground", ["paper", "wash"])
@pytest.mark.parametrize(("color", "least"), [("ink", 4.5), ("ink-2", 4.5), ("blue", 4.5), ("red", 4.5), ("edge", 3.0)])
def test_text_and_lines_can_be_read(scheme: dict[str, str], ground: str, color: str, least: float) -> None:
    assert contrast(scheme[color], scheme[ground]) >= least


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_templates_keep_to_the_content_security_policy(path: Path) -> None:
    text = path.read_text(encoding="utf-8")

    assert not re.search(r"""\sstyle=|<style|\son[a-z]+=|hx-on|hx-vals=['"]js:|javascript:""", text)
    assert not re.search(r"<script(?![^>]*\ssrc=)", text)


def test_styles_and_script_ask_no_other_origin() -> None:
    script = (STATIC / "workshop.js").read_text(encoding="utf-8")

    assert not re.search(r"https?://|data:|@import", STYLES + script)


def test_every_symbol_used_by_a_template_is_drawn() -> None:
    symbols = (ROOT / "templates" / "_symbols.html").read_text(encoding="utf-8")
    drawn = set(re.findall(r'\sid="([a-z0-9-]+)"', symbols))

    used = {
        name
        for path in TEMPLATES
        for name in re.findall(r"""(?:href="|url\()#([a-z0-9-]+)["\)]""", path.read_text(encoding="utf-8"))
        if name.startswith(("hatch", "tick", "mark", "need", "ring", "leader", "shop-mark"))
    }

    assert used <= drawn


def test_the_first_load_stays_under_200_kb() -> None:
    fonts = sum(path.stat().st_size for path in (STATIC / "fonts").glob("*.woff2"))
    rest = len(STYLES.encode()) + (STATIC / "workshop.js").stat().st_size + (STATIC / "icon.svg").stat().st_size

    assert fonts + rest < 200_000 - 52_000 - 24_000  # htmx and one page come on top


def test_the_error_page_needs_neither_database_nor_request() -> None:
    page = Template("{% include '500.html' %}").render(Context({"number": "K7XQ2M"}))

    assert "K7XQ2M" in page
    assert "Nothing was saved" in page
