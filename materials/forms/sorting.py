from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from materials.models import Lot, Sheet, ToneGroup
from workshop.forms import Form, RowForm


class _SheetActionForm(Form):
    """What is done to a sheet; the version comes along where one handled before is handled again."""

    version = forms.IntegerField(widget=forms.HiddenInput, required=False, min_value=0, max_value=2**31 - 1)


class SortForm(_SheetActionForm):
    group = forms.ModelChoiceField(
        ToneGroup.objects.none(),
        error_messages={
            "required": gettext_lazy("Choose a tone group, or set the sheet aside."),
            "invalid_choice": gettext_lazy("This tone group is not on the ladder now. Choose one that is."),
        },
    )

    def __init__(self, *args: object, lot: Lot, **options: object) -> None:
        super().__init__(*args, **options)
        self.fields["group"].queryset = ToneGroup.objects.filter(material=lot.material_id)


class SetAsideForm(_SheetActionForm):
    """A reason chosen by its button, or typed."""

    why = forms.CharField(label=gettext_lazy("Reason"), max_length=120, required=False)
    other = forms.CharField(label=gettext_lazy("Another reason"), max_length=120, required=False)

    def clean(self) -> dict[str, object]:
        cleaned = super().clean()
        why = cleaned.get("other") or cleaned.get("why")
        if not why and "other" not in self.errors:
            self.add_error("other", _("Choose a reason, or type one."))
        cleaned["reason"] = why
        return cleaned


class PutBackForm(_SheetActionForm):
    pass


class SheetNoteForm(RowForm):
    class Meta:
        model = Sheet
        fields = ["note", "is_damaged"]
