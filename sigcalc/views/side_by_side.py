"""One source and what is side by side on it: as it looks on the table, and with symbols, a bar of volts below each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from ..design.lamp.drive import LedString
from ..parts.drive import ConstantCurrentDrive, Drive
from ..parts.led import LIT_FROM
from .canvas import Canvas, Place, text_width
from .circuit import Adapter, Box, Driver, elm, lamp_symbol, symbol
from .light import Light
from .phrases import current_words, drive_name, voltage_words
from .picture import Picture
from .scene.first_circuit import resistor_facts
from .scene.source import COLUMN, lay_source
from .scene.table import Table
from .shares import SHARES_HEIGHT, Share, across_driver, across_lamp, across_resistor, shares_bar
from .style import NORMAL, SHADE, STAGE, STAGE_BOX, TEXT, Size


class _Layout(NamedTuple):
    """On the table: the first way's upper wire, a way's height, what is below the last; the LEDs, and the words."""

    first: float
    tall: float
    below: float
    apart: float  # from one LED to the next
    cut: float  # how much shorter their legs are
    words: float  # above a way's wire


_PAGE, _WALL = _Layout(132.0, 140.0, 40.0, 56.0, 0.0, 84.0), _Layout(73.0, 78.0, 40.0, 42.0, 33.0, 51.0)
_LIFT, _LEG, _LED = 18.0, 31.0, 104.0  # how far posts' wires rise; an LED's shorter leg, and its height
_ALONE, _SHARED = (148.0, 284.0), (276.0, 390.0)  # where a drive of its own and the first LED are, on the table
_STRING = 258.0  # where the first of several LEDs is on a wall
_LARGE, _FIGURE, _ASIDE = 14.0, 20.0, 62.0  # type on a wall beside a lone LED; of its figure, and the room for that
_BOARD, _TAP = (206.0, 50.0), 118.0  # a relay board: its left edge, how far below the last way; where it is fed from
_RAILS, _BAR = (14.0, 456.0), (32.0, 406.0)  # of the drawing with symbols; where a bar begins, and its length
_DRIVE, _LAMP, _SLOT = (34.0, 140.0), 164.0, 58.0  # in a rung: the drive, the first LED, and the room for each
_RUNG, _STEP = 112.0, 142.0
_WALL_RAILS, _WALL_RUNG, _WALL_STEP = (14.0, 386.0), 100.0, 78.0  # on a wall, with no bar of volts


@dataclass(frozen=True)
class Way:
    """One of the ways of the current: its own drive (of 0 ohm: a bare wire), its LEDs, and what is said beside them.

    On a wall it is `brief`, and the one `figure` that counts.
    """

    drive: Drive
    string: LedString
    current: float
    words: Sequence[str] = ()
    brief: Sequence[str] = ()
    figure: str = ""

    @property
    def lights(self) -> list[Light]:
        """The light of each LED."""
        return [Light.of(led, self.current) for led in self.string]

    @property
    def moving(self) -> float:
        """The current that flows on; through an LED that it has destroyed none does."""
        return 0.0 if self.current < LIT_FROM or any(light.dead for light in self.lights) else self.current

    @property
    def held(self) -> bool:
        """Whether it has a driver of its own."""
        return isinstance(self.drive, ConstantCurrentDrive)

    def shares(self, volts: float, behind_driver: bool) -> list[Share]:
        """Where the source's voltage is, from its plus on."""
        many = len(self.string)
        lamp = across_lamp(volts, self.string[0].colour)
        lamp = lamp._replace(part=f"{many} LEDs") if many > 1 else lamp
        if self.current < LIT_FROM:
            return [lamp]
        across = sum(float(led.model.voltage_si(self.current)) for led in self.string)
        own = self.drive.si.resistance * self.current if behind_driver else 0.0
        rest = volts - across - own
        first = across_driver(rest) if self.held or behind_driver else across_resistor(rest)
        return [first, *([across_resistor(own)] if own else []), lamp._replace(volts=across)]


