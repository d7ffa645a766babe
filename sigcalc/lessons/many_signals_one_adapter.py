"""Exercises of "many signals, one adapter": the voltage lost along a chain, a count with margin, and a far short."""

from __future__ import annotations

import math
from dataclasses import replace

from ..design.board.feeder import feeder_voltages
from ..design.board.state import USUAL_CONTACT, USUAL_DERATING
from ..parts.fuse import fuses
from ..parts.relay import relays
from ..parts.source import adapters
from ..parts.wire import wire_resistance
from ..units import Count, Length, Q, Voltage, kind_of, say
from .question import Question

ADAPTER, RELAY, FUSE = "12 V regulated", "12 V two-pole", "300 mA resettable"
COUNT, RUN, EACH = 4, 3.0, 50e-3  # signals of the chain, metres from one to the next, amperes of each
LAMP, TIMER = 10e-3, 8e-3
GAUGE = 28
_DIGITS = 4  # so that a reader who works with the printed figures gets the printed answer


def _metre() -> float:
    """A metre of twin wire, there and back, in ohm."""
    return 2 * float(wire_resistance(GAUGE, "1 m").m_as("ohm"))


def lost_on_the_way() -> Question:
    """What is lost up to the last signal of a chain."""
    volts, run = adapters[ADAPTER].si.voltage, RUN * _metre()
    left = feeder_voltages(Q(volts, "V"), Q([run] * COUNT, "ohm"), Q([EACH] * COUNT, "A")).m_as("V")
    lost, one, each = volts - float(left[-1]), run * EACH, say(EACH, "A")
    every, run_ohms = " + ".join(str(number) for number in range(COUNT, 0, -1)), say(run, "ohm", _DIGITS)
    return Question(
        text=f"{COUNT} signals are in a chain on one pair of {GAUGE} AWG wire, {RUN:g} m from the adapter to the first "
        f"and {RUN:g} m from each to the next. Each draws {each}. A metre of the pair, there and back, has "
        f"{say(_metre(), 'ohm')}. How much voltage is lost on the way to the last one?",
        kind=kind_of(Voltage),
        answer=lost,
        mistakes={
            COUNT * one: "You counted one signal's current everywhere; the first section carries all.",
            COUNT**2 * one: "You counted all current to the very end; it is less after every signal.",
            one: "That is lost in the last section alone. The sections before it lose more.",
            lost / 2: "You halved it: the resistance given is that of both wires already.",
            volts - lost: "That is what is left at the last signal; how much is lost?",
        },
        hint="One section after the other: how many signals draw their current through it?",
        working=f"Through the sections flow {every} times {each}, each through {run_ohms}: "
        f"{COUNT * (COUNT + 1) // 2} × {each} × {run_ohms} = {say(lost, 'V')}.",
    )


def signals_on_the_adapter() -> Question:
    """How many signals with relays an adapter feeds with margin."""
    rated, volts = adapters[ADAPTER].si.max_current, adapters[ADAPTER].si.voltage
    coil = volts / relays[RELAY].si.coil_resistance
    each, allowed = LAMP + TIMER + coil, USUAL_DERATING * rated
    count = math.floor(allowed / each)
    coil_ohms, supply, part = say(relays[RELAY].si.coil_resistance, "ohm"), say(volts, "V"), say(USUAL_DERATING, "")
    return Question(
        text=f"An adapter gives {supply} and is rated {say(rated, 'A')}; you want to use at most {part} of that. Each "
        f"signal draws {say(LAMP, 'A')} for its lamp and {say(TIMER, 'A')} for its timer, and has a relay with a "
        f"coil of {coil_ohms}, which may be on in all of them at once. How many signals does the adapter feed?",
        kind=replace(kind_of(Count), example="5 signals"),
        answer=float(count),
        mistakes={
            rated // each: "That leaves no margin: you used the whole rating.",
            allowed / each: "There is no part of a signal: how many whole ones does it take?",
            float(count + 1): "You rounded up. The last one would take the adapter beyond its share.",
            allowed // LAMP: "You counted the lamps alone. The coil draws far more than the lamp.",
            allowed // (LAMP + TIMER): "You left out the coil, which draws most. Ohm's law gives its current.",
            allowed // (LAMP + coil): "You left out the timer, which draws its current all the time.",
        },
        hint="First what one signal draws, all parts of it together. The coil's current is voltage ÷ resistance.",
        working=f"The coil draws {supply} ÷ {coil_ohms} = {say(coil, 'A')}, one signal {say(each, 'A')}. "
        f"{say(allowed, 'A')} ÷ {say(each, 'A')} = {allowed / each:.3g}, so {count} signals.",
        close=1e-6,
    )


def farthest_short() -> Question:
    """How far away a short circuit still makes the fuse act."""
    fuse, (volts, inside) = fuses[FUSE].si, adapters[ADAPTER].corners[0]
    others = inside + fuse.resistance_max + USUAL_CONTACT
    total, metre = volts / fuse.trip_current, _metre()
    length, too_far = ((volts / current - others) / metre for current in (fuse.trip_current, fuse.hold_current))
    supply, trip, rest = say(volts, "V"), say(fuse.trip_current, "A"), say(total - others, "ohm", _DIGITS)
    return Question(
        text=f"A fuse that holds {say(fuse.hold_current, 'A')} and is sure to act from {trip} is at an adapter that "
        f"gives {supply} at the least. Adapter, fuse and the short circuit itself have {say(others, 'ohm')} "
        f"together; a metre of the pair of {GAUGE} AWG wire, there and back, has {say(metre, 'ohm')}. How far "
        "along the wire may a short circuit be at most, so that the fuse is still sure to act?",
        kind=replace(kind_of(Length), example="10 m"),
        answer=length,
        mistakes={
            2 * length: "The resistance given is that of both wires already: do not count one alone.",
            too_far: "At that current it does not act; use the one from which it is sure to.",
            math.ceil(length): "You rounded up: that far away the fuse is no longer sure to act. Round down.",
            total / metre: "You gave the wire all of the resistance. Adapter, fuse and short have their part.",
        },
        hint="Voltage ÷ current is all the resistance that may be in the way. What is left of it for the wire?",
        working=f"{supply} ÷ {trip} = {say(total, 'ohm', _DIGITS)} in all. Less {say(others, 'ohm')} that leaves "
        f"{rest} for the wire: divided by {say(metre, 'ohm')} a metre, {say(length, 'm')}. Beyond that the fuse may "
        "never act, and the wire stays warm until somebody notices.",
        close=0.01,  # a metre more than that is no longer safe
    )
