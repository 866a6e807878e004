"""What the calculations tell, in the words and lengths of the job."""

from fractions import Fraction

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from jobs.calculations.surfaces import MakingError, Told
from jobs.models import Job
from jobs.surfaces.reading import grid_nm
from workshop.calculations import lengths
from workshop.language import decimal_mark
from workshop.templatetags.figures import dimension

FIELDS = {
    "left_height_nm": "height_nm",
    "ridge_place_nm": "ridge_at_nm",
    "panel_nm": "material",
    "centers": "stud_spacing_nm",
    "spacing_nm": "stud_spacing_nm",
    "cross_reveal_nm": "reveal_nm",
    "center_x_nm": "center_nm",
    "center_y_nm": "center_height_nm",
    "x_nm": "center_nm",
    "edge": "condition",
}


def in_words(told: Told, job: Job) -> str:
    """A sentence of the calculations, its lengths as the job writes them."""
    facts = {name: dimension(fact, job) if isinstance(fact, int) else fact for name, fact in told.facts.items()}
    return _(told.text) % facts


def size_text(nm: Fraction | int, job: Job) -> str:
    """A size as it is cut: in inches or millimeters, to the grid the shop measures to."""
    grid = grid_nm(job)
    return lengths.edit_length(round(Fraction(nm) / grid) * grid, job.unit_system, decimal_mark())


def refusal(error: MakingError, job: Job, fields: set[str]) -> ValidationError:
    """What cannot be, at the field it was typed in where the form has it, with the two things that would do."""
    first, second = (in_words(each, job) for each in error.would_do)
    reason = in_words(error.reason, job)
    words = {"of": error.of, "reason": reason, "first": first, "second": second}
    message = ValidationError(_("%(of)s: %(reason)s. %(first)s would do, or %(second)s."), params=words)
    name = FIELDS.get(error.field, error.field)
    return ValidationError({name: message}) if name in fields else message