@dataclass(frozen=True)
class RelayBoard:
    """A relay board on the same source: what its coil draws, whether that pulls it in, and what is said beside it."""

    current: float
    pulled: bool
    words: Sequence[str]


@dataclass(frozen=True)
class SideBySide:
    """A source and the ways of the current on it, maybe behind one driver, `common`.

    `source` is its name, `kind` how it looks (one of `scene.source.SOURCES`), `volts` what it gives now, `full` the
    volts at the end of the bars of shared voltage. A way with a driver of its own comes last; a relay board is below.
    """

    source: str
    kind: str
    volts: float
    full: float
    ways: tuple[Way, ...]
    common: ConstantCurrentDrive | None = None
    board: RelayBoard | None = None

    def _edge(self, lies: _Layout) -> float:
        """How far to the right the wires reach on the table."""
        reach = max(self._leg(way, lies) for way in self.ways) + (12.0 if lies is _WALL else 20.0)
        return reach if self.board is None else max(reach, _BOARD[0] + 228.0)

    def _leg(self, way: Way, lies: _Layout) -> float:
        """Where the last LED's shorter leg is."""
        return self._place(way, lies)[1] + lies.apart * (len(way.string) - 1) + _LEG

    def _place(self, way: Way, lies: _Layout) -> tuple[float, float]:
        """Where a way's drive and its first LED are."""
        left, lamp = _ALONE if self.common is None else _SHARED
        return left, _STRING if lies is _WALL and len(way.string) > 1 else lamp

    def looks(self, sentence: str, size: Size = NORMAL) -> Picture:
        """As it looks on the table; on a wall two ways with a drive each have room."""
        lies = _WALL if size is STAGE else _PAGE
        # room for the source beside one way
        first = lies.first if len(self.ways) > 1 or self.board else lies.first + lies.tall / 2
        levels = [first + lies.tall * number for number in range(len(self.ways))]
        foot = levels[-1] + (lies.below if self.board is None else _BOARD[1] + 174.0)
        total = sum(way.moving for way in self.ways) + (self.board.current if self.board else 0.0)
        edge = self._edge(lies)
        table = Table(*(STAGE_BOX if lies is _WALL else (edge + 36.0, foot + 10.0)))
        laid = lay_source(table, self.kind, self.source, self.volts, foot / 2 + 16)
        up = [(laid.plus[0], laid.plus[1] - _LIFT)] if laid.stands_up else []
        beside = [(laid.minus[0], laid.minus[1] - 6)] if laid.stands_up else []
        start, home = (
            (laid.plus, *up),
            ((laid.right + 8, foot), (laid.right + 8, [*beside, laid.minus][0][1]), *beside, laid.minus),
        )
        bus = COLUMN
        if self.common is not None:
            x, y = COLUMN - 4, sum(levels) / len(levels) - 13
            table.wire(*start, (x - 10, start[-1][1]), (x - 10, y + 13), (x, y + 13), pole="+", current=total)
            ends = table.put("driver", (x, y), words=current_words(self.common.limit))
            table.wire(ends["minus"], (x - 10, y + 37), (x - 10, foot), *home, pole="−", current=total)
            start, home, bus = (ends["out"],), ((x + 119, foot), (x + 119, y + 37), ends["back"]), x + 132
        self._bus(table, (*start, (bus, start[-1][1])), levels, total)
        if self.board is not None:
            _lay_board(table, self.board, start[-1][1], levels[-1], foot)
        sharing = [way for way in self.ways if not way.held]
        shared = sum(way.moving for way in sharing)
        if sharing or self.board is not None:
            table.wire((edge if sharing else _BOARD[0] - 28, foot), home[0], pole="−", current=shared)
        table.wire(*home, pole="−", current=shared if self.common else total)
        for way, level in zip(self.ways, levels, strict=True):
            self._lay(table, lies, way, (bus, level), home)
            if not way.held:
                x = self._leg(way, lies)
                table.wire((x, level - 14), (x, level), (edge, level), (edge, foot), pole="−", current=way.moving)
        table.group("supply")
        table.lines((6, 18), (self.source, f"now {voltage_words(self.volts)}"), bold_first=True)
        return table.picture(sentence, size)

    def _bus(self, table: Table, way: tuple[Place, ...], levels: Sequence[float], total: float) -> None:
        """The wire that the ways begin at, from where it is fed to the first and to the last of them."""
        x, y = way[-1]
        amps = [each.moving for each in self.ways]
        table.wire(*way, pole="+", current=total)
        table.wire((x, y), (x, levels[0]), pole="+", current=sum(amps) if y < levels[0] else amps[0])
        if len(levels) > 1:
            table.wire((x, max(y, levels[0])), (x, levels[-1]), pole="+", current=amps[-1])

    def _lay(self, table: Table, lies: _Layout, way: Way, start: Place, home: Sequence[Place]) -> None:
        """One way on the table, but for its wire back unless it has a driver."""
        (bus, y), (left, lamp), last = start, self._place(way, lies), self._leg(way, lies)
        coming: tuple[Place, ...] = ((bus, y),)
        if way.held:
            table.wire(*coming, (left, y), pole="+", current=way.moving)
            ends = table.put("driver", (left, y - 13), words=current_words(way.drive.limit))
            coming = (ends["out"],)
            table.wire((last, y - 14), (last, y + 24), ends["back"], pole="−", current=way.moving)
            table.wire(
                ends["minus"], (left - 10, y + 24), (left - 10, home[0][1]), home[0], pole="−", current=way.moving
            )
        elif way.drive.si.resistance > 0:
            table.wire(*coming, (left + 4, y), pole="+", current=way.moving)
            coming = (table.put("resistor", (left + 4, y - 13), **resistor_facts(way.drive))["right"],)
        for number, light in enumerate(way.lights):
            x = lamp + lies.apart * number
            table.wire(*coming, (x + 15, y), pole="" if number else "+", current=way.moving)
            table.put("led", (x, y - _LED + lies.cut), light=light, cut=lies.cut)
            coming = ((x + _LEG, y - 14), (x + _LEG, y))
        lone = lies is _WALL and len(way.string) == 1
        size = _LARGE if lone else TEXT
        for number, words in enumerate(way.brief if lies is _WALL else way.words):
            table.words((left, y - lies.words + (size + 4) * number), words, "start", bold=number == 0, size=size)
        if lone and text_width(way.figure, bold=True) * _FIGURE / TEXT < _ASIDE:
            table.words((STAGE_BOX[0] - 4, y - 30), way.figure, "end", bold=True, size=_FIGURE)

    def drawn(self, sentence: str, size: Size = NORMAL) -> Picture:
        """With symbols: a ladder whose rungs are the source and the ways, each with its volts shared out below it.

        On a wall two ways with a drive each have room, without the bars of volts.
        """
        wall, top = size is STAGE, 44.0
        rails, rung, step = (_WALL_RAILS, _WALL_RUNG, _WALL_STEP) if wall else (_RAILS, _RUNG, _STEP)
        levels = [rung + step * number for number in range(len(self.ways) + (self.board is not None))]
        (left, right), sides = rails, STAGE_BOX if wall else (470.0, levels[-1] + 28 + SHARES_HEIGHT)
        canvas = Canvas(*sides)
        canvas.group("rails")
        for x in rails:
            canvas.line((x, top), (x, levels[-1]))
        amps = [*(way.moving for way in self.ways), *([self.board.current] if self.board else [])]
        canvas.group("supply")
        start, end = (left, 235.0) if wall else (235.0, right)  # of the source; the LEDs' arrows need room below
        middle, (bare, to) = (start + end) / 2, (end, right) if wall else (start, left)
        canvas.add(symbol(Adapter if self.kind == "adapter" else elm.Battery, (start, top), (end, top)))
        canvas.text((middle - 5, 16.0), f"{self.source}, now {voltage_words(self.volts)}", "middle", bold=wall)
        canvas.text((middle - 29, top - 7), "+", "middle", bold=True, size=14)
        canvas.text((middle + 29, top - 7), "−", "middle", bold=True, size=14)
        canvas.group("driver" if self.common else "upper wire")
        canvas.add(symbol(Driver if self.common else elm.Line, (bare, top), (to, top)))
        if self.common is not None:
            canvas.text((130.0, 16.0), f"driver {drive_name(self.common)}", "middle")
        for number, (upper, lower) in enumerate(pairwise([top, *levels])):
            canvas.flow((left, upper), (left, lower), current=sum(amps[number:]))
            canvas.flow((right, lower), (right, upper), current=sum(amps[number:]))
        for way, level in zip(self.ways, levels, strict=False):
            _rung(canvas, way, level, rails, wall)
            shares = way.shares(self.volts, self.common is not None)
            if not wall:
                shares_bar(canvas, (_BAR[0], level + 26), _BAR[1], shares, self.full)
        if self.board is not None:
            _coil_rung(canvas, self.board, levels[-1])
            shares_bar(canvas, (_BAR[0], levels[-1] + 26), _BAR[1], [Share("coil", self.volts, SHADE)], self.full)
        return canvas.picture(sentence, size)


