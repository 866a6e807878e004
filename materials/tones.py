"""The shop's ladder of tones for a sheet material: its groups from light to dark."""

from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from materials.models import Material, ToneGroup
from workshop import actions, names
from workshop.actions import Hand, Record, recorded

MOST_GROUPS = 12
OUT_OF_THE_WAY = 1000
DARKER = ("#eadfc9", "#dfcca9", "#d1b487", "#b7946a", "#9c7b54", "#836443", "#6a4f34")
"""Colors to begin from, light to dark."""


def first_ladder(material: Material) -> list[ToneGroup]:
    """Three groups to begin with, unsaved."""
    names = [(_("Light"), "#eadfc9"), (_("Middle"), "#d1b487"), (_("Dark"), "#b7946a")]
    return [
        ToneGroup(material=material, place=place, name=name, color=color)
        for place, (name, color) in enumerate(names, 1)
    ]


def next_color(material: Material) -> str:
    """A color for the next group to begin from: one step darker than the darkest there is."""
    last = material.tone_groups.order_by("place").last()
    here = DARKER.index(last.color) if last and last.color in DARKER else 2
    return DARKER[min(here + 1, len(DARKER) - 1)]


def add(*, material: Material, by: Hand, name: str, color: str) -> ToneGroup:
    """A further group at the dark end of the ladder."""
    with recorded(by, "tone.add", about=[material], material=material.name, name=name) as record:
        ladder = _locked(material)
        if len(ladder) >= MOST_GROUPS:
            message = _("A ladder has at most %(most)s groups. Rename one, or remove one that is not used.")
            raise ValidationError(message, params={"most": MOST_GROUPS})
        _check_name(name, ladder)
        place = ladder[-1].place + 1 if ladder else 1
        group = record.add(ToneGroup(material=material, place=place, name=name, color=color))
        record.answer = reverse("materials:tones", args=[material.pk])
    return group


def change(*, group: ToneGroup, by: Hand, version: int, name: str, color: str, place: int) -> ToneGroup:
    """Rename or recolor a group, or move it to another place; the others close up."""
    material = group.material
    with recorded(by, "tone.change", group, about=[material], material=material.name, name=name) as record:
        record.answer = reverse("materials:tones", args=[material.pk])
        ladder = _locked(material)
        group = next((row for row in ladder if row.pk == group.pk), None)
        if group is None:
            raise ValidationError(_("Somebody removed this group meanwhile. Add it again, or leave it out."))
        if place > len(ladder):
            message = _("The ladder has %(count)s groups. Type 1 for the lightest, %(count)s for the darkest.")
            raise ValidationError({"place": ValidationError(message, params={"count": len(ladder)})})
        others = [other for other in ladder if other.pk != group.pk]
        _check_name(name, others)
        record.save(group, version=version, name=name, color=color)
        if ladder.index(group) + 1 != place:
            _put_in_order(record, [*others[: place - 1], group, *others[place - 1 :]])
    return group


def remove(*, group: ToneGroup, by: Hand) -> None:
    material = group.material
    with recorded(by, "tone.remove", group, about=[material], material=material.name, name=group.name) as record:
        record.answer = reverse("materials:tones", args=[material.pk])
        ladder = _locked(material)
        if group.sheets.exists():
            message = _("Sheets are sorted to %(group)s. Rename it, or sort them to another group first.")
            raise ValidationError(message, params={"group": group.name})
        others = [other for other in ladder if other.pk != group.pk]
        record.remove(group)
        _put_in_order(record, others)


def _check_name(name: str, others: list[ToneGroup]) -> None:
    message = _("There is a tone group named %(name)s. Choose another name.")
    names.check_new(name, [group.name for group in others], message)


def _locked(material: Material) -> list[ToneGroup]:
    """The ladder from light to dark, with nobody else at it until the transaction ends."""
    Material.objects.select_for_update().get(pk=material.pk)
    return list(ToneGroup.objects.filter(material=material).order_by("place"))


def _put_in_order(record: Record, ladder: list[ToneGroup]) -> None:
    """Number the groups 1, 2, 3; each place is empty at the moment a group takes it."""
    moved = [(place, group) for place, group in enumerate(ladder, 1) if group.place != place]
    for place, group in moved:
        record.save(group, place=OUT_OF_THE_WAY + place)
    for place, group in moved:
        record.save(group, place=place)


actions.say("tone.add", gettext_lazy("%(material)s: tone group %(name)s added"))
actions.say("tone.change", gettext_lazy("%(material)s: tone group %(name)s changed"))
actions.say("tone.remove", gettext_lazy("%(material)s: tone group %(name)s removed"))
