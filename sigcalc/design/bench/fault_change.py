"""What a fault does to a circuit: the words of the catalogue as changes of a bench circuit's numbers."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import numpy as np

from ...parts.source import Adapter
from .circuit import BenchCircuit
from .draws import Draws
from .fault import Fault
from .state import BRIDGE, HELD_BY, OPEN, Bench, Lamp, sound, whole_pot

Change = Mapping[str, Any]


def faulty(circuit: BenchCircuit, fault: Fault, draws: Draws) -> Bench:
    """The circuit with a fault, or two, in it."""
    return with_fault(sound(circuit, draws), circuit, fault, draws)


def with_fault(bench: Bench, circuit: BenchCircuit, fault: Fault, draws: Draws) -> Bench:
    """The same, from the sound circuit; what the fault leaves alone stays the very same arrays."""
    for changes, gravity in zip(fault.changes, ("severity", "second severity"), strict=False):
        for change in changes:
            bench = _DOES[change["do"]](bench, change, circuit, draws, draws[gravity])
    return bench


def _between(ends: tuple[float, float], severity: Any) -> Any:
    """From the slight end to the grave end in equal ratios."""
    slight, grave = ends
    return slight * (grave / slight) ** severity


def _lamp(bench: Bench, at: str, **changes: Any) -> Bench:
    name = at.split()[0]
    return bench._replace(**{name: getattr(bench, name)._replace(**changes)})


def _of(bench: Bench, at: str) -> Lamp:
    return getattr(bench, at.split()[0])


def _open(bench: Bench, change: Change, *_: Any) -> Bench:
    at, never = change["at"], np.asarray(OPEN)
    if at.endswith("lamp"):
        return _lamp(bench, at, joint=never)
    if at.endswith("resistor"):
        return _lamp(bench, at, resistor=never)
    if at == "coil":
        return bench._replace(coil=bench.coil._replace(resistance=never))
    if at == "mast":
        return bench._replace(mast=never)
    return _limit(bench, never)


def _limit(bench: Bench, ohms: Any) -> Bench:
    """Something else in the limit's place: it holds no current."""
    return bench._replace(limit_resistance=ohms, held_current=None, held_by=HELD_BY)


def _bridge(bench: Bench, change: Change, _: BenchCircuit, __: Draws, severity: Any) -> Bench:
    at = change["at"]
    solder = _between(change["ohms"], severity) if "ohms" in change else np.asarray(BRIDGE)
    if at.endswith("lamp"):
        return _lamp(bench, at, bridged=True)
    if at.endswith("resistor"):
        return _lamp(bench, at, resistor=_beside(_of(bench, at).resistor, solder))
    if at == "mast hole":
        return bench._replace(short=solder)
    return _limit(bench, _beside(bench.limit_resistance, solder))


def _beside(first: Any, second: Any) -> Any:
    return first * second / (first + second)


def _add(bench: Bench, change: Change, _: BenchCircuit, __: Draws, severity: Any) -> Bench:
    at, ohms = change["at"], _between(change["ohms"], severity)
    if at.endswith("joint"):
        return _lamp(bench, at, joint=_of(bench, at).joint + ohms)
    name = {"mast": "mast", "contact red": "contact_red", "contact green": "contact_green"}[at]
    return bench._replace(**{name: getattr(bench, name) + ohms})


def _scale(bench: Bench, change: Change, *_: Any) -> Bench:
    at, by = change["at"], change["by"]
    if at == "limit":
        return bench._replace(limit_resistance=bench.limit_resistance * by)
    return _lamp(bench, at, resistor=_of(bench, at).resistor * by)


def _reverse(bench: Bench, change: Change, *_: Any) -> Bench:
    if change["at"] == "supply":
        return bench._replace(supply=-bench.supply)
    if _of(bench, change["at"]).diodes:  # the LED alone is turned, against its diode: nothing passes either way
        return _lamp(bench, change["at"], joint=np.asarray(OPEN))
    return _turn_round(bench, change)


def _turn_round(bench: Bench, change: Change, *_: Any) -> Bench:
    """A whole branch the other way, its diode with it."""
    return _lamp(bench, change["at"], sign=-_of(bench, change["at"]).sign)


def _hold(bench: Bench, change: Change, *_: Any) -> Bench:
    if change["at"] == "armature":
        return bench._replace(coil=bench.coil._replace(armature=change["as"]))
    return bench._replace(held=(*bench.held, change["at"].split()[1]))


def _run_down(bench: Bench, change: Change, _: BenchCircuit, __: Draws, severity: Any) -> Bench:
    """Open voltage and resistance of a used battery; the two are used up together."""
    volts = bench.supply * _between(change["share"], severity)
    return bench._replace(supply=volts, source_resistance=bench.source_resistance * _between(change["times"], severity))


def _alternate(bench: Bench, change: Change, circuit: BenchCircuit, _: Draws, severity: Any) -> Bench:
    """A plain transformer of the printed voltage, more of it without load."""
    printed = circuit.source.nominal_voltage.m_as("V")
    volts = printed * _between(change["times"], severity)
    return bench._replace(supply=volts, alternating=True, source_resistance=_slope(circuit, volts))


def _let_rise(bench: Bench, change: Change, circuit: BenchCircuit, _: Draws, severity: Any) -> Bench:
    volts = bench.supply * _between(change["times"], severity)
    return bench._replace(supply=volts, source_resistance=_slope(circuit, volts))


def _slope(circuit: BenchCircuit, volts: Any) -> Any:
    """What makes a voltage without load fall to the printed one at the adapter's full load, in ohm."""
    source: Adapter = circuit.source
    return np.maximum((volts - source.si.voltage) / source.si.max_current, 0.1)


def _turn(bench: Bench, change: Change, circuit: BenchCircuit, draws: Draws, _: Any) -> Bench:
    return _timing(bench, pot=np.maximum(change["to"] * whole_pot(circuit.timer, draws), 1.0))


def _timing(bench: Bench, **changes: Any) -> Bench:
    return _trigger(bench, timing=bench.trigger.timing._replace(**changes))


def _trigger(bench: Bench, **changes: Any) -> Bench:
    return bench._replace(trigger=bench.trigger._replace(**changes))


_DOES: dict[str, Callable[..., Bench]] = {
    "open": _open,
    "bridge": _bridge,
    "add": _add,
    "scale": _scale,
    "reverse": _reverse,
    "turn round": _turn_round,
    "swap": lambda bench, *_: bench._replace(swapped=-bench.swapped),
    "wire": lambda bench, change, *_: bench._replace(crossing=change["as"]),
    "hold": _hold,
    "cut": lambda bench, *_: bench._replace(supply=0.0 * bench.supply),
    "run down": _run_down,
    "alternate": _alternate,
    "let rise": _let_rise,
    "turn": _turn,
    "leak": lambda bench, change, _, __, severity: _timing(bench, leak=_between(change["share"], severity)),
    "stick": lambda bench, change, *_: _trigger(bench, reed=change["as"]),
    "miss": lambda bench, *_: _trigger(bench, magnet_reaches=False),
    "kill": lambda bench, *_: _trigger(bench, works=False),
}
