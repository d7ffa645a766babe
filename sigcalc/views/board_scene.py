"""A board as one sees it in the room: signals in a row, each as bright as it is, over the wires that feed them."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Sequence

import numpy as np

from ..design.board.feeder import RelayReach
from ..design.board.state import BoardState, lit_lamp, lit_led
from ..design.lamp.drive import DARK, brightness_word
from ..design.power.load import GREEN, RED
from ..parts.fuse import BEARABLE_DENSITY
from ..parts.source import Adapter
from .board import board_sentence, gives_words, share_words
from .canvas import Place, text_width, wrapped
from .light import Light
from .phrases import current_words, voltage_words
from .picture import Picture
from .scene.table import POLES, Table
from .style import FLOW, INK, LINE, MATERIALS, MINUS, NORMAL, OUTLINE, STAGE, STAGE_BOX, THIN, Size, tinted

_LEFT, _SLOT, _SIGNAL = 96.0, 70.0, 0.42  # where the row begins, what each signal has of it, and how large it is
_WALL_LEFT, _POST, _MOST_WIDE = 74.0, 0.72, 60.0  # the same on a wall, where masts alone are drawn
_WALL_HEAD, _WALL_FLOOR, _WALL_LANES, _LEAST_WIDE = 38.0, 131.0, 46.0, 38.0
_HEAD, _STAND = 86.0, 105.0  # the words above a signal, and its height
_APART, _LANE = 8.0, 15.0  # from plus to minus, and from one pair of wires to the next
_THICK = 5.0  # points of a wire with 1 A; the copper seen grows in step with the current
_BARS = 54.0  # points for the highest voltage there can be
_GLOW = 1.25  # of a lamp in full light
_SPIKES = 11
_NARROWEST = 460.0  # its sentences need as much


def board_scene(
    state: BoardState,
    short: str | None = None,
    size: Size = NORMAL,
    waiting: Sequence[str] = (),
    reach: RelayReach | None = None,
) -> Picture:
    """A board in one state as one sees it: every signal with its light, its wires, and the voltage that reaches it.

    `short` is the node of a short circuit. The more current, the thicker the wire; one that carries more than it is
    rated for glows. `waiting` names signals that are not connected yet; `reach` says what voltage the relays need. On
    the stage there are fewer words, and figures in place of the bars.
    """
    scene = (_OnWall if size is STAGE else _Scene)(
        state, waiting, None if short is None else state.board.node_number(short)
    )
    scene.bars(reach)
    scene.glow()
    for node in range(1, len(state.board.nodes)):
        scene.run(node)
    scene.source()
    for place in range(len(state.board.signals)):
        scene.signal(place)
    for number, name in enumerate(waiting, start=len(state.board.signals)):
        scene.not_yet(number, name)
    if short is not None:
        scene.short()
    return scene.table.picture(board_sentence(state, short), size)


class _Scene:
    """Where everything is: the slots from left to right in the order of the wires, the pairs of wires below them."""

    left, slot, apart, thick, foot = _LEFT, _SLOT, _APART, _THICK, 4.0
    flash_down_to = math.inf
    said, dots = True, 0.6  # whether the wires have words, and how large the dots of the current are

    def __init__(self, state: BoardState, waiting: Sequence[str], shorted: int | None):
        self.state, self.board, self.shorted = state, state.board, shorted
        nodes = len(self.board.nodes)
        self.slots, self.lane, self.spots = [0] * len(self.board.signals), [0] * nodes, [0.0] * nodes
        self.count = len(self.board.signals) + len(waiting)
        self.measure()
        self.spots[0] = self.left - 12
        self._lay_out()
        self.through = np.zeros(nodes)
        self.through[1:] = np.abs(state.si.section_current[self.board.section_above[1:]])
        rated = np.append(np.inf, self.board.areas[self.board.section_above[1:]] * BEARABLE_DENSITY)
        self.hot = self.through > rated
        self.table = self.sheet()

    def measure(self) -> None:
        """Choose the room for each slot."""

    def sheet(self) -> Table:
        """The table, once it is known how many lanes the wires need."""
        self.lanes_from, self.lane_apart = _HEAD + _STAND + 26, _LANE
        self.below = self.wires_of(max(self.lane))[1] + 42
        return Table(max(self.left + self.slot * self.count + 4, _NARROWEST), self.below + _BARS + 50)

    def _lay_out(self) -> None:
        """A slot for each signal, and a lane for each run of wire that begins where others begin as well."""
        children: list[list[int]] = [[] for _ in self.board.nodes]
        for node in np.argsort(self.board.section_above, kind="stable")[1:].tolist():
            children[self.board.above[node]].append(node)
        slot, lanes, todo = 0, 0, [(0, False)]
        while todo:
            node, branches = todo.pop()
            above = int(self.board.above[node])
            if node:
                lanes += branches
                self.lane[node], self.spots[node] = lanes if branches else self.lane[above], self.spots[above] + 10
            for place in np.flatnonzero(self.board.signal_nodes == node).tolist():
                self.slots[place], self.spots[node] = slot, self.left + slot * self.slot + self.foot
                slot += 1
            first = [(child, number > 0) for number, child in enumerate(children[node])]
            todo += reversed(first)

    def wires(self, node: int) -> tuple[float, float]:
        """How high the wires of plus and of minus are that lead to a node."""
        return self.wires_of(self.lane[node])

    def wires_of(self, lane: int) -> tuple[float, float]:
        """The same for a lane."""
        top = self.lanes_from + self.lane_apart * lane
        return top, top + self.apart

    def glow(self) -> None:
        """Around the wires that carry more than they are rated for, and what that means."""
        self.table.group("glow")
        for node in np.flatnonzero(self.hot).tolist():
            y = sum(self.wires(node)) / 2
            ends = (self.spots[int(self.board.above[node])], y), (self.spots[node] + 6, y)
            self.table.line(*ends, width=self.apart + 11, colour=FLOW)
        if self.hot.any() and self.said:
            self.table.text(
                (6, self.below - 14), "A wire that glows carries more than it is rated for in a bundle: it gets warm."
            )

    def run(self, node: int) -> None:
        """The pair of wires to a node, with its current, and what glows."""
        table, above, current = self.table, int(self.board.above[node]), float(self.through[node])
        start, end, heights = self.spots[above], self.spots[node], self.wires(node)
        width = max(self.thick * math.sqrt(current), 1.0)
        table.group(f"run {node}{' hot' if self.hot[node] else ''}")
        for pole, across, up in (("−", 6.0, self.wires(above)[1]), ("+", 0.0, self.wires(above)[0])):
            y = heights[0] if pole == "+" else heights[1]
            way: list[Place] = [(start + across, up), (start + across, y), (end + across, y)]
            table.line(*way, width=width + 1.4, colour=OUTLINE)
            table.line(*way, width=width, colour=POLES[pole])
            table.flow(*(way if pole == "+" else way[::-1]), current=current, scale=self.dots)
        words, place = current_words(current), ((max(start, end - self.slot) + end + 6) / 2, heights[0] - 6)
        if self.said and end - start >= text_width(words) + 14 and not self._under_flash(place):
            table.text(place, words, "middle", bold=bool(self.hot[node]))

    def source(self) -> None:
        """The source with what it gives, above all others."""
        table, source = self.table, self.board.source
        volts = voltage_words(float(self.state.si.node_voltage[0]))
        table.group("words source")
        behind = "" if self.board.fuse is None else f" behind its fuse, {self.board.fuse.name}"
        said = f"{source.name} {gives_words(self.state)} at {volts}{behind}"
        table.text((6, 18), wrapped(said, (table.width - 12) / 1.18, 1)[0], bold=True)
        self.lay_source((8.0, -66.0, 0.9), (0.0, -86.0, 0.72))
        if isinstance(source, Adapter):
            table.group("label of the source")
            label = f"{source.si.voltage:g} V"
            table.text((42 * 0.72, self.wires(0)[0] - 86 + 38 * 0.72), label, "middle", bold=True)

    def lay_source(self, battery: tuple[float, float, float], adapter: tuple[float, float, float]) -> None:
        """Lay it down: each with its place from the left and from plus, and how large it is; and its leads."""
        table, x, (plus, minus) = self.table, self.spots[0], self.wires(0)
        if isinstance(self.board.source, Adapter):
            left, up, scale = adapter
            ends = table.put("adapter", (left, plus + up), scale, words="", plug=True)
        else:
            left, up, scale = battery
            ends = table.put("battery_9v", (left, plus + up), scale)
        table.group("leads of the source")
        for pole, end, y in (("minus", ends["minus"], minus), ("plus", ends["plus"], plus)):
            out = x + (6.0 if pole == "minus" else 0.0)
            table.line(end, (out, end[1]), (out, y), width=4.0, colour=OUTLINE)
            table.line(end, (out, end[1]), (out, y), width=2.6, colour=MATERIALS[pole])

    def _foot(self, slot: int) -> Place:
        return self.left + slot * self.slot, _HEAD

    def lights(self, place: int) -> tuple[Light, Light]:
        """The lamps of a signal, as bright as their shares are."""
        state, signal = self.state, self.board.signals[place]
        share, current, lit = float(state.share[place]), float(state.si.current[place]), lit_lamp(signal, state.showing)
        lights = []
        for lamp in (RED, GREEN):
            led = signal.load.branch(lamp)[0][0] if signal.load.is_pair or lamp == lit else lit_led(signal, lit)
            light = Light.of(led, current if lamp == lit and self.word(place) != DARK else 0.0)
            lights.append(dataclasses.replace(light, glow=round(_GLOW * min(share, 1.25), 2) if light.shines else 0.0))
        return tuple(lights)

    def word(self, place: int) -> str:
        """How bright a signal is, in words."""
        return brightness_word(float(self.state.share[place]), float(self.state.si.current[place]))

    def signal(self, place: int) -> None:
        """A signal with its lamps as bright as they are, its name, and its light in words."""
        signal, (x, y), word = self.board.signals[place], self._foot(self.slots[place]), self.word(place)
        ends = self.table.put("signal", (x, y), _SIGNAL, lights=self.lights(place))
        swapped = lit_lamp(signal, self.state.showing) == GREEN  # the direction of the current chooses the colour
        self.drop(place, x + 4, (ends["b" if swapped else "a"], ends["a" if swapped else "b"]))
        self.table.group(f"words {signal.name}")
        self._above(x, signal.name, share_words(float(self.state.share[place])) if word != DARK else "", word)

    def drop(self, place: int, across: float, ends: tuple[Place, Place]) -> None:
        """The two wires from a signal's ends, plus first, down to its pair of wires."""
        table, signal = self.table, self.board.signals[place]
        levels = self.wires(int(self.board.signal_nodes[place]))
        table.group(f"drop {signal.name}")
        for pole, out, level, end in (("−", across + 6, levels[1], ends[1]), ("+", across, levels[0], ends[0])):
            for width, colour in ((3.0, OUTLINE), (1.8, POLES[pole])):
                table.line((out, level), (out, end[1]), end, width=width, colour=colour)
            table.circle((out, level), 2.4, fill=POLES[pole], width=THIN)

    def _above(self, x: float, name: str, *said: str) -> None:
        """A name in up to two lines, and what is said of it, above the signal; the last word is nearest to it."""
        middle, room = x + 0.32 * self.slot, self.slot - 6
        lines = wrapped(name, room / 1.1, 2)
        for number, line in enumerate(reversed(lines)):
            whole = name if line.endswith("…") else ""
            self.table.text((middle, 50 - 14 * number), line, "middle", whole=whole)
        for number, line in enumerate(reversed(said)):
            self.table.text((middle, _HEAD - 6 - 14 * number), line, "middle", bold=number == 1)

    def not_yet(self, slot: int, name: str) -> None:
        """The place of a signal that is not connected yet."""
        x, y = self._foot(slot)
        dark = tuple(Light.switched(colour, False) for colour in (RED, GREEN))
        self.table.put("signal", (x, y), _SIGNAL, lights=dark)
        self.table.group(f"waiting {name}")
        self._above(x, name, "not yet")

    def bars(self, reach: RelayReach | None) -> None:
        """The voltage that is left at each signal, on a scale that only another source changes."""
        state, table, top = self.state, self.table, self.below + 16
        full = float(self.board.source.corners[1][0])
        table.group("scale of the voltage")
        table.text((6, self.below + 4), "Voltage across the wires at each signal", bold=True)
        for volts in (full, 0.0):
            y = top + _BARS * (1 - volts / full)
            table.text((self.left - 12, y + 4), f"{volts:.3g} V", "end")
        for place, signal in enumerate(self.board.signals):
            x, volts = self._foot(self.slots[place])[0], float(state.si.voltage[place])
            tall, middle = _BARS * min(volts / full, 1.0), x + self.slot / 2 - 10
            table.group(f"volts {signal.name}")
            table.rectangle((x, top), (self.slot - 20, _BARS), width=THIN, radius=2)
            table.rectangle(
                (x, top + _BARS - tall), (self.slot - 20, tall), fill=tinted(MINUS, 0.35), width=THIN, radius=2
            )
            table.text((middle, top + _BARS + 14), voltage_words(volts), "middle", bold=True)
            if reach is not None and signal.name in reach.short_of:
                table.text((middle, top + _BARS + 28), "✘ relay", "middle")
        if reach is not None:
            y = top + _BARS * (1 - reach.si.needed / full)
            table.group("what the relays need")
            table.line((self.left - 8, y), (table.width - 2, y), width=LINE, dash="6 4", colour=INK)
            table.text((self.left - 12, y + 4), f"relay {voltage_words(round(reach.si.needed, 1))}", "end")

    def _flash(self, node: int) -> Place:
        return min(self.spots[node] + 34, self.table.width - 37), min(sum(self.wires(node)) / 2, self.flash_down_to)

    def _under_flash(self, place: Place) -> bool:
        """Whether words at a place would lie under the flash of the short circuit."""
        if self.shorted is None:
            return False
        (x, y), (across, down) = self._flash(self.shorted), place
        return abs(across - x) < 62 and -24 < down - y < 38

    def short(self) -> None:
        """The two wires touching: a flash that is seen from the back of the room."""
        table, node, (x, y) = self.table, self.shorted, self._flash(self.shorted)
        plus, minus = self.wires(node)
        table.group("short circuit")
        table.line((self.spots[node], plus), (x, y), (self.spots[node] + 6, minus), width=3.0, colour=OUTLINE)
        turns = [math.pi * number / _SPIKES for number in range(2 * _SPIKES)]
        spikes = [(36.0, 22.0) if number % 2 else (27.0, 13.0) for number in range(2 * _SPIKES)]
        outline = [(x + a * math.cos(t), y + b * math.sin(t)) for t, (a, b) in zip(turns, spikes, strict=True)]
        table.polygon(*outline, fill=FLOW, width=LINE)
        table.text((x, y + 4.5), "SHORT", "middle", bold=True, size=13)


