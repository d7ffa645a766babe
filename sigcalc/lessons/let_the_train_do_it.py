"""Predictions and exercises of "let the train do it": timer, train and reed."""

from __future__ import annotations

import math
from dataclasses import replace

from ..design.pair.wiring import Wiring, wirings
from ..design.train.hold import HoldCircuit, hold_at, one_shot_time, pot_turn
from ..design.train.magnet_and_reed import closures
from ..design.train.passing_train import SHORT, PassingTrain, passing_train, train_hold
from ..design.train.train_run import TrainRun
from ..parts.capacitor import Capacitor
from ..parts.magnet import magnets
from ..parts.reed import reeds
from ..parts.scale import scale_ratio, scale_speed
from ..units import Q, Time, kind_of, say
from .choice import Choice, Option, Prediction, WiringAt
from .question import Draw, Question

POT, END, CAPACITOR = 150e3, 22e3, 47e-6  # ohm, ohm, F
_SECONDS = replace(kind_of(Time), example="12 s")
TRAIN, MAGNET_AT, CLEARING, SPEED = 1.2, 0.1, 0.7, 0.25  # m, and m/s
MAGNET, REED, GAP, ORIENTATION = "8 x 3 mm disc, N35", "10 W reed, 7 to 21 AT", "5 mm", "upright"
SCALE, MILES = "1:48", 30.0


SUPPLY = "9 V"
_USUAL = 0.3  # m/s, as the panel begins
_COILS = ("coil off", "coil on")


def _closings(gap: str = GAP) -> dict[str, int]:
    """How often the magnet closes the reed as it passes, for each way it lies."""
    reed = reeds[REED].middle
    return {each: len(closures(magnets[MAGNET], reed, gap, each)) for each in ("upright", "lengthwise", "crosswise")}


def _circuit(timer: str) -> HoldCircuit:
    return HoldCircuit(timer, Capacitor("electrolytic", "100 µF", "16 V"), "220 kohm", "4.7 kohm")


def how_often() -> Prediction:
    """How often a passing magnet closes the reed."""
    times = {0: "never", 1: "once", 2: "twice", 3: "three times"}
    upright, lengthwise, crosswise = (times[each] for each in _closings().values())
    return Prediction.seeing(
        text="A disc magnet passes over the reed once, upright, one pole down. How often does the reed close?",
        options={
            "once": "one pass, one closing would be neat.",
            "twice": "so it does.",
            "not at all": "a magnet that lies crosswise does not close it, however strong.",
        },
        seen=f"At a gap of {GAP} it is {upright} upright, {lengthwise} lengthwise, {crosswise} crosswise: the reed "
        "feels only the field along it. Press the three ways in the first panel.",
    )


def when_the_battery_sags() -> Prediction:
    """What a sagging battery does to the on-time."""
    turns = {each: pot_turn(_circuit(each), SUPPLY, "10 s").turn for each in ("one-shot", "comparator", "mosfet")}
    tired = [say(hold_at(_circuit(each), "7 V", turn).si.hold, "s") for each, turn in turns.items()]
    return Prediction.seeing(
        text="Your timer is on for ten seconds on a fresh battery. The battery sags. What becomes of the on-time?",
        options={
            "it gets longer": "with the comparator it does.",
            "it gets shorter": "with the mosfet it does.",
            "neither": "with the one-shot it is so.",
        },
        seen=f"Each is set to 10 s on {SUPPLY}. On 7 V the one-shot is still on for {tired[0]}; the comparator, whose "
        f"threshold is fixed, for {tired[1]}, and the mosfet for {tired[2]}. Try them in the second panel.",
    )


def half_the_speed() -> Prediction:
    """What a slower train needs."""
    quick, slow = (train_hold("900 mm", Q(speed, "m/s"), "500 mm", "10 mm").m_as("s") for speed in (_USUAL, _USUAL / 2))
    return Prediction.seeing(
        text="A train comes half as fast as the one you tried with. Is its red too long, too short, or just right?",
        options={
            "too long": "the other way round: a slow train needs more time.",
            "too short": "so it is.",
            "just right": "it would be if the timer counted metres.",
        },
        seen=f"The train of the third panel needs {say(quick, 's')} at {say(_USUAL, 'm/s')}, and {say(slow, 's')} at "
        f"{say(_USUAL / 2, 'm/s')}. The on-time is a time, not a place.",
    )


