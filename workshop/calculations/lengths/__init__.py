"""Lengths as whole nanometers: read as the shop types them, shown to the job's precision.

One inch is 25,400,000 nm and 1/64 in is 396,875 nm, both exactly, so every length the shop types is exact.

What is read, in words (`reading` holds it as patterns). Spaces of any kind may stand or be missing anywhere
but between the digits of a number:

    length       = ["-"] size           "-" only where the field holds no size; "+" never
    size         = feet-inches | dashed | plain
    feet-inches  = whole foot ["-"] (mixed | whole | decimal | fraction) [inch]
                                        12'-3 1/2"  12' 3"  12'-3/4"  12ft 3.5in; the inches less than 12
    dashed       = whole "-" mixed [inch]
                                        12-3 1/2 is 12 ft 3 1/2 in; the inches less than 12
    plain        = (mixed | whole | decimal | fraction) [foot | inch | "mm" | "cm" | "m"]
    mixed        = whole ["-"] fraction 1 1/2  1-1/2  12-3/4  23⅞; the fraction less than 1
    fraction     = whole "/" (2 | 4 | 8 | 16 | 32 | 64)
                                        9/8 is read; 4/4, 5/4 and every n/4 above are not, they are nominal
                                        thicknesses of lumber; beside feet or a whole it is less than 1
    decimal      = [whole] mark digits  the mark is "." or ",", by the person's language
    foot         = "'" or a lookalike, or "ft"
    inch         = '"' or a lookalike, two foot marks, or "in"
                                        letters of a unit are small or capital, a point may follow them

- Without a unit, `plain` is in the field's unit. After a foot mark a hyphen only separates. Elsewhere a
  hyphen before a fraction joins it to the whole; before whole inches it parts feet from inches only when a
  fraction follows. So 12-3 is refused: it may be 12 ft 3 in, or a slip for a fraction.
- Nothing is rounded: what is finer than a nanometer is refused, and so is more than 1 km and, in a field that
  holds a size, zero and less.

Reading order: reading, instead, nominal, showing.
"""

from workshop.calculations.lengths.nominal import (
    QUARTER_NM,
    read_nominal_thickness,
    show_nominal_thickness,
)
from workshop.calculations.lengths.reading import MAX_NM, REASONS, LengthError, read_length
from workshop.calculations.lengths.showing import (
    FOOT_NM,
    GRID_NM,
    INCH_NM,
    edit_length,
    show_length,
)

__all__ = [
    "FOOT_NM",
    "GRID_NM",
    "INCH_NM",
    "MAX_NM",
    "QUARTER_NM",
    "REASONS",
    "LengthError",
    "edit_length",
    "read_length",
    "read_nominal_thickness",
    "show_length",
    "show_nominal_thickness",
]
