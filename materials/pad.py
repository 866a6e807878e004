"""What the sorting pad shows of a lot: the sheet in hand, the stacks as they grow, and what just happened."""

from dataclasses import dataclass

from django.db.models import Count, Max, Q
from django.utils.translation import gettext as _

from materials import sorting
from materials.models import Lot, Sheet, ToneGroup
from workshop import actions
from workshop.models import Action, Person


@dataclass(frozen=True)
class Last:
    """What this person did last on the pad, and where the sheet is now."""

    action: Action
    sheet: Sheet
    place: int


@dataclass
class Pad:
    """One lot at one moment, for one person."""

    lot: Lot
    sheet: Sheet | None
    groups: list[ToneGroup]
    total: int
    aside: int
    left: int
    last: Last | None
    before: int | None = None
    problem: str = ""
    is_choosing_reason: bool = False
    is_answer: bool = False

    @property
    def handled(self) -> int:
        return self.total - self.left

    @property
    def sorted(self) -> int:
        return self.handled - self.aside

    @property
    def is_again(self) -> bool:
        """Whether the sheet on the pad was handled before."""
        return bool(self.sheet and (self.sheet.tone_group_id or self.sheet.set_aside_on))

    @property
    def where(self) -> str:
        return where(self.sheet) if self.sheet else ""

    @property
    def said(self) -> str:
        """What is read out after a tap: what it did, and what comes next."""
        done = actions.sentence_of(self.last.action) if self.last else ""
        if self.sheet is None:
            return _("%(done)s. All are sorted.") % {"done": done}
        return _("%(done)s. Next: %(number)s.") % {"done": done, "number": self.sheet.number}


def read(lot: Lot, person: Person, number: int | None = None) -> Pad:
    """The pad with the sheet asked for by its number, else with the one that is next for this person."""
    sheets = lot.sheets.here().select_related("tone_group", "sorted_by")
    sheet = sheets.filter(number=number).first() if number else None
    sheet = sheet or sorting.next_sheet(lot, person)
    tally = lot.sheets.all().tally()
    return Pad(
        lot=lot,
        sheet=sheet,
        groups=ladder(lot),
        total=tally["total"],
        aside=tally["aside"],
        left=tally["unsorted"],
        last=_last(lot, person),
        before=_before(lot, sheet),
    )


def ladder(lot: Lot) -> list[ToneGroup]:
    """The tone groups of the lot's material, each with `sheet_count`, its sheets of this lot."""
    counted = Count("sheets", filter=Q(sheets__lot=lot, sheets__left_on=None))
    return list(ToneGroup.objects.filter(material=lot.material_id).annotate(sheet_count=counted))


def place_of(sheet: Sheet) -> int:
    """1 and the sheets that lie under it in its stack now; 0 for a sheet on no stack."""
    if not sheet.tone_group_id:
        return 0
    stack = Sheet.objects.here().filter(lot=sheet.lot_id, tone_group=sheet.tone_group_id)
    return stack.filter(place__lt=sheet.place).count() + 1


def where(sheet: Sheet) -> str:
    """Where a sheet is, in words."""
    if sheet.set_aside_on:
        return _("Sheet %(sheet)s is set aside: %(why)s") % {
            "sheet": sheet.number,
            "why": sheet.set_aside_why,
        }
    if not sheet.tone_group:
        return _("Sheet %(sheet)s is not sorted") % {"sheet": sheet.number}
    words = {"sheet": sheet.number, "group": sheet.tone_group.name, "place": place_of(sheet)}
    return _("Sheet %(sheet)s is on the %(group)s stack, place %(place)s from the bottom") % words


def met(sheet: Sheet) -> str:
    """Who handled a sheet first, for somebody who tapped it a moment later."""
    who = sheet.sorted_by.initials if sheet.sorted_by else _("somebody")
    return _("%(who)s was first. %(where)s.") % {"who": who, "where": where(sheet)}


def people_at(lot: Lot, person: Person) -> int:
    """How many people sort this lot now, this person among them."""
    return len({*sorting.hands_at(lot), person.pk})


def _before(lot: Lot, sheet: Sheet | None) -> int | None:
    """The number of the sheet before this one; of the lot's last where all are sorted."""
    sheets = lot.sheets.here().filter(number__lt=sheet.number) if sheet else lot.sheets.here()
    return sheets.aggregate(last=Max("number"))["last"]


def _last(lot: Lot, person: Person) -> Last | None:
    done = actions.trace(lot).filter(person=person, verb__in=sorting.ON_THE_PAD, undone_by=None).first()
    if done is None:
        return None
    sheet = Sheet.objects.select_related("tone_group").filter(pk=done.thing.split(":")[1]).first()
    return Last(done, sheet, place_of(sheet)) if sheet else None
