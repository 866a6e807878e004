"""Lengths as text: rounded to the job's precision for reading, never rounded for an edit field."""

from fractions import Fraction

from workshop.calculations.numerals import decimal_text, mixed_text, round_half_up

INCH_NM = 25_400_000
"""NIST Handbook 44, appendix C: 1 in is 25.4 mm exactly."""

FOOT_NM = 12 * INCH_NM
GRID_NM = INCH_NM // 64
"""1/64 in, the finest mark of the shop's rules."""

MM_NM = 1_000_000
SYSTEMS = ("us", "metric")
STYLES = ("feet", "inches")
_LEAST_STEP_NM = {"us": GRID_NM, "metric": MM_NM // 10}


def show_length(
    nm: int,
    system: str = "us",
    precision_nm: int | None = None,
    style: str = "feet",
    decimal_mark: str = ".",
) -> str:
    """The length as it stands on pages and documents, rounded to the precision, ties away from zero.

    Args:
        nm: the length [nm]
        system: "us" for feet and inches, "metric" for millimeters [-]
        precision_nm: the step to round to; without it 1/64 in or 0.1 mm [nm]
        style: "feet" or "inches", for the us system [-]
        decimal_mark: "." or ",", by the person's language [-]

    Returns:
        the text with its unit, led by ≈ where it is rounded [-]

    Raises:
        ValueError: an unknown system or style, a precision that is not a step of the system

    Example:
        3,746,500,000 nm is 12′-3 1/2″, in inches 147 1/2″, metric 3746.5 mm (147.5 x 25.4, checked by hand).
    """
    _check(system, SYSTEMS, "system")
    _check(style, STYLES, "style")
    step = precision_nm if precision_nm is not None else _LEAST_STEP_NM[system]
    _check_step(step, system)
    shown = round_half_up(Fraction(nm, step)) * step
    if system == "metric":
        text = f"{decimal_text(Fraction(abs(shown), MM_NM), 6, decimal_mark)} mm"
    elif style == "feet":
        text = feet_text(abs(shown))
    else:
        text = inch_text(abs(shown))
    return ("≈ " if shown != nm else "") + ("−" if shown < 0 else "") + text


def edit_length(nm: int, system: str = "us", decimal_mark: str = ".", *, unit: str | None = None) -> str:
    """The length as it stands in an edit field; read again in that field it is the same length.

    Args:
        nm: the length [nm]
        system: "us" or "metric" [-]
        decimal_mark: "." or ",", by the person's language [-]
        unit: the field's unit where it is not in (us); named, a plain mm field gets a bare number [-]

    Returns:
        inches and a fraction where the length lies on the 1/64 in grid, else millimeters with their unit [-]

    Raises:
        ValueError: an unknown system

    Example:
        3,746,500,000 nm is 147 1/2; 3,746,600,000 nm is 3746.6 mm, as is all in a metric job.
    """
    _check(system, SYSTEMS, "system")
    sign = "-" if nm < 0 else ""
    on_grid = nm % GRID_NM == 0
    if system == "us" and on_grid and unit in (None, "in"):
        return sign + mixed_text(Fraction(abs(nm), INCH_NM))
    if system == "us" and on_grid:
        return sign + (feet_text(abs(nm)) if unit == "ft" else inch_text(abs(nm)))
    millimeters = sign + decimal_text(Fraction(abs(nm), MM_NM), 6, decimal_mark)
    return millimeters if unit == "mm" else f"{millimeters} mm"


def feet_text(nm: int) -> str:
    """Feet and inches of a length on the 1/64 in grid; inches alone below one foot.

    Args:
        nm: the length, not below zero [nm]

    Returns:
        the text [-]

    Example:
        147 1/2 in is 12′-3 1/2″, 144 in is 12′-0″, 1/2 in is 1/2″.
    """
    feet, rest = divmod(nm, FOOT_NM)
    if not feet:
        return inch_text(rest)
    whole, part = divmod(rest, INCH_NM)
    return f"{feet}′-{whole}{' ' + mixed_text(Fraction(part, INCH_NM)) if part else ''}″"


def inch_text(nm: int) -> str:
    """Inches of a length on the 1/64 in grid.

    Args:
        nm: the length, not below zero [nm]

    Returns:
        the text [-]

    Example:
        23 13/16 in is 23 13/16″.
    """
    return f"{mixed_text(Fraction(nm, INCH_NM))}″"


def _check(value: str, known: tuple[str, str], name: str) -> None:
    if value not in known:
        raise ValueError(f"{name} {value!r} is not known; {known[0]} or {known[1]} would do")


def _check_step(step: int, system: str) -> None:
    if step <= 0 or (system == "us" and step % GRID_NM):
        raise ValueError(
            f"precision {step} nm is not a step that can be shown; {INCH_NM // 16} (1/16 in) or {MM_NM} (1 mm) would do"
        )
