"""Predictions and exercises of "why a resistor": the current with one, the cliff without, and the coin cell."""

from __future__ import annotations

from dataclasses import replace

from ..design.lamp.direct import STEP, connect_to_source, steepness
from ..design.lamp.drive import operate
from ..parts.drive import ResistorDrive
from ..parts.led import leds
from ..parts.source import adapters, batteries
from ..units import Count, Current, Q, Voltage, kind_of, say, say_times
from .choice import Choice, DarkCircuit, Option, Prediction
from .question import ADDED_DROP, FORGOT_DROP, LED_DROP, MULTIPLIED, Draw, Question, plain_led

RED = "bright red 3 mm"
SOURCES = {
    "9 V battery": batteries["9 V alkaline"],
    "six AA cells": batteries["6 x AA alkaline"],
    "3 V coin cell": batteries["3 V coin cell"],
    "9 V adapter": adapters["9 V regulated"],
    "12 V adapter": adapters["12 V regulated"],
}
"""What the lesson's panel feeds the LED from."""
BARE = "no resistor"
RESISTANCE = 470.0
VOLTAGE = 1.75


def straight_on_a_battery() -> Prediction:
    """The first of the seven beliefs: the LED takes only what it needs."""
    bare = connect_to_source(batteries["9 V alkaline"], leds[RED])
    return Prediction.seeing(
        text="You hold a red LED straight to a 9 V battery. What happens?",
        options={
            "it shines: it takes only what it needs": "many people think so. But an LED does not choose its current: "
            "the battery pushes through it as much as the resistance in the way lets through.",
            "it stays dark": "in the end it does.",
            "it flashes once and dies": "so it does.",
        },
        seen=f"Tick “{BARE}” in the first panel: {say(bare.si.current, 'A')} would flow, and the limit of this LED is "
        f"{say(leds[RED].si.max_current, 'A')}. It flashes once and is dead.",
        belief="the LED takes only what it needs",
    )


def a_tenth_of_a_volt() -> Prediction:
    """How steep the LED's curve is, against a resistor's."""
    si = steepness(leds[RED], Q(VOLTAGE, "V")).si
    return Prediction.seeing(
        text="You raise the voltage across an LED by a tenth of a volt. How much does its current grow?",
        options={
            "a little, as a resistor's would": "a little is a resistor's way, not the LED's.",
            "a lot": "a lot it is.",
            "not at all": "then no resistor would be needed.",
        },
        seen=f"At {say(VOLTAGE, 'V')} in the second panel the LED's current goes from {say(si.current, 'A')} to "
        f"{say(si.current_after, 'A')}, {say_times(si.times)} times as much. Through a resistor it "
        f"would be {say_times(si.resistor_times, 3)} times as much.",
    )


def a_toy_light() -> Prediction:
    """Why a coin cell seems to need no resistor."""
    cell = batteries["3 V coin cell"]
    si = connect_to_source(cell, leds[RED]).si
    return Prediction.seeing(
        text="A toy light runs an LED on a coin cell with no resistor. Why does that work?",
        options={
            "the coin cell has too little energy to do harm": "it has little energy, but what kills is current.",
            "the coin cell has a resistance of its own, inside": "that is it.",
            "3 V is just what an LED needs": "3 V is more than the drop of a red LED.",
        },
        seen=f"The cell has {say(cell.si.internal_resistance, 'ohm')} inside, which stand in for a resistor. But the "
        f"current is left to luck. Choose the coin cell in the first panel, without a resistor: from "
        f"{say(si.current_min, 'A')} to {say(si.current_max, 'A')}, and the limit is "
        f"{say(leds[RED].si.max_current, 'A')}.",
    )


def nine_volts() -> Prediction:
    """The second of the seven beliefs: nine volts go through the LED."""
    lit = connect_to_source(batteries["9 V alkaline"], leds[RED], Q(RESISTANCE, "ohm")).si
    across_resistor = lit.current * RESISTANCE
    across_led = lit.terminal_voltage - across_resistor
    return Prediction.seeing(
        text="A red LED with its resistor is lit on a 9 V battery. You measure across the LED. What do you read?",
        options={
            "about 9 V: nine volts go through the LED": "people often put it so. But a current flows through a part; a "
            "voltage is across it, and the supply's is shared out.",
            "about 2 V": "about 2 V it is.",
            "0 V: current flows freely through it": "a piece of wire would read so.",
        },
        seen=f"Of the battery's {say(lit.open_voltage, 'V')} there are {say(across_led, 'V')} across the LED and "
        f"{say(across_resistor, 'V')} across the resistor; a trace is lost inside the battery. Move the resistor's "
        "slider: the voltage across the LED hardly changes.",
        belief="nine volts go through the LED",
    )


