"""A board studied whole: what every signal gets, the weakest lamp, the relays; and how thin the wire may be."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from functools import cached_property
from typing import Annotated, Any

import numpy as np

from ...errors import DesignError, RangeError, UnknownNameError
from ...parts.drive import ResistorDrive
from ...parts.fuse import BEARABLE_DENSITY, BEARABLE_RULE, bearable_current
from ...parts.led import LIT_FROM
from ...parts.source import Adapter
from ...parts.table import unknown
from ...physics.feeder import chain_voltages
from ...units import Current, QuantityKind, Ratio, Resistance, SupplyVoltage, Voltage, record, say, with_units
from ...units.reading import quoted
from ..findings import FINE, HEAT, LOOK, STOP, Finding, check_rating
from ..lamp.drive import OUT_BELOW, SEEN, UNSEEN, brightness_word
from .board import Board, as_board
from .state import (
    AS_SET,
    MOST,
    NOMINAL,
    USUAL_DERATING,
    USUAL_SHARE,
    BoardState,
    LeastShare,
    States,
    Worst,
    corner_states,
    lit_lamp,
    lit_led,
    most_drawn,
    worst_of,
    worsts_of,
)

# wider than a signal needs: textbooks' feeders carry hundreds of volts and amperes
FeederVoltage = Annotated[Any, QuantityKind("voltage", "V", 0.0, 1000.0, "9 V")]
FeederCurrent = Annotated[Any, QuantityKind("current", "A", 0.0, 1000.0, "20 mA")]

WIRE_CURRENT, RELAYS = "wire current", "relays"
USUAL_GAUGES = (30, 28, 26, 24, 22, 20, 18, 16)
BREAKS_BELOW = 28  # common practice, no source: thinner solid wire breaks when it is pulled under a layout
STRONGER = "Lay it in a duct, or use thicker wire under the layout."
_ALL = 0.995
_COIL_TEMPERATURE = 296.15  # K, 23 °C: that of the relays' data sheets


@with_units
def feeder_voltages(supply: FeederVoltage, resistances: Resistance, currents: FeederCurrent) -> Voltage:
    """The voltage at each load of a chain.

    Parameters
    ----------
    supply: at the supply's end, one voltage or an array of any shape
    resistances: loop resistance (there and back) of each section, from the supply's end on
    currents: the constant current drawn at each section's far end

    The loads are along the last axis of the answer; the rest broadcasts. Each section carries what all loads behind it
    draw. One resistance and one current are one load.
    Raises RangeError where a load would be left no voltage, and for shapes that do not fit each other.
    """
    volts = chain_voltages(supply, resistances, currents)
    return volts if np.ndim(resistances) or np.ndim(currents) else volts[..., 0][()]


@record
class SignalPoint:
    """One signal of a board: its lamp's current with the band of all tolerances, the voltage at its node.

    `share` is what it has left of the light that it would have alone on the source, `share_min` the least of that with
    its own parts off towards less light and all others towards more current.
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

    @property
    def lit(self) -> bool:
        """Whether the lamp is seen to be lit."""
        return bool(self.si.current > LIT_FROM)


