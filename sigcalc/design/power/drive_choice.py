"""Resistor or constant-current driver: drives for the same current, and what each does while the supply falls."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import numpy as np

from ...errors import DesignError, RangeError, UnitError
from ...parts.drive import ConstantCurrentDrive, Drive, ResistorDrive, current_diodes, regulators
from ...parts.led import LIT_FROM, Led
from ...parts.resistor import at_least
from ...units import Current, Power, Q, SupplyVoltage, record, say, with_units
from ..findings import FINE, LOOK, Finding, check_rating
from ..lamp.drive import LedString, as_string, refuse_runaway, string_voltage, triples
from ..lamp.resistor import needed_resistance
from ..tolerance import over_corners
from .load import OFF, Load

RESISTOR, DRIVER, REGULATOR, DIODE = "resistor", "driver", "regulator", "current diode"
REGULATOR_NAME = "lm317l"
HALF = 0.5
"""The share of the starting light at which a falling supply counts as having stopped the lamp: the eye notices."""
_LEAST_DIFFERENCE = 0.1
_GONE = 0.1  # of the light; what is left below that is no light to read a signal by. Common practice, no source
_GLIMMER = 1e-3  # A; enough to be seen


@with_units(scalar=True)
def same_current(supply: SupplyVoltage, led: Led | Sequence[Led], current: Current) -> dict[str, Drive]:
    """Four drives for a wanted current: "resistor", "driver", "regulator" and "current diode".

    Parameters
    ----------
    supply: for which the resistor is chosen; the others do not depend on it
    led: an Led, or a list of them in series
    current: wanted; the resistor and the regulator give no more than that with typical parts

    The resistor is of series E12 and 5 %, the driver needs 1.5 V and its current has a tolerance of 10 % (common
    practice, no source). The regulator is the small one of the table, its resistor of series E24 and 1 %. Of the
    current-regulator diodes as few are used, side by side, as come within their own tolerance of the wish, all of one
    kind, the kind nearest to it.

    Raises DesignError where the supply is too low, the current is zero or more than an LED's
    limit; RangeError where it is below what the regulator's adjust pin passes.
    """
    ohms = at_least(needed_resistance(supply, as_string(led), current), "E12")
    wanted, regulator = Q(current, "A"), regulators[REGULATOR_NAME]
    setting = at_least(regulator.resistance_for(wanted).m_as("ohm"), "E24")
    kinds = list(current_diodes.values())
    largest = max(kinds, key=lambda each: each.si.current).si
    count = math.ceil(current / (largest.current * (1 + largest.tolerance)))
    return {
        RESISTOR: ResistorDrive(Q(ohms, "ohm"), 0.05),
        DRIVER: ConstantCurrentDrive(wanted, "1.5 V", 0.1),
        REGULATOR: regulator.set_by(Q(setting, "ohm"), 0.01),
        DIODE: min(kinds, key=lambda each: abs(each.si.current - current / count)).drive(count),
    }


@with_units
def current_with_bought_parts(supply: SupplyVoltage, drive: Drive, led: Led | Sequence[Led]) -> Current:
    """Nominal, least and most current over the tolerances of drive and LEDs, as a first axis of three.

    Raises RangeError for a supply that is not above 0 V.
    """
    _above_zero(supply)
    load = Load(drive, as_string(led))
    volts = np.asarray(supply, float)

    def flows(off: Any, spread: Any) -> Any:
        off, spread = (np.reshape(each, (-1, *(1,) * volts.ndim)) for each in (off, spread))
        return np.maximum(load.lamp_current(load.shown, volts, 0.0, off, spread), 0.0)

    band = over_corners(flows, off=OFF, spread=OFF)
    return np.array([band.nominal, band.least, band.most])


@record
class OverSupply:
    """One drive with its lamp over the supply voltages asked about (arrays of their shape).

    `light` is against the greatest supply. `led_power`, `extra_power` and `drive_power`
    are where the heat goes, the drive's own current included in the last; `efficiency`
    is the LEDs' share of what the supply gives. `sensitivity` is dI/dV in A/V. Below
    `stops_at` less than half the starting light is left; `drops_out_at` is where a
    constant-current driver stops holding its current (None for a resistor).
    """

    supply: SupplyVoltage
    current: Current
    light: Any
    led_power: Power
    extra_power: Power
    drive_power: Power
    efficiency: Any
    sensitivity: Any
    stops_at: SupplyVoltage
    drops_out_at: SupplyVoltage | None
    drive: Drive
    string: LedString

    @property
    def light_left(self) -> float:
        """The share of the light that is left at the lowest supply."""
        return float(np.ravel(self.light)[np.argmin(self.si.supply)])


class Comparison(dict[str, OverSupply]):
    """Several drives over the same falling supply, by the names they go by."""

    def __repr__(self) -> str:
        said = (f"{name}: half the light gone below {say(over.si.stops_at, 'V')}" for name, over in self.items())
        return f"Comparison: {'; '.join(said)}"

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What is beyond a limit of each drive, and what the comparison comes to."""
        found = tuple(each for name, over in self.items() for each in _limits(name, over))
        return (*found, *_verdict(self)) if len(self) > 1 else found