def _with_constant_drop(supply: float, resistance: float) -> tuple[float, float]:
    """Current in A and drop in V of the red LED with a constant drop, by the library."""
    point = operate(Q(supply, "V"), ResistorDrive(Q(resistance, "ohm")), plain_led(RED))
    return point.si.current, point.si.led_voltage


def current_with_resistor(seed: int = 0) -> Question:
    """A source, a resistor and a red LED with a constant drop."""
    draw = Draw(seed)
    fresh = batteries["9 V alkaline"].si.fresh_voltage
    source, volts = draw.one(
        ("12 V adapter", 12.0), ("fresh 9 V battery", fresh), ("5 V adapter", 5.0), ("tired 9 V battery", 7.5)
    )
    resistance = draw.one(680.0, 390.0, 560.0, 1200.0, 820.0, 1000.0)  # none of the lesson's sum, and no LED dies
    current, drop = _with_constant_drop(volts, resistance)
    left = volts - drop
    return Question(
        text=f"A resistor of {say(resistance, 'ohm')} and a red LED are in series on a {source}"
        f"{'' if 'adapter' in source else ', which gives ' + say(volts, 'V')}. With {say(drop, 'V')} across the LED, "
        "what current flows?",
        kind=kind_of(Current),
        answer=current,
        mistakes={
            volts / resistance: FORGOT_DROP,
            drop / resistance: LED_DROP,
            (volts + drop) / resistance: ADDED_DROP,
            left * resistance: MULTIPLIED,
        },
        hint="First the voltage that is left for the resistor, then divide it by the resistance.",
        working=f"{say(volts, 'V')} − {say(drop, 'V')} leaves {say(left, 'V')} for the resistor. "
        f"{say(left, 'V')} ÷ {say(resistance, 'ohm')} = {say(current, 'A')}.",
    )