def longest_hold(seed: int = 0) -> Question:
    """The one-shot's on-time with the pot right up."""
    draw = Draw(seed)
    (pot, end), farad = draw.one((POT, END), (220e3, 10e3), (100e3, 4.7e3), (470e3, 22e3)), draw.one(CAPACITOR, 22e-6)
    product = (pot + end) * farad
    hold = float(one_shot_time(Q(pot + end, "ohm"), Q(farad, "F")).m_as("s"))
    return Question(
        text=f"A one-shot timer has a pot of {say(pot, 'ohm')}, an end resistor of {say(end, 'ohm')} and a capacitor "
        f"of {say(farad, 'F')}. The pot is turned right up. How long is it on?",
        kind=_SECONDS,
        answer=hold,
        mistakes={
            product: "That is R times C, one time constant. The timer waits until two thirds: multiply by ln 3.",
            pot * farad * math.log(3): "The end resistor is in series with the pot: add it.",
            end * farad * math.log(3): "That is with the pot right down, the shortest on-time.",
            product * math.log(2): "ln 2 takes it to one half. This timer trips at two thirds: ln 3.",
            product * 3: "3 is what the logarithm is taken of: ln 3 is about 1.1.",
        },
        hint="Add both resistors, multiply by the capacitance in farads, and by ln 3.",
        working=f"{say(pot + end, 'ohm')} × {say(farad, 'F')} = {say(product, 's')}, one time constant. Up to two "
        f"thirds of the supply it takes ln 3 = {math.log(3):.3g} of them: {say(hold, 's')}, whatever the supply.",
    )


def needed_hold(seed: int = 0) -> Question:
    """The on-time from the closing reed to the last wheel."""
    draw = Draw(seed)
    train, magnet = draw.one((TRAIN, MAGNET_AT), (0.9, 0.05), (1.5, 0.1), (2.0, 0.15))
    clearing, speed = draw.one(CLEARING, 0.4, 0.5), draw.one(SPEED, 0.2, 0.3)
    hold = float(train_hold(Q(train, "m"), Q(speed, "m/s"), Q(clearing, "m"), Q(magnet, "m")).m_as("s"))
    return Question(
        text=f"A train is {say(train, 'm')} long; its magnet lies {say(magnet, 'm')} behind its front. It runs at "
        f"{say(speed, 'm/s')}. The signal is to stay red until the last wheel is {say(clearing, 'm')} past the "
        "reed. How long must the on-time be, if the reed closes with the magnet right over it?",
        kind=_SECONDS,
        answer=hold,
        mistakes={
            (train + clearing) / speed: "When the reed closes, the part ahead of the magnet is past it.",
            (train + clearing + magnet) / speed: "The part ahead of the magnet is past the reed: take it off.",
            train / speed: "Then the last wheel is only about at the reed; it must get farther.",
            (train - magnet) / speed: "Then the last wheel is right at the reed; it must get farther.",
            clearing / speed: "That is the magnet's way. The last wheel comes behind it.",
            (train - magnet + clearing) * speed: "Divide the way by the speed; do not multiply.",
        },
        hint="How far behind the reed is the last wheel when the reed closes? How far must it go from there?",
        working=f"The last wheel is {say(train, 'm')} − {say(magnet, 'm')} = {say(train - magnet, 'm')} behind the "
        f"reed and must get {say(clearing, 'm')} past it: {say(train - magnet + clearing, 'm')} ÷ {say(speed, 'm/s')} "
        f"= {say(hold, 's')}. A slower train needs more.",
    )


def closed_time(seed: int = 0) -> Question:
    """How long a passing magnet keeps the reed closed, at a speed in scale."""
    draw = Draw(seed)
    scale, miles = draw.one(SCALE, "1:87", "1:160"), draw.one(MILES, 20.0, 45.0)
    reed = reeds[REED].middle
    stretches = closures(magnets[MAGNET], reed, GAP, ORIENTATION)
    length = float(f"{max((end - start).m_as('m') for start, end in stretches):.2g}")
    ratio, prototype = scale_ratio(scale), float(Q(miles, "mph").m_as("m/s"))
    model = float(scale_speed(Q(miles, "mph"), scale).m_as("m/s"))
    closed = length / model
    return Question(
        text=f"A magnet keeps a reed closed over {say(length, 'm')} of track. The layout is {scale}, and the train "
        f"runs at a scale {miles:g} miles an hour, which on the prototype is {say(prototype, 'm/s')}. How long is the "
        "reed closed?",
        kind=_SECONDS,
        answer=closed,
        mistakes={
            length / prototype: f"At the prototype's speed. The model runs {ratio:g} times slower.",
            length * ratio / model: "The track is the model's already: only the speed is scaled.",
            length * ratio / miles: "Miles an hour are not metres a second: take the figure in m/s.",
            length * model: "Divide the way by the speed; do not multiply.",
        },
        hint="First the model's speed: the prototype's, divided by the scale. Then way divided by speed.",
        working=f"{say(prototype, 'm/s')} ÷ {ratio:g} = {say(model, 'm/s')}; {say(length, 'm')} ÷ {say(model, 'm/s')} "
        f"= {say(closed, 's')}. The reed itself needs {1e3 * reed.si.operate_time:g} ms: there is time enough.",
    )