def _lay_board(table: Table, board: RelayBoard, fed: float, level: float, foot: float) -> None:
    """A relay board below the ways, tapped from the source's plus at the height `fed`."""
    (left, top), light = (_BOARD[0], level + _BOARD[1]), Light.switched("amber", board.current > 0)
    ends = table.put("relay_board", (left, top), pulled=board.pulled, light=light)
    (_, plus), (_, minus) = ends["plus"], ends["minus"]
    table.wire((_TAP, fed), (_TAP, plus), ends["plus"], pole="+", current=board.current)
    table.wire(ends["minus"], (left - 28, minus), (left - 28, foot), pole="−", current=board.current)
    for number, words in enumerate(board.words):
        table.words((378.0, level - 78 + 16 * number), words, "start", bold=number == 0)


def _coil_rung(canvas: Canvas, board: RelayBoard, y: float) -> None:
    """The board's coil with a symbol between the rails."""
    (left, right), (start, end) = _RAILS, _DRIVE
    canvas.group("coil")
    canvas.add(symbol(Box, (start, y), (end, y)))
    for number, words in enumerate(board.words):
        canvas.text((_LAMP, y - 42 + 15 * number), words, bold=number == 0)
    for span in ((left, start), (end, right)):
        ends = tuple((x, y) for x in span)
        canvas.line(*ends)
        canvas.flow(*ends, current=board.current)


