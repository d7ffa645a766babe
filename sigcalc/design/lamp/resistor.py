"""Which resistor to buy for LEDs on a supply, and how far the current may be off with bought parts."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np

from ...errors import DesignError
from ...parts.drive import SomeResistance
from ...parts.led import LIT_FROM, Led
from ...parts.marking import colour_bands, rkm_code
from ...parts.resistor import USUAL_MARGIN, at_least, rating_for_si, series_tolerance
from ...physics.domain import together
from ...units import (
    Current,
    Power,
    Ratio,
    Resistance,
    SupplyVoltage,
    Temperature,
    Tolerance,
    record,
    say,
    say_band,
    with_units,
)
from ...units.plain import need_whole
from ..findings import FINE, LOOK, STOP, Finding
from ..tolerance import Band, over_corners, over_draws
from .drive import SPREAD, LedString, as_string, loop_current, string_voltage, weakest_of

# With less than this across the resistor the LED's own spread decides the current; common practice, no source
LEAST_HEADROOM = 0.5
_LEAST_CURRENT = 1e-12  # the models hold from here
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
    def findings(self) -> tuple[Finding, ...]:
        """What there is to say: current with all tolerances, light lost, rating, the part itself."""
        si, found = self.si, [self._current()]
        left = si.current * si.resistance
        if si.worst_max > _UNEVEN * si.worst_min and left < LEAST_HEADROOM:
            reason = (
                f"Only {say(left, 'V')} is left for the resistor, so the LED you happen to have decides "
                f"whether {say(si.worst_min, 'A')} flows or {say(si.worst_max, 'A')}."
            )
            found.append(Finding(LOOK, "supply", reason, "Use a higher supply voltage or fewer LEDs in series."))
        if si.current < _DIMMER_THAN_WANTED * si.wanted:
            reason = (
                f"{say(si.resistance, 'ohm')} is the nearest value of {self.series} that keeps the current within "
                f"your wish, and gives only {say(si.current / si.wanted, '')} of it."
            )
            found.append(Finding(LOOK, "value", reason, "Choose from a finer series, or put two resistors together."))
        if si.wanted >= _USUAL_CEILING:
            above = f"above the {say(_USUAL_CEILING, 'A')} that is " if si.wanted > _USUAL_CEILING else ""
            reason = f"{say(si.wanted, 'A')} is {above}the ceiling of a usual LED, not the aim (common practice)."
            remedy = "Try half of it: the eye hardly sees the difference, and LED and resistor stay cooler."
            found.append(Finding(LOOK, "LED current", reason, remedy))
        reason = (
            f"It turns at most {say(si.power, 'W')} into heat; a rating of {say(si.rating, 'W')} is "
            f"at least {USUAL_MARGIN:g} times that (common practice)."
        )
        found.append(Finding(FINE, "resistor rating", reason))
        widest = series_tolerance(self.series)
        if si.tolerance > widest:
            reason = f"Values of {self.series} are made with {say(widest, '')} or closer, not {say(si.tolerance, '')}."
            remedy = f"Give tolerance {say(widest, '')}, or choose from a coarser series."
            found.append(Finding(LOOK, "resistor tolerance", reason, remedy))
        return tuple(found)

    def _current(self) -> Finding:
        limit = weakest_of(self.string).si.max_current
        # what is within the limit with high supply, low resistance and LEDs of the least drop
        left = self.si.supply * (1 + self.si.supply_tolerance) - string_voltage(limit, self.string, spread=-1)
        larger = say(at_least(max(left, LEAST_HEADROOM) / limit / (1 - self.si.tolerance), self.series), "ohm")
        return current_finding(self, f"Use {larger}, or ask for less current.")


def current_finding(choice: Any, remedy: str) -> Finding:
    """The current with all tolerances at their ends against the LEDs' limit, of a `Choice` or a `Combination`."""
    si, limit = choice.si, weakest_of(choice.string).si.max_current
    band = say_band(si.worst_min, si.current, si.worst_max, "A")
    reason = f"The current is {band} with bought parts on this supply; its limit is {say(limit, 'A')}"
    if si.worst_max > limit:
        # the resistors' tolerance alone is enough, or all must come together
        return Finding(STOP if si.current_max > limit else LOOK, "LED current", f"{reason}.", remedy)
    if si.worst_min < LIT_FROM:
        reason += "; at the low end it is too dim to see."
        return Finding(LOOK, "LED current", reason, "Use a higher supply voltage.")
    return Finding(FINE, "LED current", f"{reason}.")


@with_units
def exact_resistance(supply: SupplyVoltage, led: Led | Sequence[Led], current: Current) -> Resistance:
    """The resistance that gives an LED (or a list of them in series) just the current wanted.

    Supply and current may be arrays; they broadcast. Source: Ohm's law, (supply - LED
    voltage) / current. Raises DesignError where the supply is too low, the current zero
    or more than the LED's limit.
    """
    return needed_resistance(supply, as_string(led), current)


