"""How long red is held: the on-time of a timer with its capacitor, pot and end resistor, over all their tolerances.

Where to turn the pot for a wanted on-time, and what a falling supply does to it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Annotated, Any

import numpy as np
from numpy.typing import NDArray

from ...errors import DesignError, RangeError
from ...parts.capacitor import Capacitor
from ...parts.timer import Timer, timers
from ...physics import rc
from ...units import Capacitance, QuantityKind, Ratio, Resistance, SupplyVoltage, Time, record, say, with_units
from ...units.plain import need_made
from ..findings import DAMAGE, FINE, LOOK, STOP, Finding, check_rating
from ..tolerance import Band, at_corners, over_corners

# the formula holds at any voltage, and textbooks use hundreds of volts; what a builder may use is in the findings
TimingVoltage = Annotated[Any, QuantityKind("voltage of a timing circuit", "V", 0.0, 1e4, "9 V")]
StartVoltage = Annotated[Any, QuantityKind("voltage of a timing circuit", "V", -1e4, 1e4, "0 V")]
Pot = Annotated[Any, QuantityKind("resistance", "ohm", 1.0, 1e9, "220 kohm")]
WantedTime = Annotated[Any, QuantityKind("time", "s", 1e-9, 1e6, "10 s")]

USUAL_MOST_HOLD = 20.0  # s; common practice, no source
_ABOUT = 1.1
_RATED_SHARE = 0.8  # of a capacitor's rated voltage; common practice, no source
_WIDE = 2.0  # times longer or shorter than the nominal on-time
_NOTICED = 0.1  # a tenth more or less of an on-time is not noticed; common practice, no source
_TIME_CONSTANTS = 3.0  # in which a capacitor comes within 5 % of empty, or full
_HALVINGS = 55  # of the pot's whole turn: down to the last digit of a float


@with_units
def hold_time(
    resistance: Resistance,
    capacitance: Capacitance,
    supply: TimingVoltage,
    trip: TimingVoltage,
    start: StartVoltage = "0 V",
) -> Time:
    """The time in which a capacitor comes from `start` to `trip` through a resistor to `supply`.

    R C ln((supply - start) / (supply - trip)); a discharge has the supply "0 V". Arrays broadcast.
    Raises RangeError where the trip is never reached, with the voltage that the capacitor ends at,
    and RangeError or UnitError for what cannot be read.
    """
    return rc.time_to_trip(resistance, capacitance, supply, trip, start)


@with_units
def one_shot_time(resistance: Resistance, capacitance: Capacitance) -> Time:
    """The on-time of a one-shot timer, R C ln 3 at any supply. Source: TI LM555 data sheet SNAS548B."""
    return rc.one_shot_time(resistance, capacitance)


@record
class HoldCircuit:
    """A timer with its capacitor, pot and end resistor; `timer` is a name in `timers` or a record.

    The end resistor stays in the path when the pot is turned right down. The pot counts as
    linear. Its 20 % are common practice, no source; the end resistor's 5 % are those of a carbon film resistor.
    """

    timer: Timer
    capacitor: Capacitor
    pot: Pot
    end_resistor: Resistance
    pot_tolerance: Ratio = 0.2
    end_tolerance: Ratio = 0.05

    def __post_init__(self) -> None:
        if not isinstance(self.timer, Timer):
            object.__setattr__(self, "timer", timers[self.timer])
        for name in ("pot_tolerance", "end_tolerance"):
            if not getattr(self.si, name) < 1:
                raise RangeError(argument=name, need="less than 100 %", example="20 %")

    def least_pulse(self, reed_resistance: float) -> float:
        """The shortest contact in s that starts the timer, with so many ohms in series with the reed.

        It is the timer's own figure, or until the contact has filled or emptied the capacitor but for 5 %.
        """
        own = self.timer.si.least_pulse
        return own if own is not None else _TIME_CONSTANTS * reed_resistance * self.capacitor.si.capacitance

    def sure_resistance(self, supply: float) -> float:
        """The resistance in ohm up to which the trip is reached however much leaks, at a supply in V."""
        trip = max(self.timer.trips(supply))
        leak = max(self.timer.si.input_current, 0.0) + trip / self.capacitor.leakage_resistance
        return (supply - trip) / leak

    def bands(self, supply: float) -> dict[str, Band]:
        """What differs between bought parts, for `on_time`; nominal are parts as printed and no leakage."""
        si, drawn = self.si, self.timer.si.input_current
        return {
            "pot": Band.within(si.pot, si.pot_tolerance, "ohm"),
            "end_resistor": Band.within(si.end_resistor, si.end_tolerance, "ohm"),
            "capacitance": Band(*self.capacitor.corners, "F"),
            "trip": Band(*self.timer.trips(supply), "V"),
            "leak": Band(0.0, 0.0, 1.0),
            "drawn": Band(min(drawn, 0.0), 0.0, max(drawn, 0.0), "A"),
            "timing": Band.within(1.0, self.timer.si.spread),
        }

    def on_time(
        self, supply: Any, turn: Any, pot: Any, end_resistor: Any, capacitance: Any, trip: Any, leak: Any, drawn: Any,
        timing: Any,
    ) -> NDArray[np.float64]:  # fmt: skip
        """The on-time in s with parts from `bands`; infinite where the trip is never reached. All arguments broadcast.

        `leak` is a share of the most that the capacitor may leak, `drawn` the current into the timer's input.
        """
        beside = np.divide(
            self.capacitor.leakage_resistance, leak, out=np.full(np.shape(leak), np.inf), where=np.greater(leak, 0)
        )
        return self.timer.seconds(supply, end_resistor + turn * pot, capacitance, trip, beside, drawn) * timing

    def seconds(self, supply: float, turn: Any) -> Band:
        """The on-time at a supply in V and a turn (a float or a flat array); infinite where it may never end."""
        turns = Band.exactly(turn)
        return over_corners(
            lambda turn, **parts: self.on_time(supply, turn, **parts), unit="s", turn=turns, **self.bands(supply)
        )

    def turns(self, supply: float, hold: float) -> tuple[NDArray[np.float64], NDArray[np.bool_]]:
        """The pot's turn for an on-time in s, and whether it can be had: nominal parts first, then each combination.

        Where it cannot be had, the turn is the nearer end.
        """
        parts = at_corners(**self.bands(supply))
        low, high = np.zeros_like(parts["pot"]), np.ones_like(parts["pot"])
        within_reach = (self.on_time(supply, low, **parts) <= hold) & (self.on_time(supply, high, **parts) >= hold)
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            too_long = self.on_time(supply, middle, **parts) > hold
            low, high = np.where(too_long, low, middle), np.where(too_long, middle, high)
        return (low + high) / 2, within_reach


def need_hold(circuit: Any, argument: str, supply: float) -> HoldCircuit:
    """The circuit, or UnitError where it is none, RangeError where a supply in V is not above the nominal trip."""
    timer = need_made(circuit, "circuit", HoldCircuit).timer
    _, trip, _ = timer.trips(supply)
    if not supply > trip:
        raise RangeError(
            argument=argument,
            need=f"more than the {say(trip, 'V')} at which the {timer.name} timer trips",
            given=say(supply, "V"),
            advice=f"use at least {say(timer.si.least_supply, 'V')}",
        )
    return circuit


@record
class Hold:
    """The on-time of a circuit at one supply and one turn of its pot, over all combinations of its parts' limits.

    `hold` is for parts as printed and no leakage. `hold_max` is None where the leakage that the
    data sheet allows may keep the trip from ever being reached.
    """

    supply: SupplyVoltage
    turn: Ratio
    hold_min: Time
    hold: Time
    hold_max: Time | None
    circuit: HoldCircuit

    @property
    def sentence(self) -> str:
        """The on-time with its band, in words."""
        si = self.si
        to = "for ever, if the capacitor leaks as much as its data sheet allows"
        if si.hold_max is not None:
            to = say(si.hold_max, "s")
        return (
            f"With the pot at {say(si.turn, '')} the {self.circuit.timer.name} timer is on for {say(si.hold, 's')}; "
            f"with bought parts from {say(si.hold_min, 's')} to {to}."
        )

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The verdicts: supply, capacitor, leakage or band, resistor, and what a further train does."""
        return (*self._supply(), *self._capacitor(), *self._on_time(), *self._least_resistance(), self._further_train())

    def _supply(self) -> Iterator[Finding]:
        timer, supply = self.circuit.timer, self.si.supply
        if not timer.si.least_supply <= supply <= timer.si.most_supply:
            reason = (
                f"The {timer.name} timer works from {say(timer.si.least_supply, 'V')} to "
                f"{say(timer.si.most_supply, 'V')}; the supply is {say(supply, 'V')}."
            )
            yield Finding(STOP, "timer supply", reason, "Use a supply or a timer that suits the other.", DAMAGE)

    def _capacitor(self) -> Iterator[Finding]:
        capacitor, supply = self.circuit.capacitor, self.si.supply
        rated = check_rating(
            f"The voltage across the {capacitor.name}",
            supply,
            capacitor.si.rated_voltage,
            f"Use one for at least {say(supply / _RATED_SHARE, 'V')} (common practice: a quarter more).",
            unit="V",
            topic="capacitor voltage",
            reserve=_RATED_SHARE,
        )
        if rated.grade != FINE:
            yield rated
        if capacitor.kind.polarised:
            reason = "An electrolytic capacitor the wrong way round leaks, heats up and may burst."
            yield Finding(FINE, "capacitor polarity", reason, "Its minus lead, at the stripe, goes towards minus.")

    def _on_time(self) -> Iterator[Finding]:
        si = self.si
        if si.hold_max is None:
            yield self._leakage()
        else:
            wide = si.hold_max > _WIDE * si.hold or si.hold > _WIDE * si.hold_min
            remedy = "Set the pot with a watch, not by its scale." if wide else ""
            yield Finding(LOOK if wide else FINE, "on-time", self.sentence, remedy)
        if si.hold > _ABOUT * USUAL_MOST_HOLD:
            reason = (
                f"An on-time of {say(si.hold, 's')} is longer than usual; about {say(USUAL_MOST_HOLD, 's')} is common."
            )
            yield Finding(LOOK, "long on-time", reason, "Check that the signal is not still red for the next train.")

    def _leakage(self) -> Finding:
        circuit, si = self.circuit, self.si
        bands = circuit.bands(si.supply)
        most, sure = bands["end_resistor"].most + si.turn * bands["pot"].most, circuit.sure_resistance(si.supply)
        reason = (
            f"The {circuit.capacitor.name} may leak {say(circuit.capacitor.most_leakage, 'A')} at its rated voltage. "
            f"Through up to {say(most, 'ohm')} it would then never reach the timer's threshold: the signal would stay "
            "red."
        )
        remedy = "Use a film capacitor, or try out the one you have: most leak far less."
        if sure > 0:
            remedy = f"On-times up to about {say(si.hold * sure / most, 's')} are safe from that. " + remedy
        return Finding(LOOK, "leakage", reason, remedy)

    def _least_resistance(self) -> Iterator[Finding]:
        circuit = self.circuit
        least, needs = circuit.bands(self.si.supply)["end_resistor"].least, circuit.timer.si.least_resistance
        if least < needs * (1 - 1e-9):
            reason = (
                f"With the pot turned right down {say(least, 'ohm')} may be left, and the {circuit.timer.name} timer "
                f"needs {say(needs, 'ohm')}."
            )
            remedy = f"Use an end resistor of at least {say(needs / (1 - circuit.si.end_tolerance), 'ohm')}."
            yield Finding(STOP, "end resistor", reason, remedy)

    def _further_train(self) -> Finding:
        timer = self.circuit.timer
        reason = f"The {timer.name} timer ignores a further train while it is on."
        if timer.retriggers:
            reason = f"With the {timer.name} timer a further train during the on-time starts it anew."
        return Finding(FINE, "further train", reason)


