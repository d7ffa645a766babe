"""What a board's fuse does about a short circuit at one of its nodes: acts within a known time, slowly, or never."""

from __future__ import annotations

from ...errors import DesignError, UnitError
from ...parts.fuse import RESETTABLE, FaultCurrent, Fuse
from ...parts.source import Adapter
from ...units import Resistance, Time, record, say, with_units
from ...units.reading import quoted
from ..findings import FINE, HEAT, LOOK, STOP, Finding
from .board import Board, as_board
from .board_state import USUAL_CONTACT
from .fuse_place import FusePlace

QUICK, SLOW, NEVER = "acts", "acts slowly", "may never act"


@record
class FuseAction:
    """A short at a node and the fuse at the source.

    `current` is the least that the short draws through the fuse: source at its weakest,
    the fuse as resistive as it gets, no other load; of an adapter no more than its rating,
    since more is not sure. `outcome` is "acts" (after `within` at the most), "acts slowly"
    (some time, slower than its data sheet says) or "may never act".
    """

    fuse: Fuse
    node: str
    current: FaultCurrent
    outcome: str
    within: Time | None
    board: Board


@with_units(scalar=True)
def fuse_action(board: Board, node: str, contact: Resistance = USUAL_CONTACT) -> FuseAction:
    """What the fuse of the board surely does about a short of `contact` ohms at a node.

    Raises DesignError for a board without a fuse, UnknownNameError for a node that is not on it.
    """
    fuse, number = as_board(board).fuse, board.node_number(node)
    if fuse is None:
        raise DesignError(
            f"board {quoted(board.name)} has no fuse; give it one, such as fuse=fuses['500 mA resettable']"
        )
    rated = board.source.si.max_current if isinstance(board.source, Adapter) else float("inf")
    current = min(FusePlace(board, None, contact).short_current(fuse.si.resistance_max, number, 0), rated)
    quick = current >= fuse.si.sure_trip_current
    outcome = QUICK if quick else SLOW if current >= fuse.si.trip_current else NEVER
    return FuseAction.of(
        fuse=fuse,
        node=node,
        current=current,
        outcome=outcome,
        within=fuse.si.sure_trip_time if quick else None,
        board=board,
    )


def findings(action: FuseAction, remedy: str = "Use thicker wire or a stronger source.") -> list[Finding]:
    """What the fuse does, and what there is to do afterwards; `remedy` is what to do where it may never act."""
    if not isinstance(action, FuseAction):
        raise UnitError(f"action needs what fuse_action gives, but {type(action).__name__} came")
    own, name = action.fuse.si, quoted(action.fuse.name)
    said = f"At least {say(action.si.current, 'A')} flow through the fuse {name}"
    if action.outcome == NEVER:
        reason = f"{said}, and it needs {say(own.trip_current, 'A')} to act: it may never do so."
        return [Finding(STOP, "fuse", reason, remedy, HEAT)]
    if action.fuse.kind == RESETTABLE:
        after = "Then every signal is dark until the source has been switched off and the fuse has cooled."
    else:
        after = "Then every signal is dark until a new one of the same rating is in."
    if action.outcome == SLOW:
        reason = f"{said}: enough to make it act, but slowly; its data sheet names no time."
        return [Finding(LOOK, "fuse", reason, f"The wires are warm meanwhile. {after}")]
    return [Finding(FINE, "fuse", f"{said}: it has acted after {say(own.sure_trip_time, 's')}. {after}")]
