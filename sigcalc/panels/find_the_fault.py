"""The game of the lesson "find the fault": look at a signal, put the meter to it, and name what is wrong."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from ..design.bench.circuit import LAMPS, BenchCircuit
from ..design.bench.expected import expected_readings, read_measured
from ..design.bench.fault import NOTHING_WRONG, Fault, catalogue, faults_of
from ..design.bench.reading import MeasuringPoint, measuring_points
from ..design.bench.simulated import SimulatedSignal
from ..design.findings import FINE, LOOK, Finding
from ..lessons.find_the_fault import (
    ALIKE,
    FULL,
    LEVELS,
    METER,
    PARTLY,
    RIGHT,
    WRONG,
    Judgement,
    Level,
    hidden_fault,
    judge,
    quillhaven_signal,
    quillhaven_train_signal,
)
from ..views.find_the_fault import probes, seen_words
from ..views.findings import Answer, capital
from ..views.meter_circuit import meter_picture
from ..views.picture import Picture
from ..views.readings import ReadingRow, readings_table
from ..views.scene.meter_scene import meter_scene
from ..views.style import STAGE, Size
from .base import AS_IT_IS_DRAWN, AS_IT_LOOKS, BOTH, Panel
from .control import Control, NumberControl, choice, positions
from .press import Pick, Press

TOPICS = {
    RIGHT: "the fault is found",
    ALIKE: "another one looks the same",
    PARTLY: "one of two is found",
    WRONG: "it is another fault",
}
"""What a verdict comes to, in few words for the wall."""


def outcome(judged: Judgement, fault: Fault) -> tuple[Finding, ...]:
    """The verdict, what it was, and what the readings had said."""
    said = {
        RIGHT: "Right: “{}”.",
        ALIKE: "It is “{}”; what you named looks the same in all that you read.",
        PARTLY: "One of the two is right: it is “{}”.",
        WRONG: "No: it is “{}”.",
    }[judged.outcome].format(fault.name)
    ahead, right = judged.diagnosis.next, judged.outcome == RIGHT
    lucky = right and judged.pointed < 0.5
    asked = ahead and (lucky or judged.outcome in (ALIKE, PARTLY))
    telling = f" This reading would have told most: {ahead[0].point}." if asked else ""
    made = f"What you saw and read makes this fault {round(100 * judged.pointed)} % likely."
    scored = f"{judged.points:g} of {FULL:g} points, with an effort of {judged.effort:g}."
    grade = FINE if right else LOOK
    return (
        Finding(grade, TOPICS[judged.outcome], f"{said} {fault.cause} {scored}", fault.remedy),
        Finding(grade, "evidence", made + (" You were lucky." if lucky else "") + telling, ""),
    )


def labelled(words: str, point: MeasuringPoint) -> str:
    """A measuring point in words with the letters that its probes have in the drawing."""
    spots = probes(point)
    return f"{words} ({spots})" if spots else words


def reading_rows(circuit: BenchCircuit, meter: Any, readings: Mapping[str, str]) -> list[ReadingRow]:
    """The readings beside what a sound signal reads."""
    expected = expected_readings(circuit, meter)
    values = read_measured(circuit, expected.meter, readings).values
    return [
        ReadingRow(name, shown, expected[name].text, expected[name].allows(values[name]) if name in values else None)
        for name, shown in readings.items()
    ]


def meter_pictures(
    show: str,
    circuit: BenchCircuit,
    seen_at: tuple[MeasuringPoint, str, str, str],
    size: Size,
    found: Fault | None = None,
) -> tuple[Picture, ...]:
    """The meter on the signal as it looks, as it is drawn, or both; on the stage there is room for one.

    `seen_at` is the point, its reading, the signal's position and what is seen there; `found` a fault to be marked.
    """
    looks = (meter_scene(circuit, *seen_at, size, found),) if show in (AS_IT_LOOKS, BOTH) else ()
    if looks and size is STAGE:
        return looks
    drawn = (meter_picture(circuit, *seen_at, size, found),) if show in (AS_IT_IS_DRAWN, BOTH) else ()
    return looks + drawn


def shows(circuit: BenchCircuit, *ways: str) -> list[str]:
    """Of the ways to show a signal those that there are for it: no relay is drawn as a thing."""
    return [each for each in ways if circuit.relay is None or each not in (AS_IT_LOOKS, BOTH)]


GAMES = 200
FIRST = 1
NO_SECOND = "no second fault"
READINGS = "readings"
SIGNAL, LEVEL, GAME = "signal", "level", "game number"
SET_FOR, METER_AT, SHOW = "set for", "meter at", "show"
START = "pair"  # where the meter is at first
MEASURE, FAULT, SECOND, NAME_IT = "measure here", "your verdict", "and a second fault", "name it"
_LAST = 3  # readings that are shown below the circuit
_BRIEF = 12  # words, the most that a sentence on the stage has


class MeterPanel(Panel):
    """A signal with something hidden in it, and a meter to put to it.

    A subclass puts its `signal` there, forgets the `readings` with each new one, and says when a fault is `found`.
    """

    wall = (SET_FOR, METER_AT, FAULT)
    signal: SimulatedSignal
    found: Fault | None = None

    def __init__(self, controls: Sequence[Control], heading: str):
        self.readings: dict[str, str] = {}
        self._meter_at: Any = None
        super().__init__(controls, heading, height="40em")
        self.controls |= {each.below.name: each.below for each in (self[METER_AT], self[FAULT])}
        self.add_class("sigcalc-meter")

    @property
    def circuit(self) -> BenchCircuit:
        """What was meant to be built."""
        return self.signal.circuit

    @property
    def points(self) -> dict[str, MeasuringPoint]:
        """Where the meter can be."""
        return self.signal.points

    @property
    def point(self) -> MeasuringPoint:
        """Where the meter is."""
        base = self[METER_AT].value
        return self.points.get(f"{base}, {self[SET_FOR].value}") or self.points[base]

    @property
    def elsewhere(self) -> bool:
        """Whether the meter is at a point that is read in the other position of the signal alone."""
        return self.point.position not in ("", self[SET_FOR].value)

    def follow_point(self) -> None:
        """Set the signal as a point needs it that the meter has just been put to; after that the buttons decide."""
        at = self[METER_AT].value
        if at != self._meter_at and self.elsewhere:
            with self.silent():
                self[SET_FOR].value = self.point.position
        self._meter_at = at

    def measure(self) -> bool:
        """Take a reading here; False where it is known already, or cannot be taken in this position."""
        name = self.point.name
        if self.elsewhere or name in self.readings:
            return False
        self.readings[name] = self.signal.read(name)
        return True

    def pictures(self) -> tuple[Picture, ...]:
        """The meter on the signal, and on a page the last readings below it; or the readings alone."""
        show, position = self[SHOW].value, self[SET_FOR].value
        rows = reading_rows(self.circuit, METER, self.readings)
        if show == READINGS:
            return (readings_table(rows, None, self.size, self.signal.seen),)
        reading = "" if self.elsewhere else self.readings.get(self.point.name, "")
        seen_at = self.point, reading, position, self.signal.seen[position]
        table = (readings_table(rows, _LAST, self.size),) if rows else ()
        return (*meter_pictures(show, self.circuit, seen_at, self.size, self.found), *table)

    def told(self) -> str:
        """What the meter says here, in words."""
        reading = self.readings.get(self.point.name)
        return capital(f"{self.point.name} reads {reading}" if reading else f"{self.point.name} is not read yet")

    def brief(self) -> str:
        """For the wall: the reading beside a sound signal's, or what is seen."""
        position, name = self[SET_FOR].value, self.point.name
        if name not in self.readings or self.elsewhere:
            seen = seen_words(self.signal.seen[position]).replace(" is", "")
            return f"Set for {position}: {seen}. Where do you measure?"
        right = reading_rows(self.circuit, METER, {name: self.readings[name]})[0].right
        longer = f"{self.told()}; a sound signal: {right}."
        return longer if len(longer.split()) <= _BRIEF else f"{self.told()}."

    def not_here(self) -> tuple[Finding, ...]:
        """What to do first where the point is read in the other position alone."""
        name, position = self.point.name, self.point.position
        reason = f"{capital(name)} is measured with the signal set for {position}."
        return (Finding(LOOK, f"first set it for {position}", reason, f"Set it for {position} first."),)


