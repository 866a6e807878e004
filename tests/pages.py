"""What a page offers to do, read from its HTML: the links and the forms, as a browser would send them."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser

SILENT = ("submit", "button", "reset", "image", "file")


@dataclass
class Field:
    """A field as it stands on the page; `values` are what it would send, `choices` what can be chosen."""

    name: str
    kind: str
    values: list[str] = field(default_factory=list)
    choices: list[str] = field(default_factory=list)

    @property
    def is_typed(self) -> bool:
        return self.kind not in ("hidden", "select", "radio", "checkbox", "password")


@dataclass
class Form:
    action: str
    method: str
    fields: dict[str, Field] = field(default_factory=dict)
    buttons: list[tuple[str, str]] = field(default_factory=list)
    elsewhere: list[str] = field(default_factory=list)
    """Where buttons send the form to instead of its own address."""

    def sent(self) -> dict[str, list[str]]:
        """What the browser would send, with the first button that has a name."""
        data = {name: list(found.values) for name, found in self.fields.items() if found.values}
        return data | {name: [value] for name, value in self.buttons[:1]}


class Page(HTMLParser):
    """The links and forms of a page."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.links: list[str] = []
        self.forms: list[Form] = []
        self.ids: dict[str, Form] = {}
        self.elsewhere: list[tuple[str, str, dict[str, str]]] = []
        self.form: Form | None = None
        self.text: Field | None = None
        self.select: Field | None = None
        self.option: str | None = None
        self.feed(html)
        self.close()
        for owner, tag, attributes in self.elsewhere:
            if owner in self.ids:
                self._add(self.ids[owner], tag, attributes)

    @property
    def changing(self) -> Iterator[Form]:
        return (form for form in self.forms if form.method == "post")

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        attributes = {name: value or "" for name, value in attrs}
        if tag == "a" and "href" in attributes:
            self.links.append(attributes["href"])
        elif tag == "form":
            self.form = Form(attributes.get("action", ""), attributes.get("method", "get").lower())
            self.forms.append(self.form)
            self.ids[attributes.get("id", "")] = self.form
        elif tag == "option" and self.select is not None:
            self.select.choices.append(attributes.get("value", ""))
            if "selected" in attributes:
                self.select.values.append(attributes.get("value", ""))
        elif tag in ("input", "button", "select", "textarea") and "disabled" not in attributes:
            if "form" in attributes:
                self.elsewhere.append((attributes["form"], tag, attributes))
            elif self.form is not None:
                self._add(self.form, tag, attributes)

    def _add(self, form: Form, tag: str, attributes: dict[str, str]) -> None:
        name, value = attributes.get("name", ""), attributes.get("value", "")
        kind = attributes.get("type", "submit" if tag == "button" else "text") if tag in ("input", "button") else tag
        if "formaction" in attributes:
            form.elsewhere.append(attributes["formaction"])
        if not name:
            return
        if kind in SILENT:
            form.buttons.append((name, value))
            return
        found = form.fields.setdefault(name, Field(name, kind))
        if kind in ("checkbox", "radio"):
            found.choices.append(value or "on")
            if "checked" in attributes:
                found.values.append(value or "on")
        elif tag == "select":
            self.select = found
        elif tag == "textarea":
            self.text, found.values = found, [""]
        else:
            found.values.append(value)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self.form = None
        elif tag == "select":
            if self.select is not None and not self.select.values and self.select.choices:
                self.select.values = self.select.choices[:1]
            self.select = None
        elif tag == "textarea":
            if self.text is not None:
                self.text.values = [self.text.values[0].removeprefix("\n")]
            self.text = None

    def handle_data(self, data: str) -> None:
        if self.text is not None:
            self.text.values = [self.text.values[0] + data]
