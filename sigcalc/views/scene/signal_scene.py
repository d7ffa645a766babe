"""The two-lead signal wired up: a source, a hand switch, a resistor, two wires, and the signal at its track."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from ...design.lamp.drawer import IN_PARALLEL, Combination
from ...design.pair.two_lead_pair import LAMPS, PairPoint
from ...parts.drive import ConstantCurrentDrive, Drive, ResistorDrive
from ...units import Q, say
from ..canvas import Place, wrapped
from ..circuit import LABEL_WIDTH, supply_name
from ..light import Light
from ..phrases import current_words, drive_name, voltage_words
from ..picture import Picture
from ..signal_circuit import IN_WIRE_B, burst, moving_current, resistors_in, signal_sentence
from ..style import NORMAL, OUTLINE, STAGE, STAGE_BOX, Size
from .first_circuit import resistor_facts
from .source import COLUMN, Laid, lay_source
from .table import Table

_MIDDLE, _HEIGHT = 153.0, 272.0
_DRIVER, _SWITCH, _WIRES, _TO_SIGNAL = 132.0, 132.0, 172.0, 22.0  # what each takes of the width
_AHEAD, _EMPTY = 116.0, 118.0  # a resistor in the plus lead, and the wires then
_PAIR, _TO_PAIR = 196.0, 10.0  # how wide the bare pair is, and what is before it
_OWN = 0.4  # how large the resistor is that one lamp has alone
_ONE_OF_TWO = 0.62  # how large each of two resistors in series is
_BESIDE = 46.0  # from a resistor to the one side by side with it
_NEAR, _FAR = 8.0, 18.0  # how far beside the source its two wires bend

_Words = tuple[Place, str]  # where words are, and their anchor


class _Layout(NamedTuple):
    """Where all of it is laid: the wires A and B with their last corners, the lamps, and the words."""

    sides: Place
    middle: float  # the height of the source's
    start: float  # where the wires A and B begin
    heights: tuple[float, float]  # of wire A and wire B
    into: tuple[list[Place], list[Place]]  # their last corners, at the lamps
    lamps: tuple[str, Place, float]  # the thing, its upper left corner and its scale
    resistor: float  # the left end of one in a wire
    ohms: tuple[_Words, _Words]  # what is written beside one in wire A, in wire B
    names: tuple[_Words, _Words]  # of the two wires
    flows: _Words  # the current
    driver: float  # the upper edge of a driver
    beside: tuple[_Words, _Words]  # the words of the red lamp and of the green one
    own: tuple[_Words, _Words] | None = None  # what a lamp has in series alone, where it is not among its words
    narrow: float = 200.0  # how wide the words of the current may be
    brief: bool = False  # without the names of source and parts


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
    resistors = resistors_in(point.drive, resistor_in)
    lies = _page(point, bare, switch, "+" in resistors, "A" in resistors)
    if size is STAGE and not switch and "+" not in resistors:
        driver = isinstance(point.drive, ConstantCurrentDrive)
        in_wires = _IN_A_ON_WALL if "A" in resistors else _ON_WALL
        lies = _PAIR_ON_WALL if bare else _DRIVEN_ON_WALL if driver else in_wires
    table = Table(*lies.sides)
    voltage = point.si.reverse_voltage + point.si.drive_voltage
    source = lay_source(table, kind, supply, voltage, lies.middle)
    if switch:
        _feed(table, lies, source, point.drive, ("+", "−"), lies.start - 116, moving)
        table.put("relay" if reversing == "relay" else "hand_switch", (lies.start - 116, _A - 52), up=forward)
    else:
        _feed(table, lies, source, point.drive, poles, lies.start, moving)
    if "+" in resistors:
        _ahead(table, point.drive, two.get("shared"), "+" if switch or forward else "−")
    _wires(table, lies, point, poles, moving if forward else -moving, resistors, "shared" in two)
    name, corner, scale = lies.lamps
    ends = table.put(name, corner, scale, lights=tuple(lights))
    if scale < 1.0:  # its own letters are left out
        table.group("letters")
        for wire in "AB":
            table.text((ends[wire.lower()][0] + 7, ends[wire.lower()][1] + 4.5), wire, bold=True)
    if not lies.brief:
        table.group("supply")
        table.lines((8, 18), supply_name(supply, voltage))
    for number, lamp in enumerate(LAMPS):
        _write_lamp(table, lies, point, number, lights[number], lamp in two)
    return table.picture(sentence, size)


_A, _B = 127.0, 179.0  # heights of wire A and wire B
_FOOT = 233.0  # and of A where it enters the signal, B below it


def lit_signal(size: Size = NORMAL) -> Picture:
    """The signal alone, its green lamp lit: what a talk is about, before it begins."""
    table = Table(150.0, 244.0)
    lights = tuple(Light.switched(colour, colour == "green") for colour in ("red", "green"))
    table.put("signal", (0.0, 2.0), lights=lights)
    return table.picture("A trackside signal that shows green.", size)


def _page(point: PairPoint, bare: bool, switch: bool, ahead: bool, in_a: bool) -> _Layout:
    """As wide as what is between the source and the lamps."""
    driver = isinstance(point.drive, ConstantCurrentDrive)
    start = COLUMN + 14 + _DRIVER * driver + _AHEAD * ahead + _SWITCH * switch
    turn = start + (_EMPTY if ahead else _WIRES)
    foot = turn + (_TO_PAIR if bare else _TO_SIGNAL)
    above, below = _MIDDLE - 52, _MIDDLE + 52
    into = [(turn, _A), (turn, above), (foot + 105, above), (foot + 105, above + 12)]
    back = [(turn, _B), (turn, below), (foot + 91, below), (foot + 91, below - 12)]
    beside = (((foot + 32, 48.0), "middle"), ((foot + 150, 48.0), "middle"))
    if not bare:
        into = [(turn, _A), (turn, _FOOT), (foot, _FOOT)]
        back = [(turn - 18, _B), (turn - 18, _FOOT + 16), (foot, _FOOT + 16)]
        beside = (((foot - 26, 54.0), "end"), ((foot + 78, 90.0), "start"))
    lowest = back[1]
    return _Layout(
        sides=(foot + (_PAIR if bare else 80 + LABEL_WIDTH), _HEIGHT - 40 * bare),
        middle=_MIDDLE,
        start=start,
        heights=(_A, _B),
        into=(into, back),
        lamps=("pair", (foot, _MIDDLE - 44), 1.0) if bare else ("signal", (foot - 26, 20.0), 1.0),
        resistor=start + 20,
        ohms=(((start + 68, _A - 18), "middle"), ((start + 68, _B + 28), "middle")),
        names=(
            ((turn - 6, _A - 10), "end") if in_a else ((start + 8, _A - 10), "start"),
            ((lowest[0] - 8, lowest[1] + (15 if bare else -17)), "end"),
        ),
        flows=(((start + turn) / 2, (_A + _B) / 2 - 3), "middle"),
        driver=_MIDDLE - 25,
        beside=beside,
    )


_PAIR_ON_WALL = _Layout(
    sides=STAGE_BOX,
    middle=100.0,
    start=140.0,
    heights=(22.0, 178.0),
    into=([(301.0, 22.0), (301.0, 65.0)], [(287.0, 178.0), (287.0, 145.0)]),
    lamps=("pair", (196.0, 61.0), 1.0),
    resistor=148.0,
    ohms=(((146.0, 52.0), "start"), ((146.0, 157.0), "start")),
    names=(((312.0, 27.0), "start"), ((298.0, 183.0), "start")),
    flows=((140.0, 96.0), "start"),
    driver=103.0,
    narrow=54.0,
    beside=(((231.0, 56.0), "middle"), ((398.0, 56.0), "end")),
    brief=True,
)
_ON_WALL = _Layout(
    sides=STAGE_BOX,
    middle=100.0,
    start=140.0,
    heights=(112.0, 160.0),
    into=([(256.0, 112.0), (256.0, 177.0), (267.0, 177.0)], [(244.0, 160.0), (244.0, 190.0), (267.0, 190.0)]),
    lamps=("signal", (246.0, 2.0), 0.82),
    resistor=144.0,
    ohms=(((146.0, 96.0), "start"), ((214.0, 185.0), "middle")),
    names=(((140.0, 102.0), "start"), ((140.0, 181.0), "start")),
    flows=((192.0, 136.0), "middle"),
    driver=103.0,
    beside=(((256.0, 26.0), "end"), ((256.0, 74.0), "end")),
    own=(((313.0, 31.0), "start"), ((313.0, 68.0), "start")),
    brief=True,
)
_IN_A_ON_WALL = _ON_WALL._replace(names=(((250.0, 152.0), "end"), _ON_WALL.names[1]))
_DRIVEN_ON_WALL = _ON_WALL._replace(
    start=267.0,
    heights=(177.0, 190.0),
    into=([(267.0, 177.0)], [(267.0, 190.0)]),
    names=(((246.0, 182.0), "end"), ((246.0, 197.0), "end")),
    flows=((192.0, 167.0), "middle"),
)


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


def _feed(
    table: Table, lies: _Layout, source: Laid, drive: Drive, poles: tuple[str, str], end: float, moving: float
) -> None:
    """The source's two wires, through a driver if there is one, up to the switch or where wires A and B begin."""
    heights = lies.heights
    if isinstance(drive, ConstantCurrentDrive):
        board = table.put("driver", (COLUMN, lies.driver), words=say(drive.si.current, "A"))
        heights = (board["plus"][1], board["minus"][1])
        forward = poles[0] == "+"
        for wire, pole, name in zip((0, 1), poles, ("out", "back") if forward else ("back", "out"), strict=True):
            bend, height = board["out"][0] + (6 if wire else 14), lies.heights[wire]
            route = board[name], (bend, board[name][1]), (bend, height), (end, height)
            table.wire(*route, pole=pole, current=moving if pole == "+" else -moving)
        end = COLUMN
        poles = ("+", "−")
    for pole, height, bend in zip(poles, heights, (_NEAR, _FAR), strict=True):
        route = source.feed(pole, (end, height), bend)
        table.wire(*route, pole=pole, current=moving if pole == "+" else -moving)


