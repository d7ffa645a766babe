"""Several lamps behind one constant-current driver: it holds the sum, and the lamps divide it among themselves."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from ...errors import DesignError, RangeError, UnitError
from ...parts.drive import ConstantCurrentDrive, as_one_drive
from ...parts.led import Exponential
from ...physics.circuit import Branch, port_voltage
from ...units import Current, Resistance, SupplyVoltage, Voltage, kind_of, record, say, with_units
from ..findings import FINE, LOOK, STOP, Finding
from ..lamp.drive import LedString, as_string, triples, weakest_of
from .two_lead_pair import DIVIDING

_NEAR = 0.1  # of the wanted current


@record
class SharedLimiter:
    """Branches under one limiter: the current wanted for each and what it gets.

    `current` and `wanted` have one figure for each branch. `together` says whether all are
    lit at once; if not, each is lit in its turn, as by a reversing switch.
    `node_voltage` is what the driver leaves to the branches, one for each turn.
    """

    current: Current
    wanted: Current
    node_voltage: Voltage
    together: bool
    drive: ConstantCurrentDrive
    branches: tuple[LedString, ...]
    __arrays__ = True

    @property
    def findings(self) -> tuple[Finding, ...]:
        """For each branch what it gets against what it needs, and what would give each its own."""
        found = []
        for string, current, wanted in zip(self.branches, self.si.current, self.si.wanted, strict=True):
            limit, name = weakest_of(string).si.max_current, string[0].name
            reason = f"The {string[0].colour} lamp gets {say(current, 'A')} where {say(wanted, 'A')} was wanted"
            met = FINE if abs(current - wanted) <= _NEAR * wanted else LOOK
            found.append(Finding(met, name, f"{reason}."))
            if current > limit:
                said = f"{reason}; the limit of the {name} is {say(limit, 'A')}."
                found[-1] = Finding(STOP, name, said, "Give it a driver of its own.")
        if any(each.grade != FINE for each in found):
            remedy = "Give each branch a driver or a resistor of its own."
            found.append(Finding(LOOK, "one driver for both", self._why(), remedy))
        return tuple(found)

    def _why(self) -> str:
        limit = say(self.drive.limit, "A")
        if self.together:
            divides = (
                "how it divides is left to the branches, and most of it flows through the one with the lowest drop"
            )
            return f"The driver holds the sum at {limit} at most; {divides}."
        then = "a resistor in the branch changes nothing until the driver drops out"
        lacking = [
            string[0].colour
            for string, current in zip(self.branches, self.si.current, strict=True)
            if current < 0.99 * self.drive.limit
        ]
        if lacking:
            then = f"the {' and the '.join(lacking)} branch leaves too little voltage for it, so less flows there"
        return f"The driver gives up to {limit} to the branch that is lit, whatever was wanted for it; {then}."


@with_units(scalar=True)
def share_limiter(
    supply: SupplyVoltage,
    drive: ConstantCurrentDrive,
    branches: Sequence[tuple[Any, Any, Any]],
    together: bool = True,
) -> SharedLimiter:
    """What branches get that want different currents from one constant-current driver.

    Parameters
    ----------
    supply: above 0 V
    drive: the one driver
    branches: for each (LEDs, wanted current, resistance of its own); "0 ohm" for none
    together: whether all are lit at once, or one after the other

    Together the LEDs' curves and resistances divide what the driver passes (Kirchhoff's
    current law, `physics.circuit`); in turn each gets all of it. Raises DesignError for
    LEDs with a constant drop, which do not say how a current divides.
    """
    if not isinstance(as_one_drive(drive), ConstantCurrentDrive):
        why = "a resistor sets no limit"
        raise UnitError(argument="drive", need="a ConstantCurrentDrive", given="a resistor", advice=why)
    if not supply > 0:
        raise RangeError(argument="supply", need="more than 0 V", given=say(supply, "V"), advice="reverse it")
    strings, wanted, ohms = _read(branches)
    network = [Branch(+1, own, triples(string)) for string, own in zip(strings, ohms, strict=True)]
    turns = [network] if together else [[each] for each in network]
    solved = [port_voltage(supply, drive.series_resistance, each, drive.limit) for each in turns]
    return SharedLimiter.of(
        current=np.array([float(current) for _, currents in solved for current in currents]),
        wanted=np.array(wanted),
        node_voltage=np.array([float(node) for node, _ in solved]),
        together=bool(together),
        drive=drive,
        branches=strings,
    )


def _read(branches: Any) -> tuple[tuple[LedString, ...], list[float], list[float]]:
    listed = isinstance(branches, list | tuple) and len(branches) > 1
    if not listed or not all(isinstance(each, list | tuple) and len(each) == 3 for each in branches):
        need = "two or more of (LEDs, wanted current, resistance)"
        advice = 'give such as [(red, "5 mA", "0 ohm"), (green, "10 mA", "0 ohm")]'
        raise UnitError(argument="branches", need=need, advice=advice)
    strings = tuple(as_string(led, "branches") for led, _, _ in branches)
    if not all(isinstance(led.model, Exponential) for string in strings for led in string):
        raise DesignError(f"branches needs {DIVIDING}")
    wanted = [kind_of(Current).read(each, "wanted current", scalar=True) for _, each, _ in branches]
    if not all(each > 0 for each in wanted):
        advice = "leave out a branch that is to be dark"
        raise RangeError(argument="wanted current", need="more than 0 A", advice=advice)
    ohms = [kind_of(Resistance).read(each, "resistance", scalar=True) for _, _, each in branches]
    return strings, wanted, ohms
