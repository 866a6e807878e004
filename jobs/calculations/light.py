"""Light strips in the trim: watts, supplies with headroom, the drop of voltage over feed and strip.

Sources: Ohm's law. Copper wire at 20 degrees C by American wire gauge: the wire resistance table of Cirris (read; the
figures are those of NBS Handbook 100, from memory). Warmer wire: copper gains 0.393 % for a degree C (from memory);
at 75 degrees it comes to National Electrical Code, Chapter 9, Table 8: 3.07, 1.93 and 1.21 ohm for a thousand feet of
14, 12 and 10 AWG (as reprinted on voltdropcalc.com, read). Class 2: 60 W at 12 V and 96 W at 24 V (as quoted, see
`CLASS_2_WATTS`).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

NM_IN_M = 10**9

ELECTRICIAN = "A licensed electrician and the local code decide."

CLASS_2_WATTS = {12: 60, 24: 96}
"""The most a Class 2 supply gives by its voltage: 5 A at 12 V (thebiotron.ca, Class 2 Compliance for Low Voltage LED
Lights), 96 W at 24 V (the same and aspectled.com), set under the 100 VA of Article 725 (ecmweb.com)."""

OHM_PER_1000_FT = {
    10: Fraction("0.9989"),
    12: Fraction("1.588"),
    14: Fraction("2.525"),
    16: Fraction("4.016"),
    18: Fraction("6.385"),
    20: Fraction("10.15"),
    22: Fraction("16.14"),
    24: Fraction("25.67"),
}
"""By American wire gauge, one conductor of copper at 20 degrees C; 10 AWG from memory of NBS Handbook 100."""

GAIN_PER_DEGREE = Fraction("0.00393")
WARM_CELSIUS = 75


class LightError(ValueError):
    """A figure that no strip, supply or wire has."""

    def __init__(self, what: str, value: Fraction | int, would_do: tuple[str, str]) -> None:
        self.what, self.value, self.would_do = what, value, would_do
        super().__init__(f"{what} of {float(value):g}; {would_do[0]} or {would_do[1]} would do")


@dataclass(frozen=True)
class Strip:
    """A strip: its power for a meter at full light, and its voltage, 12 or 24.

    Attributes:
        watts_per_m: as its maker says
        volts: direct current
        ohm_per_m: of both its conductors together, as its maker says; none where it is not known
    """

    watts_per_m: Fraction
    volts: int
    ohm_per_m: Fraction | None = None


def watts(length_nm: int, strip: Strip) -> Fraction:
    """The power of a run of strip.

    Args:
        length_nm: length of the run [nm]
        strip: the strip [-]

    Returns:
        watts [-]

    Raises:
        LightError: a length or power of zero or less

    Example:
        3 m at 9.6 W: 28.8 W.

        >>> watts(3 * 10**9, Strip(Fraction("9.6"), 24))
        Fraction(144, 5)
    """
    if length_nm <= 0:
        raise LightError("a length in m", Fraction(length_nm, NM_IN_M), ("1", "5"))
    if strip.watts_per_m <= 0:
        raise LightError("watts for a meter", strip.watts_per_m, ("9.6", "14.4"))
    return Fraction(length_nm, NM_IN_M) * strip.watts_per_m


@dataclass(frozen=True)
class Supply:
    """One supply with the runs on it.

    Attributes:
        rated_watts: of the supply
        runs: places in the list of runs
        load_watts: what they take together
        is_class_2: whether it lies within Class 2
        note: what to say where it does not
    """

    rated_watts: int
    runs: tuple[int, ...]
    load_watts: Fraction
    is_class_2: bool
    note: str = ""


def supplies(
    runs_watts: Sequence[Fraction], volts: int, rated: Sequence[int], headroom_percent: Fraction | int = 20
) -> tuple[Supply, ...]:
    """Supplies for runs of strip, each with headroom, split over Class 2 supplies where they can be.

    Args:
        runs_watts: power of each run [-]
        volts: 12 or 24 [-]
        rated: supplies that can be had, in watts [-]
        headroom_percent: share of a supply that is left free [-]

    Returns:
        the largest runs first, each on the first supply with room for it; each supply then the smallest that does [-]

    Raises:
        LightError: another voltage, no supply, a headroom of the whole, or a run that no supply carries

    Example:
        Runs of 60 and 30 W at 24 V with 20 % left free: 60 W takes a supply of 96 W (76.8 W of it), 30 W one of 60 W.

        >>> made = supplies([Fraction(60), Fraction(30)], 24, [60, 96])
        >>> [(each.rated_watts, int(each.load_watts)) for each in made]
        [(96, 60), (60, 30)]

    Source: first fit, largest first; 20 % common practice, no source.
    """
    if volts not in CLASS_2_WATTS:
        raise LightError("volts", volts, ("12", "24"))
    if not 0 <= headroom_percent < 100:
        raise LightError("a headroom in per cent", headroom_percent, ("20", "0"))
    if not rated or min(rated) <= 0:
        raise LightError("a supply in watts", min(rated, default=0), ("60", "96"))
    share = 1 - Fraction(headroom_percent) / 100
    within = [each for each in rated if each <= CLASS_2_WATTS[volts]]
    most = max(within, default=0) * share
    groups: list[list[int]] = []
    for place in sorted(range(len(runs_watts)), key=lambda place: (-runs_watts[place], place)):
        if runs_watts[place] > max(rated) * share:
            raise LightError("a run in watts", runs_watts[place], ("a larger supply", "the run fed in two parts"))
        for group in groups:
            if sum(runs_watts[each] for each in (*group, place)) <= most:
                group.append(place)
                break
        else:
            groups.append([place])
    return tuple(_supply(group, runs_watts, volts, rated, share) for group in groups)


def _supply(
    group: Sequence[int], runs_watts: Sequence[Fraction], volts: int, rated: Sequence[int], share: Fraction
) -> Supply:
    load = sum((runs_watts[place] for place in group), Fraction(0))
    chosen = min(each for each in rated if each * share >= load)
    is_class_2 = chosen <= CLASS_2_WATTS[volts]
    note = (
        "" if is_class_2 else f"Above Class 2: a building wiring method, or the run split over several. {ELECTRICIAN}"
    )
    return Supply(chosen, tuple(sorted(group)), load, is_class_2, note)


def ohms(length_nm: int, gauge: int, celsius: Fraction | int = WARM_CELSIUS) -> Fraction:
    """The resistance of a feed, there and back.

    Args:
        length_nm: from the supply to the strip, one way [nm]
        gauge: American wire gauge [-]
        celsius: temperature of the wire; 75 is on the safe side [-]

    Returns:
        ohms of both conductors [-]

    Raises:
        LightError: a gauge that is not in the table, or a length below zero

    Example:
        A thousand feet of 14 AWG at 75 degrees: 3.07 ohm for one conductor (NEC ch. 9, Table 8).

        >>> round(float(ohms(304_800_000_000, 14) / 2), 2)
        3.07
    """
    if gauge not in OHM_PER_1000_FT:
        raise LightError("a wire gauge", gauge, ("18", "16"))
    if length_nm < 0:
        raise LightError("a feed in m", Fraction(length_nm, NM_IN_M), ("3", "6"))
    thousands = Fraction(length_nm, 304_800_000_000)
    return 2 * thousands * OHM_PER_1000_FT[gauge] * (1 + GAIN_PER_DEGREE * (celsius - 20))


@dataclass(frozen=True)
class Drop:
    """Volts lost over the feed and to the strip's far end; `share` of the supply's voltage."""

    feed_volts: Fraction
    strip_volts: Fraction
    share: Fraction

    @property
    def volts(self) -> Fraction:
        return self.feed_volts + self.strip_volts


def drop(strip: Strip, length_nm: int, feed_nm: int, gauge: int, celsius: Fraction | int = WARM_CELSIUS) -> Drop:
    """The drop of voltage at the far end of a run fed at one end.

    Args:
        strip: the strip [-]
        length_nm: of the run [nm]
        feed_nm: from the supply to the strip, one way [nm]
        gauge: American wire gauge of the feed [-]
        celsius: temperature of the wire [-]

    Returns:
        over the feed the whole current, over the strip on average half of it; reckoned with the current at full
        voltage throughout [-]

    Raises:
        LightError: as `watts` and `ohms` do, or another voltage

    Example:
        48 W at 24 V are 2 A; 5 m of feed in 18 AWG at 20 degrees have 0.2095 ohm there and back: 0.42 V.

        >>> made = drop(Strip(Fraction("9.6"), 24), 5 * 10**9, 5 * 10**9, 18, 20)
        >>> round(float(made.feed_volts), 3), made.strip_volts
        (0.419, Fraction(0, 1))

    Source: Ohm's law, volts = amperes x ohms.
    """
    if strip.volts not in CLASS_2_WATTS:
        raise LightError("volts", strip.volts, ("12", "24"))
    amperes = watts(length_nm, strip) / strip.volts
    along = Fraction(0)
    if strip.ohm_per_m is not None:
        along = amperes * strip.ohm_per_m * Fraction(length_nm, NM_IN_M) / 2
    feed = amperes * ohms(feed_nm, gauge, celsius)
    return Drop(feed, along, (feed + along) / strip.volts)
