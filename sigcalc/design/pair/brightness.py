"""Do the two lamps look equally bright, and what makes them so."""

from __future__ import annotations

from typing import Any

import numpy as np

from ...errors import DesignError, RangeError
from ...parts.drive import ConstantCurrentDrive, Drive, as_one_drive
from ...parts.led import LIT_FROM, Led
from ...physics import light as eye
from ...units import Current, LuminousIntensity, Q, Resistance, SupplyVoltage, record, say, say_times, with_units
from ..findings import FINE, LOOK, Finding
from ..lamp.drive import as_led, string_voltage
from .two_lead_pair import LAMPS, TwoLeadPair, as_pair

EVEN_UP_TO = 1.5
"""Ratio of brightness that most people accept between two colours: common practice, no source."""

_AS_GOOD_AS_ONE = 1.05  # a ratio that two digits would call 1
_LIKELY = 0.9  # of the pairs; the rest is one pair in ten


@record
class Evenness:
    """The light of both lamps, typical, least and most of bought parts, and how they compare.

    `ratio` is the brighter over the dimmer where both are typical. Of bought pairs nine in ten differ by less than
    `ratio_likely`, and `odds` is the share that differs by more than EVEN_UP_TO; `ratio_max` is the most that the data
    sheets allow (see `Led.light_shares` where they do not say). `word` says what to expect of bought parts. Light is
    taken as proportional to current.
    """

    red_light: LuminousIntensity
    green_light: LuminousIntensity
    red_light_min: LuminousIntensity
    green_light_min: LuminousIntensity
    red_light_max: LuminousIntensity
    green_light_max: LuminousIntensity
    brighter: str
    ratio: float
    ratio_likely: float
    ratio_max: float
    odds: float
    word: str

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Whether the two lamps look alike where typical, and whether bought ones are likely to."""
        return self.judged()

    def judged(self, accepted: float = EVEN_UP_TO, held: bool = False) -> tuple[Finding, ...]:
        """The same, against the ratio that somebody accepts.

        `held` says that one driver holds the current of both: an extra resistor then evens nothing out.
        """
        compared = "both give the same light"
        if self.ratio >= _AS_GOOD_AS_ONE:
            compared = f"{self.brighter} has {say_times(self.ratio)} times the light of the other"
        typical = f"{self.word[0].upper()}{self.word[1:]}: {compared}, typically."
        if self.ratio > accepted:
            remedy = f"Put an extra resistor in the {self.brighter} branch, or choose another LED."
            if held:
                remedy = "Use two drivers, one for each colour, or choose another LED."
            return (Finding(LOOK, "brightness", typical, remedy),)
        if self.ratio_likely <= accepted:
            likely = f"Nine in ten bought pairs differ by less than {say_times(self.ratio_likely)} times."
            return (Finding(FINE, "brightness", f"{typical} {likely}"),)
        reason = (
            f"{typical} But bought LEDs vary: about {100 * self.odds:.0f} pairs in 100 differ by more than "
            f"{say_times(EVEN_UP_TO)} times, and one in ten by more than {say_times(self.ratio_likely)} times."
        )
        return (Finding(LOOK, "brightness", reason, "Compare both lamps on the bench before soldering."),)


@with_units(scalar=True)
def compare_brightness(red: Led, green: Led, red_current: Current, green_current: Current) -> Evenness:
    """How even a red and a green lamp look at their currents.

    Raises UnitError where an LED has no luminous intensity, RangeError for a lamp without
    current (a dark lamp compares with nothing).
    """
    as_led(red, "red"), as_led(green, "green")
    for name, current in (("red_current", red_current), ("green_current", green_current)):
        if not current > 1e-9:
            why = "a dark lamp compares with nothing"
            raise RangeError(argument=name, need="more than 1 nA", given=say(current, "A"), advice=why)
    one, other = float(red.light_si(red_current)), float(green.light_si(green_current))
    (one_min, one_max), (other_min, other_max) = (
        [light * share for share in led.light_shares] for light, led in ((one, red), (other, green))
    )
    ratio = float(eye.brightness_ratio(one, other))
    drawn = eye.drawn_ratios((one, *red.light_shares), (other, *green.light_shares))
    likely = float(np.quantile(drawn, _LIKELY))
    may_differ = ratio <= EVEN_UP_TO < likely
    return Evenness.of(
        red_light=one,
        green_light=other,
        red_light_min=one_min,
        green_light_min=other_min,
        red_light_max=one_max,
        green_light_max=other_max,
        brighter="red" if one >= other else "green",
        ratio=ratio,
        ratio_likely=likely,
        ratio_max=max(one_max / other_min, other_max / one_min),
        odds=float(np.mean(drawn > EVEN_UP_TO)),
        word=eye.MAY_DIFFER if may_differ else str(eye.unevenness_word(ratio)),
    )


@record
class EvenedOut:
    """What makes the pair look even: the extra resistance in the brighter lamp's branch, and both currents after it."""

    lamp: str
    extra: Resistance
    red_current: Current
    green_current: Current


@with_units(scalar=True)
def even_out(supply: SupplyVoltage, drive: Drive, pair: TwoLeadPair) -> EvenedOut:
    """The exact extra resistance that dims the brighter lamp of the pair to the other one's light.

    It comes on top of what is already in that branch. Raises DesignError under a
    constant-current drive, where a branch resistance changes nothing, and RangeError where a lamp is dark.
    """
    as_pair(pair)
    if isinstance(as_one_drive(drive), ConstantCurrentDrive):
        raise DesignError(
            "a constant-current drive holds its current whatever is in the branch: "
            "an extra resistor evens nothing out; use one driver for each colour, set to the currents of even_currents"
        )
    light, current = {}, {}
    for lamp, sign in (("red", +1), ("green", -1)):
        current[lamp] = amperes = pair.operate(Q(supply, "V"), drive, sign).si.current
        if not amperes > LIT_FROM:
            raise RangeError(
                f"supply {say(supply, 'V')} leaves the {lamp} lamp dark, with {say(amperes, 'A')}: there is no light "
                "to even out; use a higher supply voltage or less resistance"
            )
        light[lamp] = getattr(pair, lamp).light_si(amperes)
    brighter = max(LAMPS, key=light.get)
    wanted = current[brighter] = float(current[brighter] / eye.brightness_ratio(*light.values()))
    string, extra = pair.branch(brighter)
    total = (supply - string_voltage(wanted, string)) / wanted
    more = max(float(total - drive.series_resistance - extra), 0.0)
    return EvenedOut.of(lamp=brighter, extra=more, red_current=current["red"], green_current=current["green"])


@with_units(scalar=True)
def even_currents(red: Led, green: Led, ceiling: Current) -> tuple[Any, Any]:
    """The pair of currents (red, green) that look alike, the dimmer lamp at the ceiling.

    Raises UnitError for anything but an Led, or an Led without luminous intensity.
    """
    one, other = as_led(red, "red").light_si(ceiling), as_led(green, "green").light_si(ceiling)
    full, dimmed = Q(ceiling, "A"), Q(float(ceiling / eye.brightness_ratio(one, other)), "A")
    return (dimmed, full) if one >= other else (full, dimmed)
