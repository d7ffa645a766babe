"""Exercises of the planner's lesson: a battery in place of the adapter, and the dark lamp's voltage."""

from __future__ import annotations

from ..design.lamp.resistor import exact_resistance
from ..parts.led import leds
from ..parts.resistor import at_least
from ..parts.source import adapters, batteries
from ..units import Q, Resistance, Voltage, kind_of, say
from .question import Question

RED = "low-current red 3 mm"
CURRENT = 5e-3


def battery_resistor() -> Question:
    """The resistor for a red low-current LED on a fresh 9 V battery, from the E12 series."""
    volts = batteries["9 V alkaline"].si.fresh_voltage
    led = leds[RED]
    drop = float(led.model.voltage_si(CURRENT))
    exact = float(exact_resistance(supply=Q(volts, "V"), led=led, current=Q(CURRENT, "A")).m_as("ohm"))
    bought = float(at_least(exact, "E12"))
    adapter = float(at_least((adapters["12 V regulated"].si.voltage - drop) / CURRENT, "E12"))
    return Question(
        text=f"You replace the plan's adapter with a fresh battery of {say(volts, 'V')}. At {say(CURRENT, 'A')} there "
        f"are {say(drop, 'V')} across the red LED, and you want no more than {say(CURRENT, 'A')}. "
        "Which resistor of the E12 series do you buy?",
        kind=kind_of(Resistance),
        answer=bought,
        mistakes={
            exact: "That is the exact value, which no shop sells. Choose the next larger one of the series.",
            adapter: "That is the one for the adapter. The battery gives less voltage.",
            volts / CURRENT: "First subtract the voltage across the LED.",
        },
        hint="Voltage left for the resistor, divided by the current; then the next larger value of E12.",
        working=f"({say(volts, 'V')} − {say(drop, 'V')}) ÷ {say(CURRENT, 'A')} = {say(exact, 'ohm')}; "
        f"the next larger one is {say(bought, 'ohm')}.",
        close=0.01,
    )


def dark_lamp_voltage() -> Question:
    """What the dark lamp sees with a resistor in each branch and none shared."""
    volts = adapters["12 V regulated"].si.voltage
    drop = float(leds[RED].model.voltage_si(CURRENT))
    return Question(
        text=f"Each lamp has a resistor in its own branch, none is shared, and the adapter gives {say(volts, 'V')}. "
        f"Red is lit, with {say(drop, 'V')} across it. What voltage is across the dark green lamp, in reverse?",
        kind=kind_of(Voltage),
        answer=volts,
        mistakes={
            drop: "That is right for one shared resistor. Here the lit branch's resistor comes in between as well.",
            volts - drop: "That is across the red lamp's resistor. The dark branch is joined to both wires.",
            0.0: "No current flows in the dark branch, but there is a voltage across it all the same.",
        },
        hint="No current flows in the dark branch. So what is the voltage across its resistor?",
        working="Without current there is no voltage across the dark branch's resistor, and nothing is shared: the "
        f"whole {say(volts, 'V')} is across the lamp; its limit is {say(leds[RED].si.max_reverse_voltage, 'V')}.",
    )
