"""Is the two-lead pair safe and right: both polarities, the dark lamp's reverse voltage, and soldering mistakes."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np

from ...errors import DesignError, RangeError, UnknownNameError
from ...parts.drive import ConstantCurrentDrive, Drive, as_one_drive
from ...parts.led import LIT_FROM, Exponential, Led, diodes
from ...parts.table import unknown
from ...physics import branches
from ...units import Current, Q, SupplyVoltage, Voltage, record, say, with_units
from ..findings import DAMAGE, FINE, LOOK, STOP, Finding
from ..lamp.drive import triples
from .two_lead_pair import PairPoint, TwoLeadPair, as_pair

LAMPS = ("red", "green")
_SHORT = 0.05  # ohm: a solder bridge or a burnt-through LED; any small figure gives the same answer
_HELD = 0.999  # of its current: below that a driver has dropped out
_NOTHING = 1e-9  # A; a figure for less than a nanoampere tells nobody anything


@record
class PairStudy:
    """The pair at both polarities: `red` is the point at +1 and `green` the point at -1."""

    red: PairPoint
    green: PairPoint

    def point(self, lamp: str) -> PairPoint:
        """The point at which the "red" or the "green" lamp is called for."""
        return getattr(self, lamp)


@with_units(scalar=True)
def study_pair(supply: SupplyVoltage, drive: Drive, pair: TwoLeadPair) -> PairStudy:
    """The pair on one supply through a shared drive, at both polarities; raises as `TwoLeadPair.operate` does."""
    volts, drive = Q(supply, "V"), as_one_drive(drive)
    return PairStudy(red=as_pair(pair).operate(volts, drive, +1), green=pair.operate(volts, drive, -1))


def with_series_diodes(pair: TwoLeadPair, diode: Led | None = None) -> TwoLeadPair:
    """The pair with a plain diode in series with each LED (1N4148 if none is given): the remedy for reverse voltage."""
    return dataclasses.replace(as_pair(pair), series_diode=diodes["1n4148"] if diode is None else diode)


def findings(study: PairStudy) -> list[Finding]:
    """What the limits of both lamps say: each lamp lit and dark."""
    found: list[Finding] = []
    for lamp in LAMPS:
        point = study.point(lamp)
        found += [_lit(lamp, point), _dark(lamp, point)]
    return [each for each in (*found, _idle_branch_resistance(study)) if each is not None]


def _lit(lamp: str, point: PairPoint) -> Finding:
    led: Led = getattr(point.pair, lamp)
    current, topic, rated = point.si.current, f"{lamp} lamp", say(led.si.max_current, "A")
    if current > led.si.max_current:
        reason = f"{say(current, 'A')} flows through the {topic}, and the {led.name} stands {rated}."
        return Finding(STOP, topic, reason, "Use a larger resistor.", DAMAGE)
    if led.si.max_power is not None and point.si.led_power > led.si.max_power:
        heat, most = say(point.si.led_power, "W"), say(led.si.max_power, "W")
        reason = f"The {topic} turns {heat} into heat and stands {most}."
        return Finding(STOP, topic, reason, "Use a larger resistor.", DAMAGE)
    if current <= LIT_FROM:
        little = f"Only {say(current, 'A')} flows" if current > _NOTHING else "Next to no current flows"
        reason = f"{little}: the supply is too low for the drop of the {topic}."
        return Finding(STOP, topic, reason, "Use a higher supply voltage.")
    return Finding(FINE, topic, f"The {topic} is lit with {say(current, 'A')} of the {rated} it stands.")


def _dark(lamp: str, point: PairPoint) -> Finding:
    """The lamp that is dark while `lamp` is lit."""
    other = "green" if lamp == "red" else "red"
    led: Led = getattr(point.pair, other)
    topic, across, rated = (
        f"dark {other} lamp",
        say(point.si.reverse_voltage, "V"),
        say(led.si.max_reverse_voltage, "V"),
    )
    meanwhile = "" if point.lit == "none" else f" while {lamp} is lit,"
    sees = f"The {topic} sees {across} in reverse{meanwhile} and stands"
    if point.si.reverse_voltage <= led.si.max_reverse_voltage:
        return Finding(FINE, topic, f"{sees} {rated}.")
    diode = point.pair.series_diode
    if diode is not None and point.si.reverse_voltage <= diode.si.max_reverse_voltage:
        return Finding(
            FINE,
            topic,
            f"{across} lies across the branch of the {topic} in reverse, beyond the LED's {rated}, "
            "but the series diode blocks it and lets only its own small leakage through "
            f"(it stands {say(diode.si.max_reverse_voltage, 'V')}).",
        )
    return Finding(
        STOP,
        topic,
        f"{sees} only {rated}; breakdown is not modelled, and the lamp may die slowly or at once.",
        "Share one resistor between both lamps with less resistance inside the branches, "
        "or put a plain diode in series with each LED.",
        DAMAGE,
    )


def _idle_branch_resistance(study: PairStudy) -> Finding | None:
    pair, drive = study.red.pair, study.red.drive
    if not isinstance(drive, ConstantCurrentDrive) or not (pair.si.extra_red or pair.si.extra_green):
        return None
    dropped = [lamp for lamp in LAMPS if study.point(lamp).si.current < _HELD * drive.limit]
    if dropped:
        said = " and ".join(f"{each} gets {say(study.point(each).si.current, 'A')}" for each in dropped)
        reason = f"The extra resistor leaves the driver too little voltage to hold its {say(drive.limit, 'A')}: {said}."
        return Finding(LOOK, "extra resistor", reason, "Take it out, or use a higher supply voltage.")
    return Finding(
        LOOK,
        "extra resistor",
        f"The driver holds {say(drive.limit, 'A')} whatever stands in the branch: an extra resistor changes no "
        "brightness until the driver drops out, and only uses up voltage.",
        "Use two drivers, one for each colour, if the colours need different currents.",
    )


FAULTS = {
    "both the same way round": "both LEDs point the same way: at one polarity both light, or the one with the lower "
    "drop alone; at the other neither",
    "red open": "the red LED's branch is broken",
    "green open": "the green LED's branch is broken",
    "red shorted": "the red LED is bridged or burnt through",
    "green shorted": "the green LED is bridged or burnt through",
}
"""Soldering mistakes, by name, and what each means."""


@record
class FaultyPoint:
    """What a pair with a mistake shows at one polarity; `lit` is "red", "green", "both" or "none"."""

    polarity: int
    red_current: Current
    green_current: Current
    pair_voltage: Voltage
    lit: str


@with_units(scalar=True)
def solder_fault(supply: SupplyVoltage, drive: Drive, pair: TwoLeadPair, fault: str) -> tuple[FaultyPoint, FaultyPoint]:
    """What the pair shows at polarity +1 and at -1 with one of `FAULTS` in it.

    Lamp currents count as 0 A in reverse and through a short. Raises UnknownNameError for
    a fault of another name, RangeError for a negative supply, DesignError where an LED has
    a constant drop (two such drops side by side do not say how the current divides).
    """
    if not isinstance(fault, str) or fault not in FAULTS:
        raise UnknownNameError(unknown("fault", fault, FAULTS))
    if supply < 0:
        raise RangeError(f"supply needs to be 0 V or more, but {say(supply, 'V')} came; both directions are looked at")
    if not all(isinstance(each.model, Exponential) for lamp in LAMPS for each in as_pair(pair).branch(lamp)[0]):
        raise DesignError(
            "solder_fault needs LEDs with an Exponential model: constant drops do not say how a current divides"
        )
    if not as_one_drive(drive).series_resistance > 0:
        raise DesignError(
            'solder_fault needs a drive with some resistance; give the shared resistor, such as "470 ohm"'
        )
    return tuple(_faulty(supply, drive, pair, fault, polarity) for polarity in (+1, -1))


def _faulty(supply: float, drive: Drive, pair: TwoLeadPair, fault: str, polarity: int) -> FaultyPoint:
    network: dict[str, Any] = {}
    for lamp, sign in (("red", +1), ("green", -1)):
        string, extra = pair.branch(lamp)
        if fault == f"{lamp} open":
            continue
        if fault == f"{lamp} shorted":
            network[lamp] = (sign, extra + _SHORT, triples(string[1:]))
        else:
            network[lamp] = (+1 if fault.startswith("both") else sign, extra, triples(string))
    node, currents = branches.branch_currents(
        polarity * supply, drive.series_resistance, list(network.values()), drive.limit
    )
    through = dict(zip(network, np.atleast_1d(currents), strict=True))
    shorted = fault.split()[0] if fault.endswith("shorted") else ""
    lamp_current = {lamp: 0.0 if lamp == shorted else max(float(through.get(lamp, 0.0)), 0.0) for lamp in LAMPS}
    lit = [lamp for lamp in LAMPS if lamp_current[lamp] > LIT_FROM]
    return FaultyPoint.of(
        polarity=polarity,
        red_current=lamp_current["red"],
        green_current=lamp_current["green"],
        pair_voltage=float(node),
        lit="both" if len(lit) == 2 else lit[0] if lit else "none",
    )