@with_units(scalar=True)
def choose_resistor(
    supply: SupplyVoltage,
    led: Led | Sequence[Led],
    current: Current,
    series: str = "E12",
    tolerance: Tolerance = 0.05,
    supply_tolerance: Tolerance = 0.0,
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

    The rating is at least twice the worst-case power (common practice). Raises
    DesignError where no resistor does it, UnknownNameError for another series, RangeError
    where no usual rating is enough.
    """
    string = tuple(each.in_air(ambient) for each in as_string(led))
    exact = needed_resistance(supply, string, current)
    resistance = at_least(exact, series)
    if resistance < _LEAST_SOLD:
        left = f"supply {say(supply, 'V')} leaves {say(exact * current, 'V')} for a resistor at {say(current, 'A')}"
        enough = f"use a supply that leaves at least {say(LEAST_HEADROOM, 'V')}"
        raise DesignError(f"{left}: too little for any to set the current; {enough}")
    if resistance > _MOST_SOLD:
        needs, sold = f"current {say(current, 'A')} would need {say(resistance, 'ohm')}", say(_MOST_SOLD, "ohm")
        raise DesignError(f"{needs}, more than the {sold} that shops sell; ask for a larger current")
    alone, _ = current_band(supply, resistance, string, tolerance, 0.0, Band.exactly(0.0))
    worst, power = current_band(supply, resistance, string, tolerance, supply_tolerance)
    return Choice.of(
        resistance=resistance,
        current=alone.nominal,
        current_min=alone.least,
        current_max=alone.most,
        power=power,
        rating=rating_for_si(power, ambient, voltage=supply).si.power,
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


def needed_resistance(supply: Any, string: LedString, current: Any) -> Any:
    """The resistance in ohm that leaves just `current` to the string; supply in V, current in A, broadcasting.

    (supply - LED voltage) / current. Raises DesignError where the supply is at or below
    the LEDs' voltage, the current is zero (below 1 pA), or it is more than the limit of an LED in the string.
    """
    supply, amperes = together(supply=np.asarray(supply), current=np.asarray(current))
    if np.any(amperes < _LEAST_CURRENT):
        least = say(np.min(amperes), "A")
        raise DesignError(f'current {least} lights nothing and no resistor makes it; ask for a current such as "5 mA"')
    weakest = weakest_of(string)
    limit, most = weakest.si.max_current, float(np.max(amperes, initial=0.0))
    if most > limit * (1 + 1e-12):
        above = f"current {say(most, 'A')} is above the limit of the {weakest.name}"
        raise DesignError(f"{above}; ask for at most {say(limit, 'A')}")
    needed = np.asarray(string_voltage(amperes, string))
    low = supply <= needed
    if np.any(low):
        first = np.argmax(low)
        raise DesignError(_too_low(*(float(each.flat[first]) for each in (supply, needed, amperes)), len(string)))
    resistance = (supply - needed) / amperes
    return float(resistance) if np.ndim(resistance) == 0 else resistance


def _too_low(supply: float, needed: float, current: float, count: int) -> str:
    whose, fewer = "the LED's drop", ""
    if count > 1:
        whose, fewer = f"the drop of the {count} LEDs in series", " or fewer LEDs in series"
    relation = "no more than" if math.isclose(supply, needed) else "below"
    enough = say(math.ceil(2 * (needed + LEAST_HEADROOM)) / 2, "V")
    low = f"supply {say(supply, 'V')} is {relation} {whose} of {say(needed, 'V')} at {say(current, 'A')}"
    return f"{low}: nothing would light; use at least {enough}{fewer}"


def current_band(
    supply: float, ohms: float, string: LedString, tolerance: float, supply_tolerance: float, spread: Band = SPREAD
) -> tuple[Band, float]:
    """The current in A over the ends of supply, resistor and LEDs, and the most power in the resistor in W.

    The power also counts the resistor as printed: where the LEDs' own slope resists as much, it is greatest there.
    """

    def formula(supply: Any, ohms: Any, spread: Any) -> dict[str, Any]:
        current = loop_current(supply, ohms, string, spread=spread)
        return {"current": current, "power": current**2 * ohms}

    volts = Band.within(supply, supply_tolerance)
    bought, printed = (
        over_corners(formula, supply=volts, ohms=Band.within(ohms, each), spread=spread) for each in (tolerance, 0.0)
    )
    return bought["current"], max(bought["power"].most, printed["power"].most)


@with_units(scalar=True)
def random_currents(
    supply: SupplyVoltage,
    led: Led | Sequence[Led],
    resistance: SomeResistance,
    tolerance: Tolerance = 0.05,
    supply_tolerance: Tolerance = 0.0,
    draws: int = 10_000,
    seed: int = 1,
) -> Current:
    """The currents with many random sets of bought parts, an array of `draws` of them.

    Assumed about parts that nobody has measured: of supply and resistor every value within the tolerance is as likely
    as the next; of an LED the typical drop is likeliest, less and less so in a straight line to the least and the most
    of its sheet; LEDs of one string are from one batch and differ from the typical alike. The same `seed`, of numpy's
    default generator, gives the same sets.
    """
    string = as_string(led)
    return over_draws(
        lambda supply, ohms, spread: loop_current(supply, ohms, string, spread=spread),
        need_whole(seed, "seed", 0, 2**63, 1),
        need_whole(draws, "draws", 100, 1_000_000, 10_000),
        peaked=("spread",),
        supply=Band.within(supply, supply_tolerance),
        ohms=Band.within(resistance, tolerance),
        spread=SPREAD,
    )