def _wires(
    table: Table,
    lies: _Layout,
    point: PairPoint,
    poles: tuple[str, str],
    current: float,
    resistors: dict[str, Drive],
    two: bool,
) -> None:
    """The wires A and B to the lamps, with their resistors, `two` as one without bands; `current` goes from A to B."""
    for number, (wire, y, way) in enumerate(zip("AB", lies.heights, lies.into, strict=True)):
        begin, pole, amps = lies.start, poles[number], -current if number else current
        if wire in resistors:
            facts = resistor_facts(resistors[wire]) | ({"bands": ()} if two else {})
            ends = table.put("resistor", (lies.resistor, y - 13), **facts)
            table.wire((begin, y), ends["left"], pole=pole, current=amps, name=f"wire {wire}")
            ohms = say(resistors[wire].si.resistance, "ohm") if lies.brief else drive_name(resistors[wire])
            table.words(lies.ohms[number][0], ohms, lies.ohms[number][1])
            begin = ends["right"][0]
        table.wire((begin, y), *way, pole=pole, current=amps, name=f"wire {wire}")
    for wire, pole, (place, anchor) in zip("AB", poles, lies.names, strict=True):
        table.words(place, f"wire {wire} {pole}", anchor)
    flows = f"{current_words(point.si.current)} {'until it burst' if burst(point) else 'flows'}"
    (x, y), anchor = lies.flows
    for line, part in enumerate(wrapped(flows, lies.narrow, 3)):
        table.words((x, y + 15 * line), part, anchor, bold=True)


