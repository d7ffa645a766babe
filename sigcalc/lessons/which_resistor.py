"""Predictions and exercises of "which resistor": the value to buy, the bands to read, the rating to ask for."""

from __future__ import annotations

from dataclasses import replace

from ..design.lamp.drive import OperatingPoint, operate
from ..design.lamp.resistor import choose_resistor
from ..parts.drive import ResistorDrive
from ..parts.led import leds
from ..parts.marking import colour_bands, colour_figures, read_colour_bands
from ..parts.resistor import USUAL_MARGIN, at_least, at_most, rating_for
from ..units import Power, Q, Resistance, kind_of, say
from .choice import Bands, Choice, Joined, Option, Prediction
from .question import (
    AS_IN_PARALLEL,
    FORGOT_DROP,
    LED_DROP,
    NOBODY_SELLS_IT,
    POWER_OF_ALL,
    POWER_OF_THE_LED,
    Draw,
    Question,
)

RED, LED = "bright red 3 mm", "ordinary green 3 mm"
SUPPLY, CURRENT = 12.0, 5e-3
WISH = 10e-3
TOLERANCE = 0.05
BANDS = ("brown", "green", "red", "gold")
SERIES = ("E6", "E12", "E24", "E96")
TOLERANCES = {"± 1 %": 0.01, "± 2 %": 0.02, "± 5 %": 0.05, "± 10 %": 0.1}
SUPPLY_TOLERANCES = {"exact": 0.0, "± 5 %": 0.05, "± 10 %": 0.1}
"""What the lesson's panel offers."""
JOINED_SUPPLY = 9.0
WARM_SUPPLY, WARM_RESISTANCE, WARM_DROP = 12.0, 680.0, 1.9


def _on(supply: float, ohms: float) -> OperatingPoint:
    """The red LED behind a resistor."""
    return operate(Q(supply, "V"), ResistorDrive(Q(ohms, "ohm")), leds[RED])


def next_value() -> Prediction:
    """Up or down from a value that nobody sells."""
    si = choose_resistor(Q(SUPPLY, "V"), leds[RED], Q(WISH, "A")).si
    below = at_most(si.exact, "E12")
    return Prediction.seeing(
        text=f"The sum says {si.exact:.0f} Ω, for {say(WISH, 'A')} at most. What do you buy in the shop?",
        options={
            "the next larger one": "so does the panel.",
            "the next smaller one": "it is closer here. But more current would flow than you allow.",
            "just that value": "nobody sells it.",
        },
        seen=f"With {say(si.resistance, 'ohm')} the current is {say(si.current, 'A')}, with {say(below, 'ohm')} "
        f"it would be {say(_on(SUPPLY, below).si.current, 'A')}. "
        "You will hardly see the light that the larger one costs.",
    )


def five_per_cent() -> Prediction:
    """What tolerances do to the current."""
    choices = [
        choose_resistor(Q(SUPPLY, "V"), leds[RED], Q(WISH, "A"), supply_tolerance=each).si for each in (0.0, TOLERANCE)
    ]
    si, worse = choices
    return Prediction.seeing(
        text=f"The resistor may be off by {say(TOLERANCE, '')}, all else is as printed. How far off is the current?",
        options={
            f"about {say(TOLERANCE, '')}": "so it is.",
            "much more": "it does get worse once the supply and the LED are off as well.",
            "hardly at all": "that would be a driver, which holds its current. Here the resistor sets it.",
        },
        seen=f"In place of {say(si.current, 'A')} it is between {say(si.current_min, 'A')} and "
        f"{say(si.current_max, 'A')}. With the supply {say(TOLERANCE, '')} off as well, "
        f"and LEDs as they come out of the bag, "
        f"between {say(worse.worst_min, 'A')} and {say(worse.worst_max, 'A')}.",
    )


def which_gets_hotter() -> Prediction:
    """The same current from two supplies."""
    drop = float(leds[RED].model.voltage_si(WISH))
    low, high = ((volts - drop) * WISH for volts in (9.0, SUPPLY))
    return Prediction.seeing(
        text="The same current, once from a 9 V battery and once from a 12 V adapter. Which resistor gets hotter?",
        options={
            "the one on the battery": "a battery may well get warmer than an adapter, but its resistor does not.",
            "the one on the adapter": "so it does.",
            "both the same: the current is the same": "the current is half of it. The other half is the voltage.",
        },
        seen=f"At {say(WISH, 'A')} it is {say(low, 'W')} on 9 V and {say(high, 'W')} on {say(SUPPLY, 'V')}: more "
        "voltage is left over for the resistor.",
    )


