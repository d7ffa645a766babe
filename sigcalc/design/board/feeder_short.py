"""A short circuit somewhere on the board: what flows there, and what every other signal shows meanwhile."""

from __future__ import annotations

import numpy as np

from ...errors import RangeError, UnitError
from ...parts.fuse import BEARABLE_DENSITY
from ...parts.led import LIT_FROM
from ...parts.source import Adapter
from ...units import Current, Resistance, Voltage, record, say, with_units
from ...units.reading import quoted
from ..findings import FINE, HEAT, LOOK, STOP, Finding
from ..lamp.drive import OUT_BELOW, UNSEEN
from .board import Board, as_board
from .board_state import AS_SET, CORNERS, NOMINAL, USUAL_CONTACT, Asked, BoardState, board_states
from .feeder_section import wire_areas


@record
class ShortCircuit:
    """A short across a node of the board.

    `current` is what flows through it, with its band, while the source holds its law:
    source and wires alone limit it. `held_current` is what flows where a regulated adapter
    lets its voltage down and gives no more than it is rated for; a real one does something
    between, or switches off. It is None for a battery and for an unregulated adapter, which
    nothing holds. `free` and `held` are the board's states; `share` is what each signal has
    left of its usual current, with the source held where it is (1 for one that is dark
    anyway).
    """

    node: str
    contact: Resistance
    current: Current
    current_min: Current
    current_max: Current
    held_current: Current | None
    node_voltage: Voltage
    free: BoardState
    held: BoardState | None
    share: np.ndarray
    usual: BoardState
    board: Board

    @property
    def dark(self) -> tuple[str, ...]:
        """The signals that no longer show anything."""
        return _named(self.board, _gone_dark(self.usual, self.held or self.free))

    @property
    def dimmed(self) -> tuple[str, ...]:
        """The signals that still show something, but less, so that it is seen."""
        return _named(self.board, ~_out(self.usual, self.held or self.free) & (self.share < UNSEEN))


@with_units(scalar=True)
def short_at(board: Board, node: str, contact: Resistance = USUAL_CONTACT) -> ShortCircuit:
    """A short of `contact` ohms across a node, with the signals as set.

    Timer boards draw less as their voltage falls. Raises UnknownNameError for a node that
    is not on the board, RangeError for a contact under 1 mohm.
    """
    place = _place(board, node, contact)
    usual, *corners, now = board_states(
        [Asked(board), *(Asked(board, AS_SET, corner, short=place) for corner in CORNERS), _lasting(board, place)]
    )
    number = place[0]
    through = [float(state.si.node_voltage[number]) / contact for state in corners]
    free, held = corners[1], now if _holds(board) else None
    return ShortCircuit.of(
        node=node,
        contact=contact,
        current=through[1],
        current_min=min(through),
        current_max=max(through),
        held_current=None if held is None else float(held.si.node_voltage[number]) / contact,
        node_voltage=float(free.si.node_voltage[number]),
        free=free,
        held=held,
        share=_share(usual, now),
        usual=usual,
        board=board,
    )


@with_units(scalar=True)
def dark_by_shorts(board: Board, contact: Resistance = USUAL_CONTACT) -> dict[str, tuple[str, ...]]:
    """For each node with a signal, what a short there darkens: `short_at(...).dark`, all of them solved together."""
    nodes = dict.fromkeys(each.node for each in as_board(board).signals)
    usual, *now = board_states([Asked(board), *(_lasting(board, _place(board, node, contact)) for node in nodes)])
    return {node: _named(board, _gone_dark(usual, state)) for node, state in zip(nodes, now, strict=True)}


def _place(board: Board, node: str, contact: float) -> tuple[int, float]:
    if not contact >= 1e-3:
        raise RangeError(f'contact needs to be 1 mohm or more, but {say(contact, "ohm")} came; try "50 mohm"')
    return as_board(board).node_number(node), contact


def _holds(board: Board) -> bool:
    """Whether the source lets its voltage down in a short and gives no more than it is rated for."""
    return isinstance(board.source, Adapter) and board.source.regulated


def _lasting(board: Board, place: tuple[int, float]) -> Asked:
    """The short with the source held where it is."""
    limit = board.source.si.max_current if _holds(board) else np.inf
    return Asked(board, AS_SET, NOMINAL, limit, place)


