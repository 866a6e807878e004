"""How the rooms of a job stand: what is done, given and spent; a constant number of queries."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date
from fractions import Fraction

from django.db.models import Count, Exists, OuterRef, Sum

from jobs import fire, lead_times
from jobs.calculations.stage_bar import StagePlace, StageWeight, stage_bar, stage_lanes
from jobs.giving import free_halves
from jobs.models import Given, Hours, Job, LotShare, Need, Room, RoomStage, Stage
from jobs.standing.figures import HALF_MICRO, JobStanding, NeedRow, RoomStanding, Tone, as_stage
from materials.models import Material, OrderLine, ToneGroup
from workshop import clock

LANES = {"upper": "top", "lower": "bottom", "middle": "both"}


def of_job(job: Job, today: date | None = None) -> JobStanding:
    """How a job stands, room by room; a constant number of queries."""
    delays = lead_times.delays(job, today or clock.today())
    late, late_lanes = lead_times.late_words(delays), _late_lanes(delays)
    rooms = list(job.rooms.all())
    for room in rooms:
        room.job = job
    places, stages = _places(job)
    standings = _of_rooms(rooms, stages, places, late, late_lanes)
    names = {stage.pk: stage.name for stage in stages.values()}
    ruler = [_slot(place, names, Fraction(0), "not_started") for place in places]
    return JobStanding(job, standings, ruler)


def of_room(room: Room) -> RoomStanding:
    """How one room stands, drawn to the same ruler as the others of its job."""
    places, stages = _places(room.job)
    return _of_rooms([room], stages, places, {}, {})[0]


def needs_of(room: Room) -> list[NeedRow]:
    """What a room takes of each material, with what was given to it."""
    halves = Given.objects.filter(room=room).order_by().values_list("half__sheet__lot__material")
    shares = LotShare.objects.filter(room=room).order_by().values_list("lot__material")
    given = {material: n * HALF_MICRO for material, n in halves.annotate(n=Count("pk"))}
    given |= {material: int(n) for material, n in shares.annotate(n=Sum("quantity_micro"))}
    needs = room.needs.select_related("material")
    return [
        NeedRow(need, given.get(need.material_id, 0), fire.caution(room.fire_class, need.material)) for need in needs
    ]


def _of_rooms(
    rooms: Sequence[Room],
    stages_of_job: dict[int, Stage],
    places: Sequence[StagePlace],
    late: dict[int, str],
    late_lanes: dict[int, set[str]],
) -> list[RoomStanding]:
    stages = _grouped(RoomStage.objects.filter(room__in=rooms).order_by(), stages_of_job)
    spent = dict(Hours.objects.filter(room__in=rooms).order_by().values_list("room").annotate(sum=Sum("minutes")))
    tones, given = _given(rooms)
    needs, needed = _needed(rooms)
    free, coming = _free_and_coming({material for materials in needed.values() for material in materials})
    made = []
    for room in rooms:
        lacks = {material: n - given[room.pk].get(material, 0) for material, n in needed[room.pk].items()}
        lacks = {material: n for material, n in lacks.items() if n > 0}
        standing = RoomStanding(
            room,
            stages[room.pk],
            tones=tones[room.pk],
            needs=needs.get(room.pk, 0),
            sheets_needed_micro=sum(needed[room.pk].values()),
            sheets_given_micro=sum(given[room.pk].values()),
            sheets_short_micro=sum(lacks.values()),
            are_sheets_free=not free.isdisjoint(lacks),
            are_sheets_coming=not coming.isdisjoint(lacks),
            spent_minutes=spent.get(room.pk, 0),
            late=late.get(room.pk, ""),
        )
        standing.slots = _slots(standing, places, late_lanes.get(room.pk, set()))
        made.append(standing)
    return made


def _grouped(rows: Iterable[RoomStage], stages: dict[int, Stage]) -> dict[int, list[RoomStage]]:
    """The stages of each room in the order of work, each with the job's stage it is of."""
    grouped: dict[int, list[RoomStage]] = defaultdict(list)
    rows = list(rows)
    for row in rows:
        row.stage = stages[row.stage_id]
    for row in sorted(rows, key=lambda row: row.stage.place):
        grouped[row.room_id].append(row)
    return grouped