def bigger_resistor() -> Prediction:
    """The fourth of the seven beliefs: a bigger resistor burns more."""
    ohms = at_least(float(choose_resistor(Q(SUPPLY, "V"), leds[RED], Q(WISH, "A")).si.exact), "E12")
    small, large = (_on(SUPPLY, each).si for each in (ohms, 10 * ohms))
    return Prediction.seeing(
        text="On the same supply you put in a resistor ten times as large. Does it get hotter?",
        options={
            "hotter: a bigger resistor burns more": "at the same current it would. But on the same supply it lets far "
            "less current through.",
            "cooler": "cooler it is.",
            "the same": "that would need the same current through ten times the resistance.",
        },
        seen=f"On {say(SUPPLY, 'V')} it is {say(small.drive_power, 'W')} in {say(ohms, 'ohm')} and only "
        f"{say(large.drive_power, 'W')} in {say(10 * ohms, 'ohm')}. Move the resistor's slider in the panel "
        "above: the larger it is, the cooler it stays.",
        belief="a bigger resistor burns more",
    )


def value_to_buy(seed: int = 0) -> Question:
    """From a wish to the preferred value above the exact one."""
    draw = Draw(seed)
    # no two ways lead to the same value
    supply, current = draw.one((SUPPLY, CURRENT), (9.0, 8e-3), (9.0, 3e-3), (5.0, 5e-3), (5.0, 8e-3), (5.0, 10e-3))
    choice = choose_resistor(Q(supply, "V"), leds[LED], Q(current, "A"))
    si, series = choice.si, choice.series
    drop, below = supply - si.exact * current, at_most(si.exact, series)
    too_much = say((supply - drop) / below, "A")
    return Question(
        text=f"A green LED is on a {say(supply, 'V')} adapter, and its current must be {say(current, 'A')} at most. At "
        f"that current {say(drop, 'V')} is across it. Which value of series {series} do you buy?",
        kind=kind_of(Resistance),
        answer=si.resistance,
        mistakes={
            si.exact: NOBODY_SELLS_IT,
            below: f"That is the next value down: {too_much} would flow, more than you allow.",
            at_least(si.exact, "E24"): f"That value is in series E24. In {series} the next one up is larger.",
            supply / current: FORGOT_DROP,
            drop / current: LED_DROP,
        },
        hint=f"Exact value first: (supply − the LED's voltage) ÷ current. Then go up to the next value of {series}.",
        working=f"({say(supply, 'V')} − {say(drop, 'V')}) ÷ {say(current, 'A')} = {say(si.exact, 'ohm', 4)}. "
        f"The next value up in {series} is {say(si.resistance, 'ohm')}, with {say(si.current, 'A')}.",
        close=0.005,  # neighbours are nearer together than the usual rounding
    )


def bands_to_read(seed: int = 0) -> Question:
    """From four colours to a resistance."""
    bands = Draw(seed).one(
        BANDS, *(colour_bands(Q(ohms, "ohm"), TOLERANCE) for ohms in (3900.0, 5600.0, 8200.0, 1200.0, 47e3, 270e3))
    )
    quantity, tolerance = read_colour_bands(bands)
    ohms = quantity.m_as("ohm")
    tens, ones, zeros = (int(colour_figures("digit")[colour]) for colour in bands[:3])
    backwards = (10.0 * zeros + ones) * 10.0**tens
    return Question(
        text=f"A resistor shows {', '.join(bands[:-1])} and, set apart, {bands[-1]}. What is its resistance?",
        kind=kind_of(Resistance),
        answer=ohms,
        mistakes={
            100.0 * tens + 10.0 * ones + zeros: "The third band is no digit: it says how many zeros follow.",
            10.0 * tens + ones: "Those are the two digits. The third band adds zeros to them.",
            (10.0 * ones + tens) * 10.0**zeros: "The two digits are the wrong way round.",
            backwards: "You read from the wrong end: the band that is set apart comes last.",
        },
        hint="Two digits, then the number of zeros. The band that is set apart is the tolerance and comes last.",
        working=f"{bands[0].capitalize()} is {tens}, {bands[1]} is {ones}, {bands[2]} means {_zeros(zeros)}: "
        f"{say(ohms, 'ohm')}. {bands[3].capitalize()} means ± {say(tolerance, '')}.",
        close=0.005,
    )


def _zeros(count: int) -> str:
    return f"{count or 'no'} zero{'s' * (count != 1)}"


