"""A board's fuse and a short circuit: which fuse suits, what it does about a short, and what goes dark meanwhile."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np

from ...errors import DesignError, RangeError
from ...parts.fuse import (
    BEARABLE_DENSITY,
    BEARABLE_RULE,
    ONE_TIME,
    RESETTABLE,
    SURE_TRIP_SHARE,
    FaultCurrent,
    Fuse,
    as_fuse,
    fuses,
)
from ...parts.led import LIT_FROM
from ...parts.source import Adapter
from ...parts.table import need_name
from ...units import Current, record, say
from ...units.reading import quoted
from ..findings import FINE, HEAT, LOOK, STOP, Finding, check_rating, worst
from ..lamp.drive import OUT_BELOW, UNSEEN
from .board import Board, as_board
from .feeder import wire_rating
from .state import (
    AS_SET,
    MOST,
    NOMINAL,
    USUAL_CONTACT,
    Asked,
    BoardState,
    board_states,
    corner_states,
    share_of,
    worst_of,
)

SOURCE = "source"
QUICK, SLOW, NEVER = "acts", "acts slowly", "may never act"


def _place(board: Board, at: str | None) -> tuple[dict[str, Any], int]:
    """What a FuseCheck says of the place of a fuse, at the source or at the head of a section; its node's number."""
    if not board.sections:
        raise RangeError("board needs at least one section: a fuse protects wires, and there are none")
    states = corner_states(_without(board), (MOST,)).values()
    if at is None:
        head, nodes = 0, np.arange(1, len(board.nodes))
        drawn = [each.si.supply_current for each in states]
    else:
        number = board.section_number(at)
        below, behind = board.section_ends[0][number], np.zeros(len(board.nodes))
        behind[below] = 1.0
        head, nodes = int(board.above[below]), np.flatnonzero(board.tree.along(behind))
        drawn = [abs(each.si.section_current[number]) for each in states]
    way = board.tree.along(board.ohms)
    thinnest = min(board.section_above[nodes], key=board.areas.__getitem__)
    figures = {
        "at": SOURCE if at is None else at,
        "board": board,
        "load_current": float(max(drawn)),
        "farthest": board.nodes[max(nodes, key=way.__getitem__)],
        "thinnest": board.sections[thinnest].name,
        "bearable": float(board.areas[thinnest]) * BEARABLE_DENSITY,
    }
    return figures, head


def _short_current(board: Board, node: int, fuse: float, corner: int) -> float:
    volts, inside = board.source.corners[corner]
    return float(volts / (inside + fuse + board.tree.along(board.ohms)[node] + USUAL_CONTACT))


def _without(board: Board) -> Board:
    return board if board.fuse is None else dataclasses.replace(board, fuse=None)


@record
class FuseCheck:
    """A fuse at the source, or at the head of a section, against load, wires and shorts.

    `load_current` is the most it has to carry and `held_current` what it carries for good at 25 °C.
    `thinnest` is the section behind it with the thinnest wire and `bearable` what that wire is rated for in a bundle.
    `short_current` is the least that a short at `farthest`, the node with the longest way, draws with the source at its
    weakest and the fuse as resistive as it gets; `sure_current` the part of it that the source gives for good (an
    adapter its rating). `fault_current` is the most of a short right behind the fuse.
    """

    fuse: Fuse
    at: str
    load_current: Current
    held_current: Current
    thinnest: str
    bearable: Current
    farthest: str
    short_current: FaultCurrent
    sure_current: FaultCurrent
    fault_current: FaultCurrent
    board: Board

    @property
    def suits(self) -> bool:
        """Whether it carries the load, protects the wire, is sure to act on a far short, and survives a near one."""
        return worst(self.verdicts) != STOP

    @property
    def remedy(self) -> str:
        """What to do about a fuse that does not suit: use the one that does, or where none does, what to change."""
        refusals = []
        at = None if self.at == SOURCE else self.at
        for kind in dict.fromkeys((self.fuse.kind, RESETTABLE, ONE_TIME)):
            try:
                chosen = choose_fuse(self.board, at, kind)
            except DesignError as refusal:
                refusals.append(str(refusal))
            else:
                return f"Use the fuse {quoted(chosen.fuse.name)} in its place."
        return f"{refusals[0][:1].upper()}{refusals[0][1:]}."

    @property
    def verdicts(self) -> list[Finding]:
        """Load, wire and short, each with its grade; without what to do."""
        return [_load(self), _wire(self), _far_short(self), *_limits(self)]

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Load, wire, short and the fuse's own resistance, each with its grade."""
        found = self.verdicts
        if any(each.grade == STOP for each in found):  # one remedy for all, lest a larger and a smaller fuse be advised
            remedy = self.remedy
            found = [dataclasses.replace(each, remedy=remedy) if each.grade == STOP else each for each in found]
        lost = 0.0
        if self.at == SOURCE:
            bare, fused = _without(self.board), dataclasses.replace(self.board, fuse=self.fuse)
            lost = worst_of(bare).weakest[0] - worst_of(fused).weakest[0]
        if lost > 0.01:
            own = say(self.fuse.si.resistance, "ohm")
            reason = f"Its own {own} cost {say(lost, '', 2)} of the weakest lamp's light."
            found.append(Finding(LOOK, "fuse's resistance", reason, "Allow for it when you choose the wire."))
        return tuple(found)


