"""Exercises of the lesson "resistor or constant current": the sagged resistor, the driver's need, the regulator."""

from __future__ import annotations

from ..design.lamp.drive import operate
from ..parts.drive import ResistorDrive, regulators
from ..parts.resistor import at_least, at_most
from ..units import Current, Q, Resistance, SupplyVoltage, kind_of, say
from .question import Question, plain_led

RED = "bright red 3 mm"
FRESH, SAGGED, RESISTANCE = 9.0, 6.5, 820.0
STRING, DROPOUT = 2, 1.5  # the text says two
REGULATOR, WANTED = "lm317l", 15e-3


def sagged_current() -> Question:
    """What a resistor lets through when the supply has sagged."""
    led, drive = plain_led(RED), ResistorDrive(Q(RESISTANCE, "ohm"))
    fresh, sagged = (operate(Q(volts, "V"), drive, led).si for volts in (FRESH, SAGGED))
    drop = sagged.led_voltage
    return Question(
        text=f"A red LED and {say(RESISTANCE, 'ohm')} are in series on {say(FRESH, 'V')}. The LED has {say(drop, 'V')} "
        f"across it, and {say(fresh.current, 'A')} flows. The battery sags to {say(SAGGED, 'V')}. What current is "
        "left?",
        kind=kind_of(Current),
        answer=sagged.current,
        mistakes={
            fresh.current * SAGGED / FRESH: "It does not fall in step with the supply: the LED's drop stays as it is.",
            fresh.current: "That is a driver's answer. A resistor lets less through when the supply sags.",
            SAGGED / RESISTANCE: "The resistor does not get the whole voltage: take off the LED's drop.",
            (FRESH - SAGGED) / RESISTANCE: "That is by how much the current fell, not what is left.",
        },
        hint="Take the LED's drop off the voltage that is there now, then divide by the resistance.",
        working=f"{say(SAGGED, 'V')} − {say(drop, 'V')} = {say(SAGGED - drop, 'V')}, and {say(SAGGED - drop, 'V')} ÷ "
        f"{say(RESISTANCE, 'ohm')} = {say(sagged.current, 'A')}: {say(sagged.current / fresh.current, '')} of the "
        f"light, from {say(SAGGED / FRESH, '')} of the voltage.",
    )


def least_supply() -> Question:
    """The supply that a driver with several LEDs in series needs."""
    drop = plain_led(RED).model.si.forward_voltage
    whole = STRING * drop + DROPOUT
    return Question(
        text=f"Two red LEDs in series have a drop of {say(drop, 'V')} each. Their driver needs {say(DROPOUT, 'V')} for "
        "itself. Down to which supply does it hold its current?",
        kind=kind_of(SupplyVoltage),
        answer=whole,
        mistakes={
            STRING * drop: "The LEDs would get all of it and the driver nothing: it needs its share as well.",
            drop + DROPOUT: "That is enough for one LED. In series their voltages add up.",
            DROPOUT: "That is what the driver needs for itself. The LEDs need theirs on top.",
            STRING * (drop + DROPOUT): "There is one driver for the string: its share counts once.",
        },
        hint="In series all voltages add up: each LED's, and what the driver needs.",
        working=f"{STRING} × {say(drop, 'V')} + {say(DROPOUT, 'V')} = {say(whole, 'V')}.",
        close=0.05,  # the panel shows 5.06 V at 5 mA and 5.3 V at 20 mA
    )


def regulator_resistor() -> Question:
    """The resistor that makes a current source of an adjustable regulator."""
    volts = regulators[REGULATOR].si.reference_voltage
    exact = volts / WANTED
    sold, below = at_least(exact, "E24"), at_most(exact, "E24")
    return Question(
        text=f"An adjustable regulator holds {say(volts, 'V')} across the resistor that sets its current. You want "
        f"{say(WANTED, 'A')} at most. Which value of series E24 do you buy?",
        kind=kind_of(Resistance),
        answer=sold,
        mistakes={
            exact: "That is the exact value, and nobody sells it. Take the next one up in E24.",
            below: f"That is the next value down: {say(volts / below, 'A')} would flow, more than you allow.",
            FRESH
            / WANTED: "The supply does not matter here: the regulator holds the same voltage across its resistor.",
            volts * WANTED: "You multiplied. For a resistance, divide the voltage by the current.",
        },
        hint="Voltage across the resistor ÷ current through it. Then go up to the next value of E24.",
        working=f"{say(volts, 'V')} ÷ {say(WANTED, 'A')} = {say(exact, 'ohm')}; the next value up in E24 is "
        f"{say(sold, 'ohm')}, which sets {say(volts / sold, 'A')}. Some samples of this regulator hold nothing "
        f"below {say(regulators[REGULATOR].si.least_load, 'A')}: for a dimmer LED it is the wrong part.",
        close=0.005,  # neighbours in E24 are close together
    )