@record
class RelayReach:
    """The signal whose relay gets the least of what it needs, and all those whose relays may stay off.

    `voltage` is the least that reaches its timer board, with every tolerance at its worst and every coil on; `needed`
    is that at which every relay of its kind has pulled in; `kept` is how
    much of it is at most lost in what feeds the coil.
    """

    signal: str
    voltage: SupplyVoltage
    needed: SupplyVoltage
    kept: SupplyVoltage
    short_of: tuple[str, ...]

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Whether the relay that is worst off pulls in."""
        si = self.si
        kept = f", {say(si.kept, 'V')} of them for the timer that feeds its coil" if si.kept else ""
        said = (
            f"The relay of {quoted(self.signal)} gets {say(si.voltage, 'V')} at the least and needs "
            f"{say(si.needed, 'V')}{kept}"
        )
        if not self.short_of:
            return (Finding(FINE, RELAYS, f"{said}: every relay pulls in."),)
        more = f" In all, {len(self.short_of)} may stay off." if len(self.short_of) > 1 else ""
        remedy = "Use thicker wire, or relays that need less current."
        return (Finding(STOP, RELAYS, f"{said}: it may not pull in.{more}", remedy),)


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
        state, worst, points = self.state(showing), self.worst, []
        lamps = [lit_lamp(signal, showing) for signal in self.board.signals]
        figures = {
            "current": state.si.current,
            "current_min": [worst.current[lamp][place] for place, lamp in enumerate(lamps)],
            "current_max": self.state(showing, MOST).si.current,
            "voltage": state.si.voltage,
            "share": state.share,
            "share_min": [worst.share[lamp][place] for place, lamp in enumerate(lamps)],
        }
        for place, signal in enumerate(self.board.signals):
            own = {name: float(each[place]) for name, each in figures.items()}
            colour = lit_led(signal, showing).colour
            points.append(SignalPoint.of(name=signal.name, node=signal.node, colour=colour, **own))
        return tuple(points)

    def signal(self, name: str, showing: str = AS_SET) -> SignalPoint:
        """One signal of a state, by its name."""
        return next(each for each in self.signals(showing) if each.name == self.board.signal(name).name)

    @property
    def weakest(self) -> SignalPoint:
        """The lamp that has the least share of its own light at worst."""
        _, place, lamp = self.worst.weakest
        return self.signals(lamp if (lamp, NOMINAL) in self.states else AS_SET)[place]

    @property
    def supply_current(self) -> Current:
        """The most that the source has to give, as a quantity."""
        return max(self.states.values(), key=lambda each: each.si.supply_current).supply_current

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The weakest lamp, the adapter's load, lamps and wires beyond their limits, drop-out, relays."""
        drawn = np.max([np.abs(each.si.section_current) for each in self.states.values()], axis=0)
        wires, reach = wire_rating(self.board, drawn, "Use thicker wire there."), relay_reach(self)
        found = [_weakest(self), *_adapter(self), *_overloads(self), *_dropped_out(self)]
        found += [wires] if wires is not None and wires.grade != FINE else []
        return (*found, *(() if reach is None else reach.findings))


@with_units(scalar=True)
def study_board(board: Board) -> BoardStudy:
    """Solve a board with its signals as set, all red and all green, nominally and at the corners of all tolerances.

    The corners take every tolerance in one direction: source, drives, LEDs' drops, coils and fuse. Wires are taken at
    their nominal cross-section. The source is taken to hold its law however much is drawn; the findings say where that
    is more than its rating. Relays' coils are all energised.
    Raises RangeError for a signal whose timer board finds no voltage, DesignError for a lamp that nothing limits.
    """
    return BoardStudy(board=as_board(board), states=corner_states(board))


def relay_reach(study: BoardStudy) -> RelayReach | None:
    """The relays of a board that `study_board` has solved, their coils at 23 °C; None for a board without any.

    A latching relay is taken to be set while all other coils are on.
    """
    reached = [
        (float(study.worst.voltage[place]), signal.load.coil_voltage_needed(_COIL_TEMPERATURE)[-1], signal)
        for place, signal in enumerate(study.board.signals)
        if signal.load.relay is not None
    ]
    if not reached:
        return None
    volts, needed, worst = min(reached, key=lambda each: each[0] / each[1])
    short_of = tuple(signal.name for got, wanted, signal in reached if got < wanted)
    kept = worst.load.coil_drops[-1]
    return RelayReach.of(signal=worst.name, voltage=volts, needed=needed, kept=kept, short_of=short_of)


