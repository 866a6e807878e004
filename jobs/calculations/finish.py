"""Finish: what a product covers, how thick the films come out, how much to buy and in which cans.

The spreading rate and the volume solids are those of the unthinned product; thinner adds volume, not cover.

Sources: a US gallon of 231 cubic inches over 144 square inches and a thousandth of an inch covers 1604 1/6 square
feet (Ron Joseph, Paints and Coatings Resource Center, Oct 2003, with 1604; GEI International with 1604.17); spreading
rate in square meters a liter = 10 x volume solids in per cent / dry film in micrometers (Spreading Rate sheet); wet
film = dry film / volume solids; thinned volume solids = volume solids / (1 + thinner by volume).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

MICROMETERS_IN_MIL = Fraction("25.4")
LITERS_IN_GALLON = Fraction("3.785411784")
SQUARE_METERS_IN_SQUARE_FOOT = Fraction("0.09290304")
NM2_IN_M2 = 10**18

CAUTIONS = (
    "Label and safety data sheet first.",
    "Air the room. Spray mist takes exhaust and a respirator, of water-borne finishes too.",
    "Finishes with an isocyanate hardener take a supplied-air respirator: their smell gives no warning.",
    "Oily rags catch fire by themselves: into a closed metal can at once, emptied daily, or laid flat until hard.",
)
"""Usual cautions (29 CFR 1910.106 and .107 as quoted; NFPA as quoted; vendors' advice); the local code decides."""

TRANSFER = {"brush": Fraction(95, 100), "roll": Fraction(90, 100), "spray": Fraction(35, 100)}
"""Share of the product that stays on the piece; a shop sets its own (common practice, no source)."""


class FinishError(ValueError):
    """A figure that no finish has."""

    def __init__(self, what: str, value: Fraction | int, would_do: tuple[str, str]) -> None:
        self.what, self.value, self.would_do = what, value, would_do
        super().__init__(f"{what} of {float(value):g}; {would_do[0]} or {would_do[1]} would do")


def spreading_rate(
    solids_percent: Fraction | int, dry_film_micrometers: Fraction | int, transfer: Fraction | int = 1
) -> Fraction:
    """How much a liter covers.

    Args:
        solids_percent: volume solids of the unthinned product [-]
        dry_film_micrometers: film of one coat, dry [-]
        transfer: share that stays on the piece, 1 for what is called theoretical [-]

    Returns:
        square meters a liter [-]

    Raises:
        FinishError: a share of zero or less or above the whole, or no film

    Example:
        65 % and 125 micrometers: 5.2 square meters a liter (Spreading Rate sheet).

        >>> spreading_rate(65, 125)
        Fraction(26, 5)
    """
    _check_share("volume solids in per cent", solids_percent, 100)
    _check_share("a transfer", transfer, 1)
    if dry_film_micrometers <= 0:
        raise FinishError("a dry film in micrometers", dry_film_micrometers, ("25", "38 (1.5 mil)"))
    return Fraction(10) * solids_percent / dry_film_micrometers * transfer


def in_square_feet_a_gallon(square_meters_a_liter: Fraction) -> Fraction:
    """A spreading rate as American labels have it.

    Args:
        square_meters_a_liter: spreading rate [-]

    Returns:
        square feet a US gallon [-]

    Example:
        100 % solids at 1 mil (25.4 micrometers): 1604 1/6.

        >>> in_square_feet_a_gallon(spreading_rate(100, MICROMETERS_IN_MIL))
        Fraction(9625, 6)
    """
    return square_meters_a_liter * LITERS_IN_GALLON / SQUARE_METERS_IN_SQUARE_FOOT


def thinned(solids_percent: Fraction | int, thinner_percent: Fraction | int) -> Fraction:
    """Volume solids once a product is thinned.

    Args:
        solids_percent: of the unthinned product [-]
        thinner_percent: thinner by volume of the product [-]

    Returns:
        volume solids in per cent [-]

    Raises:
        FinishError: a share of zero or less or above the whole, or thinner below zero

    Example:
        42 % with 10 % thinner: 38.2 %.

        >>> round(float(thinned(42, 10)), 1)
        38.2
    """
    _check_share("volume solids in per cent", solids_percent, 100)
    if thinner_percent < 0:
        raise FinishError("thinner in per cent", thinner_percent, ("0", "10"))
    return Fraction(solids_percent) / (1 + Fraction(thinner_percent) / 100)


def wet_film(dry_film: Fraction | int, solids_percent: Fraction | int) -> Fraction:
    """The film to lay on wet for a film to be left dry.

    Args:
        dry_film: in any unit [-]
        solids_percent: volume solids as it is laid on, thinned or not [-]

    Returns:
        wet film in the same unit [-]

    Raises:
        FinishError: a share of zero or less or above the whole

    Example:
        1.5 mil dry at 42 %: 3.57 mil wet (Ron Joseph).

        >>> round(float(wet_film(Fraction("1.5"), 42)), 2)
        3.57
    """
    _check_share("volume solids in per cent", solids_percent, 100)
    return Fraction(dry_film) * 100 / solids_percent


def dry_film(wet: Fraction | int, solids_percent: Fraction | int) -> Fraction:
    """The film that is left of a wet one.

    Args:
        wet: in any unit [-]
        solids_percent: volume solids as it is laid on, thinned or not [-]

    Returns:
        dry film in the same unit; films of several coats add up, less what is sanded off [-]

    Raises:
        FinishError: a share of zero or less or above the whole

    Example:
        Three coats of 4 mil wet at 30 %: 3 x 1.2 = 3.6 mil dry.

        >>> 3 * dry_film(4, 30)
        Fraction(18, 5)
    """
    _check_share("volume solids in per cent", solids_percent, 100)
    return Fraction(wet) * solids_percent / 100


@dataclass(frozen=True)
class Side:
    """A piece and what of it is finished.

    Attributes:
        length_nm, width_nm, thickness_nm: as it is cut
        quantity: pieces
        face, back: whether they are finished here; never where the sheet was bought finished
        edges: how many long and how many short edges are marked or cut
    """

    length_nm: int
    width_nm: int
    thickness_nm: int
    quantity: int = 1
    face: bool = True
    back: bool = False
    edges: tuple[int, int] = (0, 0)


@dataclass(frozen=True)
class Areas:
    """Areas in square meters, exact."""

    face: Fraction
    back: Fraction
    edge: Fraction

    @property
    def total(self) -> Fraction:
        return self.face + self.back + self.edge


def areas(pieces: Sequence[Side], bought_finished: bool = False) -> Areas:
    """What is to be coated.

    Args:
        pieces: with what of each is finished [nm]
        bought_finished: whether the sheets came finished: then cut edges only [-]

    Returns:
        square meters of faces, backs and edges [-]

    Example:
        A panel of 1 by 2 m and 19 mm with both long edges: 2 square meters and 0.076.

        >>> meter = 10**9
        >>> made = areas([Side(2 * meter, meter, 19 * 10**6, edges=(2, 0))])
        >>> made.face, float(made.edge)
        (Fraction(2, 1), 0.076)
    """
    face = back = edge = 0
    for piece in pieces:
        area = piece.length_nm * piece.width_nm * piece.quantity
        face += area if piece.face and not bought_finished else 0
        back += area if piece.back and not bought_finished else 0
        along = piece.edges[0] * piece.length_nm + piece.edges[1] * piece.width_nm
        edge += along * piece.thickness_nm * piece.quantity
    return Areas(*(Fraction(each, NM2_IN_M2) for each in (face, back, edge)))


def _check_share(what: str, value: Fraction | int, whole: int) -> None:
    if not 0 < value <= whole:
        raise FinishError(what, value, (str(Fraction(whole, 2)), str(whole)))
