"""Forms filled as a person would who knows nothing of them but their fields, so that a new form is filled by itself."""

import re

from tests.pages import Field, Form

BY_NAME = {
    r"name.*|description": "Ash 7",
    r"new_client": "",
    r"module_nm": "6",
    r"reveal_nm": "1/8",
    r"least_nm": "1",
    r"(packers|battens)_nm": "3/4",
    r"diagonal_.*": "15",
    r"amount_(left|right|top|foot|nm)": "0",
    r".*_nm": "12",
    r"other_micro": "",
    r"numbers": "1",
    r"numbers_\d+": "1, 2",
    r"line_\d+|charges": "2",
    r".*_(micro|minor)(_\d+)?|count|minutes|hours_\d+|(good|damaged|refused|short|price)_.*": "2",
    r"wanted_on|promised_on": "2027-06-30",
    r"valid_until": "2099-12-31",
    r".*_ppm": "5",
    r"pieces": "1",
    r"color.*": "#b08040",
    r"username": "someone",
    r"password|new": "ash and walnut boards",
    r"place": "1",
}
BY_KIND = {"date": "2026-11-25", "number": "1", "email": "office@example.com", "color": "#b08040"}
BESIDE = {"csrfmiddlewaretoken"}


def fitting(field: Field) -> list[str]:
    """What stands in the field, or else what its name or kind suggests."""
    if any(field.values) or field.kind == "hidden":
        return field.values
    if field.kind in ("select", "radio", "checkbox"):
        return [choice for choice in field.choices if choice][:1]
    for pattern, text in BY_NAME.items():
        if re.fullmatch(pattern, field.name):
            return [text]
    return [BY_KIND.get(field.kind, "Ash 7")]


def filled(form: Form, **known: str) -> dict[str, list[str]]:
    """All the form would send, each field with something in it; `known` are values only the test can know."""
    data = {name: fitting(field) for name, field in form.fields.items() if name not in BESIDE}
    data |= {name: [value] for name, value in form.buttons[:1]}
    return data | {name: [value] for name, value in known.items() if name in data}


def kind_of(name: str) -> str:
    """Fields that differ in a number alone are of one kind: hours_12 and hours_13."""
    return re.sub(r"\d+", "#", name)


def one_of_each(form: Form) -> list[Field]:
    """One field of each kind, and the buttons that have a name."""
    fields = [field for field in form.fields.values() if field.name not in BESIDE]
    fields += [Field(name, "button", [value]) for name, value in form.buttons]
    return list({kind_of(field.name): field for field in reversed(fields)}.values())


def shape_of(form: Form) -> tuple[str, frozenset[str]]:
    """What makes two forms the same but for the thing they are about."""
    return kind_of(form.action), frozenset(kind_of(field.name) for field in one_of_each(form))