def times_as_much(seed: int = 0) -> Question:
    """How many times the current of a bare LED grows in two steps, each of which the panel shows alone."""
    volts = Draw(seed).one(1.65, 1.6, 1.7)
    first, both = (steepness(leds[RED], Q(volts, "V"), Q(steps * STEP, "V")).si for steps in (1, 2))
    second = both.times / first.times
    return Question(
        text=f"In the second panel choose the LED “{RED}”. From {say(volts, 'V')} to {say(volts + 2 * STEP, 'V')} it "
        "is two steps of a tenth of a volt. How many times as much current flows through it after both?",
        kind=replace(kind_of(Count), example="2 times"),
        answer=both.times,
        mistakes={
            both.resistor_times: "That is how much more a resistor would carry. Look at the LED's curve again.",
            1.0 / both.times: "The other way round: the current after both steps, divided by the one before them.",
            first.times: "That is the first step alone.",
            second: "That is the second step alone.",
            first.times + second: "You added. The second step multiplies what the first one left: multiply the two.",
        },
        hint="Read the current at the lower voltage, then at the higher one. Divide the second by the first.",
        working=f"{both.current_after * 1e3:.3g} mA ÷ {both.current * 1e3:.3g} mA = {both.times:.3g} times as much: "
        f"{first.times:.3g} times in the first step, and {second:.3g} times that in the second.",
        close=0.08,  # both currents are read off rounded
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


def across_the_resistor(seed: int = 0) -> Question:
    """The supply's voltage is shared out between the LED and the resistor."""
    draw = Draw(seed)
    volts, drop, ohms = draw.one(9.0, 12.0, 5.0), draw.one(2.2, 2.0, 2.1), draw.one(470.0, 680.0, 1000.0)
    left = volts - drop
    return Question(
        text=f"An LED with {say(drop, 'V')} across it and a resistor of {say(ohms, 'ohm')} are in series on "
        f"{say(volts, 'V')}. What does a meter across the resistor read?",
        kind=kind_of(Voltage),
        answer=left,
        mistakes={
            volts: "That is the supply. Its voltage is shared out between the resistor and the LED.",
            drop: "That is across the LED. The rest of the supply's voltage is across the resistor.",
            volts + drop: "The two share the supply's voltage: subtract, do not add.",
            left / ohms: "That is the current in amperes. A meter across the resistor reads volts.",
        },
        hint="The voltages across the LED and across the resistor add up to the supply's.",
        working=f"{say(volts, 'V')} − {say(drop, 'V')} = {say(left, 'V')}, whatever the resistance.",
    )


def led_turned_round() -> Choice:
    """Find the mistake: an LED the wrong way round."""
    volts = 9.5
    point = operate(Q(-volts, "V"), ResistorDrive(Q(RESISTANCE, "ohm")), leds[RED])
    limit = say(leds[RED].si.max_reverse_voltage, "V")
    return Choice(
        text="This LED stays dark. What is wrong in the circuit?",
        shows=DarkCircuit(point),
        options=(
            Option(
                "the resistor is too large",
                f"With {say(RESISTANCE, 'ohm')} it would be bright. Look at plus and minus.",
            ),
            Option(
                "the LED is the wrong way round",
                f"The arrow of its symbol points against the current. The whole {say(volts, 'V')} are across it in "
                f"reverse, and its limit for that is {limit}.",
                True,
            ),
            Option(
                "the resistor is on the wrong side",
                "It works on either side: the same current flows through all of the loop.",
            ),
            Option("the LED is used up", "An LED that is dark may be quite well. Look at plus and minus first."),
        ),
        hint="Follow the current from plus. Does it meet the LED's arrow at its tail or at its tip?",
        working="Current flows from plus to minus, and through an LED only as its arrow points. Turn the LED round.",
    )


def most_current(seed: int = 0) -> Choice:
    """Three circuits in pictures: neither the highest supply nor the smallest resistor has to carry the most."""
    draw = Draw(seed)
    most, high, low = draw.one(
        ((9.0, 470.0), (12.0, 1000.0), (5.0, 220.0)),
        ((9.0, 560.0), (12.0, 1000.0), (4.5, 220.0)),
        ((9.0, 390.0), (15.0, 1000.0), (5.0, 180.0)),
    )
    drop = say(_with_constant_drop(*most)[1], "V")
    why = {
        high: "It has the highest supply, but by far the largest resistor.",
        most: "Neither the highest supply nor the smallest resistor, and still the most.",
        low: "It has the smallest resistor, but the LED's drop is a large part of so low a supply.",
    }
    return Choice(
        text="Three circuits, not yet switched on, each with the same red LED. Once it is lit, its drop is "
        f"{drop}. In which of them will the most current flow?",
        options=tuple(
            Option(
                f"{say(volts, 'V')} and {say(ohms, 'ohm')}",
                f"{_sum(volts, ohms)}. {why[volts, ohms]}",
                (volts, ohms) == most,
                DarkCircuit(operate(Q(volts, "V"), ResistorDrive(Q(ohms, "ohm")), plain_led(RED))),
            )
            for volts, ohms in draw.mixed(tuple(why))
        ),
        hint="Not the whole supply drives the current through the resistor. What is left for it in each of them?",
        working="; ".join(_sum(*each) for each in why) + ".",
    )


def _sum(volts: float, ohms: float) -> str:
    current, drop = _with_constant_drop(volts, ohms)
    return f"({say(volts, 'V')} − {say(drop, 'V')}) ÷ {say(ohms, 'ohm')} = {say(current, 'A')}"


def half_the_resistor(seed: int = 0) -> Choice:
    """What half the resistance does to the current, and to the voltage across the resistor."""
    draw = Draw(seed)
    volts, ohms = draw.one((9.0, 1500.0), (12.0, 2200.0), (9.0, 2000.0), (12.0, 3000.0))
    points = [operate(Q(volts, "V"), ResistorDrive(Q(each, "ohm")), leds[RED]).si for each in (ohms, ohms / 2)]
    before, after = (say(each.current, "A") for each in points)
    full, still = (say(each.drive_voltage, "V") for each in points)
    return Choice(
        text=f"A red LED and a resistor of {say(ohms, 'ohm')} are in series on {say(volts, 'V')}. You put in one of "
        f"{say(ohms / 2, 'ohm')} instead. Roughly, what becomes of the current, and of the voltage "
        "across the resistor?",
        options=draw.mixed(
            (
                Option(
                    "twice the current, half the voltage",
                    "Half the voltage across half the resistance would drive the same current as before. And where "
                    "should the other half go? The LED does not take it.",
                ),
                Option(
                    "the same current, half the voltage",
                    "So it would be if the LED chose its current. It does not: the resistor sets it.",
                ),
                Option(
                    "twice the current, the same voltage",
                    f"The LED keeps its drop, so the rest stays with the resistor: {full} before, {still} after. "
                    f"Across half the resistance that drives {after} in place of {before}.",
                    True,
                ),
                Option(
                    "twice the current, twice the voltage",
                    "The supply and the LED have the same voltage as before: there is no more to be had.",
                ),
            )
        ),
        hint="What is left for the resistor is the supply less the LED's drop. Does either of them change much?",
        working=f"Before: {full} ÷ {say(ohms, 'ohm')} = {before}. After: {still} ÷ {say(ohms / 2, 'ohm')} = {after}.",
    )