@with_units(scalar=True)
def hold_at(circuit: HoldCircuit, supply: SupplyVoltage, turn: Ratio = 1.0) -> Hold:
    """The on-time of a circuit with its pot at `turn` (0: only the end resistor, 1: the whole pot).

    Raises UnitError for anything but a HoldCircuit, RangeError where the supply is not above the trip.
    """
    need_hold(circuit, "supply", supply)
    least, nominal, most = circuit.seconds(supply, turn)
    return Hold.of(
        supply=supply,
        turn=turn,
        hold_min=least,
        hold=nominal,
        hold_max=most if math.isfinite(most) else None,
        circuit=circuit,
    )


@record
class PotSetting:
    """The pot's turn for a wanted on-time, from 0 (only the end resistor) to 1 (the whole pot).

    `turn` holds for parts as printed. With bought parts it lies from `turn_min` to `turn_max`; where some of them need
    more than the pot has, the band ends at the pot's end. `findings`: whether every set of bought parts can be set so.
    """

    turn: Ratio
    turn_min: Ratio
    turn_max: Ratio
    resistance: Resistance
    findings: tuple[Finding, ...]


@with_units(scalar=True)
def pot_turn(circuit: HoldCircuit, supply: SupplyVoltage, hold: WantedTime) -> PotSetting:
    """The pot's turn for a wanted on-time at a supply, for parts as printed and for every combination of their limits.

    Raises DesignError where the on-time is beyond what the pot gives, with the ends of its range and
    what to change; UnitError for anything but a HoldCircuit; RangeError for a supply below the trip.
    """
    need_hold(circuit, "supply", supply)
    turns, within_reach = circuit.turns(supply, hold)
    right_down, right_up = (circuit.seconds(supply, turn) for turn in (0.0, 1.0))
    if not within_reach[0]:
        least, most, farad = right_down.nominal, right_up.nominal, circuit.capacitor.si.capacitance
        advice = f"use a larger pot, or at least {say(farad * hold / most, 'F')}"
        if hold < least:
            advice = f"use a smaller end resistor, or at most {say(farad * hold / least, 'F')}"
        raise DesignError(
            argument="hold",
            need=f"an on-time that this circuit gives at {say(supply, 'V')}, {say(least, 's')} to {say(most, 's')}",
            given=say(hold, "s"),
            advice=advice,
        )
    turn, turn_min, turn_max = map(float, (turns[0], turns.min(), turns.max()))
    resistance = circuit.si.end_resistor + turn * circuit.si.pot
    reason = (
        f"For {say(hold, 's')} turn the pot to {say(turn, '')} ({say(resistance, 'ohm')} with the end resistor); with "
        f"bought parts it is somewhere from {say(turn_min, '')} to {say(turn_max, '')}."
    )
    found = Finding(FINE, "pot", reason, "Set it with a watch.")
    if not within_reach.all():
        limit = f"the longest is {say(right_down.most, 's')} with the pot right down"
        remedy = "Use a smaller end resistor or capacitor."
        if right_up.least < hold:
            limit = f"the shortest is {say(right_up.least, 's')} with the pot right up"
            remedy = "Use the next larger pot or capacitor."
        reason += f" Some sets of bought parts cannot be set to it at all: {limit}."
        found = Finding(LOOK, "pot", reason, remedy)
    return PotSetting.of(turn=turn, turn_min=turn_min, turn_max=turn_max, resistance=resistance, findings=(found,))


