"""Which fuse a board takes: it carries the signals, protects the thinnest wire, and acts on a short at its far end."""

from __future__ import annotations

import dataclasses

import numpy as np

from ...errors import DesignError, UnitError, UnknownNameError
from ...parts.fuse import ONE_SHOT, RESETTABLE, SURE_TRIP_SHARE, FaultCurrent, Fuse, as_fuse, fuses
from ...parts.source import Adapter
from ...parts.table import unknown
from ...units import Current, Resistance, Temperature, Time, record, say, with_units
from ...units.reading import quoted
from ..findings import FINE, HEAT, LOOK, STOP, Finding
from .board import Board, as_board
from .board_state import USUAL_CONTACT, worst_of
from .fuse_place import FusePlace

SOURCE = "source"


@record
class FuseCheck:
    """A fuse at the source, or at the head of a section, against load, wires and shorts.

    `load_current` is the most it has to carry and `held_current` what it carries for good
    at the ambient temperature. `thinnest` is the section behind it with the thinnest wire
    and `bearable` what that wire bears in a bundle. `short_current` is the least that a
    short at `farthest`, the node with the longest way, draws with the source at its
    weakest and the fuse as resistive as it gets; `sure_current` the part of it that the
    source gives for good (an adapter its rating). `fault_current` is the most of a short
    right behind the fuse.
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
    ambient: Temperature
    contact: Resistance

    @property
    def share(self) -> float:
        """The weakest lamp's light with the fuse."""
        if self.at != SOURCE:
            return self.share_without
        return worst_of(dataclasses.replace(self.board, fuse=self.fuse)).weakest[0]

    @property
    def share_without(self) -> float:
        """The weakest lamp's light without the fuse."""
        board = self.board
        return worst_of(board if board.fuse is None else dataclasses.replace(board, fuse=None)).weakest[0]

    @property
    def carries(self) -> bool:
        """Whether it carries the load for good."""
        return self.si.load_current <= self.si.held_current

    @property
    def protects(self) -> bool:
        """Whether it acts before the thinnest wire suffers."""
        si = self.fuse.si
        return si.hold_current <= self.si.bearable and si.trip_current <= SURE_TRIP_SHARE * self.si.bearable

    @property
    def trips(self) -> bool:
        """Whether a short at the farthest node surely makes it act."""
        return self.si.sure_current >= self.fuse.si.trip_current

    @property
    def stands(self) -> bool:
        """Whether it stands the supply's voltage and the hardest short.

        An adapter holds its voltage in a short only until its output capacitor is empty: there the hardest short is
        no more than something to look at (`findings`).
        """
        own = self.fuse.si
        return self.highest <= own.max_voltage and self.lasting_fault <= own.max_fault_current

    @property
    def lasting_fault(self) -> float:
        """What the hardest short draws in A for longer than an instant: of an adapter no more than its rating."""
        source, hardest = self.board.source, self.si.fault_current
        return min(hardest, source.si.max_current) if isinstance(source, Adapter) else hardest

    @property
    def highest(self) -> float:
        """The most that the source gives without load, in V."""
        return self.board.source.corners[2][0]

    @property
    def trip_time(self) -> Time | None:
        """Within what time it surely acts on that short; None where that is slower than its data sheet says."""
        return self.fuse.sure_trip_time if self.si.sure_current >= self.fuse.si.sure_trip_current else None

    @property
    def suits(self) -> bool:
        """Whether everything holds."""
        return self.carries and self.protects and self.trips and self.stands


@with_units(scalar=True)
def check_fuse(
    board: Board,
    fuse: Fuse | str,
    at: str | None = None,
    ambient: Temperature = "25 degC",
    contact: Resistance = USUAL_CONTACT,
) -> FuseCheck:
    """Check one fuse; `at` names the section at whose head it sits (at the source if not given).

    `contact` is the resistance of the short. Raises UnknownNameError for a section or fuse
    that does not exist, DesignError for a section of a ring.
    """
    return _check(FusePlace(as_board(board), at, contact), as_fuse(fuse), ambient)


