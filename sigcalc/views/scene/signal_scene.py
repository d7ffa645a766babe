"""The two-lead signal wired up: a source, a hand switch, a resistor, two wires, and the signal at its track."""

from __future__ import annotations

from collections.abc import Mapping

from ...design.lamp.drawer import IN_PARALLEL, Combination
from ...design.pair.two_lead_pair import LAMPS, PairPoint
from ...parts.drive import ConstantCurrentDrive, Drive, ResistorDrive
from ...units import Q, say
from ..canvas import Place, wrapped
from ..circuit import IN_WIRE_B, LABEL_WIDTH, burst, moving_current, resistors_in, signal_sentence, supply_name
from ..light import Light
from ..phrases import current_words, drive_name, voltage_words
from ..picture import Picture
from ..style import NORMAL, OUTLINE, Size
from .first_circuit import resistor_facts
from .source import COLUMN, Laid, lay_source
from .table import Table

_A, _B = 127.0, 179.0  # heights of wire A and wire B
_FOOT = 233.0  # and of A where it enters the signal, B below it
_MIDDLE, _HEIGHT = 153.0, 272.0
_DRIVER, _SWITCH, _WIRES, _TO_SIGNAL = 132.0, 132.0, 172.0, 22.0  # what each takes of the width
_AHEAD, _EMPTY = 116.0, 118.0  # a resistor in the plus lead, and the wires then
_PAIR, _TO_PAIR = 196.0, 10.0  # how wide the bare pair is, and what is before it
_OWN = 0.4  # how large the resistor is that one lamp has alone
_ONE_OF_TWO = 0.62  # how large each of two resistors in series is
_BESIDE = 46.0  # from a resistor to the one side by side with it
_NEAR, _FAR = 8.0, 18.0  # how far beside the source its wires bend


def signal_scene(
    point: PairPoint,
    supply: str,
    kind: str = "9 V battery",
    switch: bool = True,
    size: Size = NORMAL,
    resistor_in: str = IN_WIRE_B,
    bare: bool = False,
    reversing: str = "switch",
    made_of: Mapping[str, Combination] | None = None,
) -> Picture:
    """What `signal_circuit` shows as symbols, as things: the same facts and the same sentence.

    Parameters
    ----------
    point: of a TwoLeadPair, with one supply voltage and one polarity
    supply: what feeds it, in words, such as "9 V alkaline"
    kind: how that looks, one of `SOURCES`; `kind_of` gives it for a battery or an adapter
    switch: whether a hand switch turns the current round; without it the source's wires are exchanged
    resistor_in: the wire that the shared resistor is in, one of RESISTOR_IN, or IN_PLUS_LEAD
    bare: the two LEDs lie there soldered back to back, not yet built into a signal
    reversing: what turns the current round where there is a switch, "switch" or "relay"
    made_of: the two resistors in a place that holds two, as in `signal_circuit`

    Raises RangeError for a point that holds arrays, UnknownNameError for an unknown kind or place of the resistor.
    """
    two = made_of or {}
    sentence = signal_sentence(point, switch, reversing, resistor_in, made_of)
    forward = point.polarity > 0
    lights = [Light.of(getattr(point.pair, lamp), point.si.current * (point.lit == lamp)) for lamp in LAMPS]
    moving = moving_current(point)
    poles = ("+", "−") if forward else ("−", "+")
    driver = isinstance(point.drive, ConstantCurrentDrive)
    resistors = resistors_in(point.drive, resistor_in)
    start = COLUMN + 14 + _DRIVER * driver + _AHEAD * ("+" in resistors) + _SWITCH * switch
    wires = _EMPTY if "+" in resistors else _WIRES
    foot = start + wires + (_TO_PAIR if bare else _TO_SIGNAL)
    table = Table(foot + (_PAIR if bare else 80 + LABEL_WIDTH), _HEIGHT - 40 * bare)
    voltage = point.si.reverse_voltage + point.si.drive_voltage
    source = lay_source(table, kind, supply, voltage, _MIDDLE)
    if switch:
        _feed(table, source, point.drive, ("+", "−"), start - 116, moving)
        table.put("relay" if reversing == "relay" else "hand_switch", (start - 116, _A - 52), up=forward)
    else:
        _feed(table, source, point.drive, poles, start, moving)
    if "+" in resistors:
        _ahead(table, point.drive, two.get("shared"), "+" if switch or forward else "−")
    into = _into_pair(foot) if bare else _into_signal(foot)
    _wires(table, point, (start, start + wires, into), poles, moving if forward else -moving, resistors)
    table.put(*(("pair", (foot, _MIDDLE - 44)) if bare else ("signal", (foot - 26, 20))), lights=tuple(lights))
    table.group("supply")
    table.lines((8, 18), supply_name(supply, voltage))
    beside = (((foot + 32, 48), "middle"), ((foot + 150, 48), "middle"))
    if not bare:
        beside = (((foot - 26, 54), "end"), ((foot + 78, 90), "start"))
    for lamp, light, (place, anchor) in zip(LAMPS, lights, beside, strict=True):
        words = _lamp_words(point, lamp, light)
        if own := getattr(point.pair.si, f"extra_{lamp}"):
            row = words.index(say(own, "ohm"))
        if lamp in two:
            words[row] = "two resistors"
        elif own:
            _own_resistor(table, ResistorDrive(f"{own} ohm"), (place[0], table.baseline(place, words, row)), anchor)
            words[row] = ""
        table.group(f"lamp {lamp}")
        table.lines(place, words, anchor, bold_first=True, centred=True)
    return table.picture(sentence, size)


