"""The two-lead pair, a red and a green LED back to back on two wires: is it safe, and what do mistakes show.

The direction of the current chooses the lamp. Both branches join the same two points, so that the dark lamp has
across it, in reverse, all the voltage of the lit one's branch.
"""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np

from ...errors import DesignError, RangeError, UnitError
from ...parts.drive import ConstantCurrentDrive, Drive, as_drive, as_one_drive
from ...parts.led import LIT_FROM, Exponential, Led, diodes
from ...parts.table import need_name
from ...physics.circuit import Branch, port_voltage
from ...physics.domain import together
from ...units import Current, Power, Q, Resistance, SupplyVoltage, Temperature, Voltage, record, say, with_units
from ...units.plain import need_made
from ...units.quantity import numbers
from ...units.reading import quoted
from ..findings import FINE, LOOK, STOP, Finding, check_rating
from ..lamp.drive import OUT_BELOW, LedString, fed, refuse_runaway, string_voltage, triples

LAMPS = ("red", "green")
_SIGNS = {"red": +1, "green": -1}
_OTHER = {"red": "green", "green": "red"}
DIVIDING = "LEDs with an Exponential model: constant drops do not say how a current divides"
_SHORT = 0.05  # ohm: a solder bridge or a burnt-through LED; any small figure gives the same answer
_HELD = 0.999  # of its current: below that a driver has dropped out
_UNREAD = 0.02  # V; a hobby meter on its 20 V range shows 0.01 V at best
_NOTHING = 1e-6  # A: no hobby meter shows less


@record
class PairPoint:
    """The two-lead pair at one polarity (scalars, or arrays of the broadcast shape).

    Magnitudes are positive; `led_voltage` and `led_power` mean the lamp that the polarity
    calls for. `extra_voltage` and `extra_power` are those of the extra resistor, and of
    the series diode where there is one, in that lamp's branch. `reverse_voltage` is
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
    """Red and green LED back to back on two wires, each with an optional resistor of its own in its branch.

    `extra_red` and `extra_green` sit inside the branch, in series with that LED alone.
    `series_diode` (see `diodes`) is one plain diode in series with each LED, pointing the
    same way: it blocks the reverse current where the voltage is more than a dark LED is rated for.
    """

    red: Led
    green: Led
    extra_red: Resistance = "0 ohm"
    extra_green: Resistance = "0 ohm"
    series_diode: Led | None = None

    def branch(self, lamp: str) -> tuple[LedString, float]:
        """The string (LED, and diode where there is one) and the extra ohms of the "red" or "green" branch."""
        need_name(lamp, "lamp", LAMPS)
        diode = () if self.series_diode is None else (self.series_diode,)
        return (getattr(self, lamp), *diode), getattr(self.si, f"extra_{lamp}")

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

        Both branches are solved together (`physics.circuit`), the dark one's leakage included, where all LEDs have an
        Exponential model. Raises RangeError for a polarity that is neither, and for a negative supply; DesignError
        where nothing limits the current.
        """
        if np.any(np.less(supply, 0)):
            least = say(np.min(supply), "V")
            raise RangeError(argument="supply", need="0 V or more", given=least, advice="reverse it with polarity=-1")
        sign = _polarity(polarity)
        points = [_operate_lamp(self, lamp, supply, as_drive(drive), temperature) for lamp in LAMPS]
        together(polarity=sign, supply_and_drive=np.asarray(points[0]["current"]))
        chosen = {name: np.where(sign > 0, points[0][name], points[1][name]) for name in points[0]}
        si = {name: each if each.ndim else float(each) for name, each in chosen.items()}
        lit = np.where(si["current"] > LIT_FROM, np.where(sign > 0, "red", "green"), "none")
        return PairPoint.of(**si, lit=lit if lit.ndim else str(lit), polarity=polarity, pair=self, drive=drive)


def lit_of(currents: dict[str, float]) -> str:
    """Which lamps light with these currents in A through them: "red", "green", "both" or "none"."""
    lit = [lamp for lamp, current in currents.items() if current > LIT_FROM]
    return "both" if len(lit) == 2 else lit[0] if lit else "none"


def as_pair(pair: Any) -> TwoLeadPair:
    """The pair itself, or UnitError where it is none."""
    return need_made(pair, "pair", TwoLeadPair)


