"""The lesson "find the fault": its game's rules, its signals, its predictions and its exercises."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from ..design.bench.circuit import BenchCircuit
from ..design.bench.diagnosis import Diagnosis, diagnose
from ..design.bench.fault import AND, Fault, faults_of, weights
from ..design.bench.reading import MeasuringPoint, measuring_points
from ..design.bench.simulated import SimulatedSignal
from ..design.lamp.drive import operate
from ..design.train.hold import HoldCircuit
from ..parts.capacitor import Capacitor
from ..parts.drive import ResistorDrive
from ..parts.led import Led
from ..parts.meter import meters
from ..parts.source import adapters
from ..units import Current, Q, Resistance, kind_of, say
from .choice import Choice, Option, Prediction, WiringAt
from .question import Draw, Question, plain_led
from .quillhaven import PAIR

METER = "hand meter"
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
    return BenchCircuit(adapters["12 V regulated"], ResistorDrive("680 ohm", "5 %"), PAIR, name="a Quillhaven signal")


@cache
def quillhaven_train_signal() -> BenchCircuit:
    """The other signal of the game: a passing train sets it to red through reed, timer and relay."""
    timer = HoldCircuit("one-shot", Capacitor("electrolytic", "100 µF", "25 V"), "220 kohm", "4.7 kohm")
    return replace(
        quillhaven_signal(),
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


@dataclass(frozen=True)
class Judgement:
    """What came of naming a fault: `outcome` is RIGHT, ALIKE, PARTLY or WRONG.

    `pointed` is the probability that what was seen and read gives the hidden fault.
    """

    outcome: str
    points: float
    effort: float
    pointed: float
    diagnosis: Diagnosis


def judge(
    circuit: BenchCircuit, hidden: Fault, named: Sequence[str], seen: Mapping[str, str], readings: Mapping[str, str]
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
    return Judgement(outcome, got, effort, found.probability(hidden.name), found)


_CHEAP = "pocket meter"
JOINT = 120.0
"""In ohm, the cold joint of the second exercise."""
SLIP = 10
"""How many times too large the resistor of the third exercise is."""


def _signal(seed: int) -> tuple[float, float, Led]:
    """The supply in V and the resistor in ohm of a signal, its red lamp with a constant drop; first the lesson's."""
    circuit = quillhaven_signal()
    ours = float(circuit.source.nominal_voltage.m_as("V")), circuit.shared
    return *Draw(seed).one(ours, (9.0, 470.0), (9.0, 820.0), (15.0, 1000.0)), plain_led(circuit.pair.red.name)


_PAIR, _RESISTOR = "pair, red", "shared resistor, red"


def _with(fault: str) -> SimulatedSignal:
    """The lesson's signal with a fault."""
    signal = quillhaven_signal()
    return SimulatedSignal(signal, next(each for each in faults_of(signal) if each.name == fault), 1)


def across_an_open_lamp() -> Prediction:
    """What a meter reads across a pair whose lamp is open."""
    sound, broken = (_with(fault).read(_PAIR) for fault in ("nothing wrong", "red LED open"))
    return Prediction.seeing(
        text="The red LED's joint is open. You set the signal for red and measure across the pair. What do you read?",
        options={
            "nothing: no current flows": "no current flows, that is so. But a voltage needs none.",
            "an LED's usual drop": "without a current there is no drop.",
            "the whole supply": "so it is.",
        },
        seen=f"It reads {broken}, where a sound signal has {sound}: without current nothing is lost in the resistor, "
        "and each side of the break is joined to one pole.",
    )


def two_that_look_alike() -> Prediction:
    """Two faults that give the same reading across the pair."""
    short, nothing = (_with(fault) for fault in ("short at the mast hole", "no supply"))
    return Prediction.seeing(
        text="Both lamps stay dark, and across the pair you read next to nothing. What may be wrong?",
        options={
            "the pair is shorted": "that is one of the two that it may be.",
            "nothing arrives from the supply": "that is the other of the two that it may be.",
            "one or the other": "so it is.",
        },
        seen=f"You read {short.read(_PAIR)} across a shorted pair, and {nothing.read(_PAIR)} where nothing arrives. A "
        f"second reading tells, across the resistor: {short.read(_RESISTOR)} or {nothing.read(_RESISTOR)}.",
    )


def across_the_gap() -> Prediction:
    """What a meter reads where a resistor is missing."""
    sound, gap = (_with(fault).read(_RESISTOR) for fault in ("nothing wrong", "resistor open"))
    return Prediction.seeing(
        text="The shared resistor is missing. You measure across the gap that it left. What do you read?",
        options={
            "nothing": "with no meter there no current would flow. But the meter bridges the gap.",
            "nearly what a sound resistor has": "so it is.",
            "it cannot be measured": "that is what makes it such a good hiding place: it can.",
        },
        seen=f"You read {gap}, where a sound one has {sound}. The meter lets a trickle through. Only ohms, with the "
        "power off, give it away.",
    )