def _weakest(study: BoardStudy) -> Finding:
    topic, points = "weakest lamp", [point for showing in study.showings for point in study.signals(showing)]
    maybe = [each for each in points if each.si.current_min <= LIT_FROM or each.share_min < OUT_BELOW]
    for dark in [each for each in points if not each.lit] + maybe:
        shows = f"with bought parts it may get only {say(dark.si.current_min, 'A')} and stay dark"
        if not dark.lit:
            shows = f"only {say(dark.si.current, 'A')}: it stays dark"
        reason = f"The {dark.colour} lamp of {quoted(dark.name)} gets {say(dark.si.voltage, 'V')} and {shows}."
        remedy = "Use a higher supply voltage, fewer LEDs in series, thicker wire or shorter runs."
        return Finding(STOP, topic, reason, remedy)
    point = study.weakest
    who = f"The {point.colour} lamp of {quoted(point.name)}"
    left = f"{say(point.share, '')} of its light ({say(point.share_min, '')} at worst)"
    if point.share_min >= _ALL:
        return Finding(FINE, topic, "Every lamp has all of its light, even at worst.")
    if point.share_min >= UNSEEN:
        return Finding(FINE, topic, f"{who} still has {left}; nobody sees the difference.")
    word = brightness_word(point.share_min, point.si.current_min)
    if point.share_min >= SEEN:
        return Finding(
            LOOK, topic, f"{who} has {left}: at worst {word}, seen beside a full one by those who look for it."
        )
    reason = f"{who} has only {left}: at worst {word}, seen at a glance."
    return Finding(LOOK, topic, reason, "Use thicker wire, shorter runs or fewer signals.")


def _adapter(study: BoardStudy) -> Iterator[Finding]:
    source = study.board.source
    if isinstance(source, Adapter):
        rated, how = source.si.max_current, {"topic": "adapter", "reserve": USUAL_DERATING, "risk": HEAT}
        remedy = (
            f"Stay below {say(USUAL_DERATING * rated, 'A')}: use a larger adapter, or share the signals between two "
            "adapters, never joining their outputs."
        )
        what = f"The current from the {source.name} adapter"
        yield check_rating(what, most_drawn(study.states), rated, remedy, unit="A", **how)


def _overloads(study: BoardStudy) -> Iterator[Finding]:
    """The lamps whose current is beyond their limit: one finding each for certain and possible ones."""
    cases: dict[str, list[tuple[float, float, str]]] = {STOP: [], LOOK: []}
    for showing in study.showings:
        most = study.state(showing, MOST).si.full_current  # others may be dark
        currents = zip(study.board.signals, study.state(showing).si.current, most, strict=True)
        for signal, nominal, high in currents:
            limit, what = lit_led(signal, showing).si.max_current, f"current through a lamp of {quoted(signal.name)}"
            if nominal > limit:
                cases[STOP].append((nominal, limit, f"The {what}"))
            elif high > limit:
                cases[LOOK].append((high, limit, f"With bought parts the {what}"))
    for grade, members in cases.items():
        if members:
            amps, limit, what = max(members, key=lambda each: each[0] / each[1])
            rating = check_rating(what, amps, limit, "Use a larger resistance.", unit="A", topic="lamp current")
            yield dataclasses.replace(rating, grade=grade)


def _dropped_out(study: BoardStudy) -> Iterator[Finding]:
    """Drivers that no longer hold their current because the feeder leaves them too little."""
    names = [
        signal.name
        for place, signal in enumerate(study.board.signals)
        if not isinstance(signal.load.drive, ResistorDrive)
        and any(study.state(each).si.current[place] < signal.load.drive.limit * (1 - 1e-9) for each in study.showings)
    ]
    if names:
        many = f" and {len(names) - 1} more" if len(names) > 1 else ""
        reason = f"The driver of {quoted(names[0])}{many} has dropped out: the light follows the voltage at its node."
        yield Finding(LOOK, "drop-out", reason, "Use thicker wire or a higher supply voltage.")


def wire_rating(board: Board, drawn: np.ndarray, remedy: str) -> Finding | None:
    """The section whose current is most of what its wire is rated for, `drawn` in A in each; None without sections."""
    if not board.sections:
        return None
    rated = board.areas * BEARABLE_DENSITY
    worst = int(np.argmax(drawn / rated))
    where = f"in section {quoted(board.sections[worst].name)}"
    return _rated_wire(where, float(drawn[worst]), float(rated[worst]), remedy)


