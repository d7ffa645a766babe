"""The two-lead pair: a red and a green LED soldered head to tail on two wires."""

from __future__ import annotations

from typing import Any

import numpy as np

from ...errors import DesignError, RangeError, UnitError, UnknownNameError
from ...parts.drive import Drive, as_drive
from ...parts.led import LIT_FROM, Exponential, Led
from ...parts.table import unknown
from ...physics import branches
from ...physics.domain import together
from ...units import Current, Power, Resistance, SupplyVoltage, Temperature, Voltage, record, say, with_units
from ...units.quantity import numbers
from ...units.reading import quoted
from ..lamp.drive import LedString, fed, refuse_runaway, string_voltage, triples

_LAMPS = ("red", "green")


@record
class PairPoint:
    """The two-lead pair at one polarity (scalars, or arrays of the broadcast shape).

    Magnitudes are positive; `led_voltage` and `led_power` mean the lamp that the polarity
    calls for. `extra_voltage` and `extra_power` are those of the extra resistor, and of
    the series diode where there is one, in that lamp's branch. `reverse_voltage` lies
    across the dark branch: across the dark LED alone where no diode shares it.
    """

    current: Current
    led_voltage: Voltage
    drive_voltage: Voltage
    extra_voltage: Voltage
    reverse_voltage: Voltage
    led_power: Power
    drive_power: Power
    extra_power: Power
    lit: Any
    polarity: Any
    pair: Any
    drive: Drive


@record
class TwoLeadPair:
    """Red and green LED head to tail on two wires, each with an optional resistor of its own in its branch.

    `extra_red` and `extra_green` sit inside the branch, in series with that LED alone.
    `series_diode` (see `diodes`) is one plain diode in series with each LED, pointing the
    same way: it blocks the reverse current that a dark LED does not stand.
    """

    red: Led
    green: Led
    extra_red: Resistance = "0 ohm"
    extra_green: Resistance = "0 ohm"
    series_diode: Led | None = None

    def __post_init__(self) -> None:
        for name in ("red", "green", "series_diode"):
            part = getattr(self, name)
            if not isinstance(part, Led) and not (name == "series_diode" and part is None):
                raise UnitError(f'{name} needs an Led, but {type(part).__name__} came; try leds["green gap 3 mm"]')

    def branch(self, lamp: str) -> tuple[LedString, float]:
        """The string (LED, and diode where there is one) and the extra ohms of the "red" or "green" branch."""
        if not isinstance(lamp, str) or lamp not in _LAMPS:
            raise UnknownNameError(unknown("lamp", lamp, _LAMPS))
        diode = () if self.series_diode is None else (self.series_diode,)
        return ((self.red if lamp == "red" else self.green), *diode), getattr(self.si, f"extra_{lamp}")

    @with_units
    def operate(
        self, supply: SupplyVoltage, drive: Drive, polarity: Any, temperature: Temperature | None = None
    ) -> PairPoint:
        """What the pair does on a supply, through a drive shared by both lamps, at a polarity.

        Parameters
        ----------
        supply: its magnitude, one or an array
        drive: ResistorDrive (0 ohm where each branch has its own resistor) or ConstantCurrentDrive
        polarity: +1 lights red, -1 green; an array of them broadcasts with the rest

        Raises RangeError for a polarity that is neither, and for a negative supply.
        """
        if np.any(np.less(supply, 0)):
            raise RangeError(
                f"supply needs to be 0 V or more, but {say(np.min(supply), 'V')} came; turn it round with polarity=-1"
            )
        sign = _polarity(polarity)
        points = [_operate_lamp(self, lamp, supply, as_drive(drive), temperature) for lamp in ("red", "green")]
        together(polarity=sign, supply_and_drive=np.asarray(points[0]["current"]))
        si = {name: _plain(np.where(sign > 0, points[0][name], points[1][name])) for name in points[0]}
        lit = np.where(si["current"] > LIT_FROM, np.where(sign > 0, "red", "green"), "none")
        return PairPoint.of(**si, lit=lit if lit.ndim else str(lit), polarity=polarity, pair=self, drive=drive)


def _plain(values: np.ndarray) -> Any:
    return values if values.ndim else float(values)


def as_pair(pair: Any) -> TwoLeadPair:
    """The pair itself, or UnitError where it is none."""
    if not isinstance(pair, TwoLeadPair):
        raise UnitError(f"pair needs a TwoLeadPair, but {type(pair).__name__} came; write pair=TwoLeadPair(red, green)")
    return pair


def _polarity(polarity: Any) -> np.ndarray:
    try:
        sign = np.asarray(numbers(None if hasattr(polarity, "units") else polarity, "polarity"))
    except UnitError:
        sign = np.zeros(1)
    if not np.all(np.abs(sign) == 1):
        raise RangeError(
            f"polarity needs to be +1 (red) or -1 (green), but {quoted(polarity)} came; "
            "without current neither lamp lights"
        )
    return sign


def _operate_lamp(pair: TwoLeadPair, lamp: str, supply: Any, drive: Drive, temperature: Any) -> dict[str, Any]:
    """The SI figures with `lamp` in the forward direction."""
    string, extra = pair.branch(lamp)
    other, other_extra = pair.branch("green" if lamp == "red" else "red")
    shared = drive.series_resistance
    if np.any(np.equal(shared + extra, 0)) and not all(isinstance(each.model, Exponential) for each in string):
        raise DesignError(
            f"the {lamp} lamp has no resistance in its circuit and a constant drop: the current has no limit; "
            "add a resistor, or use an Exponential model to see what a bare LED takes"
        )
    current, across = _lit_and_across(supply, drive, (string, extra), (other, other_extra), temperature)
    refuse_runaway(current)
    others = current * extra + (string_voltage(current, string[1:], temperature) if string[1:] else 0.0)
    led_voltage = across - others
    drive_voltage = supply - across
    return {
        "current": current,
        "led_voltage": led_voltage,
        "drive_voltage": drive_voltage,
        "extra_voltage": others,
        "reverse_voltage": across,
        "led_power": current * led_voltage,
        "drive_power": current * drive_voltage,
        "extra_power": current * others,
    }


def _lit_and_across(supply: Any, drive: Drive, lit: Any, dark: Any, temperature: Any) -> tuple[Any, Any]:
    """The lit branch's current and the voltage across the pair, the dark branch's leakage included where it has one."""
    shared = drive.series_resistance
    (string, extra), (other, other_extra) = lit, dark
    exponential = all(isinstance(each.model, Exponential) for each in (*string, *other))
    if exponential and np.all(np.greater(shared, 0)):
        network = [(+1, extra, triples(string, temperature)), (-1, other_extra, triples(other, temperature))]
        across, currents = branches.branch_currents(supply, shared, network, drive.limit)
        return currents[0], across
    return fed(supply, drive, string, extra, temperature)
