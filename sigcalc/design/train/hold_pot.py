"""Where to turn the pot of a hold timer for a wanted hold, and whether bought parts let it be set at all."""

from __future__ import annotations

from collections.abc import Iterator

from ...errors import DesignError, RangeError
from ...units import Ratio, Resistance, SupplyVoltage, Time, record, say, with_units
from ..findings import FINE, LOOK, Finding
from .hold_circuit import HoldCircuit, as_hold_circuit


@record
class PotSetting:
    """The pot's turn for a wanted hold, from 0 (only the end resistor) to 1 (the whole pot).

    `turn` holds for parts as printed. With bought parts it lies from `turn_min` to `turn_max`;
    where some of them need more than the pot has, `trims` is False and the band ends at the pot's end.
    """

    wanted: Time
    turn: Ratio
    turn_min: Ratio
    turn_max: Ratio
    trims: bool
    resistance: Resistance
    supply: SupplyVoltage
    circuit: HoldCircuit

    @property
    def sentence(self) -> str:
        """The setting in words."""
        si = self.si
        return (
            f"For {say(si.wanted, 's')} turn the pot to {say(si.turn, '')} ({say(si.resistance, 'ohm')} with the end "
            f"resistor); with bought parts it is somewhere from {say(si.turn_min, '')} to {say(si.turn_max, '')}."
        )


@with_units(scalar=True)
def pot_turn(circuit: HoldCircuit, supply: SupplyVoltage, hold: Time) -> PotSetting:
    """The pot's turn for a wanted hold at a supply, for parts as printed and for every combination of their limits.

    Raises DesignError where the hold is beyond what the pot gives, with the ends of its range and
    what to change; UnitError for anything but a HoldCircuit; RangeError for a hold of 0 s or a supply below the trip.
    """
    as_hold_circuit(circuit).refuse_no_hold("supply", supply)
    if not hold > 0:
        raise RangeError('hold needs to be above 0 s, but 0 s came; a usual one is "10 s"')
    turns, within_reach = circuit.turns(supply, hold)
    if not within_reach[0]:
        raise DesignError(_beyond(circuit, supply, hold))
    turn = float(turns[0])
    return PotSetting.of(
        wanted=hold,
        turn=turn,
        turn_min=float(turns.min()),
        turn_max=float(turns.max()),
        trims=bool(within_reach.all()),
        resistance=circuit.resistance_at(turn),
        supply=supply,
        circuit=circuit,
    )


def _beyond(circuit: HoldCircuit, supply: float, hold: float) -> str:
    (_, least, _), (_, most, _) = (circuit.seconds(supply, turn) for turn in (0.0, 1.0))
    farad = circuit.capacitor.si.capacitance
    remedy = f"take a smaller end resistor, or at most {say(farad * hold / least, 'F')}" if hold < least else (
        f"take a larger pot, or at least {say(farad * hold / most, 'F')}"
    )  # fmt: skip
    return (
        f"hold {say(hold, 's')} is beyond what this circuit gives at {say(supply, 'V')}, {say(least, 's')} to "
        f"{say(most, 's')}; {remedy}"
    )


def findings(result: PotSetting) -> tuple[Finding, ...]:
    """The verdict on a setting: whether every set of bought parts can be set to the hold."""
    return tuple(_verdicts(result))


def _verdicts(result: PotSetting) -> Iterator[Finding]:
    if result.trims:
        yield Finding(FINE, "pot", result.sentence, "Set it with a watch.")
        return
    circuit, supply = result.circuit, result.si.supply
    short = circuit.seconds(supply, 1.0)[0]
    reason = f"{result.sentence} Some sets of bought parts cannot be set to it at all"
    if short < result.si.wanted:
        reason += f": the shortest comes to {say(short, 's')} with the pot right up"
        yield Finding(LOOK, "pot", reason + ".", "Take the next larger pot or capacitor.")
    else:
        long = circuit.seconds(supply, 0.0)[2]
        reason += f": the longest takes {say(long, 's')} with the pot right down"
        yield Finding(LOOK, "pot", reason + ".", "Take a smaller end resistor or capacitor.")