@with_units
def compare_drives(supply: SupplyVoltage, drives: Mapping[str, Drive], lamp: Any, polarity: int = 1) -> Comparison:
    """Each of the named drives feeding the same lamp over a falling supply.

    Parameters
    ----------
    supply: the voltages to look at, an array or one
    drives: drives by the names they go by
    lamp: an Led, a list of them in series, or a TwoLeadPair
    polarity: for a pair, +1 red or -1 green

    Raises DesignError where a drive lights nothing even at the greatest supply, RangeError
    for a supply that is not above 0 V.
    """
    if not isinstance(drives, Mapping) or not drives:
        advice = 'write for example drives={"resistor": ResistorDrive("470 ohm")}'
        given = type(drives).__name__
        raise UnitError(argument="drives", need="names with a drive each", given=given, advice=advice)
    _above_zero(supply)
    volts = np.asarray(supply, float)[()]
    return Comparison({name: _over(volts, Load(drive, lamp, polarity), name) for name, drive in drives.items()})


def _above_zero(supply: Any) -> None:
    if not np.all(np.greater(supply, 0)):
        advice = "turn a battery round that is the wrong way in, or reverse the lamp with polarity=-1"
        raise RangeError(argument="supply", need="more than 0 V", given=say(np.min(supply), "V"), advice=advice)


def _over(supply: np.ndarray, load: Load, name: str) -> OverSupply:
    drive, (string, extra) = load.drive, load.branch(load.shown)
    current = load.lamp_current(load.shown, supply, 0.0)
    refuse_runaway(current)
    start, ohms = float(np.max(current)), drive.series_resistance + extra

    def supply_for(amperes: float) -> float:
        """The supply in V that gives just this current: at or below drop-out a driver is a resistance."""
        return float(string_voltage(amperes, string)) + amperes * ohms

    if start <= LIT_FROM:
        raise DesignError(
            f"supply {say(supply.max(), 'V')} is below what {name} and the lamp need: only {say(start, 'A')} flows and "
            f"nothing is lit; use at least {say(supply_for(_GLIMMER), 'V')}"
        )
    given = supply * (current + drive.own_current)
    led_power, extra_power = current * string_voltage(np.maximum(current, 0.0), string), current**2 * extra
    return OverSupply.of(
        supply=supply,
        current=current,
        light=current / start,
        led_power=led_power,
        extra_power=extra_power,
        drive_power=given - led_power - extra_power,
        efficiency=led_power / given,
        sensitivity=_sensitivity(drive, string, ohms, current),
        stops_at=supply_for(HALF * start),
        drops_out_at=supply_for(float(drive.limit)) if isinstance(drive, ConstantCurrentDrive) else None,
        drive=drive,
        string=string,
    )


