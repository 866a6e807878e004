"""How thick hardwood lumber is once two faces are planed, from its rough thickness in quarters of an inch.

Source: National Hardwood Lumber Association, Rules for the Measurement and Inspection of Hardwood and Cypress,
standard thicknesses for surfaced lumber (S2S). 10/4 is from memory. A supplier may plane to another size: the
order says what was agreed.
"""

from workshop.calculations.lengths import QUARTER_NM

_SIXTEENTH_NM = QUARTER_NM // 4

_SIXTEENTHS = {3: 9, 4: 13, 5: 17, 6: 21, 7: 24, 8: 28, 10: 36, 12: 44, 14: 52, 16: 60}
"""By quarters: the thickness surfaced on two sides, in sixteenths of an inch."""


def surfaced_nm(rough_nm: int) -> int | None:
    """The standard thickness of rough hardwood lumber once it is surfaced on two sides.

    Args:
        rough_nm: the rough thickness [nm]

    Returns:
        the surfaced thickness; None where the rules name none for this thickness [nm]

    Example:
        8/4 is 2 in rough and 1 3/4 in surfaced; 4/4 is 13/16 in.
    """
    quarters, rest = divmod(rough_nm, QUARTER_NM)
    sixteenths = None if rest else _SIXTEENTHS.get(quarters)
    return None if sixteenths is None else sixteenths * _SIXTEENTH_NM
