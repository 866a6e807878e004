from django.core.validators import MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from materials.models.stock import Delivery, DeliveryLine, Sheet


class Bill(models.Model):
    """A supplier's invoice or credit note for a delivery; what differs from the slip corrects its landed cost.

    `amount_minor` is what the line (or, without a line, freight and charges) comes to by an invoice, and what is taken
    off by a credit note.
    """

    class Kind(models.TextChoices):
        INVOICE = "invoice", _("Invoice")
        CREDIT = "credit", _("Credit note")

    delivery = models.ForeignKey(Delivery, on_delete=models.PROTECT, related_name="bills")
    kind = models.CharField(_("Kind"), max_length=10, choices=Kind.choices)
    number = models.CharField(_("Number"), max_length=40)
    dated_on = models.DateField(_("Dated"))
    line = models.ForeignKey(
        DeliveryLine, verbose_name=_("For"), null=True, blank=True, on_delete=models.PROTECT, related_name="bills"
    )
    sheet = models.ForeignKey(Sheet, null=True, blank=True, on_delete=models.PROTECT, related_name="bills")
    amount_minor = models.BigIntegerField(_("Amount"), validators=[MinValueValidator(0)])
    note = models.CharField(_("Note"), max_length=200, default="", blank=True)
    version = models.PositiveIntegerField(default=1, editable=False)

    class Meta:
        ordering = ["dated_on", "pk"]
        verbose_name = _("bill")
        constraints = [
            models.UniqueConstraint(
                fields=["delivery", "kind", "number", "line", "sheet"],
                name="bill_line_once",
                violation_error_message=_("This bill has an amount for this already. Change that one."),
            ),
        ]

    def __str__(self) -> str:
        return self.number


class SheetReturn(models.Model):
    """A sheet that goes back after it was taken in: asked, collected, credited."""

    sheet = models.OneToOneField(Sheet, on_delete=models.PROTECT, related_name="sheet_return")
    why = models.CharField(_("Why"), max_length=200)
    asked_on = models.DateField(_("Told the supplier on"))
    collected_on = models.DateField(_("Collected on"), null=True, blank=True)
    credit_expected_minor = models.BigIntegerField(_("Credit expected"), default=0, validators=[MinValueValidator(0)])
    credit_received_minor = models.BigIntegerField(
        _("Credit received"), null=True, blank=True, validators=[MinValueValidator(0)]
    )
    credited_on = models.DateField(_("Credited on"), null=True, blank=True)
    version = models.PositiveIntegerField(default=1, editable=False)

    class Meta:
        ordering = ["-asked_on", "-pk"]
        verbose_name = _("return")

    def __str__(self) -> str:
        return f"{self.sheet}"
