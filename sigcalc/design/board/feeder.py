"""Voltages along a feeder, and a whole board: what every signal gets, and which lamp is the weakest."""

from __future__ import annotations

from typing import Annotated, Any

import numpy as np

from ...errors import UnitError
from ...parts.drive import ResistorDrive
from ...parts.fuse import BEARABLE_DENSITY
from ...parts.led import LIT_FROM
from ...parts.source import Adapter
from ...physics.network import chain_voltages
from ...units import QuantityKind, Resistance, Voltage, say, with_units
from ...units.reading import quoted
from ..findings import DAMAGE, FINE, HEAT, LOOK, STOP, Finding
from ..lamp.drive import OUT_BELOW, SEEN, UNSEEN, brightness_word
from .board import Board, as_board
from .board_state import MOST, USUAL_DERATING, corner_states, lit_led, most_drawn
from .board_study import BoardStudy
from .feeder_section import wire_areas

# wider than a signal needs: textbooks' feeders carry hundreds of volts and amperes
FeederVoltage = Annotated[Any, QuantityKind("voltage", "V", 0.0, 1000.0, "9 V")]
FeederCurrent = Annotated[Any, QuantityKind("current", "A", 0.0, 1000.0, "20 mA")]

WIRE_CURRENT = "wire current"
_ALL = 0.995


@with_units
def feeder_voltages(supply: FeederVoltage, resistances: Resistance, currents: FeederCurrent) -> Voltage:
    """The voltage at each load of a chain.

    Parameters
    ----------
    supply: at the supply's end, one voltage or an array of any shape
    resistances: loop resistance (there and back) of each section, from the supply's end on
    currents: the constant current drawn at each section's far end

    The loads lie along the last axis of the answer; the rest broadcasts. Each section carries what all loads behind
    it draw. One resistance and one current are one load.
    Raises RangeError where a load would be left no voltage, and for shapes that do not fit each other.
    """
    volts = chain_voltages(supply, resistances, currents)
    return volts if np.ndim(resistances) or np.ndim(currents) else volts[..., 0][()]


@with_units(scalar=True)
def study_board(board: Board) -> BoardStudy:
    """Solve a board with its signals as set, all red and all green, nominally and at the corners of all tolerances.

    The corners take every tolerance in one direction: source, drives, LEDs' drops, coils and fuse. Wires are taken
    at their nominal cross-section. The source is taken to hold its law however much is drawn; `findings` says
    where that is more than its rating. Relays' coils are all energised.
    Raises RangeError for a signal whose timer board finds no voltage, DesignError for a lamp that nothing limits.
    """
    return BoardStudy(board=as_board(board), states=corner_states(board))


def findings(study: BoardStudy) -> list[Finding]:
    """What a study says: the weakest lamp, the adapter's load, lamps and wires beyond their limits, drop-out."""
    if not isinstance(study, BoardStudy):
        raise UnitError(f"study needs what study_board gives, but {type(study).__name__} came")
    found = [_weakest(study), _adapter(study), *_overloads(study), _dropped_out(study), *_wires(study)]
    return [each for each in found if each is not None]


def _weakest(study: BoardStudy) -> Finding:
    points = [point for showing in study.showings for point in study.signals(showing)]
    dark = next((each for each in points if not each.lit), None)
    if dark is None:
        dark = next((each for each in points if each.si.current_min <= LIT_FROM or each.share_min < OUT_BELOW), None)
    if dark is not None:
        shows = f"with bought parts it may get only {say(dark.si.current_min, 'A')} and stay dark"
        if not dark.lit:
            shows = f"only {say(dark.si.current, 'A')}: it stays dark"
        reason = f"The {dark.colour} lamp of {quoted(dark.name)} gets {say(dark.si.voltage, 'V')} and {shows}."
        remedy = "Use a higher supply voltage, fewer LEDs in series, thicker wire or shorter runs."
        return Finding(STOP, "weakest lamp", reason, remedy)
    point = study.weakest
    who = f"The {point.colour} lamp of {quoted(point.name)}"
    left = f"{say(point.share, '')} of its light ({say(point.share_min, '')} at worst)"
    word = brightness_word(point.share_min, point.si.current_min)
    if point.share_min >= _ALL:
        return Finding(FINE, "weakest lamp", f"{who} keeps all of its light, even at worst.")
    if point.share_min >= UNSEEN:
        return Finding(FINE, "weakest lamp", f"{who} still has {left}; nobody sees the rest.")
    if point.share_min >= SEEN:
        reason = f"{who} has {left}: at worst {word}, seen beside a full one by those who look for it."
        return Finding(LOOK, "weakest lamp", reason)
    reason = f"{who} has only {left}: at worst {word}, seen at a glance."
    return Finding(LOOK, "weakest lamp", reason, "Use thicker wire, shorter runs or fewer signals.")


