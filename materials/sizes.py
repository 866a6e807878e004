"""Sizes of a material as the trade writes them: 49″ × 97″, 8/4."""

from materials.models import Material
from workshop.calculations.lengths import QUARTER_NM, show_length, show_nominal_thickness
from workshop.language import decimal_mark


def face_text(material: Material, system: str) -> str:
    """Width by length, or what there is of it."""
    return " × ".join(_length(nm, system) for nm in (material.width_nm, material.length_nm) if nm)


def thickness_text(material: Material, system: str) -> str:
    """The thickness; of lumber the nominal one, in quarters of an inch."""
    nm = material.thickness_nm
    if not nm:
        return ""
    if material.kind == Material.Kind.LUMBER and nm % QUARTER_NM == 0:
        return show_nominal_thickness(nm // QUARTER_NM)
    return _length(nm, system)


def size_text(material: Material, system: str) -> str:
    """All sizes there are: 3/4″, 49″ × 97″."""
    parts = thickness_text(material, system), face_text(material, system)
    return ", ".join(part for part in parts if part)


def _length(nm: int, system: str) -> str:
    return show_length(nm, system, style="inches", decimal_mark=decimal_mark())
