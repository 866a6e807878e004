from django import forms
from django.utils.translation import gettext_lazy

from jobs.models import Room
from jobs.rooms import MOST_ROOMS
from materials.models.catalog import FIRE_CLASSES
from workshop.forms import CountField, DayField, RowForm


class RoomForm(RowForm):
    starts_on = DayField(
        label=gettext_lazy("Work starts"),
        required=False,
        help_text=gettext_lazy("The first day its material is worked on. Orders are timed by it."),
    )
    wanted_on = DayField(label=gettext_lazy("Wanted by"), required=False)
    fire_class = forms.ChoiceField(
        label=gettext_lazy("Fire class required"),
        required=False,
        choices=[("", gettext_lazy("None known")), *FIRE_CLASSES],
        help_text=gettext_lazy("As the drawings or the building official ask. Materials are held against it."),
    )

    class Meta:
        model = Room
        fields = ["name", "starts_on", "wanted_on", "fire_class"]

    def __init__(self, *args: object, **options: object) -> None:
        super().__init__(*args, **options)
        if not self.is_bound and not self.instance.pk:
            self.fields["name"].widget.attrs["autofocus"] = True


class RoomEditForm(RoomForm):
    place = CountField(
        label=gettext_lazy("Order of installation"),
        min_value=1,
        max_value=MOST_ROOMS,
        help_text=gettext_lazy("1 is installed first. The other rooms move up or down."),
    )

    class Meta(RoomForm.Meta):
        fields = ["name", "place", "starts_on", "wanted_on", "fire_class"]

    def __init__(self, *args: object, **options: object) -> None:
        super().__init__(*args, **options)
        self.initial["place"] = self.instance.position

    def stale(self, row: Room) -> None:
        row.place = row.position
        super().stale(row)
