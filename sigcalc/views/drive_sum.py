"""A sagging supply by hand: what a resistor lets through then, from where a driver holds its current, and its heat."""

from __future__ import annotations

import numpy as np

from ..design.power.drive_choice import DRIVER, REGULATOR_NAME, RESISTOR, compare_drives, same_current
from ..errors import RangeError
from ..parts.drive import regulators
from ..parts.led import ConstantDrop, Led
from ..parts.resistor import at_least
from ..units import Current, Q, SupplyVoltage, Voltage, say, with_units
from .style import NORMAL, Size
from .sums import Step, SumByHand

_DIGITS = 4  # so that a reader who works with the printed figures gets the printed answer


@with_units(scalar=True)
def drives_by_hand(
    fresh: SupplyVoltage, sagged: SupplyVoltage, led: Led, current: Current, drop: Voltage, size: Size = NORMAL
) -> SumByHand:
    """Resistor, driver and regulator for one LED on a supply that sags, with the LED as a constant drop.

    Parameters
    ----------
    fresh, sagged: the supply's voltage before and after
    led: whose curve the library follows for comparison
    current: wanted with the fresh supply
    drop: what the LED keeps for itself, as its data sheet says

    Raises RangeError where the supply does not fall, or ends below the drop.
    """
    if not drop < sagged < fresh:
        raise RangeError(
            f"sagged needs to lie between the drop of {say(drop, 'V')} and the fresh {say(fresh, 'V')}, but "
            f'{say(sagged, "V")} came; write for example sagged="6 V"'
        )
    plain = Led(led.name, led.colour, ConstantDrop(Q(drop, "V")), led.max_current)
    drives = {
        name: drive
        for name, drive in same_current(Q(fresh, "V"), plain, Q(current, "A")).items()
        if name in (RESISTOR, DRIVER)
    }
    supplies = Q(np.array([fresh, sagged]), "V")
    by_hand, followed = (compare_drives(supplies, drives, lamp) for lamp in (plain, led))
    resistor, driver = by_hand[RESISTOR], by_hand[DRIVER]
    ohms, dropout = _say(drives[RESISTOR].si.resistance, "ohm"), _say(drives[DRIVER].si.dropout, "V")
    across = _say(fresh - drop, "V")
    amps = [_say(each, "A") for each in resistor.si.current]
    steps = (
        *(
            Step(f"The resistor's current, {when} supply", f"({_say(volts, 'V')} − {_say(drop, 'V')}) ÷ {ohms}", flows)
            for when, volts, flows in zip(("fresh", "sagged"), (fresh, sagged), amps, strict=True)
        ),
        Step("The light that is left", f"{amps[1]} ÷ {amps[0]}", say(resistor.light[1], "")),
        Step("What the driver needs", f"{_say(drop, 'V')} + {dropout} of its own", _say(driver.si.drops_out_at, "V")),
        Step(
            "Heat in the driver, fresh supply",
            f"{across} × {_say(current, 'A')}",
            say(driver.si.drive_power[0], "W"),
        ),
        *_regulator_steps(current),
    )
    curve = followed[RESISTOR].si
    sentence = (
        f"Above {say(driver.si.drops_out_at, 'V')} the driver's current does not change at all. Following the LED's "
        f"curve the library finds {say(curve.current[0], 'A')} and {say(curve.current[1], 'A')} with the resistor, "
        f"and that the driver holds its current above {say(followed[DRIVER].si.drops_out_at, 'V')}."
    )
    return SumByHand("Resistor and driver by hand", steps, sentence, size)


def _regulator_steps(current: float) -> tuple[Step, ...]:
    """The resistor that makes a current source of an adjustable regulator."""
    regulator = regulators[REGULATOR_NAME]
    volts = regulator.si.reference_voltage
    exact = volts / current
    sold = at_least(exact, "E24")
    return (
        Step(
            "A regulator as the driver: its resistor", f"{_say(volts, 'V')} ÷ {_say(current, 'A')}", _say(exact, "ohm")
        ),
        Step("The next value that is sold", "series E24", _say(sold, "ohm")),
    )


def _say(si: float, unit: str) -> str:
    return say(si, unit, _DIGITS)