def across_a_break(seed: int = 0) -> Question:
    """What still flows while a cheap meter lies across a pair whose lamp for this direction is open."""
    volts, ohms, red = _signal(seed)
    inside = meters[_CHEAP].si.input_resistance
    answer = volts / (inside + ohms)
    drop = float(red.model.voltage_si(0.01))
    return Question(
        text=f"A signal on {say(volts, 'V')} with {say(ohms, 'ohm')} is set for red and stays dark: the red LED's "
        f"joint is open. You put a cheap meter of {say(inside, 'ohm')} across the pair. What current flows through the "
        "resistor now?",
        kind=kind_of(Current),
        answer=answer,
        mistakes={
            0.0: "Without the meter, yes. But the meter bridges the gap with its own resistance.",
            volts / ohms: "That would flow if the pair were shorted. The meter is in the way, and it is large.",
            (volts - drop) / ohms: "So it is while red is lit. The branch is open, and the meter is in its place.",
            (volts - drop)
            / inside: "You took off an LED's drop. No current flows through the open LED, so it has none.",
        },
        hint="Resistor and meter are in series now. Which of the two sets the current?",
        working=f"{say(volts, 'V')} ÷ ({say(ohms, 'ohm')} + {say(inside, 'ohm')}) = {kind_of(Current).say(answer)}. "
        f"Only {say(ohms * answer, 'V', 2)} of it is across the resistor, so the meter shows the whole supply as far "
        "as it can tell. The full supply across the pair means: something between the probes is open.",
    )


def cold_joint(seed: int = 0) -> Question:
    """The resistance of a cold joint, from three readings."""
    volts, ohms, red = _signal(seed)
    joint = Draw(seed).one(JOINT, 75.0, 47.0, 33.0)
    point = operate(Q(volts, "V"), ResistorDrive(Q(ohms + joint, "ohm")), red).si
    current, lamp = float(point.current), float(point.led_voltage)
    pair, across = round(lamp + joint * current, 2), ohms * current  # as a meter shows it
    said = {"pair": _volts(pair), "lamp": _volts(lamp), "across": _volts(across)}
    return Question(
        text=f"Red is lit, a little weakly. Across the resistor of {say(ohms, 'ohm')} you read {said['across']}, "
        f"across the pair at the mast's foot {said['pair']}, across the lamps themselves {said['lamp']}. Which "
        "resistance hides in the joint between foot and lamps?",
        kind=kind_of(Resistance),
        answer=joint,
        mistakes={
            pair / current: "That counts the lamp in. Only the voltage between foot and lamps is across the joint.",
            lamp / current: "That is the lamp's voltage over its current, which is no resistance, and not the joint.",
            ohms: "That is the resistor. Its voltage only tells you the current.",
            (pair - lamp) * ohms / volts: "You took the whole supply for the resistor's voltage, which is less.",
        },
        hint="The resistor tells the current. The same current flows through the joint; which voltage is across it?",
        working=f"Current: {said['across']} ÷ {say(ohms, 'ohm')} = {say(current, 'A')}. Across the joint: "
        f"{said['pair']} − {said['lamp']} = {_volts(pair - lamp)}. So {_volts(pair - lamp)} ÷ {say(current, 'A')} = "
        f"{kind_of(Resistance).say(joint)}. Heat the joint again.",
    )


def wrong_band(seed: int = 0) -> Question:
    """Which resistor is in there, from its voltage and the current."""
    volts, ohms, red = _signal(seed)
    wrong = ohms * SLIP
    point = operate(Q(volts, "V"), ResistorDrive(Q(wrong, "ohm")), red).si
    current, across = float(point.current), float(point.drive_voltage)
    return Question(
        text=f"Both lamps glow dimly on {say(volts, 'V')}. Set for red you read {_volts(across)} across the resistor "
        f"and {_milliamps(current)} in series with wire A. Which resistance is soldered in?",
        kind=kind_of(Resistance),
        answer=wrong,
        mistakes={
            ohms: "That is the one that was meant. Do the readings agree with it?",
            volts / current: "You divided the whole supply. A part of it is across the lamp.",
            (volts - across) / current: "That is the lamp's voltage over the current. The resistor's own is asked.",
            across * current: "You multiplied; that gives the heat in watts.",
        },
        hint="A resistance is the voltage across the part, divided by the current through it.",
        working=f"{_volts(across)} ÷ {_milliamps(current)} = {kind_of(Resistance).say(wrong)}, {SLIP} times the "
        f"{say(ohms, 'ohm')} that was meant: the third colour band, which gives the number of zeros, was "
        "read wrongly.",
    )