@with_units(scalar=True)
def supply_effect(circuit: HoldCircuit, fresh: SupplyVoltage, flat: SupplyVoltage, turn: Ratio = 1.0) -> Finding:
    """The verdict on how the on-time of parts as printed changes from a fresh to a flat supply.

    A one-shot of real parts changes by 0.1 % a volt (TI NE555 data sheet SLFS022, typical; 0.5 %
    most), which is left out. Raises UnitError for anything but a HoldCircuit, RangeError where
    `flat` is above `fresh`, or `fresh` not above the trip.
    """
    need_hold(circuit, "fresh", fresh)
    if not 0 < flat <= fresh:
        raise RangeError(
            argument="flat",
            need=f"a voltage above 0 V and no more than the fresh supply's {say(fresh, 'V')}",
            given=say(flat, "V"),
            advice="give the voltage at which the battery is changed",
        )
    topic, timer = "on-time on a flat battery", circuit.timer
    full, low = (circuit.seconds(volts, turn).nominal for volts in (fresh, flat))
    reason = f"From {say(fresh, 'V')} down to {say(flat, 'V')} the on-time of the {timer.name} timer "
    if math.isinf(low):
        reason += f"grows without end: {say(flat, 'V')} never reaches its threshold."
        remedy = "Change the battery sooner, or use a one-shot, which follows the supply."
        return Finding(STOP, topic, reason, remedy)
    if timer.follows_supply:
        reason += f"stays {say(full, 's')}: its threshold is a share of the supply."
    else:
        way = "longer" if low > full else "shorter"
        reason += f"goes from {say(full, 's')} to {say(low, 's')}, {100 * abs(low / full - 1):.0f} % {way}."
    if flat < timer.si.least_supply:
        least = say(timer.si.least_supply, "V")
        reason += f" But the {timer.name} timer works only from {least}."
        return Finding(LOOK, topic, reason, f"Use a supply that never gives less than {least}.")
    if abs(low / full - 1) > _NOTICED:
        remedy = "Use a one-shot, which follows the supply, or feed the timer from a regulator."
        return Finding(LOOK, topic, reason, remedy)
    return Finding(FINE, topic, reason)