def _rated_wire(where: str, drawn: float, rated: float, remedy: str) -> Finding:
    """The rule is a careful one: beyond it a wire gets warm, no more."""
    how = {"unit": "A", "topic": WIRE_CURRENT, "risk": HEAT, "source": BEARABLE_RULE}
    found = check_rating(f"The current {where}", drawn, rated, remedy, **how)
    return found if found.grade == FINE else dataclasses.replace(found, grade=LOOK)


@record
class GaugeChoice:
    """The thinnest gauge that is enough, the lamp that decides, and the share of light that each gauge leaves.

    `shares` has all USUAL_GAUGES, the thinnest first. `current` is the most in any section, `bearable` what the gauge
    is rated for in a bundle.
    """

    gauge: int
    share: Ratio
    wanted: Ratio
    weakest: str
    current: Current
    bearable: Current
    shares: dict[int, float]
    board: Board

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The choice with what the next thinner wire would do, and whether the wire is rated for its current."""
        said = f"{self.gauge} AWG leaves {quoted(self.weakest)} {say(self.share, '')} of its light at worst."
        thinner = [gauge for gauge in self.shares if gauge > self.gauge]
        if thinner:
            left = say(self.shares[thinner[-1]], "")
            said += f" {thinner[-1]} AWG would leave {left}, and {say(self.wanted, '')} is asked for."
        found = [Finding(FINE, "gauge", said)]
        drawn = self.si.current
        rating = _rated_wire("in the wire", drawn, self.si.bearable, _wire_rated_for(drawn))
        if rating.grade != FINE:
            found.append(rating)
        if self.gauge > BREAKS_BELOW:
            reason = f"{self.gauge} AWG breaks easily where it is pulled or stripped."
            found.append(Finding(LOOK, "strength", reason, STRONGER))
        return tuple(found)


@with_units(scalar=True)
def gauge_for(board: Board, share: LeastShare = USUAL_SHARE) -> GaugeChoice:
    """The thinnest gauge for all sections with which every lamp has a share of its own light, at every corner.

    `share` is of the light a signal would have alone on the source; the board's own wires do not count. Raises
    DesignError where not even the thickest of USUAL_GAUGES is enough, with what limits it instead.
    """
    if not as_board(board).sections:
        raise RangeError("board needs at least one section, since a wire is asked for; add the run to the signal")
    boards = {gauge: _wired(board, gauge) for gauge in USUAL_GAUGES}
    worsts = dict(zip(USUAL_GAUGES, worsts_of(list(boards.values())), strict=True))
    shares = {gauge: worst.weakest[0] for gauge, worst in worsts.items()}
    gauge = next((gauge for gauge in USUAL_GAUGES if shares[gauge] >= share), None)
    if gauge is None:
        raise DesignError(
            f"no gauge of {', '.join(map(str, USUAL_GAUGES))} leaves {say(share, '', 4)} of the light: the thickest "
            f"leaves {say(max(shares.values()), '', 4)}; shorten the runs, use fewer signals, give far signals a drive "
            "that holds its current, or feed the board from a stiffer source"
        )
    most = corner_states(boards[gauge], (MOST,)).values()
    return GaugeChoice.of(
        gauge=gauge,
        share=shares[gauge],
        wanted=share,
        weakest=board.signals[worsts[gauge].weakest[1]].name,
        current=max(float(abs(each.si.section_current).max()) for each in most),
        bearable=bearable_current(gauge).m_as("A"),
        shares=shares,
        board=boards[gauge],
    )


def _wired(board: Board, gauge: int) -> Board:
    sections = tuple(dataclasses.replace(each, wire=gauge) for each in board.sections)
    return dataclasses.replace(board, sections=sections)


def _wire_rated_for(current: float) -> str:
    """The thinnest usual wire that is rated for a current."""
    gauge = next((each for each in USUAL_GAUGES if bearable_current(each).m_as("A") >= current), None)
    if gauge is None:
        return f"Not even {USUAL_GAUGES[-1]} AWG is rated for that: feed the board in two places, or use fewer signals."
    return f"Use {gauge} AWG where the current is greatest."
