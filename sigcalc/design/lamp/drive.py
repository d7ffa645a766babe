"""What flows, and where the voltage and the heat go, when a supply feeds LEDs through a drive; and how that looks.

The spread of bought parts enters as a number from -1 (every part has the least drop) through 0 (typical) to +1 (every
part has the most), so that corners and random studies use one code.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np

from ...errors import DesignError, RangeError, UnitError
from ...parts.drive import ConstantCurrentDrive, Drive, as_drive
from ...parts.led import LIT_FROM, Exponential, Led, Triple
from ...physics import diode
from ...units import Current, Power, SupplyVoltage, Temperature, Voltage, record, say, with_units
from ..findings import FINE, HEAT, LOOK, Finding, check_rating, gravest_first
from ..tolerance import Band

LedString = tuple[Led, ...]
SPREAD = Band(-1.0, 0.0, 1.0)
"""Of bought parts, for `over_corners` and `over_draws`."""
_RUNAWAY = 1e3  # A; no source of this library gives as much, so a figure beyond would mean nothing


@record
class OperatingPoint:
    """Current, voltages and powers of supply, drive and LEDs in one loop.

    Scalars, or arrays of the broadcast shape of what was given. `led_voltage` and
    `led_power` are those of the whole string. A negative supply puts the LEDs in reverse.
    """

    current: Current
    led_voltage: Voltage
    drive_voltage: Voltage
    led_power: Power
    drive_power: Power
    string: LedString
    drive: Drive

    @property
    def verdict(self) -> Any:
        """In a word: "dark", "lit" or "destroyed"; an array of words for arrays.

        "destroyed" is beyond a rated current: then no figure here is to be trusted.
        """
        most = self.weakest.si.max_current
        words = np.where(self.si.current > most, "destroyed", np.where(self.si.current > LIT_FROM, "lit", "dark"))
        return words if words.ndim else str(words)

    @property
    def weakest(self) -> Led:
        """The LED of the string that may carry the least current."""
        return weakest_of(self.string)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What the ratings of the parts say, the gravest first. RangeError for an array of operating points."""
        si, drive = self.si, self.drive
        if np.ndim(si.current):
            raise RangeError("findings are for one operating point, not for an array; operate on one supply voltage")
        if si.led_voltage < 0:
            rated = sum(each.si.max_reverse_voltage for each in self.string)
            turn = "Turn the LED round, or put a plain diode in series."
            about = {"unit": "V", "topic": "reverse voltage", "source": "breakdown is not modelled"}
            return (check_rating("The voltage in reverse", -si.led_voltage, rated, turn, **about),)
        led, larger = self.weakest, "Use a larger resistance or a lower supply."
        higher = "Use a higher supply voltage or fewer LEDs in series."
        what = f"The current through the {led.name}"
        found = [check_rating(what, si.current, led.si.max_current, larger, unit="A", topic="LED current")]
        for each in self.string:
            heat, most = si.current * float(each.model.voltage_si(si.current)), each.si.max_power or math.inf
            if heat > most:
                what = f"The heat in the {each.name}"
                found.append(check_rating(what, heat, most, larger, unit="W", topic="LED power", risk=HEAT))
        if si.current < LIT_FROM:
            reason = f"The supply is too low for the LED's drop: only {say(si.current, 'A')} flows, too little to see."
            found.append(Finding(LOOK, "dark", reason, higher))
        if isinstance(drive, ConstantCurrentDrive) and si.current < drive.limit * (1 - 1e-9):
            has = f"The driver needs {say(drive.si.dropout, 'V')} and has {say(si.drive_voltage, 'V')}"
            gives = f"it gives {say(si.current, 'A')} instead of {say(drive.limit, 'A')}"
            reason = f"{has}: {gives}, and the light follows the supply."
            found.append(Finding(LOOK, "drop-out", reason, higher))
        return gravest_first(each for each in found if each.grade != FINE) or (found[0],)