def places(points: Mapping[str, MeasuringPoint]) -> list[tuple[str, str]]:
    """The measuring points without their positions, with the letters of the drawing."""
    first = {point.base: point for point in reversed(points.values())}
    return [(labelled(base, first[base]), base) for base in dict.fromkeys(point.base for point in points.values())]


class FaultGamePanel(MeterPanel):
    """A signal with a hidden fault: look at it, put the meter to it, and name what is wrong.

    The signal is set by a hand switch, or by reed, timer and relay.
    """

    def __init__(self) -> None:
        self.scores: dict[Any, float] = {}
        self._key: Any = None
        hand = quillhaven_signal()
        self._offered = hand
        names, seconds = _verdicts(hand)
        controls = [
            choice(SIGNAL, [("on a hand switch", hand), ("set by a train", quillhaven_train_signal())]),
            choice(LEVEL, [(each.name, each) for each in LEVELS]),
            NumberControl(GAME, "", 1, GAMES, FIRST, step=1),
            positions(SET_FOR, list(LAMPS)),
            Pick(METER_AT, places(measuring_points(hand)), Press(MEASURE), START),
            Pick(FAULT, names, Press(NAME_IT), NOTHING_WRONG),
            choice(SECOND, seconds),
            positions(SHOW, (AS_IT_LOOKS, AS_IT_IS_DRAWN, BOTH, READINGS)),
        ]
        super().__init__(controls, "What is wrong with this signal?")

    def takes_long(self) -> bool:
        """Whether a verdict is to be judged: every fault is tried on the circuit."""
        return self[FAULT].below.value

    def draw(self) -> Answer:
        """The circuit with the meter, the readings so far, and after the verdict what it was."""
        self._follow_signal()
        self._follow_level()
        self._follow_game()
        self.follow_point()
        if self[METER_AT].below.taken():
            self._measure()
        if self[FAULT].below.taken() and self.judgement is None:
            self._name()
        return Answer(self.pictures(), self._sentence(), self._findings(), self._brief())

    @property
    def level(self) -> Level:
        """The level of the game."""
        return self[LEVEL].value

    def _follow_signal(self) -> None:
        """Offer what belongs to the signal, where another one was chosen."""
        chosen = self[SIGNAL].value
        if chosen is self._offered:
            return
        self._offered = chosen
        names, seconds = _verdicts(chosen)
        with self.silent():
            for control, options in ((METER_AT, places(measuring_points(chosen))), (FAULT, names), (SECOND, seconds)):
                self[control].offer(options)
            self[SHOW].offer(shows(chosen, AS_IT_LOOKS, AS_IT_IS_DRAWN, BOTH, READINGS))

    def _follow_level(self) -> None:
        """Let a second fault be named only where two are hidden."""
        two = self.level.faults > 1
        self[SECOND].widget.layout.display = "" if two else "none"
        if not two:
            with self.silent():
                self[SECOND].value = NO_SECOND

    def _follow_game(self) -> None:
        """Hide another fault where signal, level or number have changed."""
        circuit, number = self[SIGNAL].value, self[GAME].whole
        key = (circuit.name, self.level.name, number)
        if key == self._key:
            return
        self._key, self.judgement, self.found, self.refused = key, None, None, False
        self.missed, self.readings = "", {}
        self.signal = SimulatedSignal(circuit, hidden_fault(circuit, self.level, number), number, METER)

    def _measure(self) -> None:
        """Take a reading where the level still allows one; the same place again costs nothing."""
        most = self.level.readings
        full = self.point.name not in self.readings and most is not None and len(self.readings) >= most
        self.refused = full and not self.elsewhere
        if not self.refused:
            self.measure()

    def _name(self) -> None:
        """Judge the verdict; the first one that is wrong leaves another guess, for half the points."""
        judged = self._judge()
        if judged.outcome == WRONG and not self.missed:
            self.missed = self[FAULT].value
            return
        self.judgement = replace(judged, points=judged.points / 2) if self.missed else judged
        self.found = self.signal.fault
        self.scores.setdefault(self._key, self.judgement.points)

    def _judge(self) -> Judgement:
        second = self[SECOND].value
        named = [self[FAULT].value]
        if self.level.faults > 1 and second not in (NO_SECOND, named[0]):
            named.append(second)
        return judge(self.circuit, self.signal.fault, named, self.signal.seen, self.readings)

    def _sentence(self) -> str:
        most, used = self.level.readings, len(self.readings)
        readings = "1 reading" if used == 1 and most is None else f"{used} readings"
        count = f"{readings} taken" if most is None else f"{used} of {most} readings taken"
        games = "1 game" if len(self.scores) == 1 else f"{len(self.scores)} games"
        score = f" Score: {sum(self.scores.values()):g} in {games}." if self.scores else ""
        mind = "" if self.judgement else "".join(f" {each.text}" for each in self.point.cautions)
        return f"{self.told()}; {count}.{score}{mind}"

    def _brief(self) -> str:
        if self.judgement is None:
            return self.brief()
        return f"It is “{self.signal.fault.name}”: {self.judgement.points:g} of {FULL:g} points."

    def _findings(self) -> tuple[Finding, ...]:
        if self.judgement is not None:
            return outcome(self.judgement, self.signal.fault)
        if self.elsewhere:
            return self.not_here()
        if self.refused:
            return (Finding(LOOK, "no readings are left", "This level allows no more readings.", "Name the fault."),)
        if self.missed:
            said = f"it is not “{self.missed}”"
            return (Finding(LOOK, said, "You have one more guess, for half the points.", ""),)
        return ()


def _verdicts(circuit: BenchCircuit) -> tuple[list[str], list[str]]:
    """What can be named as wrong with a signal, and as a second fault."""
    names = [each.name for each in faults_of(circuit, pairs=False)]
    return names, [NO_SECOND, *(name for name in names if catalogue()[name].pairs)]