def _share(usual: BoardState, now: BoardState) -> np.ndarray:
    """What each signal has left of its usual current; 1 for one that is dark anyway."""
    lit = usual.si.current > LIT_FROM
    return np.where(lit, now.si.current / np.where(lit, usual.si.current, 1.0), 1.0)


def _out(usual: BoardState, now: BoardState) -> np.ndarray:
    """Where there is no light, or too little to see."""
    return (now.si.current <= LIT_FROM) | (_share(usual, now) < OUT_BELOW)


def _gone_dark(usual: BoardState, now: BoardState) -> np.ndarray:
    return (usual.si.current > LIT_FROM) & _out(usual, now)


def _named(board: Board, chosen: np.ndarray) -> tuple[str, ...]:
    return tuple(each.name for each, wanted in zip(board.signals, chosen, strict=True) if wanted)


def findings(short: ShortCircuit) -> list[Finding]:
    """What a short does: to the source, to the wires on the way, and to the other signals."""
    if not isinstance(short, ShortCircuit):
        raise UnitError(f"short needs what short_at gives, but {type(short).__name__} came")
    return [_source(short), _wires(short), _others(short)]


def _source(short: ShortCircuit) -> Finding:
    source, si = short.board.source, short.si
    said = f"A short at {quoted(short.node)} would draw {say(si.current, 'A')}, limited by source and wires alone"
    if not isinstance(source, Adapter):
        return Finding(LOOK, "source", f"{said}: the battery gets hot.", "Put a fuse at the battery.", HEAT)
    drawn, rated = short.free.si.supply_current, source.si.max_current  # the signals that still run draw as well
    said += f"; with the signals it is {say(drawn, 'A')}"
    if drawn <= rated:
        return Finding(
            LOOK,
            "source",
            f"{said}, which the {say(rated, 'A')} adapter gives for good: it will not switch off.",
            "See whether the wires bear it, or put a fuse in.",
            HEAT,
        )
    if not source.regulated:
        reason = f"{said}, and the adapter is rated {say(rated, 'A')}: it is unregulated, limits nothing and overheats."
        return Finding(STOP, "source", reason, "Put a fuse in.", HEAT)
    return Finding(
        FINE,
        "source",
        f"{said}, and the adapter is rated {say(rated, 'A')}. A regulated one limits its current or "
        "switches off; how, is not known without trying.",
    )


def _wires(short: ShortCircuit) -> Finding:
    """The wire that is loaded worst while the source gives all it can for good."""
    state = short.held or short.free
    drawn, bears = np.abs(state.si.section_current), wire_areas(short.board.sections) * BEARABLE_DENSITY
    if not drawn.size or (drawn <= bears).all():
        return Finding(FINE, "wires", "Every wire bears the current for good.")
    worst = int(np.argmax(drawn / bears))
    reason = (
        f"Section {quoted(short.board.sections[worst].name)} carries {say(drawn[worst], 'A')} meanwhile, "
        f"{drawn[worst] / bears[worst]:.2g} times what its wire bears in a bundle."
    )
    grade = STOP if drawn[worst] > 2 * bears[worst] else LOOK
    return Finding(grade, "wires", reason, "Put in a fuse that is sized for the thinnest wire.", HEAT)


def _others(short: ShortCircuit) -> Finding:
    dark, dimmed = short.dark, short.dimmed
    said = "No signal goes dark"
    if dark:
        count = len(short.board.signals)
        said = f"{len(dark)} of {count} signals {'goes' if len(dark) == 1 else 'go'} dark, {quoted(dark[0])} among them"
        said = "Every signal goes dark" if len(dark) == count else said
    if dimmed:
        least = min(share for each, share in zip(short.board.signals, short.share, strict=True) if each.name in dimmed)
        said += f"; {len(dimmed)} {'loses' if len(dimmed) == 1 else 'lose'} light, the worst keeps {say(least, '')}"
    how = "as long as the adapter holds its rated current" if short.held else "as long as the source holds"
    return Finding(LOOK if dark or dimmed else FINE, "other signals", f"{said}, {how}.")
