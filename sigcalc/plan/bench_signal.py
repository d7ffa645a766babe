"""A plan's signal as it lies on the bench: the same parts, with the wires between them, ready to be measured."""

from __future__ import annotations

from dataclasses import dataclass

from ..design.bench.circuit import BenchCircuit
from ..parts.relay import relays
from ..parts.wire import wires
from ..units import say
from .circuit import Circuit
from .circuit_fields import Supply
from .model import PlanFields


@dataclass(frozen=True)
class BenchSignal:
    """The circuit, and in `notes` what had to be left out or taken for granted."""

    circuit: BenchCircuit
    notes: tuple[str, ...]


def bench_signal(circuit: Circuit, pot_turn: float | None = None) -> BenchSignal:
    """The signal that a plan's circuit makes, its pot at a turn from 0 to 1.

    Without a turn the timer is left out, and without a named relay both: that is said in the notes.
    """
    plan = circuit.plan
    wire, mast = wires[plan.wire.part], plan.mast.height
    relay, reasons = _relay(plan)
    timed = relay is not None and plan.trigger is not None and pot_turn is not None
    if plan.trigger is not None and not timed:
        reasons.append(
            "The readings of timer and reed are left out: they need a named relay, and a pot that can be set to the "
            "hold (see the findings)."
        )
    if timed:
        reasons.append("The hold's band is for a pot set by its scale alone; set it by a watch, and the hold is yours.")
    if relay is not None:
        reasons.append(_how_to_set(plan, timed, plan.coil_fed_for))
    notes = [*reasons, *_supply_notes(plan.supply)]
    made = BenchCircuit(
        source=plan.supply.record(),
        drive=circuit.drive,
        pair=circuit.pair,
        reversing="hand switch" if relay is None else "relay",
        wire_resistance=wire.resistance(plan.wire.distance + plan.wire.slack),
        mast_resistance=wire.resistance(mast),
        branch_tolerance=plan.drive.tolerance,
        relay=relay,
        timer=plan.trigger.circuit() if timed else None,
        pot_turn=pot_turn if timed else 0.5,
        fed_lamp=plan.coil_fed_for,
        name=plan.name,
    )
    return BenchSignal(made, tuple(notes))


def _relay(plan: PlanFields) -> tuple[str | None, list[str]]:
    """The relay that the readings count with, and why there is none where the plan wants one."""
    if plan.wiring.reversing != "relay":
        return None, []
    if plan.relay is None:
        return None, ["The coil's readings are left out, as the relay has no name yet; its contacts count as a switch."]
    if relays[plan.relay].latching:
        return None, ["A latching relay stays where it was put, so that its coil is not read; it counts as a switch."]
    return plan.relay, []


def _how_to_set(plan: PlanFields, timed: bool, fed_lamp: str) -> str:
    """How somebody with a meter sets a signal that no switch sets."""
    if timed:
        return (
            "To set it for red, roll the train's magnet over the reed and leave it where the reed closes: the signal "
            "then stays as long as you measure. To set it for green, take the magnet away and wait until the hold is "
            "over."
        )
    rests = "green" if fed_lamp == "red" else "red"
    volts = say(relays[plan.relay].si.rated_voltage, "V")
    return f"To set it for {fed_lamp}, feed the relay's coil (made for {volts}); to set it for {rests}, take that off."


def _supply_notes(supply: Supply) -> list[str]:
    if supply.source() is not None:
        return []
    volts = say(supply.corners()[1], "V")
    return [f"Of the supply only its {volts} are known: it counts as one that holds them whatever it feeds."]