@with_units(scalar=True)
def choose_fuse(
    board: Board,
    at: str | None = None,
    kind: str = RESETTABLE,
    ambient: Temperature = "25 degC",
    contact: Resistance = USUAL_CONTACT,
) -> FuseCheck:
    """The smallest fuse of a kind ("resettable" or "one-shot") that suits; see `FuseCheck` for what that means.

    Raises DesignError where none does, with what the first that carries the load lacks.
    """
    of_kind = [each for each in fuses.values() if isinstance(kind, str) and each.kind == kind]
    offered = sorted(of_kind, key=lambda each: each.si.hold_current)
    if not offered:
        raise UnknownNameError(unknown("kind of fuse", kind, sorted({each.kind for each in fuses.values()})))
    place = FusePlace(as_board(board), at, contact)
    able = [each for each in offered if place.load_current <= each.held_at(ambient)]
    if not able:
        raise DesignError(
            f"no {kind} fuse of the table carries {say(place.load_current, 'A')} at {say(ambient, 'K')}; "
            "give each branch of the board a fuse of its own, with at= the name of its first section"
        )
    for each in able:
        check = _check(place, each, ambient)
        if check.suits:
            return check
    raise DesignError(_lack(_check(place, able[0], ambient)))


def _check(place: FusePlace, fuse: Fuse, ambient: float) -> FuseCheck:
    board = place.board
    short = place.short_current(fuse.si.resistance_max, place.farthest, 0)
    rated = board.source.si.max_current if isinstance(board.source, Adapter) else np.inf
    return FuseCheck.of(
        fuse=fuse,
        at=SOURCE if place.at is None else place.at,
        load_current=place.load_current,
        held_current=fuse.held_at(ambient),
        thinnest=place.thinnest,
        bearable=place.bearable,
        farthest=board.nodes[place.farthest],
        short_current=short,
        sure_current=min(short, rated),
        fault_current=place.short_current(fuse.si.resistance_min, place.head, 2),
        board=board,
        ambient=ambient,
        contact=place.contact,
    )


def instead(check: FuseCheck) -> str:
    """What to do about a fuse that does not suit: take the one that does, or where none does, what to change."""
    refusals = []
    at = None if check.at == SOURCE else check.at
    for kind in dict.fromkeys((check.fuse.kind, RESETTABLE, ONE_SHOT)):
        try:
            chosen = choose_fuse(check.board, at, kind, check.ambient, check.contact)
        except DesignError as refusal:
            refusals.append(str(refusal))
        else:
            return f"Use the fuse {quoted(chosen.fuse.name)} in its place."
    return f"{refusals[0][:1].upper()}{refusals[0][1:]}."


def _lack(check: FuseCheck) -> str:
    """What the smallest fuse that carries the load lacks."""
    name, si = quoted(check.fuse.name), check.si
    start = f"no fuse suits: the smallest that carries {say(si.load_current, 'A')}, {name},"
    if not check.protects:
        return (
            f"{start} needs up to {say(check.fuse.si.trip_current, 'A')} to act, too much for the wire of "
            f"{quoted(check.thinnest)}, which bears {say(si.bearable, 'A')}; use thicker wire there, or give each "
            "branch a fuse of its own"
        )
    if not check.trips:
        return (
            f"{start} needs {say(check.fuse.si.trip_current, 'A')} to act, and a short at {quoted(check.farthest)} is "
            f"sure to draw only {say(si.sure_current, 'A')}; use thicker wire, a stronger source, or a fuse of its "
            "own for each branch"
        )
    if check.highest > check.fuse.si.max_voltage:
        return f"{start} does not stand {say(check.highest, 'V')}; use one for a higher voltage"
    return f"{start} does not stand {say(si.fault_current, 'A')} of a short; use one for a larger fault current"


