"""Resistor or constant-current driver: what each does while the supply falls, and where it stops working."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from ...errors import DesignError, RangeError, UnitError
from ...parts.drive import ConstantCurrentDrive, Drive
from ...parts.led import LIT_FROM
from ...units import Current, Power, SupplyVoltage, record, say, with_units
from ..findings import FINE, LOOK, STOP, Finding
from ..lamp.led_string import LedString, refuse_runaway, string_voltage, triples
from .load import Load

HALF = 0.5
"""The share of the starting light at which a falling supply counts as having stopped the lamp: the eye notices."""
_LEAST_DIFFERENCE = 0.1
_GONE = 0.1  # of the light; what is left below that is no light to read a signal by. Common practice, no source
_GLIMMER = 1e-3  # A; enough to be seen


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


@with_units
def compare_drives(
    supply: SupplyVoltage, drives: Mapping[str, Drive], lamp: Any, polarity: int = 1
) -> dict[str, OverSupply]:
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
        raise UnitError(
            f"drives needs names with a drive each, but {type(drives).__name__} came; write for example "
            'drives={"resistor": ResistorDrive("470 ohm")}'
        )
    if not np.all(np.greater(supply, 0)):
        raise RangeError(
            f"supply needs to be above 0 V, but {say(np.min(supply), 'V')} came; turn a battery round that is the "
            "wrong way in, or turn the lamp round with polarity=-1"
        )
    return {name: _over(np.asarray(supply, float), Load(drive, lamp, polarity), name) for name, drive in drives.items()}


def _over(supply: np.ndarray, load: Load, name: str) -> OverSupply:
    drive, (string, extra) = load.drive, load.branch(load.shown)
    current = load.lamp_current(load.shown, supply, 0.0)
    refuse_runaway(current)
    most, start = float(supply.max()), float(np.max(current))
    ohms = drive.series_resistance + extra
    if start <= LIT_FROM:
        least = _supply_for(string, ohms, _GLIMMER)
        raise DesignError(
            f"supply {say(most, 'V')} is below what {name} and the lamp need: only {say(start, 'A')} flows and nothing "
            f"is lit; use at least {say(least, 'V')}"
        )
    led_voltage = string_voltage(np.maximum(current, 0.0), string)
    given = supply * (current + drive.own_current)
    led_power, extra_power = current * led_voltage, current**2 * extra
    plain = {
        "supply": supply,
        "current": current,
        "light": current / start,
        "led_power": led_power,
        "extra_power": extra_power,
        "drive_power": given - led_power - extra_power,
        "efficiency": led_power / given,
        "sensitivity": _sensitivity(drive, string, ohms, current),
    }
    return OverSupply.of(
        **{key: value if np.ndim(value) else float(value) for key, value in plain.items()},
        stops_at=_supply_for(string, ohms, HALF * start),
        drops_out_at=None
        if not isinstance(drive, ConstantCurrentDrive)
        else _supply_for(string, ohms, float(drive.limit)),
        drive=drive,
        string=string,
    )


def _supply_for(string: LedString, ohms: float, current: float) -> float:
    """The supply in V that gives just this current: at or below drop-out a driver is a resistance."""
    return float(string_voltage(current, string)) + current * ohms


def _sensitivity(drive: Drive, string: LedString, ohms: float, current: np.ndarray) -> np.ndarray:
    """How fast the current grows with the supply, in A/V: 1 over all resistances, the LEDs' slopes included.

    The slope of a junction is its emission voltage over the current. A current that is
    held follows the supply by the driver's output resistance, where that is known.
    """
    slopes = sum(emission / (np.maximum(current, 0.0) + least) + series for least, emission, series in triples(string))
    follows = 1.0 / (ohms + slopes) if triples(string) or ohms > 0 else np.full_like(current, np.inf)
    follows = np.where(current > 0, follows, 0.0)
    if not isinstance(drive, ConstantCurrentDrive):
        return follows
    held = 0.0 if drive.output_resistance is None else 1.0 / drive.si.output_resistance
    return np.where(current >= drive.limit * (1 - 1e-9), held, follows)


def findings(comparison: Mapping[str, OverSupply]) -> list[Finding]:
    """For each drive what falls and where, what its own limits say, and what the comparison comes to."""
    found: list[Finding] = []
    for name, over in comparison.items():
        found += [each for each in (_course(name, over), *_limits(name, over)) if each is not None]
    return found + _verdict(comparison)


def _course(name: str, over: OverSupply) -> Finding:
    si, last = over.si, np.argmin(over.si.supply)
    light, efficiency = np.ravel(over.light)[last], np.ravel(over.efficiency)[last]
    span = f"From {say(np.max(si.supply), 'V')} down to {say(np.min(si.supply), 'V')}"
    reason = (
        f"{span} the light falls to {say(light, '')}; {say(efficiency, '')} of the power reaches the LEDs there. "
        f"Half the light is gone below {say(si.stops_at, 'V')}"
    )
    held = "" if si.drops_out_at is None else f", and the current is held above {say(si.drops_out_at, 'V')}"
    return Finding(FINE if light >= HALF else LOOK, name, f"{reason}{held}.")


def _limits(name: str, over: OverSupply) -> list[Finding]:
    drive, si = over.drive, over.si
    led = min(over.string, key=lambda each: each.si.max_current)
    found = []
    if np.max(si.current) > led.si.max_current:
        reason = f"{say(np.max(si.current), 'A')} flows and the {led.name} stands {say(led.si.max_current, 'A')}."
        found.append(Finding(STOP, name, reason, "Set less current."))
    if not isinstance(drive, ConstantCurrentDrive):
        return found
    if drive.limit < drive.si.least_current:
        found.append(
            Finding(
                LOOK,
                name,
                f"It is set to {say(drive.limit, 'A')}, less than the {say(drive.si.least_current, 'A')} that any "
                "sample needs as its minimum load: the current may not be held and may be higher.",
                "Use a constant-current driver made for small currents, or a current-regulator diode.",
            )
        )
    if np.max(si.supply) < si.drops_out_at * (1 - 1e-9):
        reason = (
            f"Even at {say(np.max(si.supply), 'V')} it gives {say(np.max(si.current), 'A')} of its "
            f"{say(drive.limit, 'A')}: to hold that it needs {say(si.drops_out_at, 'V')}."
        )
        remedy = "Use a higher supply voltage, fewer LEDs in series, or less current."
        found.append(Finding(LOOK, name, reason, remedy))
    across = np.max(si.supply) - string_voltage(float(drive.limit), over.string)
    if drive.max_voltage is not None and across > drive.si.max_voltage:
        reason = f"{say(across, 'V')} lies across it and it stands {say(drive.si.max_voltage, 'V')}."
        found.append(Finding(STOP, name, reason, "Use a lower supply voltage."))
    return found


def _verdict(comparison: Mapping[str, OverSupply]) -> list[Finding]:
    if len(comparison) < 2:
        return []
    ends = {name: np.ravel(over.light)[np.argmin(over.si.supply)] for name, over in comparison.items()}
    steady = max(ends, key=ends.get)
    longest = min(comparison, key=lambda name: comparison[name].si.stops_at)
    supplies = [each for over in comparison.values() for each in np.ravel(over.si.supply)]
    if max(ends.values()) < _GONE:
        reason = f"At {say(min(supplies), 'V')} none of them keeps a tenth of the light: no drive makes up for that."
        return [Finding(LOOK, "comparison", reason, "Use a higher supply voltage, or fewer LEDs in series.")]
    if max(ends.values()) < HALF:
        reason = (
            f"At {say(min(supplies), 'V')} every lamp has lost more than half its light; {steady} keeps most of it, "
            f"{say(ends[steady], '')}."
        )
        return [Finding(LOOK, "comparison", reason, "Use a higher supply voltage, or fewer LEDs in series.")]
    if max(ends.values()) - min(ends.values()) < _LEAST_DIFFERENCE:
        span = "As long as the supply does not sag" if min(supplies) == max(supplies) else "Over this supply"
        return [Finding(FINE, "comparison", f"{span} all drives keep the light alike: the cheapest is a resistor.")]
    tail = "" if steady == longest else f", while {longest} goes on to the lowest supply before half its light is gone"
    return [Finding(FINE, "comparison", f"{steady} keeps the light best over this supply{tail}.")]
