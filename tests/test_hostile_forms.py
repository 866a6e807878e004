"""Every form of every page, filled with hostile values one field at a time: refused in words or kept, no error."""

from copy import deepcopy

import pytest
from django.db import transaction
from django.test import Client as Browser

from tests import hostile
from tests.doors import DOORS, Door, url_of
from tests.makers import post
from tests.pages import Field, Form, Page
from tests.world import World
from workshop.actions import new_key
from workshop.models import Action

pytestmark = pytest.mark.django_db
KEYS_THAT_ARE_NOT_THERE = {"no key": "999999", "a key too long": str(10**30), "a word": "x", "a NUL": "\0"}
TYPED = {"nothing": "", **{name: text for name, text in hostile.NO_NUMBER.items() if name != "halves of a pair"}}
PAGES = [
    pytest.param(door, id=door.name)
    for door in DOORS
    if door.opens and door.who != "anybody" and not door.path.endswith(".pdf")
]


def values_for(field: Field) -> dict[str, str]:
    if field.name in ("csrfmiddlewaretoken", "key"):
        return {}
    is_text = field.is_typed or field.kind in ("hidden", "password")
    return TYPED if is_text else KEYS_THAT_ARE_NOT_THERE


@pytest.mark.parametrize("door", PAGES)
def test_hostile_values_are_refused_in_words_with_nothing_stored_and_what_was_typed_kept(
    owner_client: Browser, world: World, door: Door
) -> None:
    address = url_of(door, world)
    forms = [form for form in Page(owner_client.get(address).content.decode()).changing if "logout" not in form.action]
    wrong = []
    for form in forms:
        for field in form.fields.values():
            for name, text in values_for(field).items():
                with transaction.atomic():
                    found = faults(owner_client, address, form, field, text)
                    transaction.set_rollback(True)
                wrong += [f"{form.action} {field.name}, {name}: {fault}" for fault in found]

    assert wrong == []


def faults(browser: Browser, address: str, form: Form, field: Field, text: str) -> list[str]:
    """What is wrong with the answer to one hostile value in an else untouched form."""
    before = Action.objects.count()
    to = (form.action or address).split("#")[0]
    mine = Browser()
    mine.cookies = deepcopy(browser.cookies)
    answer = post(mine, to, **{**form.sent(), field.name: text, "key": new_key()})
    if answer.status_code != 422:
        return [] if answer.status_code in (303, 409) else [f"answered {answer.status_code}"]
    page = answer.content.decode()
    found = ["stored though refused"] if Action.objects.count() != before else []
    found += ["markup let through"] if hostile.MARKUP in page else []
    again = next((each for each in Page(page).changing if each.action == form.action), None)
    kept = again.fields[field.name].values if again and field.name in again.fields else []
    if field.is_typed and "\n" not in text and text.strip() not in [value.strip() for value in kept]:
        found.append("lost what was typed")
    return found
