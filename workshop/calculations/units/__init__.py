"""Amounts with their unit: sheets, board feet, gallons, hours, holes, coats.

One pint registry, exact throughout, holds the units the trade needs and no others, so that no name means what
the trade does not mean by it. Columns keep a code of UNITS and the amount in millionths of that unit.

Reading order: registry, trade, reading, showing.
"""

from workshop.calculations.units.reading import REASONS, QuantityError, read_quantity
from workshop.calculations.units.registry import registry
from workshop.calculations.units.showing import edit_quantity, show_quantity
from workshop.calculations.units.trade import (
    MAX_AMOUNT,
    MICRO,
    UNITS,
    Unit,
    UnknownUnit,
    WrongDimension,
    amount_in,
    from_micro,
    quantity,
    to_micro,
)

__all__ = [
    "MAX_AMOUNT",
    "MICRO",
    "REASONS",
    "UNITS",
    "QuantityError",
    "Unit",
    "UnknownUnit",
    "WrongDimension",
    "amount_in",
    "edit_quantity",
    "from_micro",
    "quantity",
    "read_quantity",
    "registry",
    "show_quantity",
    "to_micro",
]