def _ahead(table: Table, drive: Drive, made_of: Combination | None, upper: str) -> None:
    """The resistor in the plus lead, or the two that make it up: over its wire, the upper of the two or the lower one.

    Two in series share the room of one, so that the picture is no wider and its words no smaller.
    """
    left, (y, side, below) = COLUMN + 20, (_A, -1, -20) if upper == "+" else (_B, 1, 30)
    if made_of is None:
        table.put("resistor", (left, y - 13), **resistor_facts(drive))
        table.words((left + 48, y + below), drive_name(drive))
        return
    beside = made_of.arrangement == IN_PARALLEL
    scale = 1.0 if beside else _ONE_OF_TWO
    for number, ohms in enumerate((made_of.si.first, made_of.si.second)):
        x = left if beside else COLUMN + 8 + 62 * number
        away = y + side * _BESIDE * number * beside
        if beside and number:
            for end, edge in ((x + 4, x - 6), (x + 92, x + 102)):
                table.wire((edge, y), (edge, away), (end, away), pole="+")
        table.put(
            "resistor", (x, away - 13 * scale), scale, **resistor_facts(ResistorDrive(Q(ohms, "ohm"), drive.tolerance))
        )
        table.words((x + 48 * scale, away + below), say(ohms, "ohm"))


def _into_signal(foot: float) -> tuple[list[Place], list[Place]]:
    """The last corners of the wires A and B on their way into the signal's foot."""
    turn = foot - _TO_SIGNAL
    return (
        [(turn, _A), (turn, _FOOT), (foot, _FOOT)],
        [(turn - 18, _B), (turn - 18, _FOOT + 16), (foot, _FOOT + 16)],
    )


def _into_pair(left: float) -> tuple[list[Place], list[Place]]:
    """The same around the bare pair, to the joint above and to the one below."""
    turn, above, below = left - _TO_PAIR, _MIDDLE - 40, _MIDDLE + 40
    return (
        [(turn, _A), (turn, above - 12), (left + 105, above - 12), (left + 105, above)],
        [(turn, _B), (turn, below + 12), (left + 91, below + 12), (left + 91, below)],
    )