def _rung(canvas: Canvas, way: Way, y: float, rails: tuple[float, float], wall: bool) -> None:
    """One way with symbols between the rails: its drive on the left, then its LEDs, and what they do."""
    (left, right), (drive, end), lamps_end = rails, _DRIVE, _LAMP + _SLOT * len(way.string)
    plain = not way.held and way.drive.si.resistance == 0
    canvas.group("driver" if way.held else "wire" if plain else "resistor")
    canvas.add(symbol(Driver if way.held else elm.Line if plain else elm.ResistorIEC, (drive, y), (end, y)))
    if not plain:
        value = drive_name(way.drive)
        canvas.text(((drive + end) / 2, y - 20), value.partition(" ±")[0] if wall else value, "middle", bold=wall)
    said: list[str] = []
    for number, (led, light) in enumerate(zip(way.string, way.lights, strict=True)):
        x = _LAMP + _SLOT * number
        said = lamp_symbol(canvas, led.colour, light, ((x, y), (x + _SLOT, y)))
    canvas.group("wires")
    for span in ((left, drive), (end, _LAMP), (lamps_end, right)):
        ends = tuple((x, y) for x in span)
        canvas.line(*ends)
        canvas.flow(*ends, current=way.moving)
    lines = [said[0], current_words(way.current)] if wall else [*said, current_words(way.current)]
    if wall:
        canvas.lines((right - 8, y - 10 - 15 * (len(lines) - 1)), lines, "end", bold_first=True)
    else:
        canvas.lines((lamps_end + 12, y - 10 - 15 * (len(lines) - 1)), lines, bold_first=True)
