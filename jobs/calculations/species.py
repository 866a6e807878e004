"""Wood species: how much they move across the grain and how heavy they are.

Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010): dimensional change coefficients for 6 to 14 %
moisture content (ch. 13), specific gravity at 12 % moisture content (ch. 5). The coefficients of northern red oak and
white oak are those of the commercial groups. Values from memory of the handbook are marked.
"""

from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True)
class Species:
    """One species.

    Attributes:
        name: as the handbook lists it
        radial: change in hundred thousandths of the size for one point of moisture content, quarter-sawn
        tangential: the same, flat-sawn
        gravity: specific gravity in hundredths, oven-dry weight over volume at 12 %; none where the table has none
        moves_from_memory: whether the coefficients are from memory of the handbook
        weighs_from_memory: whether the specific gravity is from memory of the handbook
    """

    name: str
    radial: int
    tangential: int
    gravity: int | None
    moves_from_memory: bool
    weighs_from_memory: bool

    @property
    def radial_per_point(self) -> Fraction:
        return Fraction(self.radial, 100_000)

    @property
    def tangential_per_point(self) -> Fraction:
        return Fraction(self.tangential, 100_000)


_TABLE = (
    Species("Alder, red", 151, 256, 41, False, False),
    Species("Ash, black", 172, 274, 49, False, False),
    Species("Ash, white", 169, 274, 60, False, False),
    Species("Aspen, quaking", 119, 234, 38, False, False),
    Species("Basswood, American", 230, 330, 37, False, False),
    Species("Beech, American", 190, 431, 64, False, False),
    Species("Birch, paper", 219, 304, 55, False, False),
    Species("Birch, yellow", 256, 338, 62, False, False),
    Species("Butternut", 116, 223, 38, False, False),
    Species("Cherry, black", 126, 248, 50, False, False),
    Species("Elm, American", 144, 338, 50, False, False),
    Species("Hackberry", 165, 315, 53, False, False),
    Species("Hickory, pecan", 169, 315, 66, False, False),
    Species("Maple, bigleaf", 126, 248, 48, False, False),
    Species("Maple, red", 137, 289, 54, False, False),
    Species("Maple, silver", 102, 252, 47, False, True),
    Species("Maple, sugar", 165, 353, 63, False, False),
    Species("Oak, northern red", 158, 369, 63, False, True),
    Species("Oak, white", 180, 365, 68, False, True),
    Species("Sweetgum", 183, 365, 52, False, True),
    Species("Sycamore, American", 172, 296, 49, False, True),
    Species("Walnut, black", 190, 274, 55, False, True),
    Species("Yellow-poplar", 158, 289, 42, True, True),
    Species("Baldcypress", 130, 216, 46, True, True),
    Species("Cedar, incense", 112, 180, 37, True, True),
    Species("Cedar, eastern redcedar", 106, 162, 47, True, True),
    Species("Cedar, western redcedar", 111, 234, 32, True, True),
    Species("Douglas-fir, coast", 165, 267, 48, True, False),
    Species("Fir, white", 112, 245, 39, True, True),
    Species("Hemlock, western", 144, 274, 45, True, False),
    Species("Larch, western", 155, 323, 52, True, False),
    Species("Pine, eastern white", 71, 212, 35, True, True),
    Species("Pine, loblolly", 165, 259, 51, True, True),
    Species("Pine, ponderosa", 133, 216, 40, True, False),
    Species("Pine, red", 130, 252, 46, True, False),
    Species("Pine, shortleaf", 158, 271, 51, True, False),
    Species("Pine, sugar", 99, 194, 36, True, False),
    Species("Redwood, old-growth", 120, 205, 40, True, False),
    Species("Spruce, Engelmann", 130, 248, 35, True, False),
    Species("Spruce, Sitka", 148, 263, None, True, True),
)

SPECIES = {species.name: species for species in _TABLE}


class UnknownSpecies(ValueError):
    """A name that is not in the table."""

    def __init__(self, name: str) -> None:
        self.name = name
        super().__init__(f"species {name[:40]!r} is not in the table; Ash, white or Oak, white would do")


def species(name: str) -> Species:
    """The species of a name.

    Args:
        name: as the handbook lists it [-]

    Returns:
        its figures [-]

    Raises:
        UnknownSpecies: the table has none of that name

    Example:
        White ash moves by 0.00274 of its width for a point, flat-sawn (Wood Handbook).

        >>> species("Ash, white").tangential
        274
    """
    if name not in SPECIES:
        raise UnknownSpecies(name)
    return SPECIES[name]