def rating_to_ask_for(seed: int = 0) -> Question:
    """From the heat to the rating, with the usual margin."""
    draw = Draw(seed)
    supply, ohms = draw.one((WARM_SUPPLY, WARM_RESISTANCE), (12.0, 390.0), (9.0, 470.0), (15.0, 560.0), (24.0, 820.0))
    left = supply - WARM_DROP
    heat = left**2 / ohms
    part = rating_for(Q(heat, "W"))
    rating, twice = part.si.power, USUAL_MARGIN * heat
    too_little = f"That is enough for {say(heat, 'W')}, but not {USUAL_MARGIN:g} times it: the resistor would get hot."
    return Question(
        text=f"A resistor of {say(ohms, 'ohm')} and an LED are on a {say(supply, 'V')} adapter, with "
        f"{say(WARM_DROP, 'V')} across the LED. You ask for a power rating of at least {USUAL_MARGIN:g} times the "
        "resistor's heat. Which is the smallest that will do: 1/8 W, 1/4 W, 1/2 W, 1 W or 2 W?",
        kind=replace(kind_of(Power), example="1 W"),
        answer=rating,
        mistakes={
            rating / 2: too_little,
            heat: f"That is the heat. Ask for a rating of at least {USUAL_MARGIN:g} times that.",
            twice: "That is what the rating must be at least. Take the next one up that is sold.",
            WARM_DROP * left / ohms: POWER_OF_THE_LED,
            supply * left / ohms: POWER_OF_ALL,
            supply**2 / ohms: FORGOT_DROP,
            rating * 2: "It would do, but the next smaller one is already twice the heat.",
        },
        hint="Voltage across the resistor times current through it is the heat. Double it, then take the next rating.",
        working=f"{say(left, 'V')} across the resistor, {say(left / ohms, 'A')} through it: "
        f"{say(heat, 'W')} of heat. {USUAL_MARGIN:g} times that is {say(twice, 'W')}: "
        f"the next rating is {part.name}, {say(rating, 'W')}.",
        close=0.005,  # ratings that are sold, not a sum
    )


def two_from_the_drawer(seed: int = 0) -> Question:
    """Two resistors one after the other."""
    one, other = Draw(seed).one((470.0, 220.0), (680.0, 330.0), (1000.0, 470.0), (390.0, 120.0), (560.0, 270.0))
    beside = one * other / (one + other)
    return Question(
        text=f"You have {say(one, 'ohm')} and {say(other, 'ohm')} in the drawer and put them one after the other "
        "(in series). What is their resistance together?",
        kind=kind_of(Resistance),
        answer=one + other,
        mistakes={
            beside: AS_IN_PARALLEL,
            one - other: "No current takes a short cut here: both are in its way. Add them.",
            (one + other) / 2: "That is the mean. The current has to pass through both.",
            max(one, other): "The larger one alone. The smaller one is in the way as well.",
        },
        hint="The same current has to pass through both of them.",
        working=f"{say(one, 'ohm')} + {say(other, 'ohm')} = {say(one + other, 'ohm')}. Side by side they would make "
        f"{say(beside, 'ohm')}, less than the smaller of them.",
        close=0.01,
    )


def joined_wrongly(seed: int = 0) -> Choice:
    """Find the mistake: two resistors joined the other way from what the sum asks for."""
    draw = Draw(seed)
    one, other = draw.one((1500.0, 680.0), (1000.0, 330.0), (820.0, 390.0), (2200.0, 1000.0))
    parallel = draw.one(True, False)
    row, beside = one + other, one * other / (one + other)
    wanted, got = (row, beside) if parallel else (beside, row)
    planned, flows = ((JOINED_SUPPLY - WARM_DROP) / ohms for ohms in (wanted, got))
    as_built, as_meant = (
        ("side by side", "one after the other") if parallel else ("one after the other", "side by side")
    )
    first, second = say(one, "ohm"), say(other, "ohm")
    return Choice(
        text=f"For a red LED on {say(JOINED_SUPPLY, 'V')} your sum asks for {say(wanted, 'ohm')}. You join {first} and "
        f"{second} from the drawer as in the picture, and put them in series with the LED. It is much "
        f"{'brighter' if parallel else 'dimmer'} than planned. What is wrong?",
        shows=Joined(one, other, parallel),
        options=draw.mixed(
            (
                Option("they are in the wrong order", "The order does not matter: together they make the same."),
                Option("one of them is the wrong way round", "A resistor works either way round."),
                Option(
                    f"they are {as_built}, and should be {as_meant}",
                    f"So they make {say(got, 'ohm')}, and {say(flows, 'A')} flows in place of {say(planned, 'A')}.",
                    True,
                ),
                Option("two resistors must have the same value", "Any two can be joined."),
            )
        ),
        hint="Follow the current from the left wire to the right one. Must it pass through both, or is there a choice?",
        working=f"One after the other: {first} + {second} = {say(row, 'ohm')}. Side by side: {say(beside, 'ohm')}, "
        f"less than the smaller of them. The sum asked for {say(wanted, 'ohm')}.",
    )


