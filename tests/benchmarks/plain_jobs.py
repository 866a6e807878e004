"""Plain lists of jobs, rooms, hours, estimates and of what needs somebody; see `tests.benchmarks.plain`."""

from collections.abc import Sequence
from dataclasses import replace

from django import forms
from django.db.models import Case, Count, F, OuterRef, Q, QuerySet, Subquery, Sum, When

from estimates.models import Estimate, EstimateLine
from jobs import lead_times, suggesting
from jobs.models import Client, Drawing, Given, Hours, Job, Need, Room, RoomStage, Stage
from materials.models import Delivery, Lot, Sample
from tests.benchmarks.plain import Plain, Rows
from workshop import clock
from workshop.models import Action, Person


class DrawingForm(forms.ModelForm):
    letter = forms.CharField(max_length=10, required=False)
    dated_on = forms.DateField(required=False)
    received_on = forms.DateField(required=False)
    note = forms.CharField(max_length=200, required=False)

    class Meta:
        model = Drawing
        fields = ["number", "name"]


class HoursForm(forms.ModelForm):
    class Meta:
        model = Hours
        fields = ["person", "worked_on", "minutes", "stage", "note"]

    def __init__(self, room: int) -> None:
        super().__init__()
        self.fields["stage"].queryset = Stage.objects.filter(job__rooms=room)


def jobs(_pk: int) -> QuerySet[Job]:
    return Job.objects.select_related("client").order_by(F("closed_on").desc(nulls_first=True), "-number")


def how_far(page: Sequence[Job]) -> None:
    """Rooms, per cent and what is next of each job on the page."""
    todo = RoomStage.objects.filter(room__job=OuterRef("pk"), done__lt=F("total"))
    todo = todo.order_by("room__place", "room_id", "stage__place")
    worked = RoomStage.objects.filter(room__job=OuterRef("pk")).order_by().values("room__job")
    share = worked.annotate(n=Sum(F("planned_minutes") * F("done") / F("total")) * 100 / Sum("planned_minutes"))
    found = Job.objects.filter(pk__in=[job.pk for job in page]).annotate(
        percent=Subquery(share.values("n")),
        next_room=Case(When(closed_on=None, then=Subquery(todo.values("room__name")[:1]))),
        next_stage=Case(When(closed_on=None, then=Subquery(todo.values("stage__name")[:1]))),
        room_count=Count("rooms"),
    )
    told = {row["pk"]: row for row in found.values("pk", "percent", "next_room", "next_stage", "room_count")}
    for job in page:
        job.told = told[job.pk]


def price_of(page: Sequence[Estimate]) -> None:
    """What each estimate of the page comes to, without a thought for rounding."""
    lines = EstimateLine.objects.filter(estimate__in=page).order_by().values_list("estimate", "klass")
    costs: dict[int, dict[str, int]] = {}
    for estimate, klass, cost in lines.annotate(n=Sum("total_minor")):
        costs.setdefault(estimate, {})[klass] = cost
    for estimate in page:
        factor = (
            (1 + estimate.overhead_ppm / 1e6) * (1 + estimate.contingency_ppm / 1e6) * (1 + estimate.profit_ppm / 1e6)
        )
        prices = {klass: cost * factor for klass, cost in costs[estimate.pk].items()}
        taxed = prices.get("material", 0) if estimate.is_material_taxed else 0
        estimate.price = (sum(prices.values()) + taxed * estimate.tax_ppm / 1e6) / 100


def hours_of(pk: int) -> QuerySet[Hours]:
    return Hours.objects.filter(room__job=pk).select_related("person", "room", "stage")


def sums_of(name: str) -> Rows:
    """The hours of a job by room, stage or person, beside what is planned where that is known."""

    def rows(pk: int) -> list[dict[str, object]]:
        spent = Hours.objects.filter(room__job=pk).order_by().values(name).annotate(n=Sum("minutes"))
        of = name.partition("__")[0]
        planned: dict[str, int] = {}
        if of != "person":
            stages = RoomStage.objects.filter(room__job=pk).order_by().values_list(name)
            planned = dict(stages.annotate(n=Sum("planned_minutes")))
        return [{"name": row[name], "spent": row["n"] / 60, "planned": planned.get(row[name])} for row in spent]

    return rows


