"""Exercises of the lesson "two wires, two colours": the trap, evening out, and the cross of a reversing switch."""

from __future__ import annotations

from dataclasses import replace

from ..design.pair.brightness import even_currents
from ..design.pair.two_lead_pair import TwoLeadPair, study_pair
from ..design.pair.wiring import wirings
from ..parts.drive import ResistorDrive
from ..parts.led import leds
from ..units import Count, Current, Resistance, Voltage, kind_of, say
from .question import Question, plain_led

RED, GREEN = "ordinary red 3 mm", "ordinary green 3 mm"
SUPPLY, SHARED, EXTRA = "12 V", "680 ohm", "470 ohm"
GREEN_CURRENT = "10 mA"


def reverse_voltage() -> Question:
    """A shared resistor and an extra one in green's branch: the reverse voltage on the dark red lamp."""
    lamps = TwoLeadPair(plain_led(RED), plain_led(GREEN), extra_green=EXTRA)
    point = study_pair(SUPPLY, ResistorDrive(SHARED), lamps).green.si
    drop, extra = say(point.led_voltage, "V"), say(point.extra_voltage, "V")
    supply, rated = kind_of(Voltage).read(SUPPLY, "supply"), leds[RED].si.max_reverse_voltage
    return Question(
        text=f"A signal on {SUPPLY} has one shared resistor of {_ohms(SHARED)}, and an extra one of {_ohms(EXTRA)} "
        f"inside the green branch. Green is lit: {drop} is across the LED, and {say(point.current, 'A')} flows. "
        "What reverse voltage is across the dark red LED?",
        kind=kind_of(Voltage),
        answer=point.reverse_voltage,
        mistakes={
            point.led_voltage: "That is right without the extra resistor. Add the voltage across it.",
            point.extra_voltage: "That is across the extra resistor alone. Add the lit LED's drop.",
            point.drive_voltage: "That is across the shared resistor, which is outside both branches.",
            supply: "It would be the whole supply without a shared resistor. Here that one has its part of it.",
            rated: "That is the limit of the LED, not what is across it.",
        },
        hint="Both branches join the same two points. How many volts are between them while green is lit?",
        working=f"Across the extra resistor: {say(point.current, 'A')} × {_ohms(EXTRA)} = {extra}. With the LED's "
        f"{drop} that makes {say(point.reverse_voltage, 'V')} between the two points that both branches join. No "
        f"current flows in the dark branch, so all of it is across the red LED, whose limit is {say(rated, 'V')}.",
    )


def _ohms(text: str) -> str:
    return say(kind_of(Resistance).read(text, "resistance"), "ohm")


def even_current() -> Question:
    """The current that dims the brighter lamp to the other one's light."""
    red, green = leds[RED], leds[GREEN]
    wanted, given = (float(each.m_as("A")) for each in even_currents(red, green, GREEN_CURRENT))
    times = red.si.intensity / green.si.intensity
    at = say(red.si.intensity_current, "A")
    return Question(
        text=f"At {at} the red LED gives {say(red.si.intensity, 'cd')}, the green one {say(green.si.intensity, 'cd')}. "
        f"The green LED gets {say(given, 'A')}. Which current must the red LED get to look equally bright, "
        "if light grows in step with the current?",
        kind=kind_of(Current),
        answer=wanted,
        mistakes={
            given * times: "The other way round: the brighter LED must get less, not more.",
            given: "Then red would be as much brighter as the data sheets say.",
            given - wanted: "That is how much less it must be. Asked is what is left.",
        },
        hint="How many times brighter is red at the same current? Then it needs that many times less.",
        working=f"Red is {say(red.si.intensity, 'cd')} ÷ {say(green.si.intensity, 'cd')} = {times:.3g} times as "
        f"bright, so {say(given, 'A')} ÷ {times:.3g} = {say(wanted, 'A')}.",
    )


def cross_reading() -> Question:
    """At how many terminals of a switch with the cross on it a meter shows the battery's voltage."""
    wiring = wirings["crossed double-throw switch"]
    joined, plus = wiring.groups(wiring.closed(["up"])), wiring.poles[0]
    live = [each for contact in wiring.contacts for each in contact if joined[each] == joined[plus]]
    names = [each.removeprefix("switch ") for each in live]
    return Question(
        text="You have wired the cross on a two-pole changeover switch, plus of the battery on up 1 and minus on up 2, "
        "and set the switch to up. You hold a meter's black probe on minus and touch each of the six terminals "
        "with the red one. At how many of them should it show the battery's voltage?",
        kind=replace(kind_of(Count), example="1 terminal"),
        answer=float(len(live)),
        mistakes={
            1.0: "That is the one with the battery's wire on it. A jumper of the cross joins another to it.",
            2.0: "Those are the two that the jumper joins. Up 1 also touches the common of its own pole.",
            4.0: "One too many: the other jumper of the cross joins down 1 to minus.",
            6.0: "Then plus and minus would be joined: a short circuit.",
        },
        hint="Start at up 1. Where does its jumper end, and what does the switch join to it when it is set to up?",
        working=f"Plus is on {names[1]}, its jumper leads to {names[2]}, and set to up the switch joins {names[0]} to "
        f"it: {len(live)} terminals. The other {6 - len(live)} are joined to minus.",
        close=1e-6,
    )
