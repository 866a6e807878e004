"""What tests of giving do over and over."""

from jobs import giving
from jobs.models import Given, Room
from materials.models import Sheet, ToneGroup
from tests.makers import hand, make_room
from workshop import actions
from workshop.models import Action, Person


def give(room: Room, group: ToneGroup, halves: int, person: Person) -> list[Given]:
    return giving.give(room=room, material=group.material, group=group, halves=halves, by=hand(person))


def open_sheet(sheet: Sheet, side: str = "A") -> None:
    """Give one half of a sheet to some other room."""
    Given.objects.create(half=sheet.halves.get(side=side), room=make_room())


def pieces(room: Room) -> list[str]:
    return [str(half) for half in giving.halves_of(room)]


def last_sentence() -> str:
    return actions.sentence_of(Action.objects.order_by("-pk").first())