def _feed(table: Table, source: Laid, drive: Drive, poles: tuple[str, str], end: float, moving: float) -> None:
    """The source's two wires, through a driver if there is one, up to the switch or where wires A and B begin."""
    heights = (_A, _B)
    if isinstance(drive, ConstantCurrentDrive):
        board = table.put("driver", (COLUMN, _MIDDLE - 25), words=say(drive.si.current, "A"))
        heights = (board["plus"][1], board["minus"][1])
        bend = board["out"][0] + 14
        for pole, name, height in zip(poles, ("out", "back"), (_A, _B), strict=True):
            route = board[name], (bend, board[name][1]), (bend, height), (end, height)
            table.wire(*route, pole=pole, current=moving if pole == "+" else -moving)
        end = COLUMN
        poles = ("+", "−")
    for pole, height, bend in zip(poles, heights, (_NEAR, _FAR), strict=True):
        route = source.feed(pole, (end, height), bend)
        table.wire(*route, pole=pole, current=moving if pole == "+" else -moving)


def _wires(
    table: Table,
    point: PairPoint,
    span: tuple[float, float, tuple[list[Place], list[Place]]],
    poles: tuple[str, str],
    current: float,
    resistors: dict[str, Drive],
) -> None:
    """The wires A and B to the lamps, with their resistors; `current` flows from A to B."""
    start, turn, into = span
    middle = start + 68
    for wire, y, way, pole, amps, below in zip(
        "AB", (_A, _B), into, poles, (current, -current), (-18, 28), strict=True
    ):
        begin = start
        if wire in resistors:
            ends = table.put("resistor", (middle - 48, y - 13), **resistor_facts(resistors[wire]))
            table.wire((start, y), ends["left"], pole=pole, current=amps, name=f"wire {wire}")
            table.words((middle, y + below), drive_name(resistors[wire]))
            begin = ends["right"][0]
        table.wire((begin, y), *way, pole=pole, current=amps, name=f"wire {wire}")
    label = ((turn - 6, _A - 10), "end") if "A" in resistors else ((start + 8, _A - 10), "start")
    table.words(label[0], f"wire A {poles[0]}", label[1])
    lowest = into[1][1]
    table.words((lowest[0] - 8, lowest[1] + (-17 if lowest[1] > _FOOT else 15)), f"wire B {poles[1]}", "end")
    flows = f"{current_words(point.si.current)} {'until it burst' if burst(point) else 'flows'}"
    table.words(((start + turn) / 2, (_A + _B) / 2 - 3), flows, bold=True)


def _own_resistor(table: Table, drive: Drive, place: Place, anchor: str) -> None:
    """The resistor in series with one lamp alone, small and on a lead into the signal's head; beside it its value."""
    (x, y), away, long = place, -1.0 if anchor == "end" else 1.0, _OWN * 96
    table.group("lead")
    table.line((x - 30 * away, y - 4), (x + away, y - 4), width=3.0, colour=OUTLINE)
    table.put("resistor", (min(x, x + away * long), y - 4 - _OWN * 13), _OWN, **resistor_facts(drive))
    table.group("own resistor")
    table.text((x + away * (long + 3), y), drive_name(drive), anchor)


def _lamp_words(point: PairPoint, lamp: str, light: Light) -> list[str]:
    """Beside a lamp: its light, the voltage across it, what is in series with it alone, and its name."""
    led, extra = getattr(point.pair, lamp), getattr(point.pair.si, f"extra_{lamp}")
    wanted = lamp == LAMPS[point.polarity < 0]
    across = voltage_words(point.si.led_voltage) if wanted else f"{voltage_words(point.si.reverse_voltage)} reverse"
    diode = point.pair.series_diode
    more = [say(extra, "ohm")] if extra else []
    more += wrapped(f"with {diode.name.upper()}", LABEL_WIDTH, 1) if diode is not None else []
    return [*light.said(lamp).split(", "), across, *more, *wrapped(led.name, LABEL_WIDTH, 2)]
