"""A wall or ceiling, what is in it, and its sizes as measured."""

from collections.abc import Iterator

from django import forms
from django.utils.translation import gettext_lazy as _

from jobs.models import Cutout, Edge, Job, Measure, Opening, Revision, Room, Surface
from materials.models import Material
from workshop import clock
from workshop.forms import DayField, Form, LengthField, RowForm

SIDES = [Edge.Side.LEFT, Edge.Side.RIGHT, Edge.Side.TOP, Edge.Side.FOOT]
SIZES = ["width_nm", "height_nm", "right_height_nm", "ridge_height_nm", "ridge_at_nm"]
BUILD_UP = ["material", "packers_nm", "battens_nm", "batten_spacing_nm"]
PANELS = ["module_nm", "reveal_nm", "start", "runs", "least_nm", "stud_spacing_nm", "first_stud_nm", "cross_joint_nm"]


def length(label: str, *, required: bool = False, size: bool = True, help_text: str = "") -> LengthField:
    return LengthField(label=label, required=required, size=size, help_text=help_text)


class _Lengths:
    """Every length of the form is read and shown as the job writes it; an empty one that has no size is nothing."""

    zero: set[str] = set()

    def use(self, job: Job) -> None:
        for field in self.fields.values():
            if isinstance(field, LengthField):
                field.use(job.unit_system)

    def values(self, *without: str) -> dict[str, object]:
        told = super().values(*without)
        return told | {name: told[name] or 0 for name in self.zero if name in told}


class PanelsForm(_Lengths, forms.ModelForm):
    """What a surface shares with the others of its room: how it is built and laid out in panels."""

    zero = {"packers_nm", "battens_nm", "reveal_nm"}
    packers_nm = length(_("Packers"), size=False)
    battens_nm = length(_("Battens"), size=False, help_text=_("Their thickness; panels stand that far from the wall."))
    batten_spacing_nm = length(_("Battens at centers of"))
    module_nm = length(_("Module"), help_text=_("Panel and reveal together. Left empty, no panels are laid out yet."))
    reveal_nm = length(_("Reveal"), size=False)
    least_nm = length(_("Least width of a panel"))
    stud_spacing_nm = length(_("Joints on centers of"), help_text=_("Studs or battens: 16, 24 or 400 mm."))
    first_stud_nm = length(_("First of them from the left end"), size=False)
    cross_joint_nm = length(_("Cross joint at the height of"), help_text=_("Top of the panel below, from the floor."))

    def _use_materials(self) -> None:
        self.fields["material"].queryset = Material.objects.filter(kind=Material.Kind.SHEET)
        self.fields["material"].empty_label = _("Not chosen yet")


class SurfaceForm(PanelsForm, RowForm):
    width_nm = length(_("Width"), required=True)
    height_nm = length(_("Height"), required=True, help_text=_("At the left end. Of a ceiling, its depth."))
    right_height_nm = length(_("Height at the right end"))
    ridge_height_nm = length(_("Height at the ridge"))
    ridge_at_nm = length(_("Ridge from the left end"))

    class Meta:
        model = Surface
        fields = ["name", "kind", "shape", *SIZES, "revision", *BUILD_UP, *PANELS, "note"]

    def __init__(self, *args: object, room: Room, **options: object) -> None:
        super().__init__(*args, **options)
        self._use_materials()
        self.fields["revision"].queryset = Revision.objects.filter(drawing__job=room.job).select_related("drawing")
        self.fields["revision"].empty_label = _("None named")
        self.fields["name"].help_text = _("A, B, C round the room to the right; CL for a ceiling.")
        held = {edge.side: edge for edge in self.instance.edges.all()} if self.instance.pk else {}
        for side in SIDES:
            self._add_side(side, held.get(side))
        self.use(room.job)

    def _add_side(self, side: str, edge: Edge | None) -> None:
        label = Edge.Side(side).label
        choices = [("", _("dies into what it meets")), *Edge.Condition.choices[1:]]
        self.fields[f"edge_{side}"] = forms.ChoiceField(label=label, choices=choices, required=False)
        self.fields[f"amount_{side}"] = length(_("By"), size=False)
        self.fields[f"first_{side}"] = forms.BooleanField(label=_("Hung first, runs to the corner"), required=False)
        if edge:
            self.initial[f"edge_{side}"] = edge.condition
            self.initial[f"amount_{side}"] = edge.amount_nm or None
            self.initial[f"first_{side}"] = edge.is_first

    def part(self, names: list[str]) -> list[forms.BoundField]:
        return [self[name] for name in names]

    @property
    def the_wall(self) -> list[forms.BoundField]:
        return self.part(["name", "kind", "shape", *SIZES, "revision"])

    @property
    def how_built(self) -> list[forms.BoundField]:
        return self.part(BUILD_UP)

    @property
    def the_panels(self) -> list[forms.BoundField]:
        return self.part(PANELS)

    @property
    def the_sides(self) -> Iterator[list[forms.BoundField]]:
        for side in SIDES:
            yield self.part([f"edge_{side}", f"amount_{side}", f"first_{side}"])

    @property
    def surface_values(self) -> dict[str, object]:
        return {name: value for name, value in self.values().items() if name in self.Meta.fields}

    @property
    def edges(self) -> list[dict[str, object]]:
        """The sides that do not simply die into what they meet."""
        told = []
        for side in SIDES:
            condition, first = self.cleaned_data.get(f"edge_{side}"), self.cleaned_data.get(f"first_{side}", False)
            amount = self.cleaned_data.get(f"amount_{side}") or 0
            if condition or first or amount:
                kind = condition or Edge.Condition.DIES
                told.append({"side": side, "condition": kind, "amount_nm": amount, "is_first": first})
        return told


