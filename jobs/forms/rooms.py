from django.utils.translation import gettext_lazy

from jobs.models import Room
from jobs.rooms import MOST_ROOMS
from workshop.forms import CountField, DayField, RowForm


class RoomForm(RowForm):
    starts_on = DayField(
        label=gettext_lazy("Work starts"),
        required=False,
        help_text=gettext_lazy("The first day its material is worked on. Orders are timed by it."),
    )
    wanted_on = DayField(label=gettext_lazy("Wanted by"), required=False)

    class Meta:
        model = Room
        fields = ["name", "starts_on", "wanted_on"]

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
        fields = ["name", "place", "starts_on", "wanted_on"]
