"""The elevations of a room as PDF."""

from jobs import drawing_list
from jobs.documents.elevations import Elevation, Elevations, elevations
from jobs.models import Room
from jobs.surfaces import drawn
from workshop import clock
from workshop.letterhead import letterhead
from workshop.models import Shop


def elevations_pdf(room: Room) -> bytes:
    """Every wall and ceiling of a room that can be drawn, with its panels; a constant number of queries."""
    shop, job = Shop.get(), room.job
    surfaces = [
        Elevation(
            shown.title,
            shown.drawing,
            [(drawn.STATE_LABEL, shown.state), (drawn.NET_LABEL, shown.net)],
            [(row.name, row.size, row.more) for row in shown.panels],
        )
        for shown in drawn.of_room(room)
        if shown.drawing is not None
    ]
    revision = drawing_list.latest(job)
    return elevations(
        Elevations(
            letterhead(shop),
            str(job),
            room.name,
            "en-us",
            shop.paper,
            job.unit_system,
            clock.today(),
            surfaces,
            drawing_list.words_of(revision) if revision else "",
        )
    )
