"""Which resistor to buy for an LED, or for several in series, on a supply."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ...errors import DesignError
from ...parts.led import LIT_FROM, Led
from ...parts.marking import colour_bands, rkm_code
from ...parts.resistor import USUAL_MARGIN, at_least, rating_for_si, series_tolerance
from ...units import Current, Power, Ratio, Resistance, SupplyVoltage, Temperature, record, say, say_band, with_units
from ..findings import FINE, LOOK, STOP, Finding
from .led_string import LedString, as_string, loop_current, string_voltage
from .series_resistance import LEAST_HEADROOM, corners, needed_resistance

# what shops sell as a small resistor; from memory
_LEAST_SOLD, _MOST_SOLD = 0.1, 10e6
# common practice, no source: 20 mA is the ceiling, not the aim
_USUAL_CEILING = 20e-3
_DIMMER_THAN_WANTED = 0.8
_UNEVEN = 2.0


@record
class Choice:
    """The resistor to buy, and what it makes of the wish.

    `current` is the nominal one, `current_min` and `current_max` span the resistor's
    tolerance alone; `worst_min` and `worst_max` span the supply's and the LEDs' as well,
    and `power` is the most the resistor turns into heat in any of those corners. `rating`
    is the power rating to ask for. `exact` is the resistance that would give just the
    `wanted` current.
    """

    resistance: Resistance
    current: Current
    current_min: Current
    current_max: Current
    power: Power
    rating: Power
    exact: Resistance
    wanted: Current
    worst_min: Current
    worst_max: Current
    supply: SupplyVoltage
    supply_tolerance: Ratio
    tolerance: Ratio
    series: str
    string: LedString

    @property
    def bands(self) -> tuple[str, ...]:
        """Its colours, see `parts.marking.colour_bands`; RangeError for a tolerance without a colour."""
        return colour_bands(self.resistance, self.tolerance)

    @property
    def code(self) -> str:
        """Its letter code, such as "4K7"."""
        return rkm_code(self.resistance)

    @property
    def resistor_voltage(self) -> float:
        """What the resistor takes of the supply at the nominal current, in V."""
        return self.si.current * self.si.resistance


@with_units
def exact_resistance(supply: SupplyVoltage, led: Led | Sequence[Led], current: Current) -> Resistance:
    """The resistance that gives an LED (or a list of them in series) just the current wanted.

    Supply and current may be arrays; they broadcast. Source: Ohm's law, (supply - LED
    voltage) / current. Raises DesignError where the supply is too low, the current zero
    or more than the LED stands.
    """
    return needed_resistance(supply, as_string(led), current)


@with_units(scalar=True)
def choose_resistor(
    supply: SupplyVoltage,
    led: Led | Sequence[Led],
    current: Current,
    series: str = "E12",
    tolerance: Ratio = 0.05,
    supply_tolerance: Ratio = 0.0,
    ambient: Temperature = "25 degC",
) -> Choice:
    """The smallest value of a series whose nominal current is no more than wanted, and the rating to buy.

    Parameters
    ----------
    supply: nominal, with `supply_tolerance` as a fraction for the corners
    led: an Led, or a list of Leds in series
    current: the most that should flow with typical parts
    series: of preferred values, "E3" to "E192"
    tolerance: of the resistor, a fraction or "5 %"
    ambient: where the parts are; above 70 °C a resistor is rated for less, and an LED from lower on

    The rating bears at least twice the worst-case power (common practice). Raises
    DesignError where no resistor does it, UnknownNameError for another series, RangeError
    where no usual rating is enough.
    """
    string = tuple(each.in_air(ambient) for each in as_string(led))
    exact = needed_resistance(supply, string, current)
    resistance = at_least(exact, series)
    _check_sold(resistance, supply, exact * current, current)
    worst = corners(supply, resistance, string, tolerance, supply_tolerance)
    nominal, least, most = loop_current(supply, resistance * np.array([1, 1 + tolerance, 1 - tolerance]), string)
    return Choice.of(
        resistance=resistance,
        current=float(nominal),
        current_min=float(least),
        current_max=float(most),
        power=worst.power,
        rating=rating_for_si(worst.power, ambient, voltage=supply).si.power,
        exact=exact,
        wanted=current,
        worst_min=worst.least,
        worst_max=worst.most,
        supply=supply,
        supply_tolerance=supply_tolerance,
        tolerance=tolerance,
        series=series.strip().upper(),
        string=string,
    )


def _check_sold(resistance: float, supply: float, left: float, current: float) -> None:
    if resistance < _LEAST_SOLD:
        raise DesignError(
            f"supply {say(supply, 'V')} leaves {say(left, 'V')} for a resistor at {say(current, 'A')}: "
            f"too little for any to set the current; use a supply that leaves at least {say(LEAST_HEADROOM, 'V')}"
        )
    if resistance > _MOST_SOLD:
        raise DesignError(
            f"current {say(current, 'A')} would need {say(resistance, 'ohm')}, more than the "
            f"{say(_MOST_SOLD, 'ohm')} that shops sell; ask for a larger current"
        )


def findings(choice: Choice) -> list[Finding]:
    """What there is to say about a choice: current over all corners, light lost, rating, the part itself."""
    checks = (_current, _headroom, _dimmer, _ceiling, _rating, _made)
    return [found for check in checks if (found := check(choice)) is not None]


def _current(choice: Choice) -> Finding:
    si = choice.si
    limit = min(led.si.max_current for led in choice.string)
    band = say_band(si.worst_min, si.current, si.worst_max, "A")
    if si.worst_max > limit:
        # what keeps to the limit in the worst corner: high supply, low resistance, LEDs with the least drop
        left = si.supply * (1 + si.supply_tolerance) - string_voltage(limit, choice.string, spread=-1)
        larger = at_least(left / limit / (1 - si.tolerance), choice.series)
        return Finding(
            STOP
            if si.current_max > limit
            else LOOK,  # the resistor's tolerance alone is enough, or all must come together
            "LED current",
            f"{band} over the spread of supply, resistor and LED; the LED stands {say(limit, 'A')}.",
            f"Use {say(larger, 'ohm')}, or ask for less current.",
        )
    if si.worst_min < LIT_FROM:
        return Finding(
            LOOK,
            "LED current",
            f"{band} over the spread of supply, resistor and LED: with the least of them nothing is to be seen.",
            "Use a higher supply voltage.",
        )
    return Finding(FINE, "LED current", f"{band} over the spread of supply, resistor and LED, within the LED's limit.")


def _headroom(choice: Choice) -> Finding | None:
    if choice.si.worst_max <= _UNEVEN * choice.si.worst_min or choice.resistor_voltage >= LEAST_HEADROOM:
        return None
    return Finding(
        LOOK,
        "supply",
        f"Only {say(choice.resistor_voltage, 'V')} is left for the resistor, so the LED you happen to have decides "
        f"whether {say(choice.si.worst_min, 'A')} flows or {say(choice.si.worst_max, 'A')}.",
        "Use a higher supply voltage or fewer LEDs in series.",
    )


def _dimmer(choice: Choice) -> Finding | None:
    share = choice.si.current / choice.si.wanted
    if share >= _DIMMER_THAN_WANTED:
        return None
    return Finding(
        LOOK,
        "value",
        f"{say(choice.si.resistance, 'ohm')} is the nearest value of {choice.series} that keeps to the current, "
        f"and gives only {say(share, '')} of it.",
        "Choose from a finer series, or put two resistors together.",
    )


def _ceiling(choice: Choice) -> Finding | None:
    if choice.si.wanted < _USUAL_CEILING:
        return None
    above = choice.si.wanted > _USUAL_CEILING
    where = f"above the {say(_USUAL_CEILING, 'A')} that are the ceiling" if above else "the ceiling"
    return Finding(
        LOOK,
        "LED current",
        f"{say(choice.si.wanted, 'A')} is {where} of a usual LED and not the aim (common practice).",
        "Try half of it: the eye hardly sees the difference, and LED and resistor stay cooler.",
    )


def _rating(choice: Choice) -> Finding:
    return Finding(
        FINE,
        "resistor rating",
        f"It turns at most {say(choice.si.power, 'W')} into heat; a rating of {say(choice.si.rating, 'W')} is "
        f"at least {USUAL_MARGIN:g} times that (common practice).",
    )


def _made(choice: Choice) -> Finding | None:
    widest = series_tolerance(choice.series)
    if choice.si.tolerance <= widest:
        return None
    return Finding(
        LOOK,
        "resistor tolerance",
        f"Values of {choice.series} are made with {say(widest, '')} or closer, not {say(choice.si.tolerance, '')}.",
        f"Give tolerance {say(widest, '')}, or choose from a coarser series.",
    )