def rooms(pk: int) -> list[Room]:
    """The rooms of a job with all that the progress page tells of each."""
    sheet = Q(needs__material__kind="sheet")
    found = Room.objects.filter(job=pk).prefetch_related("room_stages__stage")
    found = list(found.annotate(needed=Sum("needs__quantity_micro", filter=sheet)))
    spent = dict(Hours.objects.filter(room__job=pk).order_by().values_list("room").annotate(n=Sum("minutes")))
    given = Given.objects.filter(room__job=pk).order_by().values_list("room", "half__sheet__tone_group__name")
    tones: dict[int, list[tuple[str, int]]] = {}
    for room, tone, halves in given.annotate(n=Count("pk")):
        tones.setdefault(room, []).append((tone, halves))
    late = set(Need.objects.filter(room__job=pk, room__starts_on__lt=clock.today()).values_list("room", flat=True))
    for room in found:
        stages = list(room.room_stages.all())
        planned = sum(stage.planned_minutes for stage in stages)
        done = sum(stage.planned_minutes * stage.done / stage.total for stage in stages if stage.total)
        room.percent = 100 * done / planned if planned else 0
        room.planned, room.spent, room.tones = planned / 60, spent.get(room.pk, 0) / 60, tones.get(room.pk, [])
        room.sheets_given = sum(halves for _tone, halves in room.tones) / 2
        room.next = next((stage for stage in stages if stage.done < stage.total), None)
        room.is_late = room.pk in late
    return found


def pieces_of(pk: int) -> QuerySet[Given]:
    given = Given.objects.filter(room__job=pk).select_related(
        "room", "half__sheet__lot__material", "half__sheet__tone_group"
    )
    return given.order_by("room__place", "half__sheet__lot__number", "half__sheet__number")


def ordered_or_not(_pk: int) -> list[object]:
    state = lead_times.outlook(clock.today(), lead_times.kept_stock())
    return [*state.orders, *state.to_order]


def late_or_soon(_pk: int) -> list[object]:
    state = lead_times.outlook(clock.today(), lead_times.kept_stock())
    soon = [row for row in state.to_order if not row.is_late and row.days_left is not None and row.days_left <= 14]
    return [*state.late[:10], *soon[:10]]


def to_sort(_pk: int) -> QuerySet[Lot]:
    unsorted = Count("sheets", filter=Q(sheets__tone_group=None, sheets__set_aside_on=None, sheets__left_on=None))
    found = Lot.objects.filter(pk__in=Lot.objects.to_sort()).annotate(n=Count("sheets"), unsorted=unsorted)
    return found.select_related("material")[:10]


def at_the_bench(_pk: int) -> QuerySet[Room]:
    found = Room.objects.filter(job__closed_on=None).select_related("job")
    found = found.annotate(done=Sum("room_stages__done"), total=Sum("room_stages__total"))
    return found.filter(done__gt=0, done__lt=F("total"))[:10]


JOBS = Plain(
    "Jobs",
    jobs,
    """
    <a href="{% url 'jobs:job' row.pk %}">{{ row.number }} {{ row.name }}</a>
    {{ row.client.name }}
    {{ row.told.room_count }} rooms
    {{ row.told.percent }}% done
    {% if row.closed_on %}Closed {{ row.closed_on|date:"D, M j" }}{% endif %}
    {% if not row.closed_on %}Next: {{ row.told.next_room }}, {{ row.told.next_stage }}{% endif %}
    """,
    more=how_far,
)
JOB_HOURS = Plain(
    "Hours on a job",
    hours_of,
    """
    <a href="{% url 'jobs:hours_edit' row.pk %}">{{ row.person.name }}</a>
    {{ row.worked_on|date:"D, M j" }}
    {{ row.room.name }}
    {{ row.stage.name }}
    {{ row.minutes }}
    """,
    before={
        name: (sums_of(f"{name}__name"), "{{ row.name }}\n{{ row.spent|floatformat }} h\n{{ row.planned }}")
        for name in ("room", "stage", "person")
    },
)
ORDERED_OR_NOT = """
    {% if row.room %}<a href="{% url 'jobs:room' row.room.pk %}">{{ row.room.name }}</a> needs it \
    {{ row.needed_on|date:"D, M j" }} ({{ row.room.job.name }}){% endif %}
    {% if row.line %}<a href="{% url 'materials:order' row.order.pk %}">{{ row.line.material.name }}</a> \
    {{ row.outstanding_micro }}{% else %}<a href="{% url 'materials:order_new' %}?material={{ row.material.pk }}">\
    {{ row.material.name }}</a> {{ row.missing_micro }}{% endif %}
    {% if row.line %}Order {{ row.order.number }}, {{ row.order.supplier.name }}, out {{ row.days_out }} days{% endif %}
    {% if row.line %}Promised {{ row.expected_on|date:"D, M j" }}\
    {% else %}Last day {{ row.last_day|date:"D, M j" }}{% endif %}
    {% if row.is_late %}{{ row.days_late }} days late, {{ row.working_days }} working\
    {% elif row.line %}{{ row.days_in_hand }} days in hand{% else %}{{ row.days_left }} days left{% endif %}
    """

