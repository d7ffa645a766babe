"""The game of the lesson "find the fault": look at a signal, put the meter to it, and name what is wrong."""

from __future__ import annotations

from collections.abc import Callable, Mapping
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
    secret_fault,
    secret_list,
)
from ..views.find_the_fault import ReadingRow, meter_picture, probes, readings_table
from ..views.findings import Answer
from ..views.picture import Picture
from ..views.scene.meter_scene import meter_scene
from ..views.style import Size
from .base import AS_IT_IS_DRAWN, AS_IT_LOOKS, BOTH, Panel
from .control import Button, Control, NumberControl, choice, positions


class Press(Control):
    """A button that is pressed; `taken()` says once whether it was, since it was last asked."""

    def __init__(self, name: str, words: str = ""):
        button = Button(description=words or name, tooltip=words or name)
        button.layout.height, button.layout.align_self = "auto", "flex-end"
        button.layout.border = "1px solid var(--jp-ui-font-color2, #616161)"
        self._pressed = False
        button.on_click(lambda _: setattr(self, "_pressed", True))
        super().__init__(name, button, button)

    @property
    def value(self) -> bool:
        """Whether it has been pressed and not been taken yet."""
        return self._pressed

    def taken(self) -> bool:
        """Whether it was pressed; then it no longer is."""
        was, self._pressed = self._pressed, False
        return was

    def on_change(self, callback: Callable[[], None]) -> None:
        """Call back after each press."""
        self.widget.on_click(lambda _: callback())


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
        Finding(grade, "verdict", f"{said} {fault.cause} {scored}", fault.remedy),
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
    """The meter on the signal as it looks, as it is drawn, or both.

    `seen_at` is the point, its reading, the signal's position and what is seen there; `found` a fault to be marked.
    """
    looks = (meter_scene(circuit, *seen_at, size, found),) if show in (AS_IT_LOOKS, BOTH) else ()
    drawn = (meter_picture(circuit, *seen_at, size, found),) if show in (AS_IT_IS_DRAWN, BOTH) else ()
    return looks + drawn


def shows(circuit: BenchCircuit, *ways: str) -> list[str]:
    """Of the ways to show a signal those that there are for it: no relay is drawn as a thing."""
    return [each for each in ways if circuit.relay is None or each not in (AS_IT_LOOKS, BOTH)]


GAMES = 200
FIRST = 1
DRAWN, NO_SECOND = "by game number", "no second fault"
READINGS = "readings"
SIGNAL, LEVEL, GAME, SECRET = "signal", "level", "game number", "hidden fault"
SET_FOR, METER_AT, SHOW = "set for", "meter at", "show"
MEASURE, FAULT, SECOND, NAME_IT = "measure", "your verdict", "and a second fault", "name it"
_LAST = 3  # readings that are shown below the circuit