def _write_lamp(table: Table, lies: _Layout, point: PairPoint, number: int, light: Light, two: bool) -> None:
    """Beside a lamp: its words, and the resistor that it has alone (or that it is two)."""
    lamp, (place, anchor) = LAMPS[number], lies.beside[number]
    own, series = getattr(point.pair.si, f"extra_{lamp}"), _in_series(point, lamp, two)
    words = _lamp_words(point, lamp, light)
    if lies.own is None:
        words, at, side = [*words, *series], place, anchor
    else:
        at, side = lies.own[number]
    if not lies.brief:
        words += wrapped(getattr(point.pair, lamp).name, LABEL_WIDTH, 2)
    if own and not two:
        x, y = at
        if lies.own is None:
            row = words.index(series[0])
            y, words[row] = table.baseline(place, words, row), ""
        _own_resistor(table, ResistorDrive(f"{own} ohm"), (x, y), side)
        series = ["", *series[1:]]
    table.group(f"lamp {lamp}")
    table.lines(place, words, anchor, bold_first=True, centred=True)
    if lies.own is not None:
        table.lines(at, series, side)


def _own_resistor(table: Table, drive: Drive, place: Place, anchor: str) -> None:
    """The resistor in series with one lamp alone, small and on a lead into the signal's head; beside it its value."""
    (x, y), away, long = place, -1.0 if anchor == "end" else 1.0, _OWN * 96
    table.group("lead")
    table.line((x - 30 * away, y - 4), (x + away, y - 4), width=3.0, colour=OUTLINE)
    table.put("resistor", (min(x, x + away * long), y - 4 - _OWN * 13), _OWN, **resistor_facts(drive))
    table.group("own resistor")
    table.text((x + away * (long + 3), y), drive_name(drive), anchor)


def _lamp_words(point: PairPoint, lamp: str, light: Light) -> list[str]:
    """Beside a lamp: its light, and the voltage across it."""
    wanted = lamp == LAMPS[point.polarity < 0]
    across = voltage_words(point.si.led_voltage) if wanted else f"{voltage_words(point.si.reverse_voltage)} reverse"
    return [*light.said(lamp).split(", "), across]


def _in_series(point: PairPoint, lamp: str, two: bool) -> list[str]:
    """What one lamp has in series with it alone, in words, a resistor (or `two`) first."""
    extra, diode = getattr(point.pair.si, f"extra_{lamp}"), point.pair.series_diode
    words = ["two resistors" if two else say(extra, "ohm")] if extra else []
    return words + (wrapped(f"with {diode.name.upper()}", LABEL_WIDTH, 1) if diode is not None else [])
