"""Materials that do not meet the fire class of the rooms that take them, in words, before they are ordered."""

from collections import defaultdict
from collections.abc import Iterable, Sequence

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from jobs.calculations.fire import check
from jobs.models import LineShare, Need, Room
from jobs.naming import named
from materials import line_notes
from materials.line_notes import LineNote
from materials.models import Material, OrderLine
from materials.models.catalog import FIRE_CLASSES

BUILT_IN = {Material.Kind.SHEET, Material.Kind.LUMBER, Material.Kind.TRIM}
"""What a room's walls and ceiling are made of: of these a class must be stated. Of the rest one stated is compared."""

WHO_DECIDES = gettext_lazy(
    "A class holds for the product as it was tested, with its core and finish. The building official decides."
)


def caution(required: str, material: Material) -> str:
    """What a material lacks for a fire class required; empty where it meets it, or need not."""
    if not material.fire_class and material.kind not in BUILT_IN:
        return ""
    found = check(required, material.fire_class)
    if found.is_met:
        return ""
    names = dict(FIRE_CLASSES)
    words = {"required": names[required], "stated": names.get(material.fire_class, "")}
    if found.outcome == "not stated":
        return _("%(required)s is required; no class is stated for it") % words
    if found.outcome == "other standard":
        return _("%(required)s is required; it states %(stated)s, and the two cannot be compared") % words
    return _("%(required)s is required; it is %(stated)s") % words


def cautions(material: Material, rooms: Iterable[Room]) -> list[str]:
    """What a material lacks for rooms, a sentence for each class they require; the rooms' jobs are at hand."""
    by_class: dict[str, list[Room]] = defaultdict(list)
    for room in rooms:
        if caution(room.fire_class, material):
            by_class[room.fire_class].append(room)
    return [
        _("Fire class, %(rooms)s: %(caution)s") % {"rooms": _named(found), "caution": caution(required, material)}
        for required, found in by_class.items()
    ]


def of_lines(lines: Sequence[OrderLine]) -> dict[int, list[LineNote]]:
    """The cautions of order lines, for the rooms of open jobs that take their materials; two queries.

    A line that is for jobs is held against the rooms of these jobs alone.
    """
    jobs_of: dict[int, set[int]] = defaultdict(set)
    for line, job in LineShare.objects.filter(line__in=lines).values_list("line", "job"):
        jobs_of[line].add(job)
    rooms_of: dict[int, list[Room]] = defaultdict(list)
    needs = Need.objects.filter(material__in={line.material_id for line in lines}, room__job__closed_on=None)
    for need in needs.exclude(room__fire_class="").select_related("room__job").order_by("room__job", "room__place"):
        rooms_of[need.material_id].append(need.room)
    found = {}
    for line in lines:
        jobs = jobs_of.get(line.pk)
        rooms = [room for room in rooms_of[line.material_id] if jobs is None or room.job_id in jobs]
        found[line.pk] = [LineNote(words, is_caution=True) for words in cautions(line.material, rooms)]
    return found


def _named(rooms: Sequence[Room]) -> str:
    """Rooms by name, with the number of their job where they are of several; the rest is counted."""
    several = len({room.job_id for room in rooms}) > 1
    names = [f"{room.job.number} {room.name}" if several else room.name for room in rooms]
    return named(names)


line_notes.SAID_BY.append(of_lines)
