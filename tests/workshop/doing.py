"""A verb of the tests' own, and two things done under it."""

from jobs.models import Client
from tests.makers import hand
from workshop import actions
from workshop.actions import Hand, recorded
from workshop.models import Action, Person

actions.say("test.do", "Done to %(name)s")


def add_client(person: Person | None, name: str = "Elm Street Music School", key: str = "") -> Action:
    by = Hand(person, key) if key else Hand(person)
    with recorded(by, "test.do", name=name) as record:
        record.add(Client(name=name))
        record.answer = "/clients/"
    return record.action


def save_client(client: Client, person: Person, **fields: object) -> Action:
    with recorded(hand(person), "test.do", client, name=client.name) as record:
        record.save(client, **fields)
    return record.action
