"""The two-lead signal wired up: a source, a hand switch, a resistor, two wires, and the signal at its track."""

from __future__ import annotations

from ...design.pair.two_lead_pair import LAMPS, PairPoint
from ...parts.drive import ConstantCurrentDrive, Drive
from ...units import say
from ..canvas import wrapped
from ..circuit import LABEL_WIDTH, signal_circuit, supply_name
from ..light import Light
from ..phrases import current_words, drive_name, voltage_words
from ..picture import Picture
from ..style import NORMAL, Size
from .first_circuit import has_resistor, resistor_facts
from .source import COLUMN, Laid, lay_source
from .table import Table

_A, _B = 127.0, 179.0  # heights of wire A and wire B
_FOOT = 233.0  # and of A where it enters the signal, B below it
_MIDDLE, _HEIGHT = 153.0, 272.0
_DRIVER, _SWITCH, _WIRES, _TO_SIGNAL = 132.0, 132.0, 172.0, 22.0  # what each takes of the width
_NEAR, _FAR = 8.0, 18.0  # how far beside the source its wires bend


def signal_scene(
    point: PairPoint, supply: str, kind: str = "9 V battery", switch: bool = True, size: Size = NORMAL
) -> Picture:
    """What `signal_circuit` shows as symbols, as things: the same facts and the same sentence.

    Parameters
    ----------
    point: of a TwoLeadPair, with one supply voltage and one polarity
    supply: what feeds it, in words, such as "9 V alkaline"
    kind: how that looks, one of `SOURCES`; `kind_of` gives it for a battery or an adapter
    switch: whether a hand switch turns the current round; without it the source's wires are exchanged

    Raises RangeError for a point that holds arrays, UnknownNameError for an unknown kind.
    """
    sentence = signal_circuit(point, supply, kind == "adapter", switch, size).sentence
    forward = point.polarity > 0
    lights = [Light.of(getattr(point.pair, lamp), point.si.current * (point.lit == lamp)) for lamp in LAMPS]
    moving = 0.0 if point.lit == "none" or _burst(point) else point.si.current
    poles = ("+", "−") if forward else ("−", "+")
    driver = isinstance(point.drive, ConstantCurrentDrive)
    start = COLUMN + 14 + _DRIVER * driver + _SWITCH * switch
    foot = start + _WIRES + _TO_SIGNAL
    table = Table(foot + 80 + LABEL_WIDTH, _HEIGHT)
    voltage = point.si.reverse_voltage + point.si.drive_voltage
    source = lay_source(table, kind, supply, voltage, _MIDDLE)
    if switch:
        _feed(table, source, point.drive, ("+", "−"), start - 116, moving)
        table.put("hand_switch", (start - 116, _A - 52), up=forward)
    else:
        _feed(table, source, point.drive, poles, start, moving)
    _to_signal(table, point, (start, foot), poles, moving if forward else -moving)
    table.put("signal", (foot - 26, 20), lights=tuple(lights))
    table.group("supply")
    table.lines((8, 18), supply_name(supply, voltage))
    beside = (((foot - 26, 54), "end"), ((foot + 78, 90), "start"))
    for lamp, light, (place, anchor) in zip(LAMPS, lights, beside, strict=True):
        table.group(f"lamp {lamp}")
        table.lines(place, _lamp_words(point, lamp, light), anchor, bold_first=True, centred=True)
    return table.picture(sentence, size)


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


def _to_signal(
    table: Table, point: PairPoint, span: tuple[float, float], poles: tuple[str, str], current: float
) -> None:
    """The wires A and B to the foot of the signal, the resistor in wire B; `current` flows from A to B."""
    (start, foot), (pole_a, pole_b) = span, poles
    turn = foot - _TO_SIGNAL
    table.wire((start, _A), (turn, _A), (turn, _FOOT), (foot, _FOOT), pole=pole_a, current=current, name="wire A")
    table.words(((start + turn) / 2, _A - 10), f"wire A {pole_a}")
    begin, middle = start, start + 68
    if has_resistor(point.drive):
        ends = table.put("resistor", (middle - 48, _B - 13), **resistor_facts(point.drive))
        table.wire((start, _B), ends["left"], pole=pole_b, current=-current, name="wire B")
        table.words((middle, _B + 28), drive_name(point.drive))
        begin = ends["right"][0]
    way = (begin, _B), (turn - 18, _B), (turn - 18, _FOOT + 16), (foot, _FOOT + 16)
    table.wire(*way, pole=pole_b, current=-current, name="wire B")
    table.words((turn - 26, _FOOT - 1), f"wire B {pole_b}", "end")
    flows = f"{current_words(point.si.current)} {'until it burst' if _burst(point) else 'flows'}"
    table.words(((start + turn) / 2, (_A + _B) / 2 - 3), flows, bold=True)


def _burst(point: PairPoint) -> bool:
    return point.lit != "none" and Light.of(getattr(point.pair, point.lit), point.si.current).dead


def _lamp_words(point: PairPoint, lamp: str, light: Light) -> list[str]:
    """Beside a lamp: its light, the voltage across it, what is in series with it alone, and its name."""
    led, extra = getattr(point.pair, lamp), getattr(point.pair.si, f"extra_{lamp}")
    wanted = lamp == LAMPS[point.polarity < 0]
    across = voltage_words(point.si.led_voltage) if wanted else f"{voltage_words(point.si.reverse_voltage)} reverse"
    diode = point.pair.series_diode
    more = [f"with {say(extra, 'ohm')}"] if extra else []
    more += wrapped(f"with {diode.name.upper()}", LABEL_WIDTH, 1) if diode is not None else []
    return [*light.said(lamp).split(", "), across, *more, *wrapped(led.name, LABEL_WIDTH, 2)]
