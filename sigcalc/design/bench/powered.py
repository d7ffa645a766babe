"""A bench circuit under power, in one position of its switch or relay, as plain SI numbers over many samples."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from .position import MINUS, PLUS, Position
from .state import OPEN, Bench, Lamp


class Power(NamedTuple):
    """A circuit in one position; every array runs over the samples.

    `held_current` is None for a resistor, else what a driver holds; `held_by` is the resistance beside it then.
    """

    supply: Any
    source_resistance: Any
    coil_conductance: Any
    opposing: Any
    limit_resistance: Any
    held_current: Any
    held_by: Any
    rail_a: Any
    rail_b: Any
    contact_a: Any
    contact_b: Any
    wire_a: Any
    wire_b: Any
    short: Any
    mast: Any
    swapped: Any
    red: Lamp
    green: Lamp

    @property
    def looped(self) -> NDArray[np.bool_]:
        """The samples whose leads are on opposite rails."""
        return np.broadcast_to(self.rail_a * self.rail_b == PLUS * MINUS, self.shape)

    @property
    def shape(self) -> tuple[int, ...]:
        """The shape of the samples."""
        arrays = [each for each in self if isinstance(each, np.ndarray)]
        arrays += [each for lamp in (self.red, self.green) for each in (lamp.joint, lamp.resistor, *lamp.led)]
        return np.broadcast_shapes(*(np.shape(each) for each in arrays))


def power(bench: Bench, where: Position) -> Power:
    """The circuit in a position, without a meter; a driver passes nothing the wrong way."""
    limit = bench.limit_resistance
    if bench.held_current is not None:
        limit = np.where(np.asarray(bench.supply) < 0, OPEN, limit)
    return Power(
        supply=bench.supply,
        source_resistance=bench.source_resistance,
        coil_conductance=where.coil_conductance,
        opposing=where.opposing,
        limit_resistance=limit,
        held_current=bench.held_current,
        held_by=bench.held_by,
        rail_a=where.rail_a,
        rail_b=where.rail_b,
        contact_a=where.contact_a,
        contact_b=where.contact_b,
        wire_a=bench.wire,
        wire_b=bench.wire,
        short=bench.short,
        mast=bench.mast,
        swapped=bench.swapped,
        red=bench.red,
        green=bench.green,
    )


def take(circuit: Power, chosen: NDArray[np.bool_]) -> Power:
    """The chosen samples alone."""

    def of(value: Any) -> Any:
        if isinstance(value, Lamp):
            led, diodes = tuple(map(of, value.led)), tuple(tuple(map(of, each)) for each in value.diodes)
            return value._replace(joint=of(value.joint), resistor=of(value.resistor), led=led, diodes=diodes)
        return np.broadcast_to(value, chosen.shape)[chosen] if isinstance(value, np.ndarray) else value

    return Power(*map(of, circuit))


def what_matters(circuit: Power) -> Power:
    """The circuit without what cannot show: an LED that no sample ever feeds forward."""
    across = np.asarray(circuit.rail_a) * circuit.swapped * np.sign(circuit.supply)
    for name in ("red", "green"):
        lamp: Lamp = getattr(circuit, name)
        if lamp.members and np.all(circuit.rail_a * circuit.rail_b == PLUS * MINUS) and np.all(across * lamp.sign < 0):
            circuit = circuit._replace(**{name: None})
    return circuit
