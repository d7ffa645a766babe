"""A hidden fault, a meter, and a verdict: the game of the lesson "find the fault"."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import ipywidgets as widgets

from ..design.questions.hidden_fault import (
    ALIKE,
    LEVELS,
    METER,
    RIGHT,
    Judgement,
    Level,
    hidden_fault,
    judge,
    quillhaven_signal,
    secret_fault,
    secret_list,
)
from ..design.readings import expected_readings
from ..errors import RangeError
from ..parts.bench_circuit import LAMPS
from ..parts.fault import NOTHING_WRONG, Fault, catalogue, faults_of
from ..parts.finding import FINE, LOOK, Finding
from ..parts.measured import read_measured
from ..parts.measuring_point import MeasuringPoint, measuring_points
from ..parts.simulated import SimulatedSignal
from ..views.meter import meter_picture, probes
from ..views.readings_table import ReadingRow, readings_table
from .base import Panel
from .control import Control, NumberControl, choice, positions
from .scene import Scene

GAMES = 200
FIRST = 6
DRAWN, NO_SECOND = "drawn", "no second fault"
CIRCUIT, READINGS, BOTH = "circuit", "readings", "both"
LEVEL, GAME, SECRET, SET_FOR, METER_AT, VIEW = "level", "game number", "hidden fault", "set for", "meter at", "view"
MEASURE, FAULT, SECOND, NAME_IT = "measure", "your verdict", "and a second fault", "name it"
WORKING = '<p role="status">Working: every fault is tried on this circuit. This takes about a second.</p>'
_LAST, _AFTER = 3, 8  # readings that are shown below the circuit, and after the verdict in its place


class Press(Control):
    """A button that is pressed; `taken()` says once whether it was, since it was last asked."""

    def __init__(self, name: str, words: str = ""):
        button = widgets.Button(description=words or name, tooltip=words or name)
        button.layout.height, button.layout.align_self = "auto", "flex-end"
        button.layout.border = "1px solid var(--jp-ui-font-color2, #616161)"
        self._pressed = False
        button.on_click(lambda _: self.press())
        super().__init__(name, button, button)

    @property
    def value(self) -> bool:
        """Whether it has been pressed and not been taken yet."""
        return self._pressed

    def press(self) -> None:
        """Press it, without telling anybody."""
        self._pressed = True

    def taken(self) -> bool:
        """Whether it was pressed; then it no longer is."""
        was, self._pressed = self._pressed, False
        return was

    def on_change(self, callback: Callable[[], None]) -> None:
        """Call back after each press."""
        self.widget.on_click(lambda _: callback())


class FaultGamePanel(Panel):
    """A signal with a hidden fault: look at it, put the meter to it, and name what is wrong.

    `panel["hidden fault"]` lets a presenter choose the fault by its number in the presenter's list.
    """

    height = "40em"

    def __init__(self) -> None:
        self.circuit = quillhaven_signal()
        self.points = measuring_points(self.circuit)
        self.scores: dict[Any, float] = {}
        self._key: Any = None
        names = [each.name for each in faults_of(self.circuit, pairs=False)]
        seconds = [name for name in names if catalogue()[name].pairs]
        secrets = [(f"secret {place}", place) for place in range(1, len(secret_list(self.circuit)) + 1)]
        controls = [
            choice(LEVEL, [(each.name, each) for each in LEVELS]),
            NumberControl(GAME, "", 1, GAMES, FIRST, step=1),
            positions(SET_FOR, list(LAMPS)),
            choice(METER_AT, self._places()),
            Press(MEASURE, "measure here"),
            choice(FAULT, names, NOTHING_WRONG),
            choice(SECOND, [NO_SECOND, *seconds]),
            Press(NAME_IT, "name it: this is wrong"),
            choice(SECRET, [(DRAWN, 0), *secrets], narrow=True),
            choice(VIEW, [BOTH, CIRCUIT, READINGS], narrow=True),
        ]
        super().__init__(controls, "What is wrong with this signal?")

    def _places(self) -> list[tuple[str, str]]:
        """The measuring points without their positions, with the letters of the drawing."""
        places: dict[str, str] = {}
        for point in self.points.values():
            base = _base(point)
            spots = probes(point)
            places.setdefault(base, f"{base} ({spots})" if spots else base)
        return [(label, base) for base, label in places.items()]

    def redraw(self) -> None:
        """Draw again; a second fault can be named only where two are hidden."""
        self[SECOND].widget.disabled = self[LEVEL].value.faults < 2
        if self[NAME_IT].value:
            self.view.value = WORKING
        super().redraw()

    def draw(self) -> Scene:
        """The circuit with the meter, the readings so far, and after the verdict what it was."""
        self._follow_game()
        if self[MEASURE].taken():
            self._measure()
        if self[NAME_IT].taken() and self.judgement is None:
            self.judgement = self._judge()
            self.scores.setdefault(self._key, self.judgement.points)
        return Scene(self._pictures(), self._sentence(), self._findings())

    @property
    def point(self) -> MeasuringPoint:
        """Where the meter is."""
        base = self[METER_AT].value
        return self.points.get(f"{base}, {self[SET_FOR].value}") or self.points[base]

    @property
    def level(self) -> Level:
        """The level of the game."""
        return self[LEVEL].value

    def _number(self) -> int:
        value = self[GAME].checked()
        if value != round(value):
            raise RangeError(f"{GAME} needs a whole number, but {value:g} came; type for example {value:.0f}")
        return round(value)

    def _follow_game(self) -> None:
        """Hide another fault where level, number or secret have changed."""
        number, secret = self._number(), self[SECRET].value
        key = (self.level.name, number, secret)
        if key == self._key:
            return
        self._key, self.judgement, self.refused = key, None, False
        self.readings: dict[str, str] = {}
        self.signal = SimulatedSignal(self.circuit, self._hidden(number, secret), number, METER)

    def _hidden(self, number: int, secret: int) -> Fault:
        return secret_fault(self.circuit, secret) if secret else hidden_fault(self.circuit, self.level, number)

    def _measure(self) -> None:
        """Take a reading where the level still allows one; the same place again costs nothing."""
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
        view, position = self[VIEW].value, self.point.position or self[SET_FOR].value
        drawn = ()
        instead = view == BOTH and self.judgement is not None  # so that the explanation is seen without scrolling
        if view != READINGS and not instead:
            reading = self.readings.get(self.point.name, "")
            seen = self.signal.seen[position]
            drawn = (meter_picture(self.circuit, self.point, reading, position, seen, self.size),)
        if view == CIRCUIT:
            return drawn
        most = None if view == READINGS else _AFTER if instead else _LAST
        looks = self.signal.seen if view == READINGS or instead else None
        return (*drawn, readings_table(self._rows(), most, self.size, looks))

    def _rows(self) -> list[ReadingRow]:
        """The readings beside what a sound signal reads."""
        expected = expected_readings(self.circuit, METER)
        values = read_measured(self.circuit, expected.meter, self.readings).values
        return [
            ReadingRow(
                name, shown, expected[name].text, expected[name].allows(values[name]) if name in values else None
            )
            for name, shown in self.readings.items()
        ]

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
            return _outcome(self.judgement, self.signal.fault)
        if self.refused:
            return (Finding(LOOK, "readings", "This level allows no more readings.", "Name the fault."),)
        return ()


def _base(point: MeasuringPoint) -> str:
    """A point's name without the position."""
    return point.name.removesuffix(f", {point.position}") if point.position else point.name


def _outcome(judged: Judgement, fault: Fault) -> tuple[Finding, ...]:
    """The verdict, what it was, and what the readings had said."""
    worth = f"{judged.points:g} of {judged.most:g} points, with an effort of {judged.effort:g}."
    if judged.outcome == RIGHT:
        first = Finding(FINE, "verdict", f"Right: {fault.name}. {worth}")
    elif judged.outcome == ALIKE:
        first = Finding(
            LOOK,
            "verdict",
            f"It is {fault.name}; what you named looks the same in all that you read. {worth}",
            _next(judged),
        )
    else:
        first = Finding(LOOK, "verdict", f"No: it is {fault.name}. {worth}")
    made = f"From what you saw and read, the library gives it {round(100 * judged.pointed)} %."
    lucky = " You were lucky." if judged.outcome == RIGHT and judged.pointed < 0.5 else ""
    return (
        first,
        Finding(LOOK, "what it was", fault.cause, fault.remedy),
        Finding(LOOK, "evidence", made + lucky, _next(judged) if judged.outcome == RIGHT and lucky else ""),
    )


def _next(judged: Judgement) -> str:
    """The measurement that would have told more."""
    ahead = judged.diagnosis.next
    return f"Most telling would have been {ahead[0].point}." if ahead else ""
