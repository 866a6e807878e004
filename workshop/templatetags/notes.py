"""What the note at the top of a refused form says."""

from django import forms, template

register = template.Library()


@register.filter
def wrong_fields(form: forms.BaseForm) -> list[forms.BoundField]:
    """The visible fields that were refused, in the form's order."""
    return [field for field in form.visible_fields() if field.errors]


@register.filter
def rule_errors(form: forms.BaseForm) -> list[str]:
    """What concerns the whole form, and what concerns fields no one can see."""
    hidden = [error for field in form.hidden_fields() for error in field.errors]
    return [*form.non_field_errors(), *hidden]
