"""Exercises of the lesson "let the train do it": timer, train and reed, a sum for each."""

from __future__ import annotations

import math
from dataclasses import replace

from ..design.train.hold import one_shot_time
from ..design.train.magnet_and_reed import closures
from ..design.train.passing_train import train_hold
from ..parts.magnet import magnets
from ..parts.reed import reeds
from ..parts.scale import scale_ratio, scale_speed
from ..units import Q, Time, kind_of, say
from .question import Question

POT, END, CAPACITOR = 150e3, 22e3, 47e-6  # ohm, ohm, F
_SECONDS = replace(kind_of(Time), example="12 s")
TRAIN, MAGNET_AT, CLEARING, SPEED = 1.2, 0.1, 0.7, 0.25  # m, and m/s
MAGNET, REED, GAP, ORIENTATION = "8 x 3 mm disc, N35", "10 W reed, 7 to 21 AT", "5 mm", "upright"
SCALE, PROTOTYPE, MILES = "1:48", "30 mph", 30.0


def longest_hold() -> Question:
    """The one-shot's on-time with the pot right up."""
    pot, end, farad, product = POT, END, CAPACITOR, (POT + END) * CAPACITOR
    hold = float(one_shot_time(Q(pot + end, "ohm"), Q(farad, "F")).m_as("s"))
    return Question(
        text=f"A one-shot timer has a pot of {say(pot, 'ohm')}, an end resistor of {say(end, 'ohm')} and a capacitor "
        f"of {say(farad, 'F')}. The pot is turned right up. How long is it on?",
        kind=_SECONDS,
        answer=hold,
        mistakes={
            product: "That is R times C, one time constant. The timer waits until two thirds: take it ln 3 ×.",
            pot * farad * math.log(3): "The end resistor is in series with the pot: add it.",
            end * farad * math.log(3): "That is with the pot right down, the shortest on-time.",
            product * math.log(2): "ln 2 takes it to one half. This timer trips at two thirds: ln 3.",
            product * 3: "3 is what the logarithm is taken of: ln 3 is about 1.1.",
        },
        hint="Add both resistors, multiply by the capacitance in farads, and by ln 3.",
        working=f"{say(pot + end, 'ohm')} × {say(farad, 'F')} = {say(product, 's')}, one time constant. Up to two "
        f"thirds of the supply it takes ln 3 = {math.log(3):.4g} of them: {say(hold, 's')}, whatever the supply.",
    )


def needed_hold() -> Question:
    """The on-time from the closing reed to the last wheel."""
    train, magnet, clearing, speed = TRAIN, MAGNET_AT, CLEARING, SPEED
    hold = float(train_hold(Q(train, "m"), Q(speed, "m/s"), Q(clearing, "m"), Q(magnet, "m")).m_as("s"))
    return Question(
        text=f"A train is {say(train, 'm')} long; its magnet lies {say(magnet, 'm')} behind its front. It runs at "
        f"{say(speed, 'm/s')}. The signal is to stay red until the last wheel is {say(clearing, 'm')} past the "
        "reed. How long an on-time does that take, if the reed closes with the magnet right over it?",
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


def closed_time() -> Question:
    """How long a passing magnet keeps the reed closed, at a speed in scale."""
    reed = reeds[REED].middle
    stretches = closures(magnets[MAGNET], reed, GAP, ORIENTATION)
    length = float(f"{max((end - start).m_as('m') for start, end in stretches):.2g}")
    ratio, prototype = scale_ratio(SCALE), float(Q(PROTOTYPE).m_as("m/s"))
    model = float(scale_speed(PROTOTYPE, SCALE).m_as("m/s"))
    closed = length / model
    return Question(
        text=f"A magnet keeps a reed closed over {say(length, 'm')} of track. The layout is {SCALE}, and the train "
        f"runs at a scale {MILES:g} miles an hour, which on the prototype is {say(prototype, 'm/s')}. How long is the "
        "reed closed?",
        kind=_SECONDS,
        answer=closed,
        mistakes={
            length / prototype: f"At the prototype's speed. The model runs {ratio:g} times slower.",
            length * ratio / model: "The track is the model's already: only the speed is scaled.",
            length * ratio / MILES: "Miles an hour are not metres a second: take the figure in m/s.",
            length * model: "Divide the way by the speed; do not multiply.",
        },
        hint="First the model's speed: the prototype's, divided by the scale. Then way divided by speed.",
        working=f"{say(prototype, 'm/s')} ÷ {ratio:g} = {say(model, 'm/s')}; {say(length, 'm')} ÷ {say(model, 'm/s')} "
        f"= {say(closed, 's')}. The reed itself needs {say(reed.si.operate_time, 's')}: there is time enough.",
    )