def way_to_lay_it(seed: int = 0) -> Choice:
    """Which way of laying the magnet closes the reed just so often."""
    draw = Draw(seed)
    gap = draw.one("8 mm", "7 mm", "9 mm")
    times, wanted = _closings(gap), draw.one(1, 2)
    why = {
        "upright": "the field leans over on either side of the pole, and runs along the reed there.",
        "lengthwise": "in the middle the field runs along the reed, and farther out it is too weak.",
        "crosswise": "all of the field runs across the reed.",
    }
    return Choice(
        text=f"The gap is {gap}. How do you lay the magnet so that one pass closes the reed just "
        f"{'once' if wanted == 1 else 'twice'}?",
        options=tuple(
            Option(each, f"{count or 'No'} closing{'' if count == 1 else 's'}: {why[each]}", count == wanted)
            for each, count in times.items()
        ),
        hint="The reed feels only the field along it. Try the three ways in the first panel, at this gap.",
        working="; ".join(f"{each}: {count}" for each, count in times.items()) + ".",
    )


def _passing(hold: str, beyond: str = "150 mm") -> PassingTrain:
    """A train with its red of so long, the reed so far beyond the signal."""
    circuit = _circuit("one-shot")
    return passing_train(
        TrainRun(
            MAGNET, REED, GAP, ORIENTATION, circuit, pot_turn(circuit, SUPPLY, hold).turn, SUPPLY,
            "9 V two-pole sensitive", "900 mm", "0.3 m/s", "10 mm", beyond, "500 mm",
        )
    )  # fmt: skip


def green_too_soon(seed: int = 0) -> Choice:
    """Which of three passing trains loses its red while it is still there."""
    short, long = Draw(seed).one(("3 s", "8 s"), ("2 s", "10 s"), ("4 s", "7 s"))
    cases = (
        (_passing(long), "Red lasts until its last wheel is clear."),
        (_passing(short), "The lamp is green again before the last wheel is clear."),
        (_passing(long, "0 mm"), "Red lasts long enough. It comes too early: under the driver's eyes."),
    )
    options = (Option(_red_of(each), why, each.verdict == SHORT, each) for each, why in cases)
    return Choice(
        text="Three trains pass. Which of them is still there when the signal turns green again?",
        options=Draw(seed).mixed(tuple(options)),
        hint="Compare the end of the red lamp's strip with the moment at which the last wheel is clear.",
        working=f"With an on-time of {short} red is over too soon; with {long} it lasts.",
    )


def _red_of(passing: PassingTrain) -> str:
    """When a train gets its red, in words, all from the moment at which its front passes the signal."""
    si = passing.si
    at = [f"{each - si.at_signal:.2f} s".replace("-", "−") for each in (si.red_from, si.red_until, si.clear)]
    return f"red from {at[0]} to {at[1]} after its front passed the signal, last wheel clear at {at[2]}"


def _relay_wirings() -> dict[str, Wiring]:
    """A relay's contacts wired in four wrong ways, by what is wrong in them."""
    sound = wirings["crossed two-pole relay"]
    plus, minus, cross, back, *leads = sound.jumpers
    straight = [(pole[1], pole[1].replace("closed", "open")) for pole in (plus, minus)]
    jumpers = {
        "one jumper is straight": (plus, minus, straight[0], back),
        "one jumper is missing": (plus, minus, cross),
        "both jumpers are straight": (plus, minus, *straight),
        "plus and minus are exchanged": ((plus[0], minus[1]), (minus[0], plus[1]), cross, back),
    }
    return {said: replace(sound, jumpers=(*wires, *leads)) for said, wires in jumpers.items()}


def mistake_at_the_relay(seed: int = 0) -> Choice:
    """Find the mistake in the wires of a relay's contacts."""
    made = _relay_wirings()
    wrong = Draw(seed).one(*made)
    told = {
        said: "at rest {}, pulled in {}".format(*(WiringAt(each, coil).shown.lamps[0] for coil in _COILS))
        for said, each in made.items()
    }
    return Choice(
        text="You want red while the relay rests, and green while it is pulled in. Here it rests. What is wrong in "
        "the wiring?",
        shows=WiringAt(made[wrong], "coil off"),
        options=tuple(
            Option(said, f"{'You see' if said == wrong else 'You would see'}: {told[said]}.", said == wrong)
            for said in made
        ),
        hint="Follow plus and minus to all four outer terminals. On each contact, NC and NO need one of each. And "
        "which lamp is lit?",
        working=f"Here: {WiringAt(made[wrong], 'coil off').wires}. "
        f"A sound cross: {WiringAt('crossed two-pole relay', 'coil off').wires}.",
    )