@with_units
def operate(
    supply: SupplyVoltage,
    drive: Drive,
    led: Led | Sequence[Led],
    temperature: Temperature | None = None,
) -> OperatingPoint:
    """The operating point of a supply, a drive and an LED (or several in series, as a list).

    Parameters
    ----------
    supply: one voltage or an array of them; negative puts the LEDs in reverse
    drive: ResistorDrive or ConstantCurrentDrive; below its drop-out the latter acts as dropout / current
    led: an Led, or a list of Leds in series
    temperature: of the junctions; each model's own if not given

    A supply below the drop gives next to no current, with the supply across the LED: that
    is an answer, not an error. Raises SigcalcError kinds for arguments that cannot be read,
    DesignError where nothing limits the current.
    The closed form is that of Banwell and Jayakumar (2000), see `physics.diode.loop_current`.
    """
    string, drive = as_string(led), as_drive(drive)
    current, led_voltage = fed(supply, drive, string, temperature=temperature)
    refuse_runaway(current)
    point = {"current": current, "led_voltage": led_voltage, "drive_voltage": supply - led_voltage}
    point |= {f"{part}_power": current * point[f"{part}_voltage"] for part in ("led", "drive")}
    plain = {name: each if np.ndim(each) else float(each) for name, each in point.items()}
    return OperatingPoint.of(**plain, string=string, drive=drive)


# ---- one LED, or several in series, as the formulas of physics want them


def as_led(led: Any, argument: str = "led") -> Led:
    """The one Led itself, or UnitError where it is none."""
    if not isinstance(led, Led):
        raise UnitError(argument=argument, need="one Led", given=type(led).__name__, example='leds["bright red 3 mm"]')
    return led


def as_string(led: Led | Sequence[Led], argument: str = "led") -> LedString:
    """One LED or a sequence of them as a tuple; raises UnitError for anything else."""
    string = (led,) if isinstance(led, Led) else tuple(led) if isinstance(led, list | tuple) else ()
    if not string or not all(isinstance(each, Led) for each in string):
        odd = type(led).__name__ if not isinstance(led, list | tuple) else f"{len(led)} things that are not all LEDs"
        need = "an Led or a list of them in series"
        raise UnitError(argument=argument, need=need, given=odd, example='leds["bright red 3 mm"]')
    return string


def weakest_of(string: LedString) -> Led:
    """The LED of a string that may carry the least current."""
    return min(string, key=lambda led: led.si.max_current)


def shift_of(led: Led, spread: Any) -> Any:
    """How far the drop of a part is from the typical one, in V, for a spread from -1 to +1."""
    if isinstance(spread, int | float):
        return spread * (led.si.drop_below if spread < 0 else led.si.drop_above)
    return np.where(np.less(spread, 0), led.si.drop_below, led.si.drop_above) * spread


def triples(string: LedString, temperature: Any = None, spread: Any = 0.0) -> list[Triple]:
    """The exponential members as (saturation current, emission voltage, series resistance)."""
    return [
        each.model.triple(temperature, shift_of(each, spread)) for each in string if isinstance(each.model, Exponential)
    ]


def constant_drop(string: LedString, spread: Any = 0.0) -> Any:
    """The sum of the constant-drop members' drops in V."""
    fixed = (each for each in string if not isinstance(each.model, Exponential))
    return sum((each.model.si.forward_voltage + shift_of(each, spread) for each in fixed), 0.0)


def string_voltage(current: Any, string: LedString, temperature: Any = None, spread: Any = 0.0) -> Any:
    """The string's voltage in V at a forward current in A."""
    return sum(each.model.voltage_si(current, temperature, shift_of(each, spread)) for each in string)


def loop_current(supply: Any, resistance: Any, string: LedString, temperature: Any = None, spread: Any = 0.0) -> Any:
    """The current in A of a supply in V, a resistance in ohm and the string in one loop.

    With constant-drop members nothing flows while the supply is below their drops.
    Raises DesignError where only constant drops oppose the supply: the current then has no limit.
    """
    members = triples(string, temperature, spread)
    drop = constant_drop(string, spread)
    if len(members) == len(string):
        return diode.string_current(supply, resistance, members)
    left = np.maximum(supply - drop, 0.0)
    if members:
        return diode.string_current(left, resistance, members)
    if not np.all(np.greater(resistance, 0)):
        raise DesignError(
            "there is no resistance in the circuit and the LED has a constant drop: the current has no limit; "
            "add a resistor, or use an Exponential model to see the current of a bare LED"
        )
    return left / resistance


