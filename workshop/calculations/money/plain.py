"""Scaled whole numbers as plain decimal text, exactly."""


def scaled_text(scaled: int, places: int, decimal_mark: str = ".", least: int | None = None) -> str:
    """A whole number of the given decimal places as text, without grouping.

    Args:
        scaled: the number times 10 to the power of its places [-]
        places: decimal places held in it [-]
        decimal_mark: the mark between whole and part [-]
        least: places to show at least; zeros beyond them are left off; None shows all [-]

    Returns:
        the text, with a hyphen in front when below zero [-]

    Example:
        7150 with 2 places is 71.50; 71500000 with 6 places and 2 at least is 71.50 as well.
    """
    digits = str(abs(scaled)).rjust(places + 1, "0")
    whole, part = digits[: len(digits) - places], digits[len(digits) - places :]
    if least is not None:
        part = part[:least] + part[least:].rstrip("0")
    sign = "-" if scaled < 0 else ""
    return f"{sign}{whole}{decimal_mark}{part}" if part else f"{sign}{whole}"