def _sensitivity(drive: Drive, string: LedString, ohms: float, current: np.ndarray) -> np.ndarray:
    """How fast the current grows with the supply, in A/V: 1 over all resistances, the LEDs' slopes included.

    The slope of a junction is its emission voltage over the current. A current that is
    held follows the supply by the driver's output resistance, where that is known.
    """
    members = triples(string)
    slopes = sum(emission / (np.maximum(current, 0.0) + least) + series for least, emission, series in members)
    follows = 1.0 / (ohms + slopes) if members or ohms > 0 else np.full_like(current, np.inf)
    follows = np.where(current > 0, follows, 0.0)
    if not isinstance(drive, ConstantCurrentDrive):
        return follows
    held = 0.0 if drive.output_resistance is None else 1.0 / drive.si.output_resistance
    return np.where(current >= drive.limit * (1 - 1e-9), held, follows)


def _limits(name: str, over: OverSupply) -> Iterator[Finding]:
    """What is beyond a limit of LED or drive, or below what a driver needs."""
    drive, si, volts = over.drive, over.si, np.max(over.si.supply)
    led = min(over.string, key=lambda each: each.si.max_current)
    what = f"The current through the {led.name} LED"
    checks = [check_rating(what, np.max(si.current), led.si.max_current, "Set less current.", unit="A", topic=name)]
    if isinstance(drive, ConstantCurrentDrive):
        yield from minimum_load(drive, name)
        if volts < si.drops_out_at * (1 - 1e-9):
            reason = (
                f"Even at {say(volts, 'V')} it gives {say(np.max(si.current), 'A')} of its {say(drive.limit, 'A')}: to "
                f"hold that it needs {say(si.drops_out_at, 'V')}."
            )
            remedy = "Use a higher supply voltage, fewer LEDs in series, or less current."
            yield Finding(LOOK, name, reason, remedy)
        if drive.max_voltage is not None:
            across = volts - string_voltage(float(drive.limit), over.string)
            remedy = "Use a lower supply voltage."
            what = f"The voltage across the {drive.kind}"
            checks.append(check_rating(what, across, drive.si.max_voltage, remedy, unit="V", topic=name))
    yield from (each for each in checks if each.grade != FINE)


def minimum_load(drive: ConstantCurrentDrive, topic: str = "minimum load") -> Iterator[Finding]:
    """That a driver is set to less than it needs."""
    if drive.limit < drive.si.least_current:
        reason = (
            f"It is set to {say(drive.limit, 'A')}, less than the {say(drive.si.least_current, 'A')} that any sample "
            "needs as its minimum load: the current may not be held and may be higher."
        )
        remedy = "Use a constant-current driver made for small currents, or a current-regulator diode."
        yield Finding(LOOK, topic, reason, remedy)


def _verdict(comparison: Comparison) -> Iterator[Finding]:
    ends = {name: over.light_left for name, over in comparison.items()}
    steady, most = max(ends, key=ends.get), max(ends.values())
    longest = min(comparison, key=lambda name: comparison[name].si.stops_at)
    supplies = next(iter(comparison.values())).si.supply
    low, remedy = say(np.min(supplies), "V"), "Use a higher supply voltage, or fewer LEDs in series."
    topic = "too little voltage"
    if most < _GONE:
        reason = f"At {low} less than a tenth of the light is left with any of them."
    elif most < HALF:
        lost = f"At {low} every lamp has lost more than half its light"
        reason = f"{lost}; the {steady} keeps most of it, {say(most, '')}."
    elif most - min(ends.values()) < _LEAST_DIFFERENCE:
        span = "As long as the supply does not sag" if np.ptp(supplies) == 0 else "Over this supply"
        reason, remedy = f"{span}, every drive keeps the light: the cheapest is a resistor.", ""
        topic = "all alike"
    else:
        on = f", while the {longest} goes on to the lowest supply before half its light is gone"
        reason, remedy = f"The {steady} keeps the light best over this supply{'' if steady == longest else on}.", ""
        topic = f"steadiest with the {steady}"
    yield Finding(LOOK if remedy else FINE, topic, reason, remedy)