def refuse_runaway(current: Any) -> None:
    """DesignError for a current so large that nothing real would give it: no resistance holds it down."""
    if np.any(np.greater(current, _RUNAWAY)):
        raise DesignError(
            f"more than {_RUNAWAY:g} A would flow, which no source gives: nothing holds the current down; "
            "give the circuit or the LED model some resistance"
        )


def fed(supply: Any, drive: Drive, string: LedString, extra: Any = 0.0, temperature: Any = None) -> tuple[Any, Any]:
    """Current in A, and voltage in V across string and extra resistance in ohm, of a supply in V through a drive."""
    shared, limit = drive.series_resistance, drive.limit
    unlimited = loop_current(supply, shared + extra, string, temperature)
    current = np.minimum(unlimited, limit)
    across = supply - current * shared
    if isinstance(drive, ConstantCurrentDrive):
        # only a forward current has a voltage: asked for at the limit where it is not reached, and then left out
        held = np.where(unlimited > limit, current, limit)
        across = np.where(unlimited > limit, string_voltage(held, string, temperature) + held * extra, across)
    return current, across


# ---- what a lamp looks like: the words, with the limits between them

FULL, DIM, CLEARLY_DIM, FAINT, DARK = "full light", "a little dim", "clearly dim", "faint", "dark"
GRADES = (FULL, DIM, CLEARLY_DIM, FAINT, DARK)
# common practice, no source: a tenth less light beside a full lamp is not seen, a third less is seen at a glance; with
# a fifth a lamp no longer passes for one that is meant to be lit, and with a hundredth for one that is lit at all
UNSEEN, SEEN, FAINT_BELOW, OUT_BELOW = 0.9, 0.67, 0.2, 0.01

TOO_LITTLE, FEEBLE, NORMAL, BRIGHT, GLARING = "too little to see", "dim", "normal light", "bright", "glaring"
OVERLOADED, DEAD = "overloaded", "dead"
SHINING = (FEEBLE, NORMAL, BRIGHT, GLARING, OVERLOADED)
# in cd, our choice, no source: seen in a lit room from where people look at a layout, where a few mcd are usual
_LIGHTS = ((1.0, GLARING), (0.02, BRIGHT), (1e-3, NORMAL), (5e-5, FEEBLE), (0.0, TOO_LITTLE))
_SEEMS_BRIGHT, _MOST_GLOW = 0.03, 1.6  # cd of the lamp whose glow is 1; a larger glow would hide the drawing
_USUAL = 0.01  # cd, at half its most current, of an LED of which no light is known; our choice, no source
DEAD_ABOVE = 3.0  # times the most current: beyond what sheets allow in short pulses; common practice, no source


def brightness_word(share: float, current: float) -> str:
    """What a lamp with that share of its light looks like beside a full one; `current` in A, for one that is dark."""
    if current <= LIT_FROM:
        return DARK
    limits = ((UNSEEN, FULL), (SEEN, DIM), (FAINT_BELOW, CLEARLY_DIM), (OUT_BELOW, FAINT))
    return next((word for least, word in limits if share >= least), DARK)


def _light(led: Led, current: float) -> float:
    """The luminous intensity in cd that a lamp within its rating gives."""
    return 2 * _USUAL * current / led.si.max_current if led.intensity is None else float(led.light_si(current))


def lamp_look(led: Led, current: float) -> str:
    """What a lamp looks like with a current in A through it: one of SHINING, or DARK, TOO_LITTLE or DEAD."""
    most = led.si.max_current
    if current <= LIT_FROM:
        return DARK
    if current > most:
        return DEAD if current > DEAD_ABOVE * most else OVERLOADED
    light = _light(led, current)
    return next(word for least, word in _LIGHTS if light >= least)


def lamp_glow(led: Led, current: float) -> float:
    """How bright a lamp seems with a current in A through it: 0 dark or dead, 1 as a bright lamp does, 1.6 at the most.

    The square root of its light: small sources seem about so much brighter (Stevens' power law, exponent 0.5 for a
    point source; from memory).
    """
    if lamp_look(led, current) not in SHINING:
        return 0.0
    return min(math.sqrt(_light(led, current) / _SEEMS_BRIGHT), _MOST_GLOW)


def shines(led: Led, current: float) -> bool:
    """Whether a lamp with a current in A through it gives light to be seen: neither dark nor dead."""
    return lamp_look(led, current) in SHINING