class PlainRoomForm(PanelsForm, RowForm):
    """A rectangular room by its length, width and height."""

    length_nm = length(_("Length"), required=True, help_text=_("Of walls A and C."))
    width_nm = length(_("Width"), required=True, help_text=_("Of walls B and D."))
    height_nm = length(_("Height"), required=True)

    class Meta:
        model = Surface
        fields = [*BUILD_UP, *PANELS]

    def __init__(self, *args: object, room: Room, **options: object) -> None:
        super().__init__(*args, **options)
        self.order_fields(["length_nm", "width_nm", "height_nm", *BUILD_UP, *PANELS])
        self._use_materials()
        self.use(room.job)


class OpeningForm(_Lengths, RowForm):
    zero = {"foot_nm", "amount_nm"}
    left_nm = length(_("From the left end"), required=True, size=False)
    foot_nm = length(_("Above the floor"), size=False)
    width_nm = length(_("Width"), required=True)
    height_nm = length(_("Height"), required=True)
    amount_nm = length(_("By"), size=False, help_text=_("The reveal, or how far the panels stay back under the trim."))

    class Meta:
        model = Opening
        fields = ["kind", "left_nm", "foot_nm", "width_nm", "height_nm", "condition", "amount_nm", "otherwise"]

    def __init__(self, *args: object, job: Job, **options: object) -> None:
        super().__init__(*args, **options)
        round_it = (Edge.Condition.DIES, Edge.Condition.REVEAL, Edge.Condition.COVERED, Edge.Condition.SCRIBED)
        self.fields["condition"].choices = [(each.value, each.label) for each in round_it]
        self.use(job)


class CutoutForm(_Lengths, RowForm):
    center_nm = length(_("Center from the left end"), required=True, size=False)
    center_height_nm = length(_("Center above the floor"), required=True, size=False)
    width_nm = length(_("Width"), required=True)
    height_nm = length(_("Height"), required=True)
    depth_nm = length(_("Depth"), required=True, help_text=_("Behind the wall as it is before the panels."))

    class Meta:
        model = Cutout
        fields = ["kind", "center_nm", "center_height_nm", "width_nm", "height_nm", "depth_nm", "is_access"]

    def __init__(self, *args: object, job: Job, **options: object) -> None:
        super().__init__(*args, **options)
        self.use(job)


class MeasureForm(_Lengths, RowForm):
    measured_on = DayField(label=_("Measured on"))

    class Meta:
        model = Measure
        fields = [
            "measured_on",
            "width_top_nm",
            "width_middle_nm",
            "width_foot_nm",
            "height_left_nm",
            "height_right_nm",
            "ridge_height_nm",
            "diagonal_up_nm",
            "diagonal_down_nm",
            "first_stud_nm",
            "level_nm",
            "note",
        ]

    def __init__(self, *args: object, surface: Surface, **options: object) -> None:
        super().__init__(*args, **options)
        for name in self.Meta.fields:
            column = Measure._meta.get_field(name)
            if name.endswith("_nm"):
                self.fields[name] = length(column.verbose_name, size=name != "first_stud_nm")
        if surface.shape != Surface.Shape.GABLED:
            del self.fields["ridge_height_nm"]
        self.initial.setdefault("measured_on", clock.today())
        self.initial["measured_on"] = self.initial["measured_on"] or clock.today()
        self.use(surface.room.job)


class CopyForm(Form):
    name = forms.CharField(label=_("Name of the copy"), max_length=8)
    mirror = forms.BooleanField(label=_("With left and right exchanged"), required=False)
