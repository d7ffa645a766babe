"""Predictions and exercises of "many signals, one adapter": what is lost along a chain, counts, and short circuits."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

from ..design.board.board import CHAIN, STAR, Board, board_along
from ..design.board.feeder import BoardStudy, feeder_voltages, study_board
from ..design.board.fuse import ShortCircuit, short_at
from ..design.board.state import USUAL_CONTACT, USUAL_DERATING
from ..design.power.load import RED
from ..parts.fuse import fuses
from ..parts.relay import relays
from ..parts.source import adapters
from ..parts.wire import wire_resistance
from ..units import Count, Length, Q, Voltage, kind_of, say
from .choice import Choice, Option, Prediction
from .question import Draw, Question
from .quillhaven import RELAY, SENSITIVE, load, places

ADAPTER, COIL, FUSE = adapters["12 V regulated"], relays["12 V two-pole"], fuses["300 mA resettable"]
LAMP, TIMER = 10e-3, 8e-3
_DIGITS = 4  # so that a reader who works with the printed figures gets the printed answer
_FOUR = ("home", "starter", "yard", "shed")


@cache
def _eight(length: str = "12 m", wiring: str = CHAIN, gauge: int = 30, make: str = RELAY) -> BoardStudy:
    """All signals of Quillhaven, as in the first panel."""
    return study_board(board_along("Quillhaven", ADAPTER, load(ADAPTER, make), places(length), wiring, gauge))


def _four(run: float, gauge: int) -> Board:
    """Four signals in a chain, so many metres apart."""
    spots = {name: Q(run * number, "m") for number, name in enumerate(_FOUR, start=1)}
    return board_along("four", ADAPTER, load(ADAPTER, SENSITIVE), spots, CHAIN, gauge)


def _share(share: float) -> str:
    return say(round(share, 2), "")


# ---- predictions


def which_one_dims() -> Prediction:
    """Where in a chain the light is lost."""
    share = _eight().state(RED).share
    shown = (
        f"with all eight the first has {_share(share[0])} of its light and the last {_share(share[-1])}. The first "
        "piece of wire carries the current of all, and each piece takes its part of the voltage before the last signal "
        "gets any."
    )
    return Prediction(
        text="Signals are added one behind the other on the same pair of wires. Which one dims?",
        options={
            "the first: all the current passes it": f"all of it does pass: but {shown}",
            "the last": f"so it is: {shown}",
            "all alike: they share one adapter": f"each does lose a little, for all share the first piece. But {shown}",
        },
        seen=f"In the panel {shown}",
    )


def what_draws_most() -> Prediction:
    """Lamp, timer and relay of one signal."""
    coil = ADAPTER.si.voltage / COIL.si.coil_resistance
    shown = (
        f"the lamp draws about {say(LAMP, 'A')}, the timer {say(TIMER, 'A')}, and the coil of a usual relay "
        f"{say(coil, 'A')} as long as it is on. Choose “hand switch”, and hardly anything dims."
    )
    return Prediction(
        text="A signal has two LEDs, a timer board and a relay. Which of them draws the most current?",
        options={
            "the lamp that is lit": f"it is the part one sees. But {shown}",
            "the timer board": f"it works all the time, on little: {shown}",
            "the relay's coil": f"so it is: {shown}",
        },
        seen=f"One signal alone: {shown}",
    )


def one_ampere() -> Prediction:
    """What the amperes printed on an adapter mean."""
    study = study_board(board_along("one", ADAPTER, load(ADAPTER, RELAY), places("12 m", 1), CHAIN, 30))
    watts = ADAPTER.si.voltage * ADAPTER.si.max_current
    flows, rated = say(study.state(RED).si.supply_current, "A"), say(ADAPTER.si.max_current, "A")
    shown = f"with one signal the adapter gives {flows} of its {rated}: what is printed is the most it may give."
    return Prediction(
        text=f"The adapter says {say(ADAPTER.si.voltage, 'V')}, {rated}. You connect one signal. What current flows?",
        options={
            f"{rated}: it says so": f"many people fear that. But {shown}",
            "as much as the signal draws, no more": f"so it is: {shown}",
            f"{watts:g} A: volts times amps": f"volts times amps are watts, not amps. And {shown}",
        },
        seen=f"In the panel, {shown}",
        belief="an adapter pushes its amperes into whatever is on it",
    )


def far_short() -> Prediction:
    """A short circuit that the adapter does not notice."""
    short = short_at(_eight("24 m", make=SENSITIVE).board, "west home")
    gives, rated = say(short.free.si.supply_current, "A"), say(ADAPTER.si.max_current, "A")
    shown = (
        f"on a chain of 30 AWG, 24 m long, the adapter gives {gives} of its {rated} and carries on. The first signal "
        f"keeps {_share(short.lasting.share[0])} of its light, and the wire gets warm."
    )
    return Prediction(
        text="Two bare wires touch at the far end of a long thin pair. What do you see?",
        options={
            "every signal goes dark: the adapter switches off": f"with a short nearby, or on thick wire, it may. But "
            f"{shown}",
            "the far signals go dark, the near ones still shine": f"that is the trap: {shown}",
            "nothing: so far away it does no harm": f"the wire's resistance does hold the current down. But {shown}",
        },
        seen=f"In the panel, {shown}",
    )


# ---- exercises


def _ohms(value: float, digits: int = 3) -> str:
    """Ohms without a prefix: nobody says milliohms at the bench."""
    return f"{value:.{digits}g} Ω"


def _metre(gauge: int) -> float:
    """A metre of twin wire, there and back, in ohm."""
    return 2 * float(wire_resistance(gauge, "1 m").m_as("ohm"))


def lost_on_the_way(seed: int = 0) -> Question:
    """What is lost up to the last signal of a chain."""
    draw = Draw(seed)
    count, length, current, gauge = draw.one(4, 5, 6), draw.one(3.0, 2.0, 2.5), draw.one(50e-3, 40e-3), draw.one(28, 26)
    volts, run = ADAPTER.si.voltage, length * _metre(gauge)
    left = feeder_voltages(Q(volts, "V"), Q([run] * count, "ohm"), Q([current] * count, "A")).m_as("V")
    lost, one, each = volts - float(left[-1]), run * current, say(current, "A")
    every, run_ohms = " + ".join(map(str, range(count, 0, -1))), f"{length:g} × {_ohms(_metre(gauge))}"
    return Question(
        text=f"{count} signals are in a chain on one pair of {gauge} AWG wire, {length:g} m from the adapter to the "
        f"first and {length:g} m from each to the next. Each draws {each}. A metre of the pair, there and back, has "
        f"{_ohms(_metre(gauge))}. How much voltage is lost on the way to the last one?",
        kind=kind_of(Voltage),
        answer=lost,
        mistakes={
            count * one: "You counted one signal's current everywhere; the first section carries all.",
            count**2 * one: "You counted all current to the very end; it is less after every signal.",
            one: "That is lost in the last section alone. The sections before it lose more.",
            lost / 2: "You halved it: the resistance given is that of both wires already.",
            volts - lost: "That is what is left at the last signal; how much is lost?",
        },
        hint="One section after the other: how many signals draw their current through it?",
        working=f"Through the sections flow {every} times {each}, each through {run_ohms}: "
        f"{count * (count + 1) // 2} × {each} × {run_ohms} = {say(lost, 'V')}.",
    )


def volts_at_the_end(seed: int = 0) -> Question:
    """What is left at the last signal: set the first panel and read it off."""
    length, gauge = Draw(seed).one((20, 30), (30, 28), (40, 28))
    volts = _eight(f"{length} m", CHAIN, gauge).state(RED).si.voltage
    supply, first, last = ADAPTER.si.voltage, float(volts[0]), float(volts[-1])
    return Question(
        text=f"In the first panel connect all eight signals with a usual relay to the 12 V adapter, as a chain of "
        f"{gauge} AWG, and let them show red. The layout is {length} m long. What voltage is left at west home?",
        kind=kind_of(Voltage),
        answer=last,
        mistakes={
            supply: "That is what the adapter gives. Read the bar below the last signal.",
            first: "That is at east home, beside the adapter. West home is the last one.",
            supply - last: "That is what is lost in the wires. What is left?",
        },
        hint="Below the wires there is a bar for each signal.",
        working=f"Of {say(supply, 'V')}, east home gets {say(first, 'V')} and west home {say(last, 'V')}.",
        close=0.01,
    )


def signals_on_the_adapter(seed: int = 0) -> Question:
    """How many signals with relays an adapter feeds with margin."""
    rated, volts = Draw(seed).one(ADAPTER.si.max_current, 2.0, 1.5), ADAPTER.si.voltage
    coil = volts / COIL.si.coil_resistance
    each, allowed = LAMP + TIMER + coil, USUAL_DERATING * rated
    count = math.floor(allowed / each)
    coil_ohms, supply, part = say(COIL.si.coil_resistance, "ohm"), say(volts, "V"), say(USUAL_DERATING, "")
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


def farthest_short(seed: int = 0) -> Question:
    """How far away a short circuit still makes the fuse act."""
    draw = Draw(seed)
    fuse, gauge = fuses[draw.one("300 mA resettable", "200 mA resettable")].si, draw.one(28, 30)
    volts, inside = ADAPTER.corners[0]
    others, metre = inside + fuse.resistance_max + USUAL_CONTACT, _metre(gauge)
    total = volts / fuse.trip_current
    length, too_far = ((volts / current - others) / metre for current in (fuse.trip_current, fuse.hold_current))
    whole = math.floor(length)
    supply, trip, rest = say(volts, "V"), say(fuse.trip_current, "A"), say(total - others, "ohm", _DIGITS)
    return Question(
        text=f"A fuse that holds {say(fuse.hold_current, 'A')} and is sure to act from {trip} is at an adapter that "
        f"gives {supply} at the least. Adapter, fuse and the short circuit itself have {say(others, 'ohm')} "
        f"together; a metre of the pair of {gauge} AWG wire, there and back, has {_ohms(metre)}. How far "
        "along the wire may a short circuit be at most, so that the fuse is still sure to act? Answer in whole metres.",
        kind=replace(kind_of(Length), example="10 m"),
        answer=float(whole),
        mistakes={
            2 * length: "The resistance given is that of both wires already: do not count one alone.",
            too_far: "At that current it does not act; use the one from which it is sure to.",
            whole + 1.0: "You rounded up: that far away the fuse is no longer sure to act. Round down.",
            total / metre: "You gave the wire all of the resistance. Adapter, fuse and short have their part.",
        },
        hint="Voltage ÷ current is all the resistance that may be in the way. What is left of it for the wire?",
        working=f"{supply} ÷ {trip} = {say(total, 'ohm', _DIGITS)} in all. Less {say(others, 'ohm')} that leaves "
        f"{rest} for the wire: divided by {_ohms(metre)} a metre, {say(length, 'm')}, so {whole} m. Beyond that the "
        "fuse may never act, and the wire stays warm until somebody notices.",
        close=(length + 0.05) / whole - 1,  # with a decimal it is right as well
    )


def what_changes_nothing() -> Choice:
    """Of four remedies for a dim far end, the one that is none."""
    length, rated = "24 m", 3.0
    before = _eight(length)
    larger = replace(ADAPTER, max_current=Q(rated, "A"))
    same = study_board(replace(before.board, source=larger))

    def gets(study: BoardStudy) -> str:
        return f"west home gets {say(study.signal('west home', RED).si.voltage, 'V')}"

    now = gets(before)
    return Choice(
        text=f"Eight signals are in a chain of 30 AWG wire on a layout of {length}. The adapter is within its rating, "
        "but the last lamps are dim and their relays stay off. Which of these changes nothing there?",
        options=(
            Option(
                f"a larger adapter: {say(rated, 'A')} in place of {say(ADAPTER.si.max_current, 'A')}",
                f"It gives the same 12 V, the wires lose the same: {gets(same)}, as before.",
                True,
            ),
            Option("thicker wire, 24 AWG", f"It loses less: {gets(_eight(length, CHAIN, 24))} in place of {now[15:]}."),
            Option(
                "a star: a pair of wires for each",
                f"No wire carries the others' current then: {gets(_eight(length, STAR))}.",
            ),
            Option(
                "sensitive relays",
                f"They draw less, so less is lost on the way: {gets(_eight(length, make=SENSITIVE))}.",
            ),
        ),
        hint="What is lost is current times resistance of the wire. Which one changes neither?",
        working=f"Without a change {now}. The amperes on an adapter are the most it may give, not what it gives.",
    )


def _short(run: float, gauge: int, place: str) -> ShortCircuit:
    return short_at(_four(run, gauge), place)


def which_fuse_acts() -> Choice:
    """Three short circuits in pictures: the row with the most light is the one that the fuse does not stop."""
    shorts = [_short(*each) for each in ((12.0, 30, "shed"), (3.0, 24, "shed"), (16.0, 28, "shed"))]
    least = FUSE.si.trip_current

    def option(short: ShortCircuit) -> Option:
        draws = short.lasting.si.supply_current
        lit = len(_FOUR) - len(short.dark)
        sure = "The fuse is sure to act." if draws >= least else "The fuse need not act, and the wire stays warm."
        seen = f"the adapter gives {say(draws, 'A')}, {lit or 'none'} of the signals lit"
        return Option(
            seen, f"{say(draws, 'A')} flow, and the fuse needs {say(least, 'A')}. {sure}", draws >= least, short
        )

    return Choice(
        text=f"A fuse at the adapter holds {say(FUSE.si.hold_current, 'A')} and is sure to act from {say(least, 'A')}. "
        "At the far end of each of these rows the wires touch. In which one is the fuse sure to act?",
        options=tuple(map(option, shorts)),
        hint="Look at what the adapter gives, not at the lamps.",
        working="; ".join(f"{say(each.lasting.si.supply_current, 'A')}" for each in shorts)
        + f": only one is more than {say(least, 'A')}. The dark row is the safe one.",
    )


def what_happened_here() -> Choice:
    """Find the fault by the row of lights."""
    short = _short(8.0, 30, "yard")
    share = short.lasting.share
    return Choice(
        text="Yesterday all four were bright. What happened?",
        shows=short.lasting,
        options=(
            Option("the LEDs of yard have died", "Then yard alone would be dark, and no other would dim."),
            Option(
                "a wire has come loose behind starter",
                "Then yard and shed would be dark, and home and starter bright.",
            ),
            Option(
                "the two wires touch at yard",
                f"The current goes all the way to yard, and the voltage falls to nothing there: home keeps "
                f"{_share(share[0])} of its light, starter {_share(share[1])}.",
                True,
            ),
            Option("the adapter gives too little", "Its voltage is as it should be: it falls along the wire."),
        ),
        hint="How far does the large current go? Where is the voltage used up?",
        working="Much current up to yard, and hardly any voltage left there: the two wires touch.",
    )
