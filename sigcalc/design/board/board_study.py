"""A board in all its states, signal by signal."""

from __future__ import annotations

from functools import cached_property

import numpy as np

from ...errors import UnknownNameError
from ...parts.led import LIT_FROM
from ...parts.table import unknown
from ...units import Current, Ratio, Voltage, record
from .board import Board
from .board_state import AS_SET, MOST, NOMINAL, BoardState, States, Worst, light_of, lit_lamp, lit_led, worst_of


@record
class SignalPoint:
    """One signal of a board: its lamp's current with the band of all tolerances, the voltage at its node.

    `share` is what it has left of the light that it would have alone on the source,
    `share_min` the least of that with its own parts off towards less light and all others
    towards more current. `beside_best` compares its light with the brightest signal's
    that shows the same (None where an LED has no data).
    """

    name: str
    node: str
    colour: str
    current: Current
    current_min: Current
    current_max: Current
    voltage: Voltage
    share: Ratio
    share_min: Ratio
    beside_best: Ratio | None

    @property
    def lit(self) -> bool:
        """Whether the lamp is seen to be lit."""
        return bool(self.si.current > LIT_FROM)


@record
class BoardStudy:
    """A board in all its states: as set, and all red and all green where it has pairs, each at three corners."""

    board: Board
    states: States

    @cached_property
    def worst(self) -> Worst:
        """The least that any build within the tolerances leaves each signal."""
        return worst_of(self.board)

    def state(self, showing: str = AS_SET, corner: int = NOMINAL) -> BoardState:
        """One state; `corner` is -1 for the least current, 0 for the nominal, +1 for the most."""
        if (showing, corner) not in self.states:
            raise UnknownNameError(unknown("state", showing, sorted({name for name, _ in self.states})))
        return self.states[showing, corner]

    @property
    def showings(self) -> tuple[str, ...]:
        """What the signals show in the states studied."""
        return tuple(showing for showing, corner in self.states if corner == NOMINAL)

    def signals(self, showing: str = AS_SET) -> tuple[SignalPoint, ...]:
        """Every signal of a state, in the board's order."""
        return tuple(_signal_points(self, showing))

    def signal(self, name: str, showing: str = AS_SET) -> SignalPoint:
        """One signal of a state, by its name."""
        return next(each for each in self.signals(showing) if each.name == self.board.signal(name).name)

    @property
    def weakest(self) -> SignalPoint:
        """The lamp that keeps the least share of its own light at worst."""
        _, place, lamp = self.worst.weakest
        return self.signals(lamp if (lamp, NOMINAL) in self.states else AS_SET)[place]

    @property
    def supply_current(self) -> Current:
        """The most that the source has to give, as a quantity."""
        return max(self.states.values(), key=lambda each: each.si.supply_current).supply_current


def _signal_points(study: BoardStudy, showing: str) -> list[SignalPoint]:
    state, high, worst = study.state(showing), study.state(showing, MOST), study.worst
    colours = [lit_led(each, showing).colour for each in study.board.signals]
    beside_best = _beside_best(light_of(state), colours)
    points = []
    for place, signal in enumerate(study.board.signals):
        lamp = lit_lamp(signal, showing)
        points.append(
            SignalPoint.of(
                name=signal.name,
                node=signal.node,
                colour=colours[place],
                current=float(state.si.current[place]),
                current_min=float(worst.current[lamp][place]),
                current_max=float(high.si.current[place]),
                voltage=float(state.si.voltage[place]),
                share=float(state.share[place]),
                share_min=float(worst.share[lamp][place]),
                beside_best=beside_best[place],
            )
        )
    return points


def _beside_best(light: np.ndarray | None, colours: list[str]) -> list[float | None]:
    """The light of each signal as a share of the brightest of its colour; None where it is not known."""
    if light is None:
        return [None] * len(colours)
    brightest = {colour: light[[each == colour for each in colours]].max() for colour in set(colours)}
    return [
        float(each / brightest[colour]) if brightest[colour] > 0 else 1.0
        for each, colour in zip(light, colours, strict=True)
    ]