_LOAD, _WIRE, _FAR, _NEAR = "load", "thinnest wire", "far short", "fault current"


def _load(check: FuseCheck) -> Finding:
    what = f"The current through the fuse {quoted(check.fuse.name)}"
    how = {"unit": "A", "topic": _LOAD, "risk": "", "source": "what it holds"}
    found = check_rating(what, check.si.load_current, check.si.held_current, "", **how)
    opens = " It opens in mid-evening." if found.grade == STOP else ""
    return dataclasses.replace(found, reason=found.reason + opens)


def _wire(check: FuseCheck) -> Finding:
    si, rated = check.fuse.si, check.si.bearable
    said = f"The thinnest wire, {quoted(check.thinnest)}, is rated for {say(rated, 'A')}"
    rule, trip = f"({BEARABLE_RULE}; the factor after IEC 60364-4-43, from memory)", say(si.trip_current, "A")
    if si.hold_current <= rated and si.trip_current <= SURE_TRIP_SHARE * rated:
        return Finding(FINE, _WIRE, f"{said}, and the fuse acts from {trip} {rule}.")
    return Finding(STOP, _WIRE, f"{said}, and the fuse may let {trip} through for a long time {rule}.", risk=HEAT)


def _far_short(check: FuseCheck) -> Finding:
    short, sure = check.si.short_current, check.si.sure_current
    said = f"A short at {quoted(check.farthest)} draws {say(short, 'A')} at the least"
    if sure < short:
        said += f", of which the adapter is sure to give {say(sure, 'A')}"
    _, grade, does = _acts(check.fuse, sure)
    remedy = "Expect it to take minutes; the wires are warm meanwhile." if grade == LOOK else ""
    return Finding(grade, _FAR, f"{said}; {does}.", remedy, HEAT if grade == STOP else "")


def _acts(fuse: Fuse, amperes: float) -> tuple[str, str, str]:
    """What a fuse does about so much current: its outcome, the grade, and the words for it."""
    own, trip = fuse.si, say(fuse.si.trip_current, "A")
    if amperes < own.trip_current:
        return NEVER, STOP, f"the fuse needs {trip} to act, and may never do so"
    if amperes < own.sure_trip_current:
        return SLOW, LOOK, f"the fuse acts from {trip}, but slowly: its data sheet names no time"
    return QUICK, FINE, f"the fuse has acted after {say(own.sure_trip_time, 's')}"


def _limits(check: FuseCheck) -> list[Finding]:
    """What the fuse itself is rated for: the source's voltage, and a short right behind it."""
    own, highest, fault = check.fuse.si, check.board.source.corners[2][0], check.si.fault_current
    what, ratings = "The source's voltage at the fuse", {"unit": "V", "topic": "voltage", "risk": HEAT}
    found = [check_rating(what, highest, own.max_voltage, "", **ratings)]
    said = f"A short right behind it draws up to {say(fault, 'A')}"
    rated = f"the fuse is rated for {say(own.max_fault_current, 'A')}"
    if min(fault, _rated(check.board)) > own.max_fault_current:
        found.append(Finding(STOP, _NEAR, f"{said}, and {rated}.", risk=HEAT))
    elif fault > own.max_fault_current:
        reason = (
            f"{said} if the adapter holds its voltage, and {rated}. Rated {say(_rated(check.board), 'A')}, it "
            "does so only until its output capacitor is empty (common practice, no source)."
        )
        found.append(Finding(LOOK, _NEAR, reason, "Do not put this fuse at a strong battery."))
    return [each for each in found if each.grade != FINE]


def check_fuse(board: Board, fuse: Fuse | str, at: str | None = None) -> FuseCheck:
    """Check one fuse; `at` names the section at whose head it is (at the source if not given).

    Raises UnknownNameError for a section or fuse that does not exist.
    """
    return _check(_place(as_board(board), at), as_fuse(fuse))


