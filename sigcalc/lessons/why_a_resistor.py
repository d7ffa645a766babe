"""Exercises of the lesson "why a resistor": the current with one, the cliff without, and the coin cell."""

from __future__ import annotations

from dataclasses import replace

from ..design.lamp.direct import connect_to_source, steepness
from ..design.lamp.drive import operate
from ..parts.drive import ResistorDrive
from ..parts.led import leds
from ..parts.source import batteries
from ..units import Count, Current, Q, kind_of, say
from .question import Question, plain_led

RED = "bright red 3 mm"
RESISTANCE = 470.0
VOLTAGE = 1.75


def _with_constant_drop(supply: float, resistance: float) -> tuple[float, float]:
    """Current in A and drop in V of the red LED with a constant drop, by the library."""
    point = operate(Q(supply, "V"), ResistorDrive(Q(resistance, "ohm")), plain_led(RED))
    return point.si.current, point.si.led_voltage


def current_with_resistor() -> Question:
    """A 9 V battery, 470 ohm and a red LED with a constant drop."""
    volts = batteries["9 V alkaline"].si.fresh_voltage
    current, drop = _with_constant_drop(volts, RESISTANCE)
    left = volts - drop
    return Question(
        text=f"A fresh 9 V battery gives {say(volts, 'V')}. A resistor of {say(RESISTANCE, 'ohm')} and a red LED are "
        f"in series on it, with {say(drop, 'V')} across the LED. What current flows?",
        kind=kind_of(Current),
        answer=current,
        mistakes={
            volts / RESISTANCE: "Not the whole voltage is across the resistor: subtract the LED's drop.",
            drop / RESISTANCE: "That is with the LED's voltage. The rest of the voltage is on the resistor.",
            (volts + drop) / RESISTANCE: "Subtract the drop from the battery's voltage; do not add it.",
            left * RESISTANCE: "You multiplied. For the current, divide the voltage by the resistance.",
        },
        hint="First the voltage that is left for the resistor, then divide it by the resistance.",
        working=f"{say(volts, 'V')} − {say(drop, 'V')} leaves {say(left, 'V')} for the resistor. "
        f"{say(left, 'V')} ÷ {say(RESISTANCE, 'ohm')} = {say(current, 'A')}.",
    )


def times_as_much() -> Question:
    """How many times the current of a bare LED grows for a tenth of a volt: read off the first panel."""
    si = steepness(leds[RED], Q(VOLTAGE, "V")).si
    return Question(
        text=f"In the first panel choose the {RED} and go from {say(VOLTAGE, 'V')} to {say(VOLTAGE + si.step, 'V')}. "
        "How many times as much current flows through the LED then?",
        kind=replace(kind_of(Count), example="2 times"),
        answer=si.times,
        mistakes={
            si.resistor_times: "That is how much more a resistor would carry. Look at the LED's curve again.",
            1.0 / si.times: "The other way round: the current after the step, divided by the one before it.",
            si.times - 1.0: "That is what was added. Divide the current after the step by the one before it.",
        },
        hint="Read both currents in the sentence below the curve and divide the second by the first.",
        working=f"{say(si.current_after, 'A')} ÷ {say(si.current, 'A')} = {si.times:.3g} times as much.",
        close=0.08,  # both currents are read off rounded, and the lesson says "about four times"
    )


def coin_cell() -> Question:
    """What a coin cell's own resistance lets through."""
    cell = batteries["3 V coin cell"]
    si, volts, ohms = cell.si, cell.si.fresh_voltage, cell.si.internal_resistance
    current, drop = _with_constant_drop(volts, ohms)
    left = say(volts - drop, "V")
    return Question(
        text=f"A coin cell gives {say(volts, 'V')} and has a resistance of {say(ohms, 'ohm')} inside. A red LED is "
        f"straight on it, with {say(drop, 'V')} across it. What current flows? Leave the LED's own resistance out.",
        kind=kind_of(Current),
        answer=current,
        mistakes={
            volts / ohms: "That is a short circuit's current. Subtract the LED's drop first.",
            drop / ohms: "That is with the LED's voltage. The rest is across the resistance inside the cell.",
            0.0: "Some current does flow: the cell's own resistance is in the resistor's place.",
        },
        hint="The same sum as with a resistor, with the cell's own resistance in the resistor's place.",
        working=f"{say(volts, 'V')} − {say(drop, 'V')} = {left}, and {left} ÷ {say(ohms, 'ohm')} = "
        f"{say(current, 'A')}. The limit of the red LED is {say(leds[RED].si.max_current, 'A')}. Another cell has "
        f"{say(si.internal_resistance_min, 'ohm')} or {say(si.internal_resistance_max, 'ohm')} inside: "
        "one LED lives, the next one dies.",
        shown=connect_to_source(cell, leds[RED]).si.current,  # the panel follows the LED's curve
    )
