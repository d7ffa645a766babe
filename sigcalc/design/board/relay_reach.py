"""Whether every relay on a board still pulls in: the one whose coil gets the least of what it needs."""

from __future__ import annotations

from ...errors import UnitError
from ...units import SupplyVoltage, Temperature, record, say, with_units
from ...units.reading import quoted
from ..findings import FINE, STOP, Finding
from .board_study import BoardStudy


@record
class RelayReach:
    """The signal whose relay gets the least of what it needs, and all those whose relays may stay off.

    `voltage` is the least that reaches its board, with every tolerance at its worst with
    every coil on; `needed` is that at which every relay of its kind has pulled in, with the
    coil at the temperature asked for, and `kept` of it the most that what feeds the coil keeps for itself.
    """

    signal: str
    voltage: SupplyVoltage
    needed: SupplyVoltage
    kept: SupplyVoltage
    short_of: tuple[str, ...]


@with_units(scalar=True)
def relay_reach(study: BoardStudy, temperature: Temperature = "23 degC") -> RelayReach | None:
    """The relays of a board that `study_board` has solved; None for a board without any.

    `temperature` is that of the coils. A latching relay is taken to be set while all other
    coils are on.
    """
    if not isinstance(study, BoardStudy):
        raise UnitError(f"study needs what study_board gives, but {type(study).__name__} came")
    reached = [
        (float(study.worst.voltage[place]), signal.load.coil_voltage_needed(temperature)[-1], signal)
        for place, signal in enumerate(study.board.signals)
        if signal.load.relay is not None
    ]
    if not reached:
        return None
    volts, needed, worst = min(reached, key=lambda each: each[0] / each[1])
    short_of = tuple(signal.name for got, wanted, signal in reached if got < wanted)
    kept = worst.load.coil_drops[-1]
    return RelayReach.of(signal=worst.name, voltage=volts, needed=needed, kept=kept, short_of=short_of)


def findings(reach: RelayReach | None) -> list[Finding]:
    """The relay that is worst off; nothing for a board without relays."""
    if reach is None:
        return []
    if not isinstance(reach, RelayReach):
        raise UnitError(f"reach needs what relay_reach gives, but {type(reach).__name__} came")
    gets, needs = say(reach.si.voltage, "V"), say(reach.si.needed, "V")
    kept = f", {say(reach.si.kept, 'V')} of them for the timer that feeds its coil" if reach.si.kept else ""
    said = f"The relay of {quoted(reach.signal)} gets {gets} at the least and needs {needs}{kept}"
    if not reach.short_of:
        return [Finding(FINE, "relays", f"{said}: every relay pulls in.")]
    many = len(reach.short_of)
    more = f" Of all, {many} may stay off." if many > 1 else ""
    return [Finding(STOP, "relays", f"{said}: it may not pull in.{more}", "Use thicker wire or relays that take less.")]
