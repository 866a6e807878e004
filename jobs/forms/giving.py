from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from jobs import giving
from jobs.calculations.piece_numbers import PieceNumbersError, read_pieces
from jobs.forms.rows import RowsField
from jobs.giving import HALF_MICRO
from jobs.models import Job, Room
from materials.models import Half, Lot, Material, ToneGroup
from workshop.calculations import units
from workshop.forms import Form, QuantityField
from workshop.language import decimal_mark


class HalvesField(QuantityField):
    """Sheets and half sheets, as a number of halves: 2 1/2 is 5."""

    def __init__(self, **options: object) -> None:
        super().__init__(code="sheet", **options)

    def read(self, text: str) -> int:
        micro = super().read(text)
        if micro % HALF_MICRO:
            message = _("%(typed)s: sheets are given whole or in halves. Type 2 or 2 1/2.")
            raise ValidationError(message, params={"typed": text, "would_do": ["2", "2 1/2"]})
        return micro // HALF_MICRO

    def show(self, value: int) -> str:
        return super().show(value * HALF_MICRO)


class Asks(Form):
    """A form that asks once before a room holds two tone groups; the button that means it sends `mixes`."""

    mixes = forms.BooleanField(required=False, widget=forms.HiddenInput)
    question = ""

    @property
    def gift(self) -> dict[str, object]:
        """What was typed, as the rule takes it."""
        return {**self.values("mixes"), "may_mix": self.cleaned_data["mixes"]}


class GiveForm(Asks):
    """A count of one tone group, or with the button `all` all that is free of it."""

    group = forms.ModelChoiceField(
        ToneGroup.objects.filter(material__kind=Material.Kind.SHEET).select_related("material"),
        widget=forms.HiddenInput,
        error_messages={
            "required": gettext_lazy("No tone group is named. Choose one of the stacks."),
            "invalid_choice": gettext_lazy("This tone group is not on the ladder now. Choose one that is."),
        },
    )
    count = HalvesField(label=gettext_lazy("Sheets"))

    def clean(self) -> dict[str, object] | None:
        cleaned = super().clean()
        if "all" in self.data:
            self._errors.pop("count", None)
            try:
                cleaned["count"] = self.fields["count"].clean(self.data["all"])
            except ValidationError as error:
                self.add_error("count", error)
        return cleaned

    @property
    def gift(self) -> dict[str, object]:
        group = self.cleaned_data["group"]
        halves, may_mix = self.cleaned_data["count"], self.cleaned_data["mixes"]
        return {"material": group.material, "group": group, "halves": halves, "may_mix": may_mix}


class SuggestionForm(Form):
    """The suggestion for one material as it was seen."""

    material = forms.ModelChoiceField(
        Material.objects.none(),
        widget=forms.HiddenInput,
        error_messages={
            "required": gettext_lazy("No material is named. Choose one of these."),
            "invalid_choice": gettext_lazy("No room of this job takes this material now. Choose one of these."),
        },
    )
    seen = forms.CharField(max_length=16, widget=forms.HiddenInput, required=False)

    def __init__(self, *args: object, job: Job, **options: object) -> None:
        super().__init__(*args, **options)
        pks = [material.pk for material in giving.sheet_materials(job)]
        self.fields["material"].queryset = Material.objects.filter(pk__in=pks)


class _PiecesForm(Asks):
    """Single sheets and halves of a lot by their numbers."""

    lot = forms.ModelChoiceField(Lot.objects.none(), label=gettext_lazy("Lot"), empty_label=None)
    pieces = forms.CharField(
        label=gettext_lazy("Sheets"),
        max_length=400,
        help_text=gettext_lazy("31, 32A or 40-44: a number is the whole sheet, A and B its halves."),
    )

    def __init__(self, *args: object, room: Room, **options: object) -> None:
        super().__init__(*args, **options)
        self.fields["lot"].queryset = giving.lots_with_free(giving.sheet_materials(room.job, room))
        self.fields["lot"].label_from_instance = _lot_label

    def clean_pieces(self) -> list[tuple[int, str]]:
        try:
            return read_pieces(self.cleaned_data["pieces"])
        except PieceNumbersError as error:
            one, two = error.would_do
            words = {"typed": error.typed, "reason": _(error.reason), "one": one, "two": two, "would_do": [one, two]}
            message = _("%(typed)s %(reason)s. Type %(one)s or %(two)s.")
            raise ValidationError(message, params=words) from error


class GivePiecesForm(_PiecesForm):
    @property
    def has_lots(self) -> bool:
        return self.fields["lot"].queryset.exists()


def _lot_label(lot: Lot) -> str:
    return _("Lot %(number)s, %(material)s") % {"number": lot.number, "material": lot.material.name}


class TakeBackForm(Form):
    halves = RowsField(
        Half.objects.none(),
        label=gettext_lazy("Sheets and halves"),
        widget=forms.CheckboxSelectMultiple,
        error_messages={
            "required": gettext_lazy("None is chosen. Choose the sheets to take back."),
            "invalid_choice": gettext_lazy("One of these is not in the room now. Choose others."),
        },
    )

    def __init__(self, *args: object, room: Room, **options: object) -> None:
        super().__init__(*args, **options)
        self.fields["halves"].queryset = giving.halves_of(room)
        self.fields["halves"].label_from_instance = _half_label


class SwapForm(_PiecesForm):
    """Pieces that come, and halves that go back for them."""

    halves = RowsField(
        Half.objects.none(),
        label=gettext_lazy("Sheets and halves"),
        widget=forms.CheckboxSelectMultiple,
        error_messages={
            "required": gettext_lazy("None is chosen. Choose the sheets that go back."),
            "invalid_choice": gettext_lazy("One of these is not in the room now. Choose others."),
        },
    )

    def __init__(self, *args: object, room: Room, **options: object) -> None:
        super().__init__(*args, room=room, **options)
        self.fields["halves"].queryset = giving.halves_of(room)
        self.fields["halves"].label_from_instance = _half_label


def _half_label(half: Half) -> str:
    group = half.sheet.tone_group
    words = {"half": half, "group": group.name if group else _("not sorted"), "lot": half.sheet.lot.number}
    return _("%(half)s %(group)s, lot %(lot)s") % words


class LotShareForm(Form):
    """How much of one lot the room has; the number is read in the unit of the lot's material."""

    lot = forms.ModelChoiceField(Lot.objects.none(), label=gettext_lazy("Lot"), empty_label=None)
    quantity_micro = QuantityField(
        label=gettext_lazy("How much the room has of it"),
        positive=False,
        help_text=gettext_lazy("In the unit that stands beside the lot. 0 takes all of it back."),
    )

    def __init__(self, *args: object, lots: list[Lot], **options: object) -> None:
        super().__init__(*args, **options)
        self.free = {lot.pk: lot for lot in lots}
        choices = Lot.objects.filter(pk__in=self.free).select_related("material")
        self.fields["lot"].queryset = choices.order_by("material__name", "number")
        self.fields["lot"].label_from_instance = self._label
        quantity = self.fields["quantity_micro"]
        chosen = str(self["lot"].value())
        if lot := next((lot for lot in lots if str(lot.pk) == chosen), None):
            quantity.use(lot.material.unit)
            quantity.whole = lot.material.is_whole
        else:
            quantity.unit = ""

    def _label(self, lot: Lot) -> str:
        free = units.from_micro(self.free[lot.pk].free_micro)
        shown = units.show_quantity(free, lot.material.unit, decimal_mark())
        words = {"number": lot.number, "material": lot.material.name, "free": shown}
        return _("%(material)s, lot %(number)s: %(free)s free") % words
