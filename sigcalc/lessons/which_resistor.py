"""Exercises of the lesson "which resistor": the value to buy, the bands to read, the rating to ask for."""

from __future__ import annotations

from dataclasses import replace

from ..design.lamp.resistor import choose_resistor
from ..parts.led import leds
from ..parts.marking import colour_figures, read_colour_bands
from ..parts.resistor import USUAL_MARGIN, at_least, at_most, rating_for
from ..units import Power, Q, Resistance, kind_of, say
from .question import Mistake, Question

LED = "green gap 3 mm"
SUPPLY, CURRENT = 12.0, 5e-3
BANDS = ("brown", "green", "red", "gold")
WARM_SUPPLY, WARM_RESISTANCE, WARM_DROP = 12.0, 680.0, 1.9


def questions() -> tuple[Question, ...]:
    """The exercises in their order."""
    return value_to_buy(), bands_to_read(), rating_to_ask_for()


def value_to_buy() -> Question:
    """From a wish to the preferred value above the exact one."""
    choice = choose_resistor(Q(SUPPLY, "V"), leds[LED], Q(CURRENT, "A"))
    si, series = choice.si, choice.series
    drop = SUPPLY - si.exact * CURRENT
    below, finer = at_most(si.exact, series), at_least(si.exact, "E24")
    too_much = (SUPPLY - drop) / below
    return Question(
        text=(
            f"A green LED keeps {say(drop, 'V')} at {say(CURRENT, 'A')}. It hangs on a {say(SUPPLY, 'V')} adapter and "
            f"shall take {say(CURRENT, 'A')} at most. Which value of series {series} do you buy?"
        ),
        kind=kind_of(Resistance),
        answer=si.resistance,
        mistakes=(
            Mistake(si.exact, f"That is the exact value, and nobody sells it. Take the next one up in {series}."),
            Mistake(below, f"That is the next value down: about {say(too_much, 'A')} would flow, more than you allow."),
            Mistake(finer, f"That value is in series E24. In {series} the next one up is larger."),
            Mistake(SUPPLY / CURRENT, "You gave the resistor the whole voltage: take off what the LED keeps."),
            Mistake(drop / CURRENT, "You divided what the LED keeps. The resistor gets the rest of the supply."),
        ),
        hint=f"Exact value first: (supply − what the LED keeps) ÷ current. Then go up to the next value of {series}.",
        working=(
            f"({say(SUPPLY, 'V')} − {say(drop, 'V')}) ÷ {say(CURRENT, 'A')} = {say(si.exact, 'ohm', 4)}. "
            f"The next value up in {series} is {say(si.resistance, 'ohm')}, with {say(si.current, 'A')}."
        ),
        close=0.005,  # neighbours lie nearer together than the usual rounding
    )


def bands_to_read() -> Question:
    """From four colours to a resistance."""
    ohms = read_colour_bands(BANDS)[0].m_as("ohm")
    tens, ones, noughts = (int(colour_figures("digit")[colour]) for colour in BANDS[:3])
    return Question(
        text=f"A resistor shows {', '.join(BANDS[:-1])} and, apart from them, {BANDS[-1]}. What is its resistance?",
        kind=kind_of(Resistance),
        answer=ohms,
        mistakes=(
            Mistake(
                100.0 * tens + 10.0 * ones + noughts, "The third band is not a digit: it says how many noughts follow."
            ),
            Mistake(10.0 * tens + ones, "Those are the two digits. The third band adds noughts to them."),
            Mistake((10.0 * ones + tens) * 10.0**noughts, "The two digits stand the other way round."),
            Mistake(
                (10.0 * noughts + ones) * 10.0**tens,
                "You read from the wrong end: the band that stands apart comes last.",
            ),
        ),
        hint="Two digits, then the number of noughts. The band that stands apart is the tolerance and comes last.",
        working=(
            f"{BANDS[0].capitalize()} is {tens}, {BANDS[1]} is {ones}, {BANDS[2]} means {noughts} noughts: "
            f"{say(ohms, 'ohm')}. "
            f"{BANDS[3].capitalize()} means ± {say(read_colour_bands(BANDS)[1], '')}."
        ),
        close=0.005,
    )


def rating_to_ask_for() -> Question:
    """From the heat to the rating, with the usual margin."""
    left = WARM_SUPPLY - WARM_DROP
    heat = left**2 / WARM_RESISTANCE
    part = rating_for(Q(heat, "W"))
    rating = part.si.power
    return Question(
        text=(
            f"On a {say(WARM_SUPPLY, 'V')} adapter stand {say(WARM_RESISTANCE, 'ohm')} and an LED that keeps "
            f"{say(WARM_DROP, 'V')}. Which rating do you ask for, if it shall bear at least {USUAL_MARGIN:g} times the "
            "heat? There are 1/8 W, 1/4 W, 1/2 W, 1 W and 2 W."
        ),
        kind=replace(kind_of(Power), example="1 W"),
        answer=rating,
        mistakes=(
            Mistake(
                rating / 2,
                f"That bears the heat of {say(heat, 'W')}, but not {USUAL_MARGIN:g} times of it: it would get hot.",
            ),
            Mistake(heat, f"That is the heat. Ask for a rating of at least {USUAL_MARGIN:g} times that."),
            Mistake(USUAL_MARGIN * heat, "That is what it must bear. Take the next rating up that is sold."),
            Mistake(
                WARM_SUPPLY**2 / WARM_RESISTANCE,
                "The resistor does not get the whole voltage: take off what the LED keeps.",
            ),
            Mistake(rating * 2, "It would do, but the next smaller one already bears twice the heat."),
        ),
        hint="Voltage on the resistor times current through it is the heat. Double it, then take the next rating.",
        working=(
            f"{say(left, 'V')} on the resistor, {say(left / WARM_RESISTANCE, 'A')} through it: "
            f"{say(heat, 'W')} of heat. {USUAL_MARGIN:g} times that is {say(USUAL_MARGIN * heat, 'W')}: "
            f"ask for {part.name}, which is {say(rating, 'W')}."
        ),
        close=0.005,  # ratings that are sold, not a sum
    )
