"""A bench circuit whose leads reach both rails: one loop, a ladder with a closed form from the supply to one LED."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from ...physics.ladder import Rung, climb, descend
from .lamps import End, choose, end_of
from .powered import Power


class _Meter(NamedTuple):
    """Where the meter is, its resistance, and how the circuit lies: lead A on the plus side where `ahead`."""

    place: str | None
    resistance: float
    ahead: Any
    turned: Any
    plus_contact: Any
    minus_contact: Any

    @property
    def on_minus(self) -> Any:
        """Where it lies across the minus side's contact."""
        return np.where(self.ahead, self.place == "lead b", self.place == "lead a")

    def across(self, place: str) -> float:
        """Its conductance, if it is there."""
        return 1.0 / self.resistance if self.place == place else 0.0


def loop(circuit: Power, place: str | None, resistance: float) -> tuple[Any, End]:
    """What a meter of a resistance in ohm shows at a place, and the end, for samples with leads on opposite rails."""
    ahead = circuit.rail_a > 0
    meter = _Meter(
        place,
        resistance,
        ahead,
        np.where(ahead, 1.0, -1.0) * circuit.swapped,
        np.where(ahead, circuit.contact_a, circuit.contact_b),
        np.where(ahead, circuit.contact_b, circuit.contact_a),
    )
    through, end, volts, amperes = _solved(circuit, meter, circuit.limit_resistance, 0.0)
    if circuit.held_current is not None:
        limited = through > circuit.held_current
        _, held_end, held_volts, held_amperes = _solved(circuit, meter, circuit.held_by, circuit.held_current)
        end = choose(limited, held_end, end)
        volts, amperes = choose(limited, held_volts, volts), choose(limited, held_amperes, amperes)
    return _shown(meter, volts, amperes), end


def _solved(circuit: Power, meter: _Meter, limit: Any, held: Any) -> tuple[Any, End, list[Any], list[Any]]:
    """Current through the limit, the end, voltages and currents; the limit a resistance that adds a held current."""
    rungs = _rungs(circuit, meter, limit, held)
    volts, ohms = descend(circuit.supply, circuit.source_resistance, rungs)
    end = end_of(circuit, meter.turned * volts, ohms)
    climbed = climb(meter.turned * end.voltage, meter.turned * end.current, rungs)
    # from the source's side: a held current's climb loses digits there
    source, inner = descend(circuit.supply, circuit.source_resistance, rungs[:1])
    climbed.volts[0] = source - inner * climbed.amperes[1]
    beside = (climbed.volts[0] - climbed.volts[1]) * meter.across("limit")
    return climbed.amperes[1] - beside, end, climbed.volts, climbed.amperes


def _rungs(circuit: Power, meter: _Meter, limit: Any, held: Any) -> list[Rung]:
    """From the supply: its leads, the switch's feed, the plus lead, the mast's foot, the lamps."""
    conductance = 1.0 / meter.resistance
    on_plus = np.where(meter.ahead, meter.place == "lead a", meter.place == "lead b")
    minus_contact = np.where(meter.on_minus, _beside(meter.minus_contact, meter.resistance), meter.minus_contact)
    limit = _beside(limit, meter.resistance) if meter.place == "limit" else limit
    coil = circuit.coil_conductance + meter.across("supply")
    opposing = circuit.opposing * circuit.coil_conductance / np.where(coil > 0, coil, 1.0)
    return [
        Rung(0.0, coil, opposing),
        Rung(limit, aiding=held * limit),
        Rung(meter.plus_contact, np.where(on_plus, conductance, 0.0)),
        Rung(circuit.wire_a + circuit.wire_b + minus_contact, 1.0 / circuit.short + meter.across("pair")),
        Rung(circuit.mast, meter.across("lamps")),
    ]


def _beside(first: Any, second: Any) -> Any:
    return first * second / (first + second)


def _shown(meter: _Meter, volts: list[Any], amperes: list[Any]) -> Any:
    """The value at the meter's place; None for one inside a branch, or without a meter."""
    if meter.place in ("lead a", "lead b"):
        return np.where(meter.on_minus, amperes[3] * _beside(meter.minus_contact, meter.resistance), volts[2])
    values = {
        "supply": volts[0],
        "limit": volts[0] - volts[1],
        "pair": meter.turned * volts[3],
        "lamps": meter.turned * volts[4],
        "current": np.where(meter.ahead, amperes[3], -amperes[3]),
    }
    return values.get(meter.place)
