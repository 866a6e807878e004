"""The one pint registry, with a closed list of units and Fractions for every number.

It starts empty instead of from pint's own list, for that list has traps: MBF is a million board feet there
and a thousand in the trade, mil an angle there and a thousandth of an inch of film here, acre is built on the
survey foot, and any prefix joins any unit. Here no prefix exists and what is not listed is refused.

Counted things are dimensions of their own: a sheet plus a board, or a price per hole for a number of coats,
is refused by the type. A square foot of one coat is area times coats.

Sources: NIST Handbook 44, appendix C; NIST Special Publication 811 (inch, foot, pound, gallon, acre, ounce,
exact by definition); board foot: American Hardwood Export Council, Measurement (144 cubic inches).

pint cannot write its own DimensionalityError where an exponent is a Fraction (its text fails on Python 3.11):
catch it by type, and raise WrongDimension where a person is to read it.
"""

from fractions import Fraction

from pint import UnitRegistry

_DEFINITIONS = """
meter = [length] = m
kilogram = [mass] = kg
second = [time] = s
sheet = [sheet]
board = [board]
piece = [piece]
hole = [hole]
coat = [coat]
box = [box]
pack = [pack]
bundle = [bundle]
pail = [pail]
can = [can]
drum = [drum]
roll = [roll]
lump = [lump]
load = [load]

kilometer = 1000 * meter = km
centimeter = meter / 100 = cm
millimeter = meter / 1000 = mm
micrometer = meter / 1000000 = um
nanometer = meter / 1000000000 = nm
inch = 0.0254 * meter = in
foot = 12 * inch = ft
yard = 3 * foot = yd
thou = inch / 1000 = mil

square_meter = meter ** 2
square_millimeter = millimeter ** 2
square_inch = inch ** 2
square_foot = foot ** 2
square_yard = yard ** 2
acre = 43560 * square_foot

cubic_meter = meter ** 3
cubic_millimeter = millimeter ** 3
cubic_centimeter = centimeter ** 3
cubic_inch = inch ** 3
cubic_foot = foot ** 3
board_foot = 144 * cubic_inch
thousand_board_feet = 1000 * board_foot = MBF
liter = meter ** 3 / 1000 = L
milliliter = liter / 1000 = mL
gallon = 231 * cubic_inch
quart = gallon / 4
fluid_ounce = gallon / 128

square_foot_coat = square_foot * coat
square_meter_coat = square_meter * coat

gram = kilogram / 1000 = g
pound = 0.45359237 * kilogram = lb
ounce = pound / 16 = oz

minute = 60 * second = min
hour = 60 * minute = h
day = 24 * hour
"""


def _closed_registry() -> UnitRegistry:
    closed = UnitRegistry(None, non_int_type=Fraction)
    for line in filter(None, _DEFINITIONS.splitlines()):
        closed.define(line)
    return closed


registry = _closed_registry()
