"""How forms speak: the project's templates, and our own words where Django has its own."""

from django import forms
from django.db.models.fields import BLANK_CHOICE_DASH
from django.forms.renderers import DjangoTemplates
from django.template import loader
from django.utils.translation import gettext_lazy as _

IN_WORDS = {
    "required": _("This is empty. Fill it in."),
    "invalid_choice": _("This is not one of the choices. Choose one from the list."),
    "invalid_pk_value": _("This is not one of the choices. Choose one from the list."),
    "invalid_list": _("This is not one of the choices. Choose one from the list."),
    "max_length": _("%(show_value)s letters are too many here. At most %(limit_value)s do; make it shorter."),
    "min_length": _("%(show_value)s letters are too few here. It takes %(limit_value)s or more."),
    "max_value": _("%(show_value)s is too much here. Type %(limit_value)s or less."),
    "min_value": _("%(show_value)s is too little here. Type %(limit_value)s or more."),
    "null_characters_not_allowed": _("There is a sign in it that cannot be typed. Type it anew."),
}
INVALID = {
    forms.EmailField: _("This is not an email address. Write it as name@example.com, or leave it out."),
    forms.IntegerField: _("This is not a whole number. Type 5 or 12."),
}


class SheetRenderer(DjangoTemplates):
    """Forms and fields from the project's templates; Django's own widgets as they are."""

    form_template_name = "forms/form.html"
    field_template_name = "forms/field.html"

    def get_template(self, template_name: str) -> object:
        if template_name.startswith("forms/"):
            return loader.get_template(template_name)
        return super().get_template(template_name)


class Spoken:
    """A form that refuses in our words; a field that has words of its own keeps them."""

    def full_clean(self) -> None:
        for field in self.fields.values():
            _speak(field)
        super().full_clean()


def name_no_choice(field: forms.Field) -> None:
    """The empty choice of a list in words, where Django draws a line of dashes."""
    if isinstance(field, forms.ModelChoiceField) and field.empty_label == BLANK_CHOICE_DASH[0][1]:
        field.empty_label = _("Choose one") if field.required else _("None")
    elif isinstance(field, forms.TypedChoiceField) and list(field.choices)[:1] == BLANK_CHOICE_DASH:
        field.choices = [("", _("Choose one") if field.required else _("None")), *list(field.choices)[1:]]


def _speak(field: forms.Field) -> None:
    theirs: dict[str, object] = {}
    for kind in reversed(type(field).__mro__):
        theirs |= getattr(kind, "default_error_messages", {})
    invalid = [words for kind, words in INVALID.items() if isinstance(field, kind)]
    ours = IN_WORDS | ({"invalid": invalid[0]} if invalid else {})
    for code, words in ours.items():
        if field.error_messages.get(code) == theirs.get(code):
            field.error_messages[code] = words
