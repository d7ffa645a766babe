"""Exercises of the lesson "which resistor": the value to buy, the bands to read, the rating to ask for."""

from __future__ import annotations

from dataclasses import replace

from ..design.lamp.resistor import choose_resistor
from ..parts.led import leds
from ..parts.marking import colour_figures, read_colour_bands
from ..parts.resistor import USUAL_MARGIN, at_least, at_most, rating_for
from ..units import Power, Q, Resistance, kind_of, say
from .question import Question

LED = "ordinary green 3 mm"
SUPPLY, CURRENT = 12.0, 5e-3
BANDS = ("brown", "green", "red", "gold")
WARM_SUPPLY, WARM_RESISTANCE, WARM_DROP = 12.0, 680.0, 1.9


def value_to_buy() -> Question:
    """From a wish to the preferred value above the exact one."""
    choice = choose_resistor(Q(SUPPLY, "V"), leds[LED], Q(CURRENT, "A"))
    si, series = choice.si, choice.series
    drop, below = SUPPLY - si.exact * CURRENT, at_most(si.exact, series)
    too_much = say((SUPPLY - drop) / below, "A")
    return Question(
        text=f"A green LED is on a {say(SUPPLY, 'V')} adapter, and its current must be {say(CURRENT, 'A')} at most. At "
        f"that current {say(drop, 'V')} is across it. Which value of series {series} do you buy?",
        kind=kind_of(Resistance),
        answer=si.resistance,
        mistakes={
            si.exact: f"That is the exact value, and nobody sells it. Take the next one up in {series}.",
            below: f"That is the next value down: {too_much} would flow, more than you allow.",
            at_least(si.exact, "E24"): f"That value is in series E24. In {series} the next one up is larger.",
            SUPPLY / CURRENT: "Not the whole voltage is across the resistor: subtract the LED's drop.",
            drop / CURRENT: "You divided the LED's voltage. The rest of the supply is across the resistor.",
        },
        hint=f"Exact value first: (supply − the LED's voltage) ÷ current. Then go up to the next value of {series}.",
        working=f"({say(SUPPLY, 'V')} − {say(drop, 'V')}) ÷ {say(CURRENT, 'A')} = {say(si.exact, 'ohm', 4)}. "
        f"The next value up in {series} is {say(si.resistance, 'ohm')}, with {say(si.current, 'A')}.",
        close=0.005,  # neighbours are nearer together than the usual rounding
    )


def bands_to_read() -> Question:
    """From four colours to a resistance."""
    quantity, tolerance = read_colour_bands(BANDS)
    ohms = quantity.m_as("ohm")
    tens, ones, zeros = (int(colour_figures("digit")[colour]) for colour in BANDS[:3])
    backwards = (10.0 * zeros + ones) * 10.0**tens
    return Question(
        text=f"A resistor shows {', '.join(BANDS[:-1])} and, set apart, {BANDS[-1]}. What is its resistance?",
        kind=kind_of(Resistance),
        answer=ohms,
        mistakes={
            100.0 * tens + 10.0 * ones + zeros: "The third band is no digit: it says how many zeros follow.",
            10.0 * tens + ones: "Those are the two digits. The third band adds zeros to them.",
            (10.0 * ones + tens) * 10.0**zeros: "The two digits are the wrong way round.",
            backwards: "You read from the wrong end: the band that is set apart comes last.",
        },
        hint="Two digits, then the number of zeros. The band that is set apart is the tolerance and comes last.",
        working=f"{BANDS[0].capitalize()} is {tens}, {BANDS[1]} is {ones}, {BANDS[2]} means {zeros} zeros: "
        f"{say(ohms, 'ohm')}. {BANDS[3].capitalize()} means ± {say(tolerance, '')}.",
        close=0.005,
    )


def rating_to_ask_for() -> Question:
    """From the heat to the rating, with the usual margin."""
    left = WARM_SUPPLY - WARM_DROP
    heat = left**2 / WARM_RESISTANCE
    part = rating_for(Q(heat, "W"))
    rating, twice = part.si.power, USUAL_MARGIN * heat
    too_little = (
        f"That is enough for the heat of {say(heat, 'W')}, but not {USUAL_MARGIN:g} times it: it would get hot."
    )
    return Question(
        text=f"A {say(WARM_RESISTANCE, 'ohm')} resistor and an LED are on a {say(WARM_SUPPLY, 'V')} adapter, with "
        f"{say(WARM_DROP, 'V')} across the LED. Which power rating gives you at least {USUAL_MARGIN:g} times the "
        "resistor's heat in reserve? There are 1/8 W, 1/4 W, 1/2 W, 1 W and 2 W.",
        kind=replace(kind_of(Power), example="1 W"),
        answer=rating,
        mistakes={
            rating / 2: too_little,
            heat: f"That is the heat. Ask for a rating of at least {USUAL_MARGIN:g} times that.",
            twice: "That is what the rating must be at least. Take the next one up that is sold.",
            WARM_SUPPLY**2 / WARM_RESISTANCE: "Not the whole voltage is across the resistor: subtract the LED's drop.",
            rating * 2: "It would do, but the next smaller one is already twice the heat.",
        },
        hint="Voltage across the resistor times current through it is the heat. Double it, then take the next rating.",
        working=f"{say(left, 'V')} across the resistor, {say(left / WARM_RESISTANCE, 'A')} through it: "
        f"{say(heat, 'W')} of heat. {USUAL_MARGIN:g} times that is {say(twice, 'W')}: "
        f"ask for {part.name}, which is {say(rating, 'W')}.",
        close=0.005,  # ratings that are sold, not a sum
    )