class _OnWall(_Scene):
    """For a room: masts alone, each with its light in per cent above it and its volts below the wires."""

    left, foot, said, flash_down_to = _WALL_LEFT, 20.0 * _POST - 3.0, False, STAGE_BOX[1] - 39

    def measure(self) -> None:
        self.slot = min((STAGE_BOX[0] - self.left - 2) / self.count, _MOST_WIDE)

    def sheet(self) -> Table:
        lanes = max(self.lane) + 1
        self.lanes_from, self.lane_apart = _WALL_FLOOR, _WALL_LANES / lanes
        self.apart = min(7.0, 0.6 * self.lane_apart)
        self.thick, self.dots = 0.6 * self.apart, min(0.6, 0.06 * self.lane_apart)
        return Table(*STAGE_BOX)

    def source(self) -> None:
        source = self.board.source
        self.table.group("words source")
        name = f"{source.si.voltage:g} V adapter" if isinstance(source, Adapter) else source.name
        self.table.text((6, 15), f"{name} {gives_words(self.state)}", bold=True)
        self.lay_source((4.0, -52.0, 0.7), (2.0, -62.0, 0.5))

    def signal(self, place: int) -> None:
        x, word = self.left + self.slots[place] * self.slot, self.word(place)
        scale = min(_POST, self.slot / 44)
        corner = x + 20 * (_POST - scale), _WALL_HEAD + 118 * (_POST - scale)
        ends = self.table.put("signal_post", corner, scale, lights=self.lights(place))
        middle, foot = ends["foot"]
        self.drop(place, middle - 3, ((middle - 3, foot), (middle + 3, foot)))
        if self.slot >= _LEAST_WIDE:
            self.table.group(f"words {self.board.signals[place].name}")
            share = share_words(float(self.state.share[place]))
            self.table.text((middle, _WALL_HEAD - 4), word if word == DARK else share, "middle", bold=True)

    def not_yet(self, slot: int, name: str) -> None:
        """Its place stays free."""

    def bars(self, reach: RelayReach | None) -> None:
        """The volts as figures, where there is room for them."""
        if self.slot < _LEAST_WIDE:
            return
        y = STAGE_BOX[1] - 4
        self.table.group("scale of the voltage")
        self.table.text((6, y), "volts", bold=True)
        for place, signal in enumerate(self.board.signals):
            middle = self.left + self.slots[place] * self.slot + 20 * _POST
            off = reach is not None and signal.name in reach.short_of
            self.table.group(f"volts {signal.name}")
            self.table.text((middle, y), f"{'✘' * off}{self.state.si.voltage[place]:.1f}", "middle", bold=off)