def findings(check: FuseCheck) -> list[Finding]:
    """Load, wire, short and the fuse's own resistance, each with its grade."""
    if not isinstance(check, FuseCheck):
        raise UnitError(f"check needs what check_fuse or choose_fuse gives, but {type(check).__name__} came")
    found = [_load(check), _wire(check), _short(check), *_limits(check)]
    if any(each.grade == STOP for each in found):  # one remedy for all, lest a larger and a smaller fuse are advised
        remedy = instead(check)
        found = [dataclasses.replace(each, remedy=remedy) if each.grade == STOP else each for each in found]
    lost = check.share_without - check.share
    if lost > 0.01:
        reason = f"Its own {say(check.fuse.si.resistance, 'ohm')} takes {say(lost, '', 2)} of the weakest lamp's light."
        found.append(Finding(LOOK, "fuse's resistance", reason, "Allow for it when you choose the wire."))
    return found


def _limits(check: FuseCheck) -> list[Finding]:
    """What the fuse itself stands: the source's voltage, and a short right behind it."""
    own, source = check.fuse.si, check.board.source
    found = []
    if check.highest > own.max_voltage:
        reason = f"The source gives up to {say(check.highest, 'V')}, and the fuse stands {say(own.max_voltage, 'V')}."
        found.append(Finding(STOP, "voltage", reason, risk=HEAT))
    if check.si.fault_current > own.max_fault_current:
        said = f"A short right behind it draws up to {say(check.si.fault_current, 'A')}"
        stands = f"the fuse stands {say(own.max_fault_current, 'A')}"
        if check.lasting_fault <= own.max_fault_current:
            reason = (
                f"{said} if the adapter holds its voltage, and {stands}. Rated {say(source.si.max_current, 'A')}, it "
                "does so only until its output capacitor is empty (common practice, no source)."
            )
            found.append(Finding(LOOK, "fault current", reason, "Do not put this fuse at a strong battery."))
        else:
            found.append(Finding(STOP, "fault current", f"{said}, and {stands}.", risk=HEAT))
    return found


def _load(check: FuseCheck) -> Finding:
    held, drawn = say(check.si.held_current, "A"), say(check.si.load_current, "A")
    said = f"{quoted(check.fuse.name)} holds {held}, and up to {drawn} flow"
    if check.carries:
        return Finding(FINE, "load", said + ".")
    return Finding(STOP, "load", said + ": it opens in the middle of an evening.")


def _wire(check: FuseCheck) -> Finding:
    si = check.fuse.si
    said = f"The thinnest wire, {quoted(check.thinnest)}, bears {say(check.si.bearable, 'A')} in a bundle"
    rule = "(700 circular mils an ampere, a careful rule; the factor after IEC 60364-4-43, from memory)"
    if check.protects:
        return Finding(FINE, "thinnest wire", f"{said}, and the fuse acts from {say(si.trip_current, 'A')} {rule}.")
    reason = f"{said}, and the fuse may let {say(si.trip_current, 'A')} pass for long {rule}."
    return Finding(STOP, "thinnest wire", reason, risk=HEAT)


def _short(check: FuseCheck) -> Finding:
    si, own = check.si, check.fuse.si
    said = f"A short at {quoted(check.farthest)} draws {say(si.short_current, 'A')} at the least"
    if si.sure_current < si.short_current:
        said += f", of which the adapter is sure to give {say(si.sure_current, 'A')}"
    if not check.trips:
        reason = f"{said}; the fuse needs {say(own.trip_current, 'A')} to act, and may never do so."
        return Finding(STOP, "far short", reason, risk=HEAT)
    if check.trip_time is None:
        reason = f"{said}; the fuse acts from {say(own.trip_current, 'A')}, but slowly."
        return Finding(LOOK, "far short", reason, "Expect it to take minutes; the wires are warm meanwhile.")
    return Finding(FINE, "far short", f"{said}; the fuse has acted after {say(own.sure_trip_time, 's')}.")