def _polarity(polarity: Any) -> np.ndarray:
    try:
        sign = np.asarray(numbers(None if hasattr(polarity, "units") else polarity, "polarity"))
    except UnitError:
        sign = np.zeros(1)
    if not np.all(np.abs(sign) == 1):
        need, why = "+1 (red) or -1 (green)", "without current neither lamp lights"
        raise RangeError(argument="polarity", need=need, given=quoted(polarity), advice=why)
    return sign


def _operate_lamp(pair: TwoLeadPair, lamp: str, supply: Any, drive: Drive, temperature: Any) -> dict[str, Any]:
    """The SI figures with `lamp` in the forward direction."""
    (string, extra), (other, other_extra) = pair.branch(lamp), pair.branch(_OTHER[lamp])
    if all(isinstance(each.model, Exponential) for each in (*string, *other)):
        against = Branch(-1, other_extra, triples(other, temperature))
        branches = [Branch(+1, extra, triples(string, temperature)), against]
        across, (current, _) = port_voltage(supply, drive.series_resistance, branches, drive.limit)
    else:
        current, across = fed(supply, drive, string, extra, temperature)
    refuse_runaway(current)
    others = current * extra + (string_voltage(current, string[1:], temperature) if string[1:] else 0.0)
    volts = {"led": across - others, "drive": supply - across, "extra": others}
    point = {f"{part}_voltage": each for part, each in volts.items()}
    point |= {f"{part}_power": current * each for part, each in volts.items()}
    return {"current": current, "reverse_voltage": across, **point}


@record
class PairStudy:
    """The pair at both polarities: `red` is the point at +1 and `green` the point at -1."""

    red: PairPoint
    green: PairPoint

    def point(self, lamp: str) -> PairPoint:
        """The point at which the "red" or the "green" lamp is called for."""
        return getattr(self, lamp)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What the limits of both lamps say: each lamp lit and dark."""
        found = []
        for lamp in LAMPS:
            point = self.point(lamp)
            found += self._lit(lamp), reverse_finding(point.pair, _OTHER[lamp], point.si.reverse_voltage)
        return (*found, *self._idle_branch_resistance())

    def _lit(self, lamp: str) -> Finding:
        point, topic = self.point(lamp), f"{lamp} lamp"
        led, current = getattr(point.pair, lamp).si, point.si.current
        what, remedy = f"The current through the {topic}", "Use a larger resistor."
        found = check_rating(what, current, led.max_current, remedy, unit="A", topic=topic)
        if found.grade == FINE and led.max_power is not None:
            heat = f"The heat in the {topic}"
            hot = check_rating(heat, point.si.led_power, led.max_power, remedy, unit="W", topic=topic)
            found = found if hot.grade == FINE else hot
        if found.grade == FINE and current <= LIT_FROM:
            little = f"Only {say(current, 'A')} flows" if current > _NOTHING else "Next to no current flows"
            reason = f"{little}: the supply is too low for the drop of the {topic}."
            return Finding(STOP, topic, reason, "Use a higher supply voltage.")
        return found

    def _idle_branch_resistance(self) -> tuple[Finding, ...]:
        pair, drive = self.red.pair, self.red.drive
        if not isinstance(drive, ConstantCurrentDrive) or not (pair.si.extra_red or pair.si.extra_green):
            return ()
        limit = say(drive.limit, "A")
        useless = "an extra resistor changes no brightness until the driver drops out, and only uses up voltage"
        reason = f"The driver holds {limit} whatever is in the branch: {useless}."
        remedy = "Use two drivers, one for each colour, if the colours need different currents."
        dropped = [lamp for lamp in LAMPS if self.point(lamp).si.current < _HELD * drive.limit]
        if dropped:
            said = " and ".join(f"{each} gets {say(self.point(each).si.current, 'A')}" for each in dropped)
            reason = f"The extra resistor leaves the driver too little voltage to hold its {limit}: {said}."
            remedy = "Remove it, or use a higher supply voltage."
        return (Finding(LOOK, "extra resistor", reason, remedy),)


def reverse_finding(pair: TwoLeadPair, lamp: str, across: float) -> Finding:
    """The voltage in V across a lamp's branch while it is dark, against what it is rated for in reverse."""
    topic, limit, diode = f"dark {lamp} lamp", getattr(pair, lamp).si.max_reverse_voltage, pair.series_diode
    share = "Share one resistor between both lamps with less resistance inside the branches"
    remedy, what = f"{share}, or put a plain diode in series with each LED.", f"The reverse voltage on the {topic}"
    found = check_rating(what, across, limit, remedy, unit="V", topic=topic)
    if found.grade == FINE:
        return found
    if diode is not None and across <= diode.si.max_reverse_voltage:
        blocks = "The series diode blocks it and lets only its own small leakage through; the diode's limit is"
        return Finding(FINE, topic, f"{found.reason} {blocks} {say(diode.si.max_reverse_voltage, 'V')}.")
    worse = "Breakdown is not modelled: the lamp may die slowly or at once."
    return dataclasses.replace(found, reason=f"{found.reason} {worse}")


