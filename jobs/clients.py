"""Who the shop works for."""

from django.db.models import Q, QuerySet
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from jobs.models import Client
from workshop import actions, names
from workshop.actions import Hand, recorded


def found(words: str) -> QuerySet[Client]:
    """Clients by name; those whose name, contact or phone has the words."""
    if not words:
        return Client.objects.all()
    return Client.objects.filter(Q(name__icontains=words) | Q(contact__icontains=words) | Q(phone__icontains=words))


def add(*, by: Hand, answer: str = "", **fields: object) -> Client:
    with recorded(by, "client.add", name=fields["name"]) as record:
        _check_name(fields["name"], Client.objects.all())
        client = record.add(Client(**fields))
        record.answer = answer or reverse("jobs:clients")
    return client


def change(*, client: Client, by: Hand, version: int, **fields: object) -> Client:
    with recorded(by, "client.change", client, name=client.name) as record:
        record.answer = reverse("jobs:clients")
        _check_name(fields["name"], Client.objects.exclude(pk=client.pk))
        record.save(client, version=version, **fields)
    return client


def _check_name(name: str, others: QuerySet[Client]) -> None:
    message = _("There is a client named %(name)s. Add what tells them apart.")
    names.check_new(name, others.values_list("name", flat=True), message)


actions.say("client.add", gettext_lazy("Client %(name)s added"))
actions.say("client.change", gettext_lazy("Client %(name)s changed"))