def choose_fuse(board: Board, at: str | None = None, kind: str = RESETTABLE) -> FuseCheck:
    """The smallest fuse of a kind ("resettable" or "one-time") that suits; see `FuseCheck` for what that means.

    Raises DesignError where none does, with what the first that carries the load lacks.
    """
    need_name(kind, "kind of fuse", (ONE_TIME, RESETTABLE))
    of_kind = [each for each in fuses.values() if each.kind == kind]
    place = _place(as_board(board), at)
    checks = [_check(place, each) for each in sorted(of_kind, key=lambda each: each.si.hold_current)]
    able = [each for each in checks if each.verdicts[0].grade != STOP]
    for each in able:
        if each.suits:
            return each
    load = say(place[0]["load_current"], "A")
    if not able:
        raise DesignError(
            f"no {kind} fuse of the table carries {load} at 25 °C; give each branch of the board a fuse of its own, "
            "with at= the name of its first section"
        )
    lack = next(each for each in able[0].verdicts if each.grade == STOP)
    reason, way_out = lack.reason.partition(" (700")[0].removesuffix("."), "use one rated for more"
    if lack.topic in (_WIRE, _FAR):
        way_out = "use thicker wire or a stronger source, or give each branch a fuse of its own"
    raise DesignError(
        f"no fuse suits: the smallest that carries {load} is {quoted(able[0].fuse.name)}, but "
        f"{reason[:1].lower()}{reason[1:]}; {way_out}"
    )


def _check(place: tuple[dict[str, Any], int], fuse: Fuse) -> FuseCheck:
    figures, head = place
    board = figures["board"]
    short = _short_current(board, board.place[figures["farthest"]], fuse.si.resistance_max, 0)
    return FuseCheck.of(
        fuse=fuse,
        held_current=fuse.held,
        short_current=short,
        sure_current=min(short, _rated(board)),
        fault_current=_short_current(board, head, fuse.si.resistance_min, 2),
        **figures,
    )


def _rated(board: Board) -> float:
    """What an adapter gives for good; a battery gives all it can."""
    return board.source.si.max_current if isinstance(board.source, Adapter) else np.inf


@record
class FuseAction:
    """A short at a node and the fuse at the source.

    `current` is the least that the short draws through the fuse: source at its weakest, the fuse as resistive as it
    gets, no other load; of an adapter no more than its rating, since more is not sure. `outcome` is "acts" (within its
    data sheet's time), "acts slowly" (slower than that) or "may never act".
    """

    fuse: Fuse
    node: str
    current: FaultCurrent
    outcome: str
    board: Board

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What the fuse does, and what there is to do afterwards; where it may never act, what the check advises."""
        _, grade, does = _acts(self.fuse, self.si.current)
        said = f"At least {say(self.si.current, 'A')} flow through the fuse {quoted(self.fuse.name)}; {does}."
        if grade == STOP:
            return (Finding(STOP, "fuse", said, check_fuse(_without(self.board), self.fuse).remedy, HEAT),)
        until = "a new one of the same rating is in"
        if self.fuse.kind == RESETTABLE:
            until = "the source has been switched off and the fuse has cooled"
        remedy = "The wires are warm meanwhile." if grade == LOOK else ""
        return (Finding(grade, "fuse", f"{said} Then every signal is dark until {until}.", remedy),)


def fuse_action(board: Board, node: str) -> FuseAction:
    """What the fuse of the board is sure to do about a short at a node.

    Raises DesignError for a board without a fuse, UnknownNameError for a node that is not on it.
    """
    fuse, number = as_board(board).fuse, board.node_number(node)
    if fuse is None:
        raise DesignError(
            f"board {quoted(board.name)} has no fuse; give it one, such as fuse=fuses['500 mA resettable']"
        )
    current = min(_short_current(board, number, fuse.si.resistance_max, 0), _rated(board))
    return FuseAction.of(fuse=fuse, node=node, current=current, outcome=_acts(fuse, current)[0], board=board)


@record
class ShortCircuit:
    """A short across a node of the board.

    `current` is what flows through it while the source holds its law: source and wires alone limit it. `free` is the
    board then, `held` where a regulated adapter lets its voltage down and gives no more than it is rated for; a real
    one does something between, or switches off. It is None for a battery and for an unregulated adapter, which nothing
    holds. `share` is what each signal has left of its usual current in the state that lasts (1 for one that is dark
    anyway), `dark` names those that no longer show anything.
    """

    node: str
    current: Current
    free: BoardState
    held: BoardState | None
    share: np.ndarray
    dark: tuple[str, ...]
    board: Board

    @property
    def lasting(self) -> BoardState:
        """The state that lasts: the source held where it is."""
        return self.held or self.free

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What the short does: to the source, to the wires on the way, and to the other signals."""
        return _at_source(self), _at_wires(self), _at_others(self)


