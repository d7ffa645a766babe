"""What a sagging supply does to a hold: nothing where the trip follows it, much where it stays where it is."""

from __future__ import annotations

import math

from ...errors import RangeError
from ...units import Ratio, SupplyVoltage, Time, record, say, with_units
from ..findings import FINE, LOOK, STOP, Finding
from .hold_circuit import HoldCircuit, as_hold_circuit

_NOTICED = 0.1  # a tenth more or less of a hold is not noticed; common practice, no source


@record
class SupplyEffect:
    """The hold of parts as printed on a fresh and on a flat supply; `hold_flat` is None where it never ends."""

    fresh: SupplyVoltage
    flat: SupplyVoltage
    hold_fresh: Time
    hold_flat: Time | None
    turn: Ratio
    circuit: HoldCircuit

    @property
    def change(self) -> float | None:
        """By which share the hold grows (negative: shrinks) from fresh to flat; None where it never ends."""
        if self.si.hold_flat is None:
            return None
        return self.si.hold_flat / self.si.hold_fresh - 1

    @property
    def sentence(self) -> str:
        """The effect in words."""
        name, si = self.circuit.timer.name, self.si
        start = f"From {say(si.fresh, 'V')} down to {say(si.flat, 'V')} the hold of the {name} timer "
        if self.change is None:
            return start + f"grows without end: {say(si.flat, 'V')} never reaches the trip."
        if self.circuit.timer.follows_supply:
            return start + f"stays {say(si.hold_fresh, 's')}: its trip is a share of the supply."
        return start + f"goes from {say(si.hold_fresh, 's')} to {say(si.hold_flat, 's')} ({self.change:+.0%})."


@with_units(scalar=True)
def supply_effect(circuit: HoldCircuit, fresh: SupplyVoltage, flat: SupplyVoltage, turn: Ratio = 1.0) -> SupplyEffect:
    """The hold on a fresh and on a flat supply.

    A one-shot of real parts changes by 0.1 % a volt (TI NE555 data sheet SLFS022, typical; 0.5 %
    most), which is left out. Raises UnitError for anything but a HoldCircuit, RangeError where
    `flat` is above `fresh`, or `fresh` not above the trip.
    """
    as_hold_circuit(circuit).refuse_no_hold("fresh", fresh)
    if not 0 < flat <= fresh:
        raise RangeError(
            f"flat needs a voltage above 0 V and no more than the fresh supply's {say(fresh, 'V')}, but "
            f"{say(flat, 'V')} came; give the voltage at which the battery is changed"
        )
    (_, full, _), (_, low, _) = (circuit.seconds(volts, turn) for volts in (fresh, flat))
    return SupplyEffect.of(
        fresh=fresh,
        flat=flat,
        hold_fresh=full,
        hold_flat=low if math.isfinite(low) else None,
        turn=turn,
        circuit=circuit,
    )


def findings(result: SupplyEffect) -> tuple[Finding, ...]:
    """The verdict on what the supply does to the hold."""
    change = result.change
    if change is None:
        remedy = "Change the battery sooner, or use a one-shot, which follows the supply."
        return (Finding(STOP, "hold on a flat battery", result.sentence, remedy),)
    timer, flat = result.circuit.timer, result.si.flat
    if flat < timer.si.least_supply:
        least = say(timer.si.least_supply, "V")
        reason = f"{result.sentence} But the {timer.name} timer works only from {least}."
        return (Finding(LOOK, "hold on a flat battery", reason, f"Use a supply that never gives less than {least}."),)
    if abs(change) > _NOTICED:
        remedy = "Use a one-shot, which follows the supply, or feed the timer from a regulator."
        return (Finding(LOOK, "hold on a flat battery", result.sentence, remedy),)
    return (Finding(FINE, "hold on a flat battery", result.sentence),)
