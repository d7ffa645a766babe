"""The parts that let a train set its signal, as one sees them: all four in their order, and the timer board alone."""

from __future__ import annotations

from ...design.train.train_run import GREEN, RED
from ..light import Light
from ..picture import Picture
from ..style import NORMAL, THIN, Size
from .first_circuit import resistor_facts
from .table import Table
from .train_scene import RESISTOR

_WIDTH, _HEIGHT, _WORDS = 854.0, 314.0, 262.0
_REED, _TIMER, _RELAY, _SIGNAL = (4.0, 30.0), (202.0, 44.0), (424.0, 10.0), (702.0, 2.0)
_SMALLER = 0.8  # the reed's track
_SAID = (
    (97.0, "reed switch", "two thin blades in a glass tube", "between the rails; a magnet", "closes them for a moment"),
    (302.0, "timer board", "set off by the reed, it stays", "on for a while: its on-time"),
    (
        531.0,
        "relay board",
        "C (common) touches NC (normally",
        "closed) at rest, NO (normally open)",
        "when it is pulled in",
    ),
    (770.0, "signal", "red and green,", "back to back"),
)


def four_parts(size: Size = NORMAL) -> Picture:
    """Reed switch, timer board, relay board and signal with their wires, at rest: the signal is green."""
    table = Table(_WIDTH, _HEIGHT)
    reed = table.put("reed", _REED, scale=_SMALLER, closed=False)
    timer = table.put("timer_board", _TIMER, running=False, share=0.0)
    relay = table.put("relay_board", _RELAY, pulled=False, light=Light.switched("amber", False))
    signal = table.put("signal", _SIGNAL, lights=(Light.switched(RED, False), Light.switched(GREEN, True)))
    for end, to in (("a", "reed2"), ("b", "reed1")):
        (x, y), (left, high) = reed[end], timer[to]
        table.wire((x, y), (x, high), (left + 10, high), name="wire to reed")
    table.wire(timer["out"], (414, timer["out"][1]), (414, relay["trigger"][1]), relay["trigger"], name="output wire")
    for number, (above, below) in ((1, "−+"), (2, "+−")):
        for terminal, sign in (("nc", above), ("no", below)):
            x, y = relay[f"{terminal}{number}"]
            table.wire((x, y), (x + 12, y), pole=sign, name="supply wire")
            table.text((x + 18, y + 4), sign, "start", bold=True)
    for number, end, across, sign in ((1, "a", 714.0, "−"), (2, "b", 690.0, "+")):
        start, to = relay[f"common{number}"], signal[end]
        way = (start, (across, start[1]), (across, to[1]), to)
        table.wire(*way, pole=sign, name=f"wire {end.upper()}")
    table.put("resistor_upright", (677.0, relay["common2"][1] + 4), **resistor_facts(RESISTOR))
    table.group("words")
    for x, *lines in _SAID:
        table.lines((x, _WORDS), lines, "middle", bold_first=True)
    return table.picture(
        "The reed switch starts the timer board, its output feeds the coil on the relay board, and the relay's two "
        "contacts join the signal to plus and minus, one way round or the other. At rest the signal is green.",
        size,
    )


def timer_board(turn: float, size: Size = NORMAL) -> Picture:
    """The timer board with its pot at a turn from 0 to 1, and what is on it by name."""
    table, words = Table(440.0, 196.0), f"{turn:.0%}".replace("%", " %")
    table.put("timer_board", (124.0, 26.0), running=True, share=1.0, turn=round(turn, 2))
    table.group("names")
    for place, end, name, anchor in (
        ((189, 48), (189, 20), f"pot: {words}", "middle"),
        ((198, 106), (198, 178), "capacitor", "middle"),
        ((237, 142), (268, 178), "chip", "start"),
        ((276, 60), (318, 20), "on-time left", "middle"),
    ):
        table.line(place, end, width=THIN)
        table.words((end[0], end[1] + (12 if end[1] > 100 else -4)), name, anchor)
    return table.picture(f"The timer board; its pot is turned to {words}.", size)
