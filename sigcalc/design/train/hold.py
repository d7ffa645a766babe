"""How long the red is held: resistor, capacitor and trip, and a timer with its pot over all tolerances."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Annotated, Any

from ...physics import rc
from ...units import Capacitance, QuantityKind, Ratio, Resistance, SupplyVoltage, Time, record, say, with_units
from ..findings import DAMAGE, FINE, LOOK, STOP, Finding
from .hold_circuit import HoldCircuit, as_hold_circuit

# the formula holds at any voltage, and textbooks use hundreds of volts; what a builder may use stands in the findings
TimingVoltage = Annotated[Any, QuantityKind("voltage of a timing circuit", "V", 0.0, 1e4, "9 V")]
StartVoltage = Annotated[Any, QuantityKind("voltage of a timing circuit", "V", -1e4, 1e4, "0 V")]

USUAL_MOST_HOLD = 20.0  # s; common practice, no source
_ABOUT = 1.1
_RATED_SHARE = 0.8  # of a capacitor's rated voltage; common practice, no source
_WIDE = 2.0  # times longer or shorter than the nominal hold


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
    """The hold of a one-shot timer, R C ln 3 at any supply. Source: TI LM555 data sheet SNAS548B."""
    return rc.one_shot_time(resistance, capacitance)


@record
class Hold:
    """The hold of a circuit at one supply and one turn of its pot, over all combinations of its parts' limits.

    `hold` is for parts as printed and no leakage. `hold_max` is None where the leakage that the
    data sheet allows may keep the trip from ever being reached.
    """

    supply: SupplyVoltage
    turn: Ratio
    resistance: Resistance
    hold_min: Time
    hold: Time
    hold_max: Time | None
    circuit: HoldCircuit

    @property
    def sentence(self) -> str:
        """The hold with its band, in words."""
        si = self.si
        to = "for ever, if the capacitor leaks as much as its data sheet allows"
        if si.hold_max is not None:
            to = say(si.hold_max, "s")
        return (
            f"With the pot at {say(si.turn, '')} the {self.circuit.timer.name} timer holds for {say(si.hold, 's')}; "
            f"with bought parts from {say(si.hold_min, 's')} to {to}."
        )


@with_units(scalar=True)
def hold_at(circuit: HoldCircuit, supply: SupplyVoltage, turn: Ratio = 1.0) -> Hold:
    """The hold of a circuit with its pot at `turn` (0: only the end resistor, 1: the whole pot).

    Raises UnitError for anything but a HoldCircuit, RangeError where the supply is not above the trip.
    """
    as_hold_circuit(circuit).refuse_no_hold("supply", supply)
    least, nominal, most = circuit.seconds(supply, turn)
    return Hold.of(
        supply=supply,
        turn=turn,
        resistance=circuit.resistance_at(turn),
        hold_min=least,
        hold=nominal,
        hold_max=most if math.isfinite(most) else None,
        circuit=circuit,
    )


def hold_range(circuit: HoldCircuit, supply: SupplyVoltage) -> tuple[Hold, Hold]:
    """The holds with the pot turned right down and right up; raises as `hold_at`."""
    return hold_at(circuit, supply, 0.0), hold_at(circuit, supply, 1.0)


def findings(result: Hold) -> tuple[Finding, ...]:
    """The verdicts on a hold: supply, capacitor, leakage, resistor, band, and what a further train does."""
    checks = (_supply, _capacitor, _leakage, _least_resistance, _band, _retrigger)
    return tuple(finding for check in checks for finding in check(result))


def _supply(result: Hold) -> Iterator[Finding]:
    timer, supply = result.circuit.timer, result.si.supply
    if not timer.si.least_supply <= supply <= timer.si.most_supply:
        reason = (
            f"The {timer.name} timer works from {say(timer.si.least_supply, 'V')} to {say(timer.si.most_supply, 'V')}; "
            f"the supply is {say(supply, 'V')}."
        )
        yield Finding(STOP, "timer supply", reason, "Use a supply or a timer that suits the other.", DAMAGE)


def _capacitor(result: Hold) -> Iterator[Finding]:
    capacitor, supply = result.circuit.capacitor, result.si.supply
    rated = capacitor.si.rated_voltage
    if supply > _RATED_SHARE * rated:
        grade = STOP if supply > rated else LOOK
        reason = f"The {capacitor.name} is charged by {say(supply, 'V')} and stands {say(rated, 'V')}."
        remedy = f"Take one for at least {say(supply / _RATED_SHARE, 'V')} (common practice: a quarter more)."
        yield Finding(grade, "capacitor voltage", reason, remedy, DAMAGE)
    if capacitor.kind.polarised:
        reason = "An electrolytic capacitor the wrong way round leaks, heats up and may burst."
        yield Finding(FINE, "capacitor polarity", reason, "Its minus lead, at the stripe, goes towards minus.")


def _leakage(result: Hold) -> Iterator[Finding]:
    circuit, si = result.circuit, result.si
    if si.hold_max is not None:
        return
    most, sure = circuit.most_resistance_at(si.turn), circuit.sure_resistance(si.supply)
    reason = (
        f"The {circuit.capacitor.name} may leak {say(circuit.capacitor.most_leakage, 'A')} at its rated voltage, and "
        f"through up to {say(most, 'ohm')} it would then never reach the trip: the signal would stay red."
    )
    remedy = "Use a film capacitor, or try out the one you have: most leak far less."
    if sure > 0:
        remedy = f"Holds up to about {say(si.hold * sure / most, 's')} are safe from that. " + remedy
    yield Finding(LOOK, "leakage", reason, remedy)


def _least_resistance(result: Hold) -> Iterator[Finding]:
    circuit = result.circuit
    least, needs = circuit.si.end_resistor * (1 - circuit.si.end_tolerance), circuit.timer.si.least_resistance
    if least < needs * (1 - 1e-9):
        reason = (
            f"With the pot turned right down {say(least, 'ohm')} may be left, and the {circuit.timer.name} timer "
            f"wants {say(needs, 'ohm')}."
        )
        remedy = f"Take an end resistor of at least {say(needs / (1 - circuit.si.end_tolerance), 'ohm')}."
        yield Finding(STOP, "end resistor", reason, remedy)


def _band(result: Hold) -> Iterator[Finding]:
    si = result.si
    if si.hold_max is not None:
        wide = si.hold_max > _WIDE * si.hold or si.hold > _WIDE * si.hold_min
        remedy = "Set the pot with a watch, not by its scale." if wide else ""
        yield Finding(LOOK if wide else FINE, "hold", result.sentence, remedy)
    if si.hold > _ABOUT * USUAL_MOST_HOLD:
        reason = f"A hold of {say(si.hold, 's')} is longer than usual; about {say(USUAL_MOST_HOLD, 's')} is common."
        yield Finding(LOOK, "long hold", reason, "See that the signal is not still red for the next train.")


def _retrigger(result: Hold) -> Iterator[Finding]:
    timer = result.circuit.timer
    reason = f"The {timer.name} timer takes no notice of a further train while it holds."
    if timer.retriggers:
        reason = f"With the {timer.name} timer a further train during the hold starts it anew."
    yield Finding(FINE, "further train", reason)