def which_one_is_it(seed: int = 0) -> Choice:
    """Which of the resistors in the pictures has this value."""
    draw = Draw(seed)
    ohms = draw.one(4700.0, 1500.0, 680.0, 560.0, 820.0)
    right, larger, smaller = (colour_bands(Q(ohms * factor, "ohm"), TOLERANCE) for factor in (1.0, 10.0, 0.1))
    turned = (right[1], right[0], *right[2:])
    zeros = int(colour_figures("digit")[right[2]])
    reads = f"{right[0]}, {right[1]}, and {right[2]} for {_zeros(zeros)}.".capitalize()
    why = {
        larger: f"It has ten times as much: {larger[2]} means {_zeros(zeros + 1)}.",
        right: reads,
        turned: "The two digits are the wrong way round.",
        smaller: f"It has a tenth: {smaller[2]} means {_zeros(zeros - 1)}.",
    }
    options = (Option(Bands(each).says, reason, each == right, Bands(each)) for each, reason in why.items())
    return Choice(
        text=f"Which of these resistors is {say(ohms, 'ohm')}?",
        options=draw.mixed(tuple(options)),
        hint="Write the value out in ohms. The first two digits are the first two bands; then count the zeros.",
        working=f"Written out it is {ohms:.0f} Ω: {', '.join(right[:2])}, then {_zeros(zeros)}, which is {right[2]}. "
        f"{right[3].capitalize()}, set apart, means ± {say(TOLERANCE, '')}.",
    )


def off_its_bands(seed: int = 0) -> Choice:
    """Whether a resistor that measures otherwise than its bands say may be used."""
    ohms, factor = Draw(seed).one((820.0, 0.965), (3300.0, 1.07), (680.0, 1.035), (2200.0, 0.93), (5600.0, 0.97))
    bands = colour_bands(Q(ohms, "ohm"), TOLERANCE)
    read, allowed = float(f"{factor * ohms:.3g}"), TOLERANCE * ohms
    off, sound = abs(read - ohms), abs(read - ohms) < allowed
    ends = f"{say(ohms - allowed, 'ohm', 4)} to {say(ohms + allowed, 'ohm', 4)}"
    compared = (
        f"It is off by {say(off, 'ohm')}, and {say(TOLERANCE, '')} of {say(ohms, 'ohm')} are {say(allowed, 'ohm')}"
    )
    return Choice(
        text=f"A resistor shows {', '.join(bands[:-1])} and, set apart, {bands[-1]}. Out of the circuit, your meter "
        f"reads {say(read, 'ohm')}. What do you make of it?",
        options=(
            Option("it is sound: parts differ by as much", f"{compared}{'' if sound else ': too far'}.", sound),
            Option(
                "it is farther off than its bands allow",
                f"{compared}. {'That is within the tolerance.' if sound else 'Put it aside.'}",
                not sound,
            ),
            Option(
                "the bands must be read from the other end",
                f"The band that is set apart comes last, and {bands[-1]} stands for no digit.",
            ),
            Option(
                "the meter is wrong: the bands say exactly what it is",
                f"No bought part is exact. {bands[-1].capitalize()} says how far off it may be.",
            ),
        ),
        hint="The first three bands say what it should be. The last one says how far off it may be, in per cent.",
        working=f"The bands say {say(ohms, 'ohm')} ± {say(TOLERANCE, '')}: from {ends}.",
    )


def hottest_resistor(seed: int = 0) -> Choice:
    """Three circuits in pictures: neither the largest resistor nor the largest current has to be the hottest."""
    draw = Draw(seed)
    first, second, third = draw.one(
        ((9.5, 470.0), (12.0, 1000.0), (5.0, 150.0)),
        ((12.0, 560.0), (15.0, 1500.0), (5.0, 120.0)),
        ((9.0, 330.0), (12.0, 820.0), (4.5, 100.0)),
    )
    points = {each: _on(*each) for each in draw.mixed((second, first, third))}
    heats = {each: point.si.drive_power for each, point in points.items()}
    why = {
        first: "Voltage and current together make the heat, and here their product is the largest.",
        second: "It has the largest resistance, but so little current that it stays cooler.",
        third: "It carries the largest current, but with little voltage across it.",
    }
    return Choice(
        text="In which of these circuits does the resistor get hottest?",
        options=tuple(
            Option(
                f"{say(volts, 'V')} and {say(ohms, 'ohm')}",
                f"{_heat(points[volts, ohms])}. {why[volts, ohms]}",
                heats[volts, ohms] == max(heats.values()),
                points[volts, ohms],
            )
            for volts, ohms in points
        ),
        hint="The heat in a part is the voltage across it times the current through it. What is across the resistor?",
        working="; ".join(
            f"{say(volts, 'V')} and {say(ohms, 'ohm')}: {_heat(points[volts, ohms])}" for volts, ohms in points
        )
        + ".",
    )


def _heat(point: OperatingPoint) -> str:
    si = point.si
    return f"{say(si.drive_voltage, 'V')} × {say(si.current, 'A')} = {say(si.drive_power, 'W')}"
