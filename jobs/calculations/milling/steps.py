"""The milling list in the order it is worked: one row for each machine and setting, with its pieces and its length.

Source: usual order of work, common practice, no source.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from jobs.calculations.milling.rough import Allowances, rough_lengths, strip_nm


class Operation(StrEnum):
    """What is done, in the order of work."""

    ROUGH_LENGTH = "cut to rough length"
    JOINT = "joint one face and one edge"
    RIP = "rip to strips"
    THICKNESS = "plane to thickness"
    EDGE = "plane on edge to width"
    PROFILE = "profile"
    LENGTH = "cut to length"


@dataclass(frozen=True)
class Milled:
    """A piece to mill: size as finished, its profile (empty for square stock) and its name."""

    thickness_nm: int
    width_nm: int
    length_nm: int
    profile: str = ""
    name: str = ""


@dataclass(frozen=True)
class Step:
    """One setting at one machine.

    Attributes:
        operation: what is done
        setting_nm: fence, thickness or stop; 0 where there is none
        profile: the profile, where it is run
        pieces: names, in the order given
        length_nm: running length, with the set-up length
        set_up_nm: of it, what is lost to set up
    """

    operation: Operation
    setting_nm: int
    profile: str
    pieces: tuple[str, ...]
    length_nm: int
    set_up_nm: int


def milling_list(pieces: Sequence[Milled], allowances: Allowances) -> tuple[Step, ...]:
    """The milling list of a job.

    Args:
        pieces: as finished [nm]
        allowances: of the operations [nm]

    Returns:
        operation by operation; within one the largest setting first, so that a fence only ever moves in [nm]

    Raises:
        RoughError: a length or a width is not more than zero

    Example:
        Two widths are two settings to rip and two to plane on edge, and one pass through the planer.

        >>> inch = 25_400_000
        >>> taken = Allowances(inch // 4, inch // 8, inch, inch // 8, inch, 6 * inch)
        >>> rows = milling_list([Milled(inch, 2 * inch, 60 * inch), Milled(inch, 3 * inch, 60 * inch)], taken)
        >>> [row.operation.name for row in rows]
        ['ROUGH_LENGTH', 'JOINT', 'RIP', 'RIP', 'THICKNESS', 'EDGE', 'EDGE', 'LENGTH']
    """
    lengths = rough_lengths([piece.length_nm for piece in pieces], allowances)
    rows: dict[tuple[Operation, int, str], list[tuple[str, int]]] = {}
    for piece, rough in zip(pieces, lengths, strict=True):
        settings = [
            (Operation.ROUGH_LENGTH, rough, ""),
            (Operation.JOINT, 0, ""),
            (Operation.RIP, strip_nm(piece.width_nm, allowances), ""),
            (Operation.THICKNESS, piece.thickness_nm, ""),
            (Operation.EDGE, piece.width_nm, ""),
            *([(Operation.PROFILE, 0, piece.profile)] if piece.profile else []),
            (Operation.LENGTH, piece.length_nm, ""),
        ]
        for key in settings:
            rows.setdefault(key, []).append((piece.name, rough))
    order = list(Operation)
    needs_set_up = {Operation.RIP, Operation.THICKNESS, Operation.EDGE, Operation.PROFILE}
    return tuple(
        Step(
            operation,
            setting,
            profile,
            tuple(name for name, _ in worked),
            sum(length for _, length in worked) + (allowances.set_up_nm if operation in needs_set_up else 0),
            allowances.set_up_nm if operation in needs_set_up else 0,
        )
        for (operation, setting, profile), worked in sorted(
            rows.items(), key=lambda row: (order.index(row[0][0]), -row[0][1], row[0][2])
        )
    )