@with_units(scalar=True)
def study_pair(supply: SupplyVoltage, drive: Drive, pair: TwoLeadPair) -> PairStudy:
    """The pair on one supply through a shared drive, at both polarities; raises as `TwoLeadPair.operate` does."""
    volts, drive = Q(supply, "V"), as_one_drive(drive)
    return PairStudy(**{lamp: as_pair(pair).operate(volts, drive, sign) for lamp, sign in _SIGNS.items()})


def with_series_diodes(pair: TwoLeadPair, diode: Led | None = None) -> TwoLeadPair:
    """The pair with a plain diode in series with each LED (1N4148 if none is given): the remedy for reverse voltage."""
    return dataclasses.replace(as_pair(pair), series_diode=diodes["1n4148"] if diode is None else diode)


FAULTS = {
    "none": "as it should be",
    "both the same way round": "both LEDs point the same way: at one polarity both light, or the one with the lower "
    "drop alone; at the other neither",
    "red open": "the red LED's branch is broken",
    "green open": "the green LED's branch is broken",
    "red shorted": "the red LED is bridged or burnt through",
    "green shorted": "the green LED is bridged or burnt through",
}
"""Soldering mistakes by name, "none" among them, and what each means."""


@record
class FaultyPoint:
    """What a pair with a mistake shows at one polarity; `lit` is "red", "green", "both" or "none"."""

    polarity: int
    red_current: Current
    green_current: Current
    pair_voltage: Voltage
    lit: str

    @property
    def sentence(self) -> str:
        """What is seen, and what a meter shows between the two wires."""
        (less, weak), (more, strong) = sorted((vars(self.si)[f"{lamp}_current"], lamp) for lamp in LAMPS)
        seen = "dark" if self.lit == "none" else self.lit
        if self.lit == "both" and less < OUT_BELOW * more:
            seen = f"{strong}, {weak} all but dark"
        volts = abs(self.si.pair_voltage)
        return f"{seen}; meter: {say(volts, 'V', 2) if volts > _UNREAD else 'next to nothing'}"


@with_units(scalar=True)
def solder_fault(supply: SupplyVoltage, drive: Drive, pair: TwoLeadPair, fault: str) -> tuple[FaultyPoint, FaultyPoint]:
    """What the pair shows at polarity +1 and at -1 with one of `FAULTS` in it.

    Lamp currents count as 0 A in reverse and through a short. Raises UnknownNameError for
    a fault of another name, RangeError for a negative supply, DesignError where an LED has
    a constant drop (two such drops side by side do not say how the current divides).
    """
    need_name(fault, "fault", FAULTS)
    if supply < 0:
        given = say(supply, "V")
        raise RangeError(argument="supply", need="0 V or more", given=given, advice="both directions are looked at")
    if not all(isinstance(each.model, Exponential) for lamp in LAMPS for each in as_pair(pair).branch(lamp)[0]):
        raise DesignError(f"solder_fault needs {DIVIDING}")
    if not as_one_drive(drive).series_resistance > 0:
        raise DesignError('solder_fault needs a drive with resistance; give the shared resistor, such as "470 ohm"')
    branches = {}
    for lamp, sign in _SIGNS.items():
        string, extra = pair.branch(lamp)
        if fault == f"{lamp} shorted":
            branches[lamp] = Branch(sign, extra + _SHORT, triples(string[1:]))
        elif fault != f"{lamp} open":
            branches[lamp] = Branch(+1 if fault.startswith("both") else sign, extra, triples(string))
    shorted = fault.removesuffix(" shorted")
    points = []
    for polarity in (+1, -1):
        node, found = port_voltage(polarity * supply, drive.series_resistance, list(branches.values()), drive.limit)
        through = {lamp: max(float(each), 0.0) for lamp, each in zip(branches, found, strict=True) if lamp != shorted}
        currents = {f"{lamp}_current": through.get(lamp, 0.0) for lamp in LAMPS}
        points.append(FaultyPoint.of(polarity=polarity, pair_voltage=float(node), lit=lit_of(through), **currents))
    return tuple(points)