def _given(rooms: Sequence[Room]) -> tuple[dict[int, list[Tone]], dict[int, dict[int, int]]]:
    """By room: the tone groups with their half sheets, and millionths of a sheet by material."""
    counted = (
        Given.objects.filter(room__in=rooms)
        .order_by("half__sheet__tone_group__place")
        .values_list("room", "half__sheet__lot__material", "half__sheet__tone_group")
        .annotate(n=Count("pk"))
    )
    counted = list(counted)
    groups = ToneGroup.objects.in_bulk({group for _room, _material, group, _n in counted if group})
    names = dict(Material.objects.filter(pk__in={row[1] for row in counted}).values_list("pk", "name"))
    kinds: dict[int, set[int]] = defaultdict(set)
    for room, material, _group, _n in counted:
        kinds[room].add(material)
    tones: dict[int, list[Tone]] = defaultdict(list)
    given: dict[int, dict[int, int]] = defaultdict(lambda: defaultdict(int))
    for room, material, group, n in counted:
        tones[room].append(Tone(groups.get(group), n, names[material] if len(kinds[room]) > 1 else ""))
        given[room][material] += n * HALF_MICRO
    return tones, given


def _needed(rooms: Sequence[Room]) -> tuple[dict[int, int], dict[int, dict[int, int]]]:
    """By room: how many needs it has, and millionths of a sheet by sheet material."""
    listed = Need.objects.filter(room__in=rooms).order_by()
    needs: dict[int, int] = defaultdict(int)
    needed: dict[int, dict[int, int]] = defaultdict(dict)
    for room, material, kind, micro in listed.values_list("room", "material", "material__kind", "quantity_micro"):
        needs[room] += 1
        if kind == Material.Kind.SHEET:
            needed[room][material] = micro
    return needs, needed


def _free_and_coming(materials: set[int]) -> tuple[set[int], set[int]]:
    """Of these sheet materials, those with something free to give, and those with an order under way."""
    has_free = Exists(free_halves(materials).filter(sheet__lot__material=OuterRef("pk")))
    free = Material.objects.filter(has_free, pk__in=materials).values_list("pk", flat=True)
    under_way = OrderLine.objects.outstanding().filter(
        material__in=materials, order__placed_on__isnull=False, order__cancelled_on=None
    )
    return set(free), set(under_way.order_by().values_list("material", flat=True))


def _places(job: Job) -> tuple[tuple[StagePlace, ...], dict[int, Stage]]:
    stages = list(job.stages.annotate(planned=Sum("room_stages__planned_minutes")))
    weights = [StageWeight(s.pk, s.lane, s.planned or 0) for s in stages]
    return stage_lanes(weights), {s.pk: s for s in stages}


def _slots(standing: RoomStanding, places: Sequence[StagePlace], late_lanes: set[str]) -> list[dict[str, object]]:
    """The stages as the page draws them; what is not in this room is left out."""
    stages = {row.stage_id: as_stage(row) for row in standing.stages}
    late = {stage.key for stage in standing.progress.next_stages if stage.stream in late_lanes}
    names = {row.stage_id: row.stage.name for row in standing.stages}
    parts = stage_bar(places, list(stages.values()), frozenset(late))
    return [
        _slot(part.place, names, stages[part.place.key].share, part.state) for part in parts if part.state != "absent"
    ]


def _slot(place: StagePlace, names: dict[int, str], done: Fraction, state: str) -> dict[str, object]:
    return {
        "lane": LANES[place.lane],
        "start": place.span.x / 1000,
        "width": place.span.width / 1000,
        "name": names[place.key],
        "done": float(done),
        "state": state,
    }


def _late_lanes(delays: Sequence[lead_times.Delay]) -> dict[int, set[str]]:
    """By room, the lanes that wait for late material: panels for sheets, trim for lumber and trim."""
    lanes: dict[int, set[str]] = defaultdict(set)
    for delay in delays:
        lanes[delay.room].add(_lane_of(delay.kind))
    return lanes


def _lane_of(kind: str) -> str:
    if kind == Material.Kind.SHEET:
        return Stage.Lane.PANELS
    if kind in (Material.Kind.LUMBER, Material.Kind.TRIM):
        return Stage.Lane.TRIM
    return Stage.Lane.SITE