def short_at(board: Board, node: str) -> ShortCircuit:
    """A short of 50 milliohms across a node, with the signals as set.

    Timer boards draw less as their voltage falls. Raises UnknownNameError for a node that is not on the board.
    """
    place = as_board(board).node_number(node), USUAL_CONTACT
    usual, free, now = board_states([Asked(board), Asked(board, short=place), _lasting(board, place)])
    held, current = now if _holds(board) else None, float(free.si.node_voltage[place[0]]) / USUAL_CONTACT
    share, dark = _left(usual, now)
    return ShortCircuit.of(node=node, current=current, free=free, held=held, share=share, dark=dark, board=board)


def dark_by_shorts(board: Board) -> dict[str, tuple[str, ...]]:
    """For each node with a signal, what a short there darkens: `short_at(...).dark`, all of them solved together."""
    nodes = dict.fromkeys(each.node for each in as_board(board).signals)
    usual, *now = board_states(
        [Asked(board), *(_lasting(board, (board.node_number(node), USUAL_CONTACT)) for node in nodes)]
    )
    return {node: _left(usual, state)[1] for node, state in zip(nodes, now, strict=True)}


def _holds(board: Board) -> bool:
    """Whether the source lets its voltage down in a short and gives no more than it is rated for."""
    return isinstance(board.source, Adapter) and board.source.regulated


def _lasting(board: Board, place: tuple[int, float]) -> Asked:
    """The short with the source held where it is."""
    return Asked(board, AS_SET, NOMINAL, _rated(board) if _holds(board) else np.inf, place)


def _left(usual: BoardState, now: BoardState) -> tuple[np.ndarray, tuple[str, ...]]:
    """What each signal has left of its usual current, and those that go dark: no light, or too little to see."""
    lit = usual.si.current > LIT_FROM
    share = np.where(lit, share_of(now.si.current, usual.si.current), 1.0)
    dark = lit & ((now.si.current <= LIT_FROM) | (share < OUT_BELOW))
    return share, tuple(each.name for each, out in zip(now.board.signals, dark, strict=True) if out)


def _at_source(short: ShortCircuit) -> Finding:
    source = short.board.source
    said = f"A short at {quoted(short.node)} would draw {say(short.si.current, 'A')}, limited by source and wires alone"
    if not isinstance(source, Adapter):
        return Finding(LOOK, SOURCE, f"{said}: the battery gets hot.", "Put a fuse at the battery.", HEAT)
    drawn, rated = short.free.si.supply_current, source.si.max_current  # the signals that still run draw as well
    said += f"; with the signals it is {say(drawn, 'A')}"
    if drawn <= rated:
        reason = f"{said}, which the {say(rated, 'A')} adapter gives for good: it will not switch off."
        return Finding(LOOK, SOURCE, reason, "See whether the wires are rated for it, or put a fuse in.", HEAT)
    said += f", and the adapter is rated {say(rated, 'A')}"
    if not source.regulated:
        reason = f"{said}: it is unregulated, limits nothing and overheats."
        return Finding(STOP, SOURCE, reason, "Put a fuse in.", HEAT)
    how = "A regulated one limits its current or switches off; its data sheet says which."
    return Finding(LOOK, SOURCE, f"{said}. {how}", "Find the short before you switch on again.")


def _at_wires(short: ShortCircuit) -> Finding:
    """The wire whose rating is exceeded most while the source gives all it can for good."""
    drawn = np.abs(short.lasting.si.section_current)
    found = wire_rating(short.board, drawn, "Put in a fuse that is sized for the thinnest wire.")
    if found is None or found.grade == FINE:
        return Finding(FINE, "wires", "Every wire is rated for the current.")
    much = (drawn > 2 * short.board.areas * BEARABLE_DENSITY).any()
    return dataclasses.replace(found, topic="wires", grade=STOP if much else LOOK)


def _at_others(short: ShortCircuit) -> Finding:
    dark, names = short.dark, [each.name for each in short.board.signals]
    dimmed = [
        float(share) for name, share in zip(names, short.share, strict=True) if share < UNSEEN and name not in dark
    ]
    said = f"{len(dark)} of {len(names)} signals {'goes' if len(dark) == 1 else 'go'} dark"
    if not dark or len(dark) == len(names):
        said = f"{'Every' if dark else 'No'} signal goes dark"
    else:
        said += f", {quoted(dark[0])} among them"
    if dimmed:
        loses = "loses" if len(dimmed) == 1 else "lose"
        said += f"; {len(dimmed)} {loses} light, the worst has {say(min(dimmed), '')} left"
    how = "as long as the adapter holds its rated current" if short.held else "as long as the source holds"
    return Finding(LOOK if dark or dimmed else FINE, "other signals", f"{said}, {how}.")
