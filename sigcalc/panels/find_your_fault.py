"""Your own signal: enter what you see and read, and get the faults ranked, and what to measure next."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from pathlib import Path
from typing import Any

from ..design.bench.circuit import LAMPS, BenchCircuit
from ..design.bench.diagnosis import Diagnosis, diagnose
from ..design.bench.reading import measuring_points
from ..design.bench.visual_check import SEEN
from ..design.findings import LOOK, STOP, Finding
from ..design.pair.two_lead_pair import TwoLeadPair
from ..errors import PlanError, UnitError
from ..lessons.find_the_fault import quillhaven_signal
from ..parts.drive import ResistorDrive
from ..parts.led import Led
from ..parts.meter import meters
from ..parts.source import Source, adapters, batteries
from ..plan import Plan, file
from ..plan.layout import Layout, holds_layout
from ..plan.result import BenchTest
from ..units import Q
from ..units.typed import typed, with_point
from ..views.find_the_fault import seen_words
from ..views.findings import Answer
from ..views.picture import Picture
from ..views.readings import chance_number, ranking, readings_table
from .base import AS_IT_IS_DRAWN, AS_IT_LOOKS, Panel
from .control import choice, positions, switch, text_line
from .find_the_fault import READINGS, SHOW, labelled, meter_pictures, reading_rows, shows
from .own_files import FOLDERS
from .press import Pick, Press
from .two_wires_two_colours import led_choices


def plan_files() -> list[tuple[str, Path]]:
    """Each plan's name and file, the examples first.

    The file follows a name that two plans have, and is alone for a plan with faults.
    """
    found = [path for folder in FOLDERS for path in sorted(Path(folder).glob("*.toml"))]
    named = [(name, path) for path in found if (name := _name(path))]
    often = Counter(name for name, _ in named)
    return [(f"{name} ({path})" if often[name] > 1 else name, path) for name, path in named]


def _name(path: Path) -> str:
    """The plan's name; "" for the file of a layout, which holds several signals."""
    text = ""
    try:
        text = file.read(path, Layout.most_bytes)
        return Plan.parse(text).name
    except PlanError:
        return "" if holds_layout(text) else f"{path.name} (has faults)"


def bench_test_of(path: Path) -> BenchTest:
    """The finished signal of a plan before a meter.

    Raises PlanError with the plan's faults, or where it cannot be tested; SigcalcError where nothing would light.
    """
    study = Plan.load(path).study()
    if study.bench_test is None:
        raise PlanError([f"{path.name}: {study.no_bench_test}"])
    return study.bench_test


SIGNAL, OWN = "signal", "own figures, below"
NOT_LOOKED, SOURCE, RESISTOR, METER = "not looked", "supply", "resistor (ohm)", "meter"
POINT, READS, FORGET, PAIRS = "measured at", "reads", "forget readings", "look for two faults at once"
RANKED = "ranking"
TOLERANCE = "5 %"
_FIGURES = (SOURCE, RESISTOR, "red LED", "green LED")


def seen_control(lamp: str) -> str:
    """The name of the control that asks what is seen in a position."""
    return f"at {lamp} I see"


