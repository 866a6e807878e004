"""Who the shop works for."""

from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from jobs.models import Client
from workshop import actions
from workshop.actions import Hand, recorded


def add(*, by: Hand, answer: str = "", **fields: object) -> Client:
    with recorded(by, "client.add", name=fields["name"]) as record:
        client = record.add(Client(**fields))
        record.answer = answer or reverse("jobs:clients")
    return client


def change(*, client: Client, by: Hand, version: int, **fields: object) -> Client:
    with recorded(by, "client.change", client, name=client.name) as record:
        record.answer = reverse("jobs:clients")
        record.save(client, version=version, **fields)
    return client


actions.say("client.add", _("Client %(name)s added"))
actions.say("client.change", _("Client %(name)s changed"))
