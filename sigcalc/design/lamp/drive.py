"""What flows, and where the voltage and the heat go, when a supply feeds LEDs through a drive."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from ...errors import RangeError
from ...parts.drive import ConstantCurrentDrive, Drive, as_drive
from ...parts.led import LIT_FROM, Led
from ...units import Current, Power, SupplyVoltage, Temperature, Voltage, record, say, with_units
from ..findings import FINE, LOOK, STOP, Finding
from .led_string import LedString, as_string, fed, refuse_runaway


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
        most = min(led.si.max_current for led in self.string)
        words = np.where(self.si.current > most, "destroyed", np.where(self.si.current > LIT_FROM, "lit", "dark"))
        return words if words.ndim else str(words)


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
    drive_voltage = supply - led_voltage
    point = (current, led_voltage, drive_voltage, current * led_voltage, current * drive_voltage)
    names = ("current", "led_voltage", "drive_voltage", "led_power", "drive_power")
    plain = (each if np.ndim(each) else float(each) for each in point)
    return OperatingPoint.of(**dict(zip(names, plain, strict=True)), string=string, drive=drive)


def findings(point: OperatingPoint) -> list[Finding]:
    """What the limits of the parts say to one operating point (not an array of them)."""
    if np.ndim(point.si.current):
        raise RangeError(
            "findings needs one operating point, but an array of them came; operate on a single supply voltage"
        )
    checks = (_overload(point), _heat(point), _reverse(point), _dark(point), _dropped_out(point))
    return [each for each in checks if each is not None] or [
        Finding(FINE, "limits", f"{say(point.si.current, 'A')} is within the limits of every LED in the circuit.")
    ]


def _overload(point: OperatingPoint) -> Finding | None:
    led = min(point.string, key=lambda each: each.si.max_current)
    if point.si.current <= led.si.max_current:
        return None
    reason = f"{say(point.si.current, 'A')} is more than the {say(led.si.max_current, 'A')} that the {led.name} stands."
    return Finding(STOP, "LED current", reason, "Use a larger resistance or a lower supply.")


def _heat(point: OperatingPoint) -> Finding | None:
    for led in point.string:
        if led.si.max_power is not None:
            power = point.si.current * led.model.voltage_si(max(point.si.current, 0.0))
            if power > led.si.max_power:
                reason = f"The {led.name} turns {say(power, 'W')} into heat and stands {say(led.si.max_power, 'W')}."
                return Finding(STOP, "LED power", reason, "Use a larger resistance.")
    return None


def _reverse(point: OperatingPoint) -> Finding | None:
    across = -point.si.led_voltage
    stands = sum(led.si.max_reverse_voltage for led in point.string)
    if across <= stands:
        return None
    reason = (
        f"{say(across, 'V')} lies across the LED in reverse, beyond its rating of {say(stands, 'V')}; "
        "breakdown is not modelled."
    )
    return Finding(STOP, "reverse voltage", reason, "Turn the LED round, or put a plain diode in series.")


def _dark(point: OperatingPoint) -> Finding | None:
    if point.si.current >= LIT_FROM or point.si.led_voltage < 0:
        return None
    reason = (
        f"Only {say(point.si.current, 'A')} flows: the supply is too low for the LED's drop, and nothing is to be seen."
    )
    return Finding(LOOK, "dark", reason, "Use a higher supply voltage or fewer LEDs in series.")


def _dropped_out(point: OperatingPoint) -> Finding | None:
    drive = point.drive
    if not isinstance(drive, ConstantCurrentDrive) or point.si.current >= drive.limit * (1 - 1e-9):
        return None
    reason = (
        f"The driver is left {say(point.si.drive_voltage, 'V')} and needs {say(drive.si.dropout, 'V')}: it gives "
        f"{say(point.si.current, 'A')} in place of {say(drive.limit, 'A')}, and the light follows the supply."
    )
    return Finding(LOOK, "drop-out", reason, "Use a higher supply voltage or fewer LEDs in series.")
