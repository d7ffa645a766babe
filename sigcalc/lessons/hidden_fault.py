"""The rules of the game of the lesson "find the fault": how a fault is drawn, and what naming it is worth."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np

from ..design.bench.circuit import BenchCircuit
from ..design.bench.diagnosis import Diagnosis, diagnose
from ..design.bench.fault import AND, Fault, faults_of, weights
from ..design.bench.predictions import classes, predict
from ..design.bench.reading import measuring_points
from ..design.pair.two_lead_pair import TwoLeadPair
from ..design.train.hold import HoldCircuit
from ..parts.capacitor import Capacitor
from ..parts.drive import ResistorDrive
from ..parts.led import leds
from ..parts.meter import meters
from ..parts.source import adapters

METER = "hand meter"
_SHUFFLE = 48  # any number: a room that could count down the list of verdicts would know the secret
RIGHT, ALIKE, PARTLY, WRONG = "right", "cannot be told from it", "one of the two", "wrong"
FULL, HALF_WAY, ONE_OF_TWO = 10.0, 6.0, 4.0
"""Points for the fault's name, for a name that nothing read so far tells from it, and for one of two faults."""
PER_EFFORT = 0.25
"""Points off for each unit of effort, but never more than half of what the name is worth."""


@dataclass(frozen=True)
class Level:
    """How many faults are hidden at once, and how many readings may be taken; None: all of them."""

    name: str
    faults: int
    readings: int | None


LEVELS = (
    Level("1: one fault, all readings", 1, None),
    Level("2: one fault, 6 readings", 1, 6),
    Level("3: one fault, 3 readings", 1, 3),
    Level("4: two faults, 8 readings", 2, 8),
    Level("5: two faults, 4 readings", 2, 4),
)


@cache
def quillhaven_signal() -> BenchCircuit:
    """The signal of the game: 12 V, one shared resistor, a hand switch."""
    pair = TwoLeadPair(leds["red alingap 3 mm"], leds["green gap 3 mm"])
    return BenchCircuit(adapters["12 V regulated"], ResistorDrive("680 ohm", "5 %"), pair, name="a Quillhaven signal")


@cache
def quillhaven_train_signal() -> BenchCircuit:
    """The other signal of the game: a passing train sets it to red through reed, timer and relay."""
    pair = TwoLeadPair(leds["red alingap 3 mm"], leds["green gap 3 mm"])
    timer = HoldCircuit("one-shot", Capacitor("electrolytic", "100 µF", "25 V"), "220 kohm", "4.7 kohm")
    return BenchCircuit(
        adapters["12 V regulated"],
        ResistorDrive("680 ohm", "5 %"),
        pair,
        reversing="relay",
        relay="9 V two-pole sensitive",  # the one-shot's output lies well below 12 V
        timer=timer,
        fed_lamp="red",
        name="a Quillhaven signal that the train sets",
    )


def candidates(circuit: BenchCircuit, level: Level) -> tuple[Fault, ...]:
    """What may be hidden: on the two-fault levels pairs alone, else single faults, "nothing wrong" among them."""
    return tuple(each for each in faults_of(circuit) if (len(each.changes) > 1) == (level.faults > 1))


def hidden_fault(circuit: BenchCircuit, level: Level, number: int) -> Fault:
    """The fault of a game: drawn by its number, the commoner the likelier."""
    among = candidates(circuit, level)
    random = np.random.default_rng([number, LEVELS.index(level)])
    return among[int(random.choice(len(among), p=weights(among)))]


def secret_fault(circuit: BenchCircuit, place: int) -> Fault:
    """The fault that a presenter chooses by its number in `secret_list`, from 1."""
    among = candidates(circuit, LEVELS[0])
    return among[int(np.random.default_rng(_SHUFFLE).permutation(len(among))[place - 1])]


def secret_list(circuit: BenchCircuit) -> tuple[str, ...]:
    """The presenter's list, such as "1: wires swapped"; not in the order in which faults are named elsewhere."""
    count = len(candidates(circuit, LEVELS[0]))
    return tuple(f"{place}: {secret_fault(circuit, place).name}" for place in range(1, count + 1))


def never_told_apart(circuit: BenchCircuit, meter: str = METER) -> tuple[tuple[str, ...], ...]:
    """Groups of single faults that look and read the same at every point: no meter tells them apart."""
    expected = predict(circuit, meters[meter], pairs=False)
    groups: dict[int, list[str]] = {}
    for fault, group in zip(expected.faults, classes(expected, list(expected.points)), strict=True):
        groups.setdefault(group, []).append(fault.name)
    return tuple(tuple(each) for each in groups.values() if len(each) > 1)


@dataclass(frozen=True)
class Judgement:
    """What came of naming a fault: `outcome` is RIGHT, ALIKE, PARTLY or WRONG.

    `pointed` is the probability that what was seen and read gives the hidden fault.
    """

    outcome: str
    points: float
    most: float
    effort: float
    pointed: float
    diagnosis: Diagnosis


def judge(
    circuit: BenchCircuit,
    hidden: Fault,
    named: Sequence[str],
    seen: Mapping[str, str],
    readings: Mapping[str, str],
) -> Judgement:
    """Compare the named faults with the hidden one, by what was seen and read.

    Parameters
    ----------
    named: the names of one or two faults
    seen, readings: as for `design.diagnosis.diagnose`
    """
    found = diagnose(circuit, seen, readings, METER, pairs=len(hidden.changes) > 1)
    names, true = set(named), set(hidden.name.split(AND))
    alike = any(
        hidden.name in each.faults and any(set(name.split(AND)) == names for name in each.faults)
        for each in found.suspects
    )
    partly = len(true) > 1 and len(names & true) == 1
    outcome = RIGHT if names == true else ALIKE if alike else PARTLY if partly else WRONG
    points = measuring_points(circuit)
    effort = sum(points[name].effort for name in readings)
    worth = {RIGHT: FULL, ALIKE: HALF_WAY, PARTLY: ONE_OF_TWO, WRONG: 0.0}[outcome]
    got = max(worth - PER_EFFORT * effort, worth / 2)
    return Judgement(outcome, got, FULL, effort, found.probability(hidden.name), found)
