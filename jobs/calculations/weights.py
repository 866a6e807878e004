"""Weights of sheets, panels and boards, loads to site, and how much two hands lift with care.

Weights are exact fractions of a kilogram, worked out of densities that themselves vary: a sheet by 15 % and more.

Sources: Plywood Design Specification of APA as quoted, softwood plywood 3.0 lb for a square foot and inch; 3/4 in
hardwood plywood 2.3 lb for a square foot; solid wood from the Wood Handbook's specific gravity (`species`).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from jobs.calculations.species import species

POUND_KG = Fraction("0.45359237")
FOOT_M, INCH_M = Fraction("0.3048"), Fraction("0.0254")
NM3_IN_M3 = 10**27

VARIES = "Weights are from usual densities; a sheet may weigh 15 % more. Weigh one where it matters."


def per_square_foot_and_inch(pounds: Fraction) -> Fraction:
    """The density of a sheet that weighs so much for a square foot and an inch of thickness.

    Args:
        pounds: weight in lb [-]

    Returns:
        density in kg for a cubic meter [-]

    Example:
        Softwood plywood, 3.0 lb: 577 kg.

        >>> round(per_square_foot_and_inch(Fraction(3)))
        577

    Source: definition of pound, foot and inch.
    """
    return pounds * POUND_KG / (FOOT_M**2 * INCH_M)


DENSITIES = {
    "softwood plywood": per_square_foot_and_inch(Fraction(3)),
    "hardwood plywood": per_square_foot_and_inch(Fraction("2.3") / Fraction(3, 4)),
    "particleboard": per_square_foot_and_inch(Fraction("1.08") * 4),
}
"""Of sheets, kg for a cubic meter: APA as quoted; Hunker, How to Calculate the Weight of Plywood; a panel weight table
(receivinghelpdesk.com, 1/4 in particleboard 1.08 lb for a square foot)."""


class WeightError(ValueError):
    """A size or weight that nothing has."""

    def __init__(self, what: str, value: Fraction | int) -> None:
        self.what, self.value = what, value
        super().__init__(f"{what} of {float(value):g}; a number above zero, or leaving it out, would do")


def wood_density(name: str, moisture_percent: Fraction | int = 12) -> Fraction | None:
    """The density of solid wood at a moisture content.

    Args:
        name: of the species, as the handbook lists it [-]
        moisture_percent: moisture content, near 12 [-]

    Returns:
        kg for a cubic meter, on the volume at 12 %; none where the table has no specific gravity [-]

    Raises:
        UnknownSpecies: the table has none of that name

    Example:
        White ash, 0.60: 672 kg with its water.

        >>> wood_density("Ash, white")
        Fraction(672, 1)

    Source: Wood Handbook, density = 1000 x specific gravity x (1 + moisture content / 100).
    """
    gravity = species(name).gravity
    return None if gravity is None else gravity * 10 * (1 + Fraction(moisture_percent) / 100)


def weight_kg(length_nm: int, width_nm: int, thickness_nm: int, density: Fraction) -> Fraction:
    """The weight of a sheet, a panel or a board.

    Args:
        length_nm: length [nm]
        width_nm: width [nm]
        thickness_nm: real thickness [nm]
        density: kg for a cubic meter [-]

    Returns:
        kg, exact for that density [-]

    Raises:
        WeightError: a size or density is not more than zero

    Example:
        A 4 by 8 ft sheet of 3/4 in softwood plywood weighs 72 lb (APA as quoted).

        >>> inch = 25_400_000
        >>> weight_kg(96 * inch, 48 * inch, inch * 3 // 4, DENSITIES["softwood plywood"]) / POUND_KG
        Fraction(72, 1)
    """
    for what, value in (("length", length_nm), ("width", width_nm), ("thickness", thickness_nm), ("density", density)):
        if value <= 0:
            raise WeightError(what, value)
    return Fraction(length_nm) * width_nm * thickness_nm * density / NM3_IN_M3


@dataclass(frozen=True)
class Carried:
    """A piece on its way to site: room, name, weight in kg, and whether it is finished and dry."""

    room: str
    name: str
    kg: Fraction
    is_ready: bool = True


@dataclass(frozen=True)
class Load:
    """One trip: pieces in hanging order, their weight in kg, and those not ready yet."""

    pieces: tuple[Carried, ...]
    kg: Fraction
    waiting: tuple[str, ...]

    @property
    def is_ready(self) -> bool:
        return not self.waiting


def loads(pieces: Sequence[Carried], payload_kg: Fraction | int, most_pieces: int | None = None) -> tuple[Load, ...]:
    """The trips to site, room by room in hanging order.

    Args:
        pieces: in the order in which they hang, rooms in the order in which they are hung [-]
        payload_kg: what the vehicle carries, in kg [-]
        most_pieces: as many as the site has space for at a time, none for no limit [-]

    Returns:
        trips; a room that fits on one trip is not parted where it begins a trip of its own [-]

    Raises:
        WeightError: a payload of zero or less, or a piece heavier than it

    Example:
        Two rooms of 300 kg each and a payload of 500 kg are two trips.

        >>> pieces = [Carried(room, f"{room}-{number}", Fraction(100)) for room in "AB" for number in (1, 2, 3)]
        >>> [[piece.name for piece in load.pieces] for load in loads(pieces, 500)]
        [['A-1', 'A-2', 'A-3'], ['B-1', 'B-2', 'B-3']]

    Source: house rule.
    """
    if payload_kg <= 0:
        raise WeightError("a payload in kg", payload_kg)
    rooms: dict[str, list[Carried]] = {}
    for piece in pieces:
        if piece.kg > payload_kg:
            raise WeightError(f"piece {piece.name}: a payload in kg below its own", payload_kg)
        rooms.setdefault(piece.room, []).append(piece)

    def fits(trip: list[Carried]) -> bool:
        return sum(each.kg for each in trip) <= payload_kg and (most_pieces is None or len(trip) <= most_pieces)

    trips: list[list[Carried]] = [[]]
    for room in rooms.values():
        if trips[-1] and not fits([*trips[-1], *room]) and fits(room):
            trips.append([])
        for piece in room:
            if trips[-1] and not fits([*trips[-1], piece]):
                trips.append([])
            trips[-1].append(piece)
    return tuple(
        Load(tuple(trip), sum((each.kg for each in trip), Fraction(0)), tuple(p.name for p in trip if not p.is_ready))
        for trip in trips
        if trip
    )


@dataclass(frozen=True)
class Way:
    """The narrowest the way to the room is: a door, and a lift or a stair where there is one.

    Attributes:
        door_width_nm: clear
        door_height_nm: clear
        lift_nm: inside of the lift, width, depth and height; none where there is none
        longest_nm: the longest piece that goes round the stair, measured there; none where there is none
    """

    door_width_nm: int
    door_height_nm: int
    lift_nm: tuple[int, int, int] | None = None
    longest_nm: int | None = None


def passes(length_nm: int, width_nm: int, thickness_nm: int, way: Way) -> tuple[str, ...]:
    """What a flat piece does not pass on its way to the room.

    Args:
        length_nm: length [nm]
        width_nm: width [nm]
        thickness_nm: thickness [nm]
        way: the narrowest of the way [nm]

    Returns:
        "door", "lift", "stair" where it does not pass; nothing where it passes all [-]

    Example:
        A panel of 4 by 10 ft, on edge, passes a door of 36 by 80 in and no lift of 84 in height and 60 in depth.

        >>> inch = 25_400_000
        >>> passes(120 * inch, 48 * inch, inch, Way(36 * inch, 80 * inch, (60 * inch, 60 * inch, 84 * inch)))
        ('lift',)

    Source: geometry: through a door on edge, upright; in a lift slanted from floor to ceiling, on edge.
    """
    found = []
    flat, on_edge = sorted((length_nm, width_nm))[0], max(length_nm, width_nm)
    if thickness_nm > way.door_width_nm or flat > way.door_height_nm:
        found.append("door")
    if way.lift_nm is not None:
        wide, deep, high = way.lift_nm
        floor = wide**2 + deep**2
        stands = any(long <= high and short**2 <= floor for long, short in ((on_edge, flat), (flat, on_edge)))
        slants = (on_edge + thickness_nm) ** 2 <= max(wide, deep) ** 2 + high**2 and flat <= min(wide, deep)
        if not (stands or slants):
            found.append("lift")
    if way.longest_nm is not None and on_edge > way.longest_nm:
        found.append("stair")
    return tuple(found)