def _adapter(study: BoardStudy) -> Finding | None:
    source, drawn = study.board.source, most_drawn(study.states)
    if not isinstance(source, Adapter):
        return None
    rated = source.si.max_current
    said = f"Up to {say(drawn, 'A')} of the {say(rated, 'A')} that the {source.name} adapter is rated for."
    if drawn > rated:
        remedy = "Use a larger adapter, or share the signals between two adapters, never joining their outputs."
        return Finding(STOP, "adapter", said + " What it does beyond is not known.", remedy, HEAT)
    if drawn > USUAL_DERATING * rated:
        return Finding(LOOK, "adapter", said, f"Keep below {say(USUAL_DERATING * rated, 'A')}.")
    return Finding(FINE, "adapter", said)


def _overloads(study: BoardStudy) -> list[Finding]:
    """The lamps that get more than they stand: one finding each for certain and possible ones."""
    sure, possible = [], []
    for showing in study.showings:
        limits = np.array([lit_led(each, showing).si.max_current for each in study.board.signals])
        nominal, most = (
            study.state(showing).si.current,
            study.state(showing, MOST).si.full_current,
        )  # others may be dark
        for place, signal in enumerate(study.board.signals):
            if nominal[place] > limits[place]:
                sure.append((signal.name, nominal[place], limits[place]))
            elif most[place] > limits[place]:
                possible.append((signal.name, most[place], limits[place]))
    found = []
    for grade, cases, how in ((STOP, sure, "flow"), (LOOK, possible, "may flow with bought parts")):
        if cases:
            name, amps, limit = max(cases, key=lambda case: case[1] / case[2])
            reason = f"{say(amps, 'A')} {how} through a lamp of {quoted(name)}, which stands {say(limit, 'A')}."
            found.append(Finding(grade, "lamp current", reason, "Use a larger resistance.", DAMAGE))
    return found


def _dropped_out(study: BoardStudy) -> Finding | None:
    """Drivers that no longer hold their current because the feeder leaves them too little."""
    dropped: dict[str, None] = {}
    for showing in study.showings:
        state = study.state(showing)
        for signal, amps in zip(study.board.signals, state.si.current, strict=True):
            drive = signal.load.drive
            if not isinstance(drive, ResistorDrive) and amps < drive.limit * (1 - 1e-9):
                dropped[signal.name] = None
    names = list(dropped)
    if not names:
        return None
    many = f" and {len(names) - 1} more" if len(names) > 1 else ""
    reason = f"The driver of {quoted(names[0])}{many} has dropped out: the light follows the voltage at its node."
    return Finding(LOOK, "drop-out", reason, "Use thicker wire or a higher supply voltage.")


def _wires(study: BoardStudy) -> list[Finding]:
    """The section that is loaded most for its wire, where that is more than it bears."""
    currents = [np.abs(each.si.section_current) for each in study.states.values()]
    drawn = np.max(currents, axis=0)
    bears = wire_areas(study.board.sections) * BEARABLE_DENSITY
    if not drawn.size or (drawn <= bears).all():
        return []
    worst = int(np.argmax(drawn / bears))
    name = quoted(study.board.sections[worst].name)
    reason = (
        f"Section {name} carries {say(drawn[worst], 'A')}, and its wire bears {say(bears[worst], 'A')} in a bundle "
        "(700 circular mils an ampere, a careful rule)."
    )
    return [Finding(LOOK, WIRE_CURRENT, reason, "Use thicker wire there.", HEAT)]
