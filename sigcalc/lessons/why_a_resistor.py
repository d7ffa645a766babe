"""Exercises of the lesson "why a resistor": the current with one, the cliff without, and the coin cell."""

from __future__ import annotations

from dataclasses import replace

from ..design.lamp.direct import connect_to_source
from ..design.lamp.drive import operate
from ..parts.drive import ResistorDrive
from ..parts.led import ConstantDrop, Led, leds
from ..parts.source import batteries
from ..units import Count, Current, Q, kind_of, say
from .question import Mistake, Question

RED = "red alingap 3 mm"
RESISTANCE = 470.0
VOLTAGES = (1.75, 1.85)


def questions() -> tuple[Question, ...]:
    """The exercises in their order."""
    return current_with_resistor(), times_as_much(), coin_cell()


def _with_constant_drop(supply: float, resistance: float) -> tuple[float, float]:
    """Current in A and drop in V of the red LED taken as a constant drop, by the library."""
    row = leds.figures(RED)["forward_voltage"].text
    plain = Led("constant drop", "red", ConstantDrop(row), leds[RED].max_current)
    point = operate(Q(supply, "V"), ResistorDrive(Q(resistance, "ohm")), plain)
    return point.si.current, point.si.led_voltage


def current_with_resistor() -> Question:
    """A block battery, 470 ohm and a red LED with a constant drop."""
    volts = batteries["9 V alkaline"].si.fresh_voltage
    current, drop = _with_constant_drop(volts, RESISTANCE)
    left = volts - drop
    return Question(
        text=(
            f"A fresh block battery gives {say(volts, 'V')}. On it hang, in series, a resistor of "
            f"{say(RESISTANCE, 'ohm')} and a red LED that keeps {say(drop, 'V')} for itself. What current flows?"
        ),
        kind=kind_of(Current),
        answer=current,
        mistakes=(
            Mistake(
                volts / RESISTANCE,
                "The resistor does not get the whole voltage: take off what the LED keeps.",
            ),
            Mistake(
                drop / RESISTANCE,
                "The resistor gets what the LED leaves, not what the LED keeps.",
            ),
            Mistake((volts + drop) / RESISTANCE, "The drop is to be taken off the battery's voltage, not added to it."),
            Mistake(left * RESISTANCE, "You multiplied. For the current, divide the voltage by the resistance."),
        ),
        hint="First the voltage that is left for the resistor, then divide it by the resistance.",
        working=(
            f"{say(volts, 'V')} − {say(drop, 'V')} leaves {say(left, 'V')} for the resistor. "
            f"{say(left, 'V')} ÷ {say(RESISTANCE, 'ohm')} = {say(current, 'A')}."
        ),
    )


def times_as_much() -> Question:
    """How many times the current of a bare LED grows for a tenth of a volt: read off the first panel."""
    low, high = VOLTAGES
    before, after = (leds[RED].model.current_si(volts) for volts in VOLTAGES)
    times = float(after / before)
    return Question(
        text=(
            f"In the first panel choose the {RED} and go from {say(low, 'V')} to {say(high, 'V')}. "
            "How many times as much current does the LED take then?"
        ),
        kind=replace(kind_of(Count), example="2 times"),
        answer=times,
        mistakes=(
            Mistake(
                high / low,
                "A resistor would take only that much more. Look at the LED's curve again.",
            ),
            Mistake(1.0 / times, "The other way round: the current after the step, divided by the one before it."),
            Mistake(
                times - 1.0,
                "That is what has been added. Divide the current after the step by the one before it.",
            ),
        ),
        hint="Read both currents in the sentence below the curve and divide the second by the first.",
        working=f"{say(float(after), 'A')} ÷ {say(float(before), 'A')} = {times:.3g} times as much.",
        close=0.08,  # both currents are read off rounded, and the lesson says "about four times"
    )


def coin_cell() -> Question:
    """What a coin cell's own resistance lets through."""
    si = batteries["3 V coin cell"].si
    volts, ohms = si.fresh_voltage, si.internal_resistance
    current, drop = _with_constant_drop(volts, ohms)
    return Question(
        text=(
            f"A coin cell gives {say(volts, 'V')} and has a resistance of {say(ohms, 'ohm')} inside. A red LED that "
            f"keeps {say(drop, 'V')} sits straight on it. What current flows? Leave the LED's own resistance out."
        ),
        kind=kind_of(Current),
        answer=current,
        mistakes=(
            Mistake(volts / ohms, "That is a short circuit's current. The LED keeps its drop: take it off first."),
            Mistake(
                drop / ohms,
                "The cell's resistance gets what the LED leaves, not what the LED keeps.",
            ),
            Mistake(0.0, "Some current does flow: the cell's own resistance stands where the resistor would."),
        ),
        hint="The same sum as with a resistor, and the cell's own resistance takes the resistor's place.",
        working=(
            f"{say(volts, 'V')} − {say(drop, 'V')} = {say(volts - drop, 'V')}, "
            f"and {say(volts - drop, 'V')} ÷ {say(ohms, 'ohm')} = {say(current, 'A')}. "
            f"The red LED stands {say(leds[RED].si.max_current, 'A')}. Another cell has "
            f"{say(si.internal_resistance_min, 'ohm')} or {say(si.internal_resistance_max, 'ohm')} inside: "
            "one LED lives, the next one dies."
        ),
        shown=connect_to_source(batteries["3 V coin cell"], leds[RED]).si.current,  # the panel follows the LED's curve
    )
