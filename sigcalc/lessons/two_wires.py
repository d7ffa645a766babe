"""Exercises of the lesson "two wires, two colours": the trap, evening out, and how many contacts turn a current."""

from __future__ import annotations

from dataclasses import replace

from ..design.pair.brightness import even_currents
from ..design.pair.fewest_contacts import fewest_contacts
from ..design.pair.pair import study_pair
from ..design.pair.two_lead_pair import TwoLeadPair
from ..parts.drive import ResistorDrive
from ..parts.led import ConstantDrop, Led, leds
from ..units import Count, Current, Resistance, Voltage, kind_of, say
from .question import Mistake, Question

RED, GREEN = "red gaasp 3 mm", "green gap 3 mm"
SUPPLY, SHARED, EXTRA = "12 V", "680 ohm", "470 ohm"
GREEN_CURRENT = "10 mA"


def questions() -> tuple[Question, ...]:
    """The exercises in their order."""
    return reverse_voltage(), even_current(), contacts_needed()


def reverse_voltage() -> Question:
    """A shared resistor and an extra one in green's branch: what the dark red lamp sees."""
    lamps = [Led(name, name, ConstantDrop(_drop(name)), "30 mA") for name in (RED, GREEN)]
    point = study_pair(SUPPLY, ResistorDrive(SHARED), TwoLeadPair(*lamps, extra_green=EXTRA)).green.si
    drop, extra = say(point.led_voltage, "V"), say(point.extra_voltage, "V")
    supply, rated = kind_of(Voltage).read(SUPPLY, "supply"), leds[RED].si.max_reverse_voltage
    return Question(
        text=(
            f"A signal on {SUPPLY} has one shared resistor of {_ohms(SHARED)}, and an extra one of {_ohms(EXTRA)} "
            f"inside the green branch. Green is lit: the LED keeps {drop}, and {say(point.current, 'A')} flows. "
            "What reverse voltage does the dark red LED see?"
        ),
        kind=kind_of(Voltage),
        answer=point.reverse_voltage,
        mistakes=(
            Mistake(point.led_voltage, "So it would be without the extra resistor. Its voltage comes to it."),
            Mistake(point.extra_voltage, "That lies across the extra resistor alone. The lit LED's drop comes to it."),
            Mistake(point.drive_voltage, "That lies across the shared resistor, which is outside both branches."),
            Mistake(supply, "The whole supply it would be without a shared resistor, which takes its part here."),
            Mistake(rated, "That is what the LED stands, not what it sees."),
        ),
        hint="Both branches hang on the same two points. What lies between these points while green is lit?",
        working=(
            f"The extra resistor takes {say(point.current, 'A')} × {_ohms(EXTRA)} = {extra}. With the LED's {drop} "
            f"that makes {say(point.reverse_voltage, 'V')} between the two points where both branches hang. In the "
            f"dark branch no current flows, so the red LED sees it all. It stands {say(rated, 'V')}."
        ),
    )


def _drop(name: str) -> str:
    return leds.figures(name)["forward_voltage"].text


def _ohms(text: str) -> str:
    return say(kind_of(Resistance).read(text, "resistance"), "ohm")


def even_current() -> Question:
    """The current that dims the brighter lamp to the other one's light."""
    red, green = leds[RED], leds[GREEN]
    wanted, given = (float(each.m_as("A")) for each in even_currents(red, green, GREEN_CURRENT))
    times = red.si.intensity / green.si.intensity
    at = say(red.si.intensity_current, "A")
    return Question(
        text=(
            f"At {at} the red LED gives {say(red.si.intensity, 'cd')}, the green one {say(green.si.intensity, 'cd')}. "
            f"The green LED gets {say(given, 'A')}. Which current must the red LED get to look equally bright, "
            "if light grows in step with the current?"
        ),
        kind=kind_of(Current),
        answer=wanted,
        mistakes=(
            Mistake(given * times, "The other way round: the brighter LED must get less, not more."),
            Mistake(given, "Then red would be as much brighter as the data sheets say."),
            Mistake(given - wanted, "That is how much less it must be. Asked is what is left."),
        ),
        hint="How many times brighter is red at the same current? Then it needs that many times less.",
        working=(
            f"Red is {say(red.si.intensity, 'cd')} ÷ {say(green.si.intensity, 'cd')} = {times:.3g} times as bright, "
            f"so {say(given, 'A')} ÷ {times:.3g} = {say(wanted, 'A')}."
        ),
    )


def contacts_needed() -> Question:
    """The fewest single-throw contacts that turn the current round."""
    tried = fewest_contacts("two-terminal", "single-throw")
    answer, ways = tried[-1].count, f"{sum(each.wirings for each in tried[:-1]):,}".replace(",", " ")
    return Question(
        text=(
            "You have a supply with two terminals, wire, and contacts that can only open and close. How many of these "
            "contacts does it take at least to turn the current in a signal's two wires round?"
        ),
        kind=replace(kind_of(Count), example="10 contacts"),
        answer=float(answer),
        mistakes=(
            Mistake(1.0, "One contact opens and closes one wire: it can only switch on and off."),
            Mistake(
                2.0,
                "Two contacts can cut both wires, which is on and off again. A changeover contact counts as two, "
                "and a reversing switch has two of them.",
            ),
            Mistake(3.0, "With three, one of the two wires can go to one pole only, or a way to the other is missing."),
            Mistake(6.0, "A reversing switch has six terminals, but fewer contacts than that."),
            Mistake(8.0, "Each wire needs a way to each pole, once. Count these ways again."),
        ),
        hint="Each of the two wires must be able to go to plus, and to minus. Each way needs a contact of its own.",
        working=(
            f"Two wires, each with a way to plus and a way to minus: {answer} contacts. Fewer never do it: of all "
            f"{ways} ways to wire them, tried one by one, none turns the current round."
        ),
        close=1e-6,
    )
