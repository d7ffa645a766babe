"""The sum of the two-lead pair by hand: both currents, and what the dark lamp sees with one resistor or two."""

from __future__ import annotations

from ..design.pair.two_lead_pair import PairPoint, TwoLeadPair
from ..errors import RangeError
from ..parts.drive import ResistorDrive
from ..parts.led import ConstantDrop, Led
from ..units import Q, Resistance, SupplyVoltage, Voltage, say, with_units
from .style import NORMAL, Size
from .sums import Step, SumByHand

_DIGITS = 4  # so that a reader who works with the printed figures gets the printed answer


@with_units(scalar=True)
def pair_by_hand(
    supply: SupplyVoltage,
    resistance: Resistance,
    pair: TwoLeadPair,
    red_drop: Voltage,
    green_drop: Voltage,
    size: Size = NORMAL,
) -> SumByHand:
    """Currents of both lamps behind one shared resistor, with the LEDs as constant drops, and both reverse voltages.

    Parameters
    ----------
    supply, resistance: what feeds the pair, and the resistor
    pair: whose curves the library follows for comparison
    red_drop, green_drop: what each LED keeps for itself, as its data sheet says

    Raises RangeError where the resistance is nothing or the supply lies below a drop.
    """
    if not resistance > 0:
        raise RangeError('resistance needs to be above 0 ohm to divide by; give for example "680 ohm"')
    drops = {"red": red_drop, "green": green_drop}
    for lamp, drop in drops.items():
        if not 0 < drop < supply:
            raise RangeError(
                f"{lamp}_drop needs to lie between 0 V and the supply's {say(supply, 'V')}; {say(drop, 'V')} came"
            )
    plain = [Led(lamp, lamp, ConstantDrop(Q(drop, "V")), "1 A") for lamp, drop in drops.items()]
    volts, ohms = Q(supply, "V"), Q(resistance, "ohm")
    shared = [TwoLeadPair(*plain).operate(volts, ResistorDrive(ohms), sign) for sign in (+1, -1)]
    inside = TwoLeadPair(*plain, extra_red=ohms, extra_green=ohms).operate(volts, ResistorDrive("0 ohm"), +1)
    followed = [pair.operate(volts, ResistorDrive(ohms), sign) for sign in (+1, -1)]
    steps = [Step("What the supply gives", "", _say(supply, "V"))]
    for (lamp, drop), point in zip(drops.items(), shared, strict=True):
        steps += _lamp_steps(supply, resistance, lamp, drop, point)
    dark = "What the dark green lamp sees in reverse while red is lit"
    steps += [
        Step(f"{dark}: one shared resistor", "the lit lamp's drop", _say(shared[0].si.reverse_voltage, "V")),
        Step(
            f"{dark}: a resistor in each branch, none shared",
            f"{_say(drops['red'], 'V')} + {_say(inside.si.extra_voltage, 'V')} across red's resistor",
            _say(inside.si.reverse_voltage, "V"),
        ),
    ]
    red, green = (say(each.si.current, "A") for each in followed)
    rated = say(pair.green.si.max_reverse_voltage, "V")
    sentence = (
        f"Following the LEDs' curves the library finds {red} for red and {green} for green. "
        f"The green LED stands {rated} in reverse."
    )
    return SumByHand("Both lamps by hand", tuple(steps), sentence, size)


def _lamp_steps(supply: float, resistance: float, lamp: str, drop: float, point: PairPoint) -> list[Step]:
    left = point.si.drive_voltage
    return [
        Step(
            f"What is left for the resistor while {lamp} is lit",
            f"{_say(supply, 'V')} − {_say(drop, 'V')}",
            _say(left, "V"),
        ),
        Step(f"The current of {lamp}", f"{_say(left, 'V')} ÷ {_say(resistance, 'ohm')}", say(point.si.current, "A")),
    ]


def _say(si: float, unit: str) -> str:
    return say(si, unit, _DIGITS)