class DiagnosisPanel(Panel):
    """A signal of your own: readings in, ranked faults out.

    The signal is that of a plan, or one on a hand switch with one shared resistor, given by its figures. `readings`
    holds what was read on it, by the name of the point; each signal keeps its own.
    """

    wall = (*map(seen_control, LAMPS), POINT)

    def __init__(self) -> None:
        self._kept: dict[Any, dict[str, str]] = {}
        self._known: set[Any] = set()
        self._plan: tuple[Path, BenchCircuit] | None = None
        sources = {**dict(batteries), **dict(adapters)}
        self.points = measuring_points(quillhaven_signal())
        looks = [("nothing" if each == SEEN[0] else each, each) for each in (NOT_LOOKED, *SEEN)]
        controls = [
            # no None among the values: a list that holds it shows nothing once a browser is joined to it
            choice(SIGNAL, [(OWN, OWN), *plan_files()]),
            choice(SOURCE, list(sources.items()), adapters["12 V regulated"]),
            text_line(RESISTOR, "680", "680"),
            choice(METER, list(meters.items()), narrow=True),
            *led_choices(red="bright red 3 mm", green="ordinary green 3 mm"),
            *(choice(seen_control(lamp), looks, narrow=True) for lamp in LAMPS),
            Pick(POINT, self._places(), text_line(READS, "", "1.9 V, or OL")),
            Press(FORGET, "forget all"),
            switch(PAIRS),
            positions(SHOW, (RANKED, AS_IT_LOOKS, AS_IT_IS_DRAWN, READINGS)),
        ]
        for each in controls:
            if each.name in (RESISTOR, FORGET):
                each.widget.add_class("sigcalc-narrow")
        self._at, self._of = next(iter(self.points)), None
        super().__init__(controls, "What is wrong with my signal?", height="42em")
        self.controls[READS] = self[POINT].below
        self.add_class("sigcalc-meter")

    def takes_long(self) -> bool:
        """Whether this circuit has not been asked about before."""
        asked = [self[name].value for name in (SIGNAL, SOURCE, RESISTOR, "red LED", "green LED", METER, PAIRS)]
        key = tuple(getattr(each, "name", each) for each in asked)
        new = key not in self._known
        self._known.add(key)
        return new

    def draw(self) -> Answer:
        """The ranking, the circuit with the meter, or the readings; in the findings the verdict and what to do next."""
        circuit = self._circuit()
        self._note()
        looks, meter = self.looks, self[METER].value
        result = diagnose(circuit, looks, self.readings, meter, pairs=self[PAIRS].value)
        said = _said(result) if looks or self.readings else ()
        return Answer(self._pictures(result), self._sentence(), said, self._brief(result))

    @property
    def readings(self) -> dict[str, str]:
        """What was read on this signal, as it was typed, with a point for a decimal comma."""
        return self._kept.setdefault(self[SIGNAL].value, {})

    def _circuit(self) -> BenchCircuit:
        """The signal; where it has changed, its measuring points are offered, and a plan's figures not asked for."""
        path = self[SIGNAL].value
        for name in _FIGURES:
            self[name].widget.layout.display = "" if path == OWN else "none"
        if path == OWN:
            self._plan = None
            circuit = bench_signal(*(self[name].value for name in _FIGURES))
        elif self._plan is not None and self._plan[0] == path:
            circuit = self._plan[1]
        else:
            test = bench_test_of(path)
            self._plan, circuit = (path, test.circuit), test.circuit
            with self.silent():
                self[METER].value = test.meter  # the one that the plan names
        self._offer(circuit)
        return circuit

    def _offer(self, circuit: BenchCircuit) -> None:
        """Offer the circuit's own measuring points, and stay at the same one where it has it."""
        if measuring_points(circuit) == self.points:
            return
        self.points = measuring_points(circuit)
        with self.silent():
            self[POINT].offer(self._places())
            self[SHOW].offer(shows(circuit, RANKED, AS_IT_LOOKS, AS_IT_IS_DRAWN, READINGS))

    def _places(self) -> list[tuple[str, str]]:
        return [(labelled(name, each), name) for name, each in self.points.items()]

    @property
    def looks(self) -> dict[str, str]:
        """What was seen, by position."""
        said = {lamp: self[seen_control(lamp)].value for lamp in LAMPS}
        return {lamp: look for lamp, look in said.items() if look != NOT_LOOKED}

    def _note(self) -> None:
        """Keep what is in the line for its point; at another point show what was read there."""
        if self[FORGET].taken():
            self.readings.clear()
            self._show("")
        elif (self[POINT].value, self[SIGNAL].value) != (self._at, self._of):
            self._at, self._of = self[POINT].value, self[SIGNAL].value
            self._show(self.readings.get(self._at, ""))
        elif self[POINT].below.value.strip():
            self.readings[self._at] = with_point(self[POINT].below.value)
        else:
            self.readings.pop(self._at, None)

    def _show(self, reading: str) -> None:
        with self.silent():
            self[POINT].below.value = reading

    def _pictures(self, result: Diagnosis) -> tuple[Picture, ...]:
        show = self[SHOW].value
        if show == RANKED and (self.looks or self.readings):
            return (ranking(result, size=self.size),)
        if show == READINGS:
            taken = {name: self.readings[name] for name in self.points if name in self.readings}
            rows = reading_rows(result.circuit, self[METER].value, taken)
            return (readings_table(rows, size=self.size, seen=self.looks),)
        point = self.points[self._at]
        position = point.position or LAMPS[0]
        seen_at = point, self.readings.get(self._at, ""), position, self.looks.get(position, "")
        show = shows(result.circuit, AS_IT_LOOKS, AS_IT_IS_DRAWN)[0] if show == RANKED else show
        return meter_pictures(show, result.circuit, seen_at, self.size)

    def _sentence(self) -> str:
        seen = [f"set for {lamp}, {seen_words(look)}" for lamp, look in self.looks.items()]
        read = [f"{name} reads {shown}" for name, shown in self.readings.items()]
        if not seen and not read:
            return "Say first what you see in both positions of the switch; then measure."
        return f"You say: {'; '.join(seen + read)}."

    def _brief(self, result: Diagnosis) -> str:
        """For the wall: what to do next."""
        first = [lamp for lamp in LAMPS if lamp not in self.looks]
        if first:
            return f"Set it for {first[0]}, and look: that costs nothing."
        if not result.next:
            return "No other measurement would tell more."
        return f"Measure next: {labelled(result.next[0].point.name, result.next[0].point)}."


def bench_signal(source: Source, resistor: str, red: Led, green: Led) -> BenchCircuit:
    """A signal on a hand switch with one shared resistor, which is given as text."""
    return BenchCircuit(
        source, ResistorDrive(_resistance(resistor), TOLERANCE), TwoLeadPair(red, green), name="my signal"
    )


def _resistance(line: str) -> Any:
    """The resistor; raises UnitError in the words of somebody with the panel before them."""
    try:
        return Q(typed(line, "ohm", "a resistance", "680 ohm"), "ohm")
    except UnitError as error:
        raise UnitError(f"{RESISTOR}: {error}") from None


def _topic(result: Diagnosis) -> dict[str, str]:
    """The diagnosis as a verdict in a few words, by the topic that the library gives it."""
    first = result.suspects[0]
    name = first.name if len(first.faults) == 1 else f"one of {len(first.faults)} faults"
    return {"diagnosis": f"{name}, {chance_number(first.probability)}" if result.fits else "nothing fits well"}


def _said(result: Diagnosis) -> tuple[Finding, ...]:
    """The library's findings: a suspicion is a reason to look, no more; the next measurement with its cautions."""
    topic = _topic(result)
    said = [
        replace(each, grade=LOOK if each.grade == STOP else each.grade, topic=topic.get(each.topic, each.topic))
        for each in result.findings
    ]
    if result.next:
        point = result.next[0].point
        cautions = " ".join(each.text for each in point.cautions)
        words = f"at “{labelled(point.name, point)}”: {said[-1].reason}"
        said[-1] = replace(said[-1], reason=f"{words.removesuffix('.')}. {cautions}")
    return tuple(said)
