"""A material in one or two lines, with all that a supplier must know of it."""

from django.utils.translation import gettext as _

from materials import sizes
from materials.calculations.surfaced import surfaced_nm
from materials.models import Material
from workshop.calculations.lengths import edit_length
from workshop.calculations.units import UNITS
from workshop.language import decimal_mark
from workshop.templatetags.figures import quantity as quantity_text

GIVEN_FINISH = {Material.Kind.SHEET, Material.Kind.TRIM}


def described(material: Material, system: str) -> str:
    """What the material is, without its name.

    3/4″, 49″ × 97″, Ash, plain sliced, book match, A/2, MDF core, bare; Class C (ASTM E84)
    """
    wood = [_sizes(material, system), material.species, *_veneer(material), *_lumber(material), _finish(material)]
    classes = [material.get_fire_class_display() if material.fire_class else "", material.emission_class]
    both = [", ".join(filter(None, map(str, wood))), ", ".join(filter(None, map(str, classes)))]
    return "; ".join(filter(None, both))


def bought_as(material: Material, contains_micro: int | None = None) -> str:
    """How it is bought, or was once ordered, where that is not as it is used: in boxes of 500 pieces."""
    if not material.buy_unit:
        return ""
    if UNITS[material.buy_unit].dimension == UNITS[material.unit].dimension:
        return _("in %(units)s") % {"units": UNITS[material.buy_unit].many}
    words = {
        "units": UNITS[material.buy_unit].many,
        "holds": quantity_text(contains_micro or material.buy_contains_micro, material.unit),
    }
    return _("in %(units)s of %(holds)s") % words


def _sizes(material: Material, system: str) -> str:
    thickness, face = sizes.thickness_text(material, system), sizes.face_text(material, system)
    if real := real_text(material, system):
        thickness = _("%(thickness)s (%(real)s real)") % {"thickness": thickness, "real": real} if thickness else real
    if material.surface:
        thickness = _surfaced(material, thickness, system)
    return ", ".join(filter(None, [thickness, face]))


def real_text(material: Material, system: str) -> str:
    """The thickness the sheet really has, never rounded: 23/32″ or 18.2 mm."""
    return exact_text(material.real_thickness_nm, system) if material.real_thickness_nm else ""


def exact_text(nm: int, system: str) -> str:
    """A small size as the trade writes it, to the nanometer: inches on the 1/64 grid, else millimeters."""
    text = edit_length(nm, system, decimal_mark())
    return text if text.endswith("mm") else f"{text}″"


def _surfaced(material: Material, thickness: str, system: str) -> str:
    """Lumber with how it is planed, and to what thickness where the rules name one: 8/4 S2S, 1 3/4″."""
    words = " ".join(filter(None, [thickness, str(material.get_surface_display())]))
    planed = surfaced_nm(material.thickness_nm or 0) if material.surface != "rough" else None
    if planed is None:
        return words
    return _("%(lumber)s, planed to %(size)s") % {"lumber": words, "size": exact_text(planed, system)}


def _veneer(material: Material) -> list[str]:
    core = material.core
    if core and "core" not in core.casefold():
        core = _("%(core)s core") % {"core": core}
    return [
        material.get_cut_display() if material.cut else "",
        material.get_match_display() if material.match else "",
        grades_text(material),
        core,
    ]


def grades_text(material: Material) -> str:
    """Face and back grade as they are written together: A/2."""
    face, back = material.face_grade, material.back_grade
    if face and back:
        return f"{face}/{back}"
    if face:
        return _("face %(grade)s") % {"grade": face}
    return _("back %(grade)s") % {"grade": back} if back else ""


def _lumber(material: Material) -> list[str]:
    return [
        material.get_lumber_grade_display() if material.lumber_grade else "",
        material.get_dryness_display() if material.dryness else "",
        material.get_tally_display() if material.tally else "",
    ]


def _finish(material: Material) -> str:
    if material.is_bought_finished:
        return _("bought finished")
    return _("bare") if material.kind in GIVEN_FINISH else ""
