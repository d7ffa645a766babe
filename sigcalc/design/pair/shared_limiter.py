"""Several lamps behind one constant-current driver: it holds the sum, and the lamps divide it among themselves."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from ...errors import DesignError, RangeError, UnitError
from ...parts.drive import ConstantCurrentDrive, as_one_drive
from ...parts.led import Exponential
from ...physics.branches import branch_currents
from ...units import Current, Resistance, SupplyVoltage, Voltage, kind_of, record, say, with_units
from ..findings import FINE, LOOK, STOP, Finding
from ..lamp.drive import LedString, as_string, triples

_NEAR = 0.1  # of the wish


@record
class SharedLimiter:
    """Branches under one limiter: what each wished for and what it gets.

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
    current law, `physics.branches`); in turn each gets all of it. Raises DesignError for
    LEDs with a constant drop, which do not say how a current divides.
    """
    if not isinstance(as_one_drive(drive), ConstantCurrentDrive):
        raise UnitError("drive needs a ConstantCurrentDrive, but a resistor came, which sets no limit")
    if not supply > 0:
        raise RangeError(f"supply needs to be above 0 V, but {say(supply, 'V')} came; turn it round")
    strings, wanted, ohms = _read(branches)
    network = [(+1, own, triples(string)) for string, own in zip(strings, ohms, strict=True)]
    turns = [network] if together else [[each] for each in network]
    solved = [branch_currents(supply, drive.series_resistance, each, drive.limit) for each in turns]
    return SharedLimiter.of(
        current=np.concatenate([currents for _, currents in solved]),
        wanted=np.array(wanted),
        node_voltage=np.array([float(node) for node, _ in solved]),
        together=bool(together),
        drive=drive,
        branches=strings,
    )


def _read(branches: Any) -> tuple[tuple[LedString, ...], list[float], list[float]]:
    if not isinstance(branches, list | tuple) or len(branches) < 2 or not all(_is_triple(each) for each in branches):
        raise UnitError(
            "branches needs two or more of (LEDs, wanted current, resistance), such as "
            '[(red, "5 mA", "0 ohm"), (green, "10 mA", "0 ohm")]'
        )
    strings = tuple(as_string(led, "branches") for led, _, _ in branches)
    if not all(isinstance(led.model, Exponential) for string in strings for led in string):
        raise DesignError(
            "branches needs LEDs with an Exponential model: constant drops do not say how a current divides"
        )
    wanted = [kind_of(Current).read(each, "wanted current", scalar=True) for _, each, _ in branches]
    if not all(each > 0 for each in wanted):
        raise RangeError("wanted current of each branch needs to be above 0 A; leave a branch out that is to be dark")
    ohms = [kind_of(Resistance).read(each, "resistance", scalar=True) for _, _, each in branches]
    return strings, wanted, ohms


def _is_triple(branch: Any) -> bool:
    return isinstance(branch, list | tuple) and len(branch) == 3


def findings(result: SharedLimiter) -> list[Finding]:
    """For each branch what it gets against its wish, and what would give each its own."""
    si, found = result.si, []
    for string, current, wanted in zip(result.branches, si.current, si.wanted, strict=True):
        stands = min(led.si.max_current for led in string)
        reason = f"The {string[0].colour} lamp gets {say(current, 'A')} where {say(wanted, 'A')} was wanted"
        if current > stands:
            said = f"{reason}, and the {string[0].name} stands {say(stands, 'A')}."
            found.append(Finding(STOP, string[0].name, said, "Give it a driver of its own."))
        else:
            met = abs(current - wanted) <= _NEAR * wanted
            found.append(Finding(FINE if met else LOOK, string[0].name, f"{reason}."))
    if any(each.grade != FINE for each in found):
        found.append(Finding(LOOK, "one limiter", _why(result), "Give each branch a driver or a resistor of its own."))
    return found


def _why(result: SharedLimiter) -> str:
    limit = say(result.drive.limit, "A")
    if not result.together:
        return (
            f"The driver gives {limit} to whichever branch is lit, whatever it wants; a resistor in the branch changes "
            "nothing until the driver drops out."
        )
    return (
        f"The driver holds the sum at {limit} at most; how it divides is left to the LEDs, and the one with the lowest "
        "drop takes most of it."
    )
