"""Exercises of the lesson "find the fault": the meter across a break, a joint's resistance, a wrong colour band."""

from __future__ import annotations

from ..design.bench.circuit import LAMPS, BenchCircuit
from ..design.lamp.drive import operate
from ..parts.drive import ResistorDrive
from ..parts.led import ConstantDrop, Led, leds
from ..parts.meter import meters
from ..units import Current, Q, Resistance, kind_of, say
from .hidden_fault import quillhaven_signal
from .question import Mistake, Question

METER = "pocket meter"
JOINT = 75.0
"""In ohm, the cold joint of the second exercise."""
SLIP = 10
"""How many times too large the resistor of the third exercise is."""
_DIGITS = 4


def questions() -> tuple[Question, ...]:
    """The exercises in their order."""
    return across_a_break(), cold_joint(), wrong_band()


def _signal() -> tuple[BenchCircuit, float, float]:
    """The lesson's signal, its supply in V, its resistor in ohm."""
    circuit = quillhaven_signal()
    return circuit, float(circuit.source.nominal_voltage.m_as("V")), circuit.shared


def _plain(lamp: str) -> Led:
    """A lamp of the lesson's signal as a constant drop, as its data sheet prints it."""
    led = getattr(quillhaven_signal().pair, lamp)
    return Led(led.name, led.colour, ConstantDrop(leds.figures(led.name)["forward_voltage"].text), led.max_current)


def across_a_break() -> Question:
    """What still flows while a cheap meter lies across a pair whose lamp for this direction is open."""
    _, volts, ohms = _signal()
    inside = meters[METER].si.input_resistance
    answer = volts / (inside + ohms)
    drop = float(_plain(LAMPS[0]).model.voltage_si(0.01))
    return Question(
        text=(
            f"A signal on {say(volts, 'V')} with {say(ohms, 'ohm')} is set for red and stays dark: the red LED's joint "
            f"is open. You put a cheap meter of {say(inside, 'ohm')} across the pair. What current flows through the "
            "resistor now?"
        ),
        kind=kind_of(Current),
        answer=answer,
        mistakes=(
            Mistake(0.0, "Without the meter, yes. But the meter bridges the gap with its own resistance."),
            Mistake(
                volts / ohms, "That would flow if the pair were shorted. The meter is in the way, and it is large."
            ),
            Mistake(
                (volts - drop) / ohms, "So it is while red is lit. The branch is open, and the meter is in its place."
            ),
            Mistake((volts - drop) / inside, "The open LED keeps no voltage for itself: nothing flows in it."),
        ),
        hint="Resistor and meter are in series now. Which of the two sets the current?",
        working=(
            f"{say(volts, 'V')} ÷ ({say(ohms, 'ohm')} + {say(inside, 'ohm')}) = {kind_of(Current).say(answer)}. The "
            f"resistor keeps only {say(ohms * answer, 'V', 2)} of it, so the meter shows the whole supply as far as it "
            "can tell. The full supply across the pair means: something between the probes is open."
        ),
    )


def cold_joint() -> Question:
    """The resistance of a cold joint, from three readings."""
    _, volts, ohms = _signal()
    point = operate(Q(volts, "V"), ResistorDrive(Q(ohms + JOINT, "ohm")), _plain(LAMPS[0])).si
    current, lamp = float(point.current), float(point.led_voltage)
    pair, across = lamp + JOINT * current, ohms * current
    said = {"pair": _volts(pair), "lamp": _volts(lamp), "across": _volts(across)}
    return Question(
        text=(
            f"Red is lit, a little weakly. Across the resistor of {say(ohms, 'ohm')} you read {said['across']}, across "
            f"the pair at the mast's foot {said['pair']}, across the lamps themselves {said['lamp']}. Which resistance "
            "hides in the joint between foot and lamps?"
        ),
        kind=kind_of(Resistance),
        answer=JOINT,
        mistakes=(
            Mistake(
                pair / current,
                "That counts the lamp in. Only the voltage between foot and lamps lies across the joint.",
            ),
            Mistake(
                lamp / current,
                "That is the lamp's voltage over its current, which is no resistance, and not the joint.",
            ),
            Mistake(ohms, "That is the resistor. Its voltage only tells you the current."),
            Mistake(
                (pair - lamp) * ohms / volts,
                "You took the whole supply across the resistor. Its own voltage gives the current.",
            ),
        ),
        hint="The resistor tells the current. The same current flows through the joint; which voltage lies across it?",
        working=(
            f"Current: {said['across']} ÷ {say(ohms, 'ohm')} = {say(current, 'A')}. Across the joint: {said['pair']} − "
            f"{said['lamp']} = {_volts(pair - lamp)}. So {_volts(pair - lamp)} ÷ {say(current, 'A')} = "
            f"{kind_of(Resistance).say(JOINT)}. Heat the joint again."
        ),
    )


def wrong_band() -> Question:
    """Which resistor is in there, from its voltage and the current."""
    _, volts, ohms = _signal()
    wrong = ohms * SLIP
    point = operate(Q(volts, "V"), ResistorDrive(Q(wrong, "ohm")), _plain(LAMPS[0])).si
    current, across = float(point.current), float(point.drive_voltage)
    return Question(
        text=(
            f"Both lamps glow dimly on {say(volts, 'V')}. Set for red you read {_volts(across)} across the resistor "
            f"and {say(current, 'A')} in series with wire A. Which resistance is soldered in?"
        ),
        kind=kind_of(Resistance),
        answer=wrong,
        mistakes=(
            Mistake(ohms, "That is the one that was meant. Do the readings agree with it?"),
            Mistake(volts / current, "You divided the whole supply. The lamp keeps its share of it."),
            Mistake(
                (volts - across) / current, "That is the lamp's voltage over the current. The resistor's own is asked."
            ),
            Mistake(across * current, "You multiplied; that gives the heat in watts."),
        ),
        hint="A resistance is the voltage across the part, divided by the current through it.",
        working=(
            f"{_volts(across)} ÷ {say(current, 'A')} = {kind_of(Resistance).say(wrong)}, {SLIP} times the "
            f"{say(ohms, 'ohm')} that was meant: the third colour band, which gives the noughts, was read wrongly."
        ),
    )


def _volts(value: float) -> str:
    return say(value, "V", _DIGITS)
