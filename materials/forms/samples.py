from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from materials.models import Material, Order, Sample
from workshop import clock
from workshop.forms import DayField, Form, PhotosField, RowForm


class OrderChoiceField(forms.ModelChoiceField):
    def label_from_instance(self, order: Order) -> str:
        return _("Order %(number)s, %(supplier)s") % {"number": order.number, "supplier": order.supplier.name}


class SampleForm(RowForm):
    """What was sent, to whom and when, and which order waits for the answer."""

    order = OrderChoiceField(
        Order.objects.none(),
        label=gettext_lazy("Order that waits for it"),
        required=False,
        empty_label=gettext_lazy("None"),
        help_text=gettext_lazy("It shows as held until the sample is approved."),
    )
    sent_on = DayField(label=gettext_lazy("Sent on"))

    class Meta:
        model = Sample
        fields = ["material", "what", "sent_to", "sent_on", "order", "note"]

    def __init__(self, *args: object, **options: object) -> None:
        super().__init__(*args, **options)
        self.fields["material"].queryset = Material.objects.all()
        self.fields["what"].help_text = gettext_lazy("For instance Finish panel, satin.")
        self.fields["sent_to"].help_text = gettext_lazy("Client or architect, and who there.")
        orders = Order.objects.pending() | Order.objects.filter(pk=self.instance.order_id)
        self.fields["order"].queryset = orders.select_related("supplier")
        self.initial.setdefault("sent_on", clock.today())


class AnswerForm(Form):
    is_approved = forms.TypedChoiceField(
        label=gettext_lazy("Answer"),
        choices=[("yes", gettext_lazy("Approved")), ("no", gettext_lazy("Refused"))],
        coerce=lambda answer: answer == "yes",
        widget=forms.RadioSelect,
    )
    answered_on = DayField(label=gettext_lazy("Answered on"))
    note = forms.CharField(label=gettext_lazy("Note"), max_length=300, required=False)
    pictures = PhotosField(
        label=gettext_lazy("Photo"), help_text=gettext_lazy("Of the sample with the signature on it, for instance.")
    )

    def __init__(self, *args: object, **options: object) -> None:
        super().__init__(*args, **options)
        self.initial["answered_on"] = clock.today()

    def clean_pictures(self) -> list:
        pictures = self.cleaned_data["pictures"]
        if len(pictures) > 1:
            raise forms.ValidationError(_("One photo belongs to an answer. Choose one of them."))
        return pictures
