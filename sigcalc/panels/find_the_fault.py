"""The game of the lesson "find the fault": look at a signal, put the meter to it, and name what is wrong."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from ..design.bench.circuit import LAMPS
from ..design.bench.expected import expected_readings, read_measured
from ..design.bench.fault import NOTHING_WRONG, Fault, catalogue, faults_of
from ..design.bench.reading import MeasuringPoint, measuring_points
from ..design.bench.simulated import SimulatedSignal
from ..design.findings import FINE, LOOK, Finding
from ..errors import RangeError
from ..lessons.find_the_fault import (
    ALIKE,
    LEVELS,
    METER,
    PARTLY,
    RIGHT,
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
from ..views.findings import Scene
from .base import Panel
from .control import Button, Control, NumberControl, choice, positions


class Press(Control):
    """A button that is pressed; `taken()` says once whether it was, since it was last asked."""

    def __init__(self, name: str, words: str = ""):
        button = Button(description=words or name, tooltip=words or name)
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


def outcome(judged: Judgement, fault: Fault) -> tuple[Finding, ...]:
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
    elif judged.outcome == PARTLY:
        first = Finding(LOOK, "verdict", f"One of the two is right: it is {fault.name}. {worth}", _next(judged))
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


GAMES = 200
FIRST = 6
DRAWN, NO_SECOND = "drawn", "no second fault"
CIRCUIT, READINGS, BOTH = "circuit", "readings", "both"
SIGNAL, LEVEL, GAME, SECRET = "signal", "level", "game number", "hidden fault"
SET_FOR, METER_AT, VIEW = "set for", "meter at", "view"
MEASURE, FAULT, SECOND, NAME_IT = "measure", "your verdict", "and a second fault", "name it"
_LAST, _AFTER = 3, 8  # readings that are shown below the circuit, and after the verdict in its place


class FaultGamePanel(Panel):
    """A signal with a hidden fault: look at it, put the meter to it, and name what is wrong.

    The signal is set by a hand switch, or by reed, timer and relay. `panel["hidden fault"]` lets a presenter choose the
    fault by its number in the presenter's list.
    """

    height = "40em"

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
            Press(NAME_IT, "name it: this is wrong"),
            choice(SECRET, self._secrets(), narrow=True),
            choice(VIEW, [BOTH, CIRCUIT, READINGS], narrow=True),
        ]
        super().__init__(controls, "What is wrong with this signal?")

    def _verdicts(self) -> tuple[list[str], list[str]]:
        """What can be named as wrong with the signal, and as a second fault."""
        names = [each.name for each in faults_of(self.circuit, pairs=False)]
        return names, [NO_SECOND, *(name for name in names if catalogue()[name].pairs)]

    def _secrets(self) -> list[tuple[str, int]]:
        count = len(secret_list(self.circuit))
        return [(DRAWN, 0), *((f"secret {place}", place) for place in range(1, count + 1))]

    def _places(self) -> list[tuple[str, str]]:
        """The measuring points without their positions, with the letters of the drawing."""
        places: dict[str, str] = {}
        for point in self.points.values():
            base = point.base
            spots = probes(point)
            places.setdefault(base, f"{base} ({spots})" if spots else base)
        return [(label, base) for base, label in places.items()]

    def redraw(self) -> None:
        """Draw again; a second fault can be named only where two are hidden."""
        self._follow_signal()
        two = self[LEVEL].value.faults > 1
        self[SECOND].enable(two)
        if not two and self[SECOND].value != NO_SECOND:
            with self.silent():
                self[SECOND].value = NO_SECOND
        super().redraw()

    def takes_long(self) -> bool:
        """Whether a verdict is to be judged: every fault is tried on the circuit."""
        return self[NAME_IT].value

    def draw(self) -> Scene:
        """The circuit with the meter, the readings so far, and after the verdict what it was."""
        self._follow_game()
        self._follow_point()
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
    def _elsewhere(self) -> bool:
        """Whether the meter is at a point that is read in the other position of the signal alone."""
        return self.point.position not in ("", self[SET_FOR].value)

    @property
    def level(self) -> Level:
        """The level of the game."""
        return self[LEVEL].value

    def _number(self) -> int:
        value = self[GAME].checked()
        if value != round(value):
            raise RangeError(argument=GAME, need="a whole number", given=f"{value:g}", example=f"{value:.0f}")
        return round(value)

    def _follow_signal(self) -> None:
        """Offer what belongs to the signal, where another one was chosen."""
        if self[SIGNAL].value is self.circuit:
            return
        self.circuit = self[SIGNAL].value
        self.points = measuring_points(self.circuit)
        at, (names, seconds) = self[METER_AT].value, self._verdicts()
        with self.silent():
            self[METER_AT].widget.options = self._places()
            self[METER_AT].value = at if at in [base for _, base in self._places()] else self._places()[0][1]
            self[FAULT].widget.options, self[FAULT].value = names, NOTHING_WRONG
            self[SECOND].widget.options, self[SECOND].value = seconds, NO_SECOND
            self[SECRET].widget.options, self[SECRET].value = self._secrets(), 0

    def _follow_game(self) -> None:
        """Hide another fault where level, number or secret have changed."""
        number, secret = self._number(), self[SECRET].value
        key = (self.circuit.name, self.level.name, number, secret)
        if key == self._key:
            return
        self._key, self.judgement, self.refused = key, None, False
        self.readings: dict[str, str] = {}
        self.signal = SimulatedSignal(self.circuit, self._hidden(number, secret), number, METER)

    def _follow_point(self) -> None:
        """Set the signal as a point needs it that the meter has just been put to; after that the buttons decide."""
        at = self[METER_AT].value
        if at != self._meter_at and self._elsewhere:
            with self.silent():
                self[SET_FOR].value = self.point.position
        self._meter_at = at

    def _hidden(self, number: int, secret: int) -> Fault:
        return secret_fault(self.circuit, secret) if secret else hidden_fault(self.circuit, self.level, number)

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
        view, position = self[VIEW].value, self[SET_FOR].value
        drawn = ()
        instead = view == BOTH and self.judgement is not None  # so that the explanation is seen without scrolling
        if view != READINGS and not instead:
            reading = "" if self._elsewhere else self.readings.get(self.point.name, "")
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
            return outcome(self.judgement, self.signal.fault)
        if self._elsewhere:
            name, position = self.point.name, self.point.position
            reason = f"{name[0].upper()}{name[1:]} is measured with the signal set for {position}."
            return (Finding(LOOK, "meter", reason, f"Set it for {position} first."),)
        if self.refused:
            return (Finding(LOOK, "readings", "This level allows no more readings.", "Name the fault."),)
        return ()
