"""Forms as this shop reads them: lengths, money and quantities as typed, one key against doing twice, one version."""

from workshop.forms.fields import (
    CURRENCIES,
    CountField,
    CurrencyField,
    DayField,
    HoursField,
    LengthField,
    MoneyField,
    PercentField,
    PriceField,
    QuantityField,
)
from workshop.forms.kept import ActionForm, Form, RowForm, initial_from, unread
from workshop.forms.photos import PhotosField
from workshop.forms.words import SheetRenderer, Spoken

__all__ = [
    "CURRENCIES",
    "ActionForm",
    "CountField",
    "CurrencyField",
    "DayField",
    "Form",
    "HoursField",
    "LengthField",
    "MoneyField",
    "PercentField",
    "PhotosField",
    "PriceField",
    "QuantityField",
    "RowForm",
    "SheetRenderer",
    "Spoken",
    "initial_from",
    "unread",
]
