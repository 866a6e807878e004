"""Whether a material's stated class of reaction to fire meets the class a room requires.

Two standards, each with an order of its own and no conversion between them:

- ASTM E84, surface burning characteristics: Class A (flame spread index 0 to 25), B (26 to 75), C (76 to 200), each
  with a smoke-developed index of at most 450. The classes stand in the International Building Code, section 803.1.2
  (from memory), and in NFPA 101, section 10.2.3 (from memory).
- EN 13501-1, classes A1, A2, B, C, D, E, F for building products (from memory). Its further classes for smoke (s1 to
  s3) and droplets (d0 to d2) are not compared here.

Limits of use: a class belongs to the product as tested, with its core, adhesive, finish and mounting. What is built
in decides, and the building official has the last word.
"""

from dataclasses import dataclass
from typing import Literal

Outcome = Literal["meets", "lower", "not stated", "other standard"]

ASTM_E84, EN_13501_1 = "ASTM E84", "EN 13501-1"
BEST_FIRST = {ASTM_E84: ("A", "B", "C"), EN_13501_1: ("A1", "A2", "eB", "eC", "eD", "eE")}
"""The classes of each standard, the best first, as they are kept: B to E of EN 13501-1 carry an e before them."""


class FireClassUnknown(ValueError):
    """A class of neither standard."""

    def __init__(self, code: str) -> None:
        self.code = code
        super().__init__(f"{code!r} is no fire class: use A, B or C of ASTM E84, or A1 to eE of EN 13501-1.")


@dataclass(frozen=True)
class FireCheck:
    """How a stated class stands to a required one; the standards are empty where nothing is stated."""

    outcome: Outcome
    required_by: str = ""
    stated_by: str = ""

    @property
    def is_met(self) -> bool:
        return self.outcome == "meets"


def standard_of(code: str) -> str:
    """Return the standard a class belongs to.

    Args:
        code: a class as it is kept, "A" or "eB" [-]

    Returns:
        The standard's name.

    Raises:
        FireClassUnknown: a class of neither standard.

    Example:
        >>> standard_of("B"), standard_of("eB")
        ('ASTM E84', 'EN 13501-1')

    Source: the classes of the two standards, see the head of this module.
    """
    for standard, classes in BEST_FIRST.items():
        if code in classes:
            return standard
    raise FireClassUnknown(code)


def check(required: str, stated: str) -> FireCheck:
    """Return whether a stated class meets a required one.

    Args:
        required: the class required, empty where none is [-]
        stated: the class the material states, empty where it states none [-]

    Returns:
        "meets" for the class itself and every better one, and where none is required; "lower", "not stated", or
        "other standard" where the two cannot be compared.

    Raises:
        FireClassUnknown: a class of neither standard.

    Example:
        >>> [check("B", stated).outcome for stated in ("A", "B", "C", "", "eB")]
        ['meets', 'meets', 'lower', 'not stated', 'other standard']

    Source: order of the classes within each standard, see the head of this module.
    """
    if not required:
        return FireCheck("meets")
    standard = standard_of(required)
    if not stated:
        return FireCheck("not stated", standard)
    other = standard_of(stated)
    if other != standard:
        return FireCheck("other standard", standard, other)
    classes = BEST_FIRST[standard]
    is_met = classes.index(stated) <= classes.index(required)
    return FireCheck("meets" if is_met else "lower", standard, other)
