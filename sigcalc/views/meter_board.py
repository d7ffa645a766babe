"""The board of a signal that a relay sets: reed, pot, timer and coil as blocks, with their measuring points."""

from __future__ import annotations

from ..design.bench.circuit import BenchCircuit
from .canvas import Canvas, Place
from .circuit import elm, symbol
from .style import PAPER

HEIGHT = 114.0
"""What the board adds to the drawing."""
_REED, _COIL, _POT = 236.0, 263.0, 290.0
SPOTS: dict[str, Place] = {
    "S1": (30.0, _REED),
    "S2": (112.0, _REED),
    "P1": (30.0, _POT),
    "P2": (112.0, _POT),
    "O": (262.0, _COIL),
    "C+": (318.0, _COIL),
    "C−": (414.0, _COIL),
}
"""The measuring points of the board by the letters that mark them."""
PROBES = {
    "coil": ("C+", "C−"),
    "coil ohms": ("C+", "C−"),
    "timer output": ("O", "−"),
    "reed alone": ("S1", "S2"),
    "reed with a magnet": ("S1", "S2"),
    "reed under the train": ("S1", "S2"),
    "pot ohms": ("P1", "P2"),
}
"""Where the red and the black probe go, by a measuring point's place; the minus is the circuit's."""
UPWARD = (_REED, _COIL)
"""Heights at which a probe comes from above."""


def spots(circuit: BenchCircuit) -> dict[str, Place]:
    """The measuring points of the board; a coil that hangs from plus has its minus end at the output."""
    if not circuit.coil_from_plus:
        return SPOTS
    return SPOTS | {"C+": SPOTS["C−"], "C−": SPOTS["C+"]}


def board(canvas: Canvas, circuit: BenchCircuit) -> None:
    """Draw it below the circuit; without a timer a hand feeds the coil."""
    timed = circuit.timer is not None
    if timed:
        _timer(canvas)
    _coil(canvas, timed, circuit.coil_from_plus)
    canvas.group("measuring points of the board")
    places = spots(circuit)
    for letter in ("S1", "S2", "P1", "P2", "O", "C+", "C−") if timed else ("C+", "C−"):
        x, y = places[letter]
        canvas.circle((x, y), 4.0, fill=PAPER)
        canvas.text((x, y + (-8 if y == _POT else 16)), letter, "middle", bold=True)


def _timer(canvas: Canvas) -> None:
    """The timer's block with the reed at its trigger and the pot that sets its hold."""
    left, right = 152.0, 226.0
    canvas.group("timer")
    canvas.rectangle((left, _REED - 14), (right - left, _POT - _REED + 28))
    canvas.text(((left + right) / 2, _COIL + 5), "timer", "middle", bold=True)
    canvas.line((right, _COIL), SPOTS["O"])
    canvas.group("reed")
    (start, y), (end, _) = SPOTS["S1"], SPOTS["S2"]
    middle = (start + end) / 2
    canvas.rectangle((middle - 22, y - 8), (44, 16), radius=8)
    canvas.line((10, y), (middle - 8, y), (middle + 7, y - 3))
    canvas.line((middle - 7, y + 3), (middle + 8, y), (left, y))
    canvas.text((middle, y + 21), "reed", "middle")
    canvas.group("pot")
    canvas.line((10, _POT), SPOTS["P1"])
    canvas.add(symbol(elm.ResistorIEC, SPOTS["P1"], SPOTS["P2"]))
    canvas.line(SPOTS["P2"], (left, _POT))
    canvas.text((middle, _POT - 13), "pot", "middle")


def _coil(canvas: Canvas, timed: bool, from_plus: bool) -> None:
    """The relay's coil, from what feeds it to the supply's minus, or from plus to it."""
    (first, y), (last, _) = SPOTS["C+"], SPOTS["C−"]
    canvas.group("coil")
    canvas.line(SPOTS["O"] if timed else (234, y), (first + 24, y))
    canvas.line((last - 24, y), (last + 22, y))
    canvas.rectangle((first + 24, y - 13), (last - first - 48, 26))
    canvas.text(((first + last) / 2, y + 4), "coil", "middle")
    canvas.text((last + 26, y + 4), "plus +" if from_plus else "minus −")
    if not timed:
        canvas.text((230, y + 4), "plus +, switched by hand", "end")