PLAIN = {
    "jobs": JOBS,
    "jobs-found": replace(JOBS, rows=lambda pk: jobs(pk).filter(name__icontains="school 1")),
    "clients": Plain(
        "Clients",
        lambda pk: Client.objects.all(),
        """
        <a href="{% url 'jobs:client' row.pk %}">{{ row.name }}</a>
        {{ row.contact }} {{ row.phone }}
        """,
    ),
    "drawings": Plain(
        "Drawings",
        lambda pk: Drawing.objects.filter(job=pk).prefetch_related("revisions"),
        """
        <a href="{% url 'jobs:drawing' row.pk %}">{{ row.number }} {{ row.name }}</a>
        {% with one=row.revisions.all.0 %}Rev {{ one.letter }}, {{ one.dated_on|date:"D, M j" }}{% endwith %}
        <a href="{% url 'jobs:revision_new' row.pk %}">New revision</a>
        """,
        form=lambda pk: DrawingForm(),
    ),
    "room-hours": Plain(
        "Hours on a room",
        lambda pk: Hours.objects.filter(room=pk).select_related("person", "stage"),
        """
        <a href="{% url 'jobs:hours_edit' row.pk %}">{{ row.person.name }}</a>
        {{ row.worked_on|date:"D, M j" }}
        {{ row.stage.name }}
        {{ row.note }}
        {{ row.minutes }}
        """,
        before={
            "spent": (lambda pk: [Hours.objects.filter(room=pk).aggregate(n=Sum("minutes"))], "{{ row.n }} spent"),
            "planned": (
                lambda pk: [RoomStage.objects.filter(room=pk).aggregate(n=Sum("planned_minutes"))],
                "{{ row.n }} planned",
            ),
        },
        form=HoursForm,
    ),
    "job-hours": JOB_HOURS,
    "job-hours-found": replace(JOB_HOURS, rows=lambda pk: hours_of(pk).filter(person__name__icontains="Person")),
    "pull-list": Plain(
        "Pull list",
        pieces_of,
        """
        {{ row.room.name }}
        {{ row.half.sheet.tone_group.name }}
        Lot {{ row.half.sheet.lot.number }}, {{ row.half.sheet.lot.material.name }}
        {{ row.half.sheet.number }}{{ row.half.side }}
        """,
        a_page=1000,
    ),
    "giving": Plain(
        "Give sheets to rooms",
        lambda pk: suggesting.tables(Job.objects.get(pk=pk)),
        """
        {{ row.material.name }}
        {% for stack in row.stacks %}{{ stack.group.name }} {{ stack.free_sheets }} of {{ stack.sheets }} {% endfor %}
        {% for words in row.words %}{{ words }} {% endfor %}
        {% for one in row.rooms %}<a href="{% url 'jobs:room_sheets' one.row.room.pk %}">{{ one.row.room.name }}</a> \
        {{ one.row.has_halves }} of {{ one.row.need_halves }} \
        {% for group, halves in one.row.groups %}{{ group.name }} {{ halves }} {% endfor %}\
        <form method="post" action="{% url 'jobs:give' one.row.room.pk %}">{% csrf_token %}<input name="count">\
        <select name="group">{% for stack in row.stacks %}<option value="{{ stack.group.pk }}">{{ stack.group.name }}\
        </option>{% endfor %}</select><button>Give</button></form>{% endfor %}
        """,
    ),
    "progress": Plain(
        "Progress",
        rooms,
        """
        <a href="{% url 'jobs:room' row.pk %}">{{ row.name }}</a>
        {% for one in row.room_stages.all %}<i>{{ one.stage.name }} \
        <progress value="{{ one.done }}" max="{{ one.total }}"></progress></i>{% endfor %}
        {{ row.percent|floatformat }}%
        {% for tone, halves in row.tones %}{{ tone }} {{ halves }} {% endfor %}
        {{ row.sheets_given }} of {{ row.needed }} sheets
        {{ row.spent|floatformat }} of {{ row.planned|floatformat }} h
        {% if row.is_late %}Late{% else %}Next: {{ row.next.stage.name }}{% endif %}
        """,
    ),
    "estimates": Plain(
        "Estimates",
        lambda pk: Estimate.objects.select_related("job__client").order_by("-job__number"),
        """
        <a href="{% url 'estimates:estimate' row.job_id %}">{{ row.job.number }} {{ row.job.name }}</a>
        {{ row.job.client.name }}
        {{ row.price|floatformat:2 }}
        estimate {{ row.number }}
        """,
        more=price_of,
    ),
    "estimate": Plain(
        "Estimate",
        lambda pk: EstimateLine.objects.filter(estimate__job=pk).select_related("room", "basis_supplier"),
        """
        {{ row.room.name }}
        {{ row.get_klass_display }}
        <a href="{% url 'estimates:estimate_line' row.pk %}">{{ row.description }}</a> {{ row.get_source_display }}
        {{ row.quantity_micro }} {{ row.unit }}
        {{ row.price_micro }} / {{ row.price_unit }}
        {{ row.total_minor|floatformat:2 }}
        """,
        a_page=1000,
    ),
    "buying": Plain(
        "Lead times",
        ordered_or_not,
        ORDERED_OR_NOT,
        before={
            "suppliers": (
                lambda pk: lead_times.supplier_records(),
                """
                <a href="{% url 'materials:supplier' row.supplier.pk %}">{{ row.supplier.name }}</a>
                {{ row.record.count }}
                {{ row.record.quoted_median|floatformat }}
                {{ row.record.median|floatformat }}
                {{ row.record.worst }}
                """,
            ),
        },
        a_page=1000,
    ),
    "today": Plain(
        "Today",
        late_or_soon,
        ORDERED_OR_NOT,
        before={
            "to_count": (
                lambda pk: Delivery.objects.to_count().select_related("supplier")[:10],
                """
                <a href="{% url 'materials:delivery_count' row.pk %}">{{ row.number }}</a> {{ row.supplier.name }}
                {{ row.slip_number }} {{ row.arrived_on|date:"D, M j" }} {{ row.bundles }} bundles
                """,
            ),
            "to_sort": (
                to_sort,
                """
                <a href="{% url 'materials:sort' row.pk %}">Lot {{ row.number }}, {{ row.material.name }}</a>
                {{ row.unsorted }} to sort of {{ row.n }} sheets
                """,
            ),
            "to_chase": (
                lambda pk: Sample.objects.filter(answered_on=None).select_related("material")[:10],
                """
                <a href="{% url 'materials:sample' row.pk %}">{{ row.what }}</a> {{ row.material.name }}
                {{ row.sent_to }} {{ row.sent_on|date:"D, M j" }}
                """,
            ),
            "at_the_bench": (
                at_the_bench,
                """
                <a href="{% url 'jobs:room' row.pk %}">{{ row.name }}</a> {{ row.job }}
                wanted by {{ row.wanted_on|date:"D, M j" }}
                {{ row.done }} of {{ row.total }}
                """,
            ),
        },
        a_page=1000,
    ),
    "trace": Plain(
        "Trace",
        lambda pk: Action.objects.filter(about__thing=f"jobs.job:{pk}").select_related("person"),
        """
        {{ row.verb }} {{ row.words }}
        {{ row.person.name }}
        {{ row.happened_at|date:"D, M j H:i" }}
        {% for side in row.before %}{{ side.fields.name }}{% endfor %}
        {% for side in row.after %}{{ side.fields.name }}{% endfor %}
        <form method="post" action="{% url 'front:undo' row.pk %}">{% csrf_token %}<button>Undo</button></form>
        """,
    ),
    "people": Plain(
        "People",
        lambda pk: Person.objects.all(),
        """
        <a href="{% url 'front:person' row.pk %}">{{ row.name }}</a>
        {{ row.username }}
        {{ row.get_role_display }}
        """,
    ),
}
