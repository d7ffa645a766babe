"""A bench circuit solved point by point, for any state of its switch: the leads may hang on leakage alone."""

from __future__ import annotations

from typing import Any

import numpy as np

from ...physics.small_circuit import GROUND, SmallCircuit
from .lamps import End, choose, end_of
from .position import MINUS, PLUS
from .powered import Power
from .state import OPEN

_P, _Q, _A, _B, _FOOT_A, _FOOT_B, _LAMP_A, _LAMP_B = range(8)
"""The supply's plus, the switch's feed, leads A and B at the switch, at the mast's foot and at the lamps."""
_BETWEEN = {
    "supply": (_P, GROUND),
    "limit": (_P, _Q),
    "lead a": (_A, GROUND),
    "lead b": (_B, GROUND),
    "plus to a": (_P, _A),
    "plus to b": (_P, _B),
    "pair": (_FOOT_A, _FOOT_B),
    "lamps": (_LAMP_A, _LAMP_B),
}


def points(circuit: Power, place: str | None, meter: float) -> tuple[Any, End]:
    """What a meter of a resistance in ohm shows at a place, and the end, for any samples."""
    through, end, volts = _solved(circuit, place, meter, circuit.limit_resistance, 0.0)
    if circuit.held_current is not None:
        limited = through > circuit.held_current
        _, held_end, held_volts = _solved(circuit, place, meter, circuit.held_by, circuit.held_current)
        end, volts = choose(limited, held_end, end), choose(limited, held_volts, volts)
    if place in _BETWEEN:
        first, second = _BETWEEN[place]
        return volts[first] - (volts[second] if second != GROUND else 0.0), end
    if place == "current":
        return (volts[_A] - volts[_feet(circuit)[0]]) / circuit.wire_a, end
    return None, end


def _solved(circuit: Power, place: str | None, meter: float, limit: Any, held: Any) -> tuple[Any, End, list[Any]]:
    """Current through the limit, the end, and the voltage of every point against the supply's minus."""
    resistors = _resistors(circuit, limit)
    if place in _BETWEEN:
        resistors.append((*_BETWEEN[place], meter))
    fed = circuit.supply / circuit.source_resistance + circuit.opposing * circuit.coil_conductance
    port = SmallCircuit(8, resistors).port({_P: fed - held, _Q: held}, _LAMP_A, _LAMP_B)
    end = end_of(circuit, *np.broadcast_arrays(port.voltage, port.resistance))
    volts = port.voltages(end.current)
    return held + (volts[_P] - volts[_Q]) / limit, end, volts


def _feet(circuit: Power) -> tuple[int, int]:
    """The mast's two leads, in the order in which lead A's and lead B's wires arrive there."""
    return (_FOOT_A, _FOOT_B) if circuit.swapped > 0 else (_FOOT_B, _FOOT_A)


def _resistors(circuit: Power, limit: Any) -> list[tuple[int, int, Any]]:
    contacts = ((_A, circuit.rail_a, circuit.contact_a), (_B, circuit.rail_b, circuit.contact_b))
    foot_of_a, foot_of_b = _feet(circuit)
    coil = np.asarray(circuit.coil_conductance)
    return [
        (_P, GROUND, circuit.source_resistance),
        (_P, GROUND, np.where(coil > 0, 1.0 / np.where(coil > 0, coil, 1.0), OPEN)),
        (_P, _Q, limit),
        *((lead, _Q, np.where(rail == PLUS, contact, OPEN)) for lead, rail, contact in contacts),
        *((lead, GROUND, np.where(rail == MINUS, contact, OPEN)) for lead, rail, contact in contacts),
        (_A, foot_of_a, circuit.wire_a),
        (_B, foot_of_b, circuit.wire_b),
        (_FOOT_A, _FOOT_B, circuit.short),
        (_FOOT_A, _LAMP_A, circuit.mast / 2),
        (_FOOT_B, _LAMP_B, circuit.mast / 2),
    ]
