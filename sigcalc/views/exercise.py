"""The pictures of an exercise: what a question or one of its options names, drawn without the verdict in words."""

from __future__ import annotations

from functools import singledispatch
from typing import Any

from ..design.bench.circuit import LAMPS
from ..design.board.fuse import ShortCircuit
from ..design.board.state import BoardState
from ..design.lamp.drive import OperatingPoint
from ..design.pair.two_lead_pair import PairPoint
from ..lessons.choice import Bands, DarkCircuit, Joined, WiringAt
from ..lessons.find_the_fault import MeterAt, quillhaven_signal
from . import natural
from .board_scene import board_scene
from .led_circuit import one_led_circuit
from .meter_circuit import meter_picture
from .picture import Picture
from .scene.joined import joined_scene
from .signal_circuit import IN_PLUS_LEAD, signal_circuit
from .which_resistor import colour_band_picture
from .wiring import reversing_circuit

_FULL = 15.0  # V at the end of the bar of shared voltage, so that circuits side by side can be compared
_USUAL = 0.05  # the tolerance of a resistor out of the drawer


@singledispatch
def drawn(shows: Any) -> Picture:
    """The picture of what an exercise names; its natural one, where none is drawn for exercises alone."""
    return natural.picture(shows)


@drawn.register
def _(at: WiringAt) -> Picture:
    picture = reversing_circuit(at.wiring, at.wiring.closed([at.position]), at.shown)
    return picture.saying(at.says)


@drawn.register
def _(state: BoardState) -> Picture:
    return board_scene(state)


@drawn.register
def _(short: ShortCircuit) -> Picture:
    return board_scene(short.lasting, short.node)


@drawn.register
def _(at: MeterAt) -> Picture:
    return meter_picture(quillhaven_signal(), at.point, "", LAMPS[0], at.seen).saying(at.says)


@drawn.register
def _(bands: Bands) -> Picture:
    return colour_band_picture(bands.colours, meanings=False).saying(bands.says)


@drawn.register
def _(point: OperatingPoint) -> Picture:
    return one_led_circuit(point, "supply", full=_FULL)


@drawn.register
def _(point: PairPoint) -> Picture:
    return signal_circuit(point, "supply", full=_FULL, resistor_in=IN_PLUS_LEAD)  # where the planner has it


@drawn.register
def _(circuit: DarkCircuit) -> Picture:
    return one_led_circuit(circuit.point, "supply", quiet=True).saying(circuit.says)


@drawn.register
def _(joined: Joined) -> Picture:
    return joined_scene(joined.first, joined.second, _USUAL, joined.parallel, named=False).saying(joined.says)