class FaultGamePanel(Panel):
    """A signal with a hidden fault: look at it, put the meter to it, and name what is wrong.

    The signal is set by a hand switch, or by reed, timer and relay. `panel["hidden fault"]` lets a presenter choose the
    fault by its number in the presenter's list.
    """

    def __init__(self) -> None:
        self.circuit = quillhaven_signal()
        self.points = measuring_points(self.circuit)
        self.scores: dict[Any, float] = {}
        self._key: Any = None
        self._meter_at: Any = None
        names, seconds = self._verdicts()
        controls = [
            choice(SIGNAL, [("on a hand switch", quillhaven_signal()), ("set by a train", quillhaven_train_signal())]),
            choice(LEVEL, [(each.name, each) for each in LEVELS]),
            NumberControl(GAME, "", 1, GAMES, FIRST, step=1),
            positions(SET_FOR, list(LAMPS)),
            choice(METER_AT, self._places()),
            Press(MEASURE, "measure here"),
            choice(FAULT, names, NOTHING_WRONG),
            choice(SECOND, seconds),
            Press(NAME_IT),
            choice(SECRET, self._secrets()),
            positions(SHOW, (AS_IT_LOOKS, AS_IT_IS_DRAWN, BOTH, READINGS)),
        ]
        super().__init__(controls, "What is wrong with this signal?", height="40em")
        self.add_class("sigcalc-meter")

    def _verdicts(self) -> tuple[list[str], list[str]]:
        """What can be named as wrong with the signal, and as a second fault."""
        names = [each.name for each in faults_of(self.circuit, pairs=False)]
        return names, [NO_SECOND, *(name for name in names if catalogue()[name].pairs)]

    def _secrets(self) -> list[tuple[str, int]]:
        count = len(secret_list(self.circuit))
        return [(DRAWN, 0), *((f"secret {place}", place) for place in range(1, count + 1))]

    def _places(self) -> list[tuple[str, str]]:
        """The measuring points without their positions, with the letters of the drawing."""
        first = {point.base: point for point in reversed(self.points.values())}
        bases = dict.fromkeys(point.base for point in self.points.values())
        return [(labelled(base, first[base]), base) for base in bases]

    def takes_long(self) -> bool:
        """Whether a verdict is to be judged: every fault is tried on the circuit."""
        return self[NAME_IT].value

    def draw(self) -> Answer:
        """The circuit with the meter, the readings so far, and after the verdict what it was."""
        self._follow_signal()
        self._follow_level()
        self._follow_game()
        self._follow_point()
        if self[MEASURE].taken():
            self._measure()
        if self[NAME_IT].taken() and self.judgement is None:
            self.judgement = self._judge()
            self.scores.setdefault(self._key, self.judgement.points)
        return Answer(self._pictures(), self._sentence(), self._findings())

    @property
    def point(self) -> MeasuringPoint:
        """Where the meter is."""
        base = self[METER_AT].value
        return self.points.get(f"{base}, {self[SET_FOR].value}") or self.points[base]

    @property
    def _elsewhere(self) -> bool:
        """Whether the meter is at a point that is read in the other position of the signal alone."""
        return self.point.position not in ("", self[SET_FOR].value)

    @property
    def level(self) -> Level:
        """The level of the game."""
        return self[LEVEL].value

    def _follow_signal(self) -> None:
        """Offer what belongs to the signal, where another one was chosen."""
        if self[SIGNAL].value is self.circuit:
            return
        self.circuit = self[SIGNAL].value
        self.points = measuring_points(self.circuit)
        names, seconds = self._verdicts()
        with self.silent():
            for control, options in ((METER_AT, self._places()), (FAULT, names), (SECOND, seconds)):
                self[control].offer(options)
            self[SECRET].widget.options, self[SECRET].value = self._secrets(), 0
            self[SHOW].offer(shows(self.circuit, AS_IT_LOOKS, AS_IT_IS_DRAWN, BOTH, READINGS))

    def _follow_level(self) -> None:
        """Let a second fault be named only where two are hidden."""
        two = self.level.faults > 1
        self[SECOND].widget.layout.display = "" if two else "none"
        if not two:
            with self.silent():
                self[SECOND].value = NO_SECOND

    def _follow_game(self) -> None:
        """Hide another fault where level, number or secret have changed."""
        number, secret = self[GAME].whole, self[SECRET].value
        key = (self.circuit.name, self.level.name, number, secret)
        if key == self._key:
            return
        self._key, self.judgement, self.refused = key, None, False
        self.readings: dict[str, str] = {}
        drawn = secret_fault(self.circuit, secret) if secret else hidden_fault(self.circuit, self.level, number)
        self.signal = SimulatedSignal(self.circuit, drawn, number, METER)

    def _follow_point(self) -> None:
        """Set the signal as a point needs it that the meter has just been put to; after that the buttons decide."""
        at = self[METER_AT].value
        if at != self._meter_at and self._elsewhere:
            with self.silent():
                self[SET_FOR].value = self.point.position
        self._meter_at = at

    def _measure(self) -> None:
        """Take a reading where the level still allows one; the same place again costs nothing."""
        if self._elsewhere:
            return
        most, name = self.level.readings, self.point.name
        self.refused = name not in self.readings and most is not None and len(self.readings) >= most
        if not self.refused and name not in self.readings:
            self.readings[name] = self.signal.read(name)

    def _judge(self) -> Judgement:
        second = self[SECOND].value
        named = [self[FAULT].value]
        if self.level.faults > 1 and second not in (NO_SECOND, named[0]):
            named.append(second)
        return judge(self.circuit, self.signal.fault, named, self.signal.seen, self.readings)

    def _pictures(self) -> tuple[Any, ...]:
        show, position = self[SHOW].value, self[SET_FOR].value
        rows = reading_rows(self.circuit, METER, self.readings)
        if show == READINGS:
            return (readings_table(rows, None, self.size, self.signal.seen),)
        reading = "" if self._elsewhere else self.readings.get(self.point.name, "")
        found = self.signal.fault if self.judgement else None
        seen_at = self.point, reading, position, self.signal.seen[position]
        table = (readings_table(rows, _LAST, self.size),) if rows else ()
        return (*meter_pictures(show, self.circuit, seen_at, self.size, found), *table)

    def _sentence(self) -> str:
        most, used = self.level.readings, len(self.readings)
        readings = "1 reading" if used == 1 and most is None else f"{used} readings"
        count = f"{readings} taken" if most is None else f"{used} of {most} readings taken"
        games = "1 game" if len(self.scores) == 1 else f"{len(self.scores)} games"
        score = f" Score: {sum(self.scores.values()):g} in {games}." if self.scores else ""
        reading = self.readings.get(self.point.name)
        meter = f"{self.point.name} reads {reading}" if reading else f"{self.point.name} is not read yet"
        mind = "" if self.judgement else "".join(f" {each.text}" for each in self.point.cautions)
        return f"{meter[0].upper()}{meter[1:]}; {count}.{score}{mind}"

    def _findings(self) -> tuple[Finding, ...]:
        if self.judgement is not None:
            return outcome(self.judgement, self.signal.fault)
        if self._elsewhere:
            name, position = self.point.name, self.point.position
            reason = f"{name[0].upper()}{name[1:]} is measured with the signal set for {position}."
            return (Finding(LOOK, "meter", reason, f"Set it for {position} first."),)
        if self.refused:
            return (Finding(LOOK, "readings", "This level allows no more readings.", "Name the fault."),)
        return ()
