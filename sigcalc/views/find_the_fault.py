"""The meter on a signal in words, and what all its pictures share: letters of the points, looks of the lamps, rings."""

from __future__ import annotations

import math
from collections.abc import Mapping

from ..design.bench.circuit import LAMPS, BenchCircuit
from ..design.bench.fault import Fault, burnt
from ..design.bench.reading import MeasuringPoint
from .canvas import Canvas
from .style import PAPER, STROKES

_PROBES = {
    "supply open": ("+", "−"),
    "supply": ("+", "−"),
    "limit": ("+", "R"),
    "limit ohms": ("+", "R"),
    "lead a": ("A", "−"),
    "lead b": ("B", "−"),
    "plus to a": ("+", "A"),
    "plus to b": ("+", "B"),
    "pair": ("A1", "B1"),
    "pair ohms": ("A1", "B1"),
    "diode a to b": ("A1", "B1"),
    "diode b to a": ("B1", "A1"),
    "lamps": ("A2", "B2"),
    "current": ("A", "A0"),
    "coil": ("C+", "C−"),
    "coil ohms": ("C+", "C−"),
    "timer output": ("O", "−"),
    "reed alone": ("S1", "S2"),
    "reed with a magnet": ("S1", "S2"),
    "reed under the train": ("S1", "S2"),
    "pot ohms": ("P1", "P2"),
}
"""Where the red and the black probe go, by a measuring point's place; "A0" is the far side of the gap for a current."""
LOOKS = {
    "": ("?", "?"),
    "none": ("DARK", "DARK"),
    "red": ("ON", "DARK"),
    "green": ("DARK", "ON"),
    "dim red": ("DIM", "DARK"),
    "dim green": ("DARK", "DIM"),
    "both": ("ON", "ON"),
}
"""How the red and the green lamp look, by what the eye says."""


def probes(point: MeasuringPoint) -> str:
    """Where the probes go, in the drawing's letters: "A1 to B1", red first; "" for what is not in the drawing."""
    spots = _PROBES.get(point.place)
    return f"{spots[0]} to {spots[1].replace('A0', 'its wire')}" if spots else ""


def seen_words(seen: str) -> str:
    """What the eye says, in words: "red is on, green is dark"; "" where nobody has looked."""
    if not seen:
        return "nobody has looked yet"
    return ", ".join(f"{lamp} is {look.lower()}" for lamp, look in zip(LAMPS, LOOKS[seen], strict=True))


def lamp_looks(circuit: BenchCircuit, seen: str, off: bool = False, found: Fault | None = None) -> dict[str, str]:
    """How each lamp looks; one that the fault found has burnt is dead."""
    killed = burnt(circuit, found) if found else ()
    looks = dict(zip(LAMPS, ("OFF", "OFF") if off else LOOKS[seen], strict=True))
    return looks | dict.fromkeys(killed, "DEAD")


def ring(canvas: Canvas, found: Fault, rings: Mapping[str, tuple[float, float, float, float]]) -> None:
    """A bold ring on a white one around each part that a fault touches, so that it is seen on anything."""
    turns = [math.tau * step / 40 for step in range(41)]
    for x, y, wide, high in sorted({rings[part] for part in found.parts}):
        canvas.group("fault")
        for width, paint in ((7.0, PAPER), (4.0, STROKES["red"])):
            along = ((x + wide * math.cos(turn), y + high * math.sin(turn)) for turn in turns)
            canvas.line(*along, width=width, colour=paint)


def meter_sentence(
    circuit: BenchCircuit, point: MeasuringPoint, reading: str, position: str, seen: str, found: Fault | None = None
) -> str:
    """What the lamps and the meter show, in words."""
    shows = f"reads {reading}" if reading else "has not been read"
    dead = "".join(f" The {lamp} LED has burnt out." for lamp in (burnt(circuit, found) if found else ()))
    ringed = " What is wrong is ringed." if found and found.parts else ""
    return f"Set for {position}, {seen_words(seen)}. The meter, {point}, {shows}.{dead}{ringed}"