@dataclass(frozen=True)
class MeterAt:
    """The meter at a measuring point of the lesson's signal, which is set for red and shows what is `seen`."""

    name: str
    seen: str

    @property
    def point(self) -> MeasuringPoint:
        """The measuring point of that name."""
        return measuring_points(quillhaven_signal())[self.name]

    @property
    def says(self) -> str:
        """The setting of the meter, and where its probes are."""
        return str(self.point)


_TELLING = {
    ("wires swapped", "supply reversed"): (_PAIR, "lamps, red", "supply, red", "pair ohms"),
    ("wires swapped", "both LEDs reversed"): ("supply, red", _RESISTOR, "diode test A to B", _PAIR),
    ("resistor open", "break in the mast"): ("supply, red", _PAIR, "current, red", "pair ohms"),
}
"""Two faults that look alike, and some measurements, of which one tells them apart."""


def which_tells(seed: int = 0) -> Choice:
    """Which measurement tells two faults apart that look alike."""
    alike = Draw(seed).one(*_TELLING)
    one, other = map(_with, alike)
    readings = {name: (one.read(name), other.read(name)) for name in _TELLING[alike]}
    options = tuple(
        Option(
            (at := MeterAt(name, one.seen["red"])).says,
            f"It reads {mine} with “{alike[0]}”, and {theirs} with “{alike[1]}”.",
            _apart(mine, theirs),
            at,
        )
        for name, (mine, theirs) in readings.items()
    )
    return Choice(
        text=f"A signal shows {_shows(one)}. Either it is “{alike[0]}”, or it is “{alike[1]}”. Which measurement "
        "tells you which?",
        options=options,
        hint="Follow the plus from the supply onward. Where are the two faults, and what is between them?",
        working=" ".join(f"{each.says[0].upper()}{each.says[1:]}: {each.reason}" for each in options),
    )


def _apart(one: str, other: str) -> bool:
    """Whether two readings differ by more than the meter's doubt and the parts' tolerances."""
    if "OL" in (one, other):
        return one != other
    first, second = (float(Q(each).to_base_units().magnitude) for each in (one, other))
    return abs(first - second) > 0.5 * max(abs(first), abs(second), 0.1)


def _shows(signal: SimulatedSignal) -> str:
    """What lights in both positions, in words."""
    return " and ".join(f"{_LIT[lamp]} when set for {way}" for way, lamp in signal.seen.items())


def seen_first(seed: int = 0) -> Choice:
    """Which fault fits what both positions show."""
    draw = Draw(seed)
    signs = {
        "red LED open": "a joint of the red LED is open",
        "both LEDs reversed": "both LEDs are the wrong way round",
        "jumpers straight": "the jumpers of the switch are straight",
        "no supply": "no supply arrives",
    }
    hidden = draw.one(*signs)
    words = {fault: _shows(_with(fault)) for fault in signs}
    return Choice(
        text=f"A signal shows {words[hidden]}. Which of these faults does that?",
        options=draw.mixed(
            tuple(Option(said, f"It shows {words[fault]}.", fault == hidden) for fault, said in signs.items())
        ),
        hint="Dark in one position only: that lamp's way. Dark in both: what both share. Wrong colours: something is "
        "turned round.",
        working="; ".join(f"{said}: {words[fault]}" for fault, said in signs.items()) + ".",
    )


_LIT = {"none": "nothing", "red": "red", "green": "green", "both": "both lamps", "dim red": "red", "dim green": "green"}


def mistake_behind_the_switch(seed: int = 0) -> Choice:
    """Find the mistake in a wiring that lights one colour only."""
    cut, cross = "double-pole single-throw switch", "crossed double-throw switch"
    missing, exchanged = f"{cross}, one jumper missing", f"{cross}, supply exchanged"
    wrong = Draw(seed).one(cut, missing, exchanged)
    ends = ("on", "off") if wrong == cut else ("up", "down")
    shows = " and ".join(f"{WiringAt(wrong, each).shown.lamps[0]} when {each}" for each in ends)
    said = {
        cut: "the switch only opens and closes: it has no second end to put the wires on",
        missing: "one jumper of the cross is missing",
        exchanged: "plus and minus are exchanged",
    }
    why = {
        cut: "Such a switch has four terminals and no cross; it can only cut the wires.",
        missing: "Then one position is right, and in the other a wire ends on nothing.",
        exchanged: "Then both colours light, each when the other should.",
    }
    return Choice(
        text=f"A signal behind this switch shows {shows}. What is wrong?",
        shows=WiringAt(wrong, ends[0]),
        options=tuple(Option(said[name], why[name], name == wrong) for name in said),
        hint="Count the terminals of the switch. Then follow plus and minus to the commons, in both positions.",
        working=f"The wires: {WiringAt(wrong, ends[0]).wires}.",
    )


def _volts(value: float) -> str:
    return say(value, "V")


def _milliamps(current: float) -> str:
    """As a meter shows it at the bench."""
    return f"{1e3 * current:.3g} mA"
