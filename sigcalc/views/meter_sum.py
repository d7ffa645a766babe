"""What a meter reads: beside a fault by hand, as a voltage divider; and at every point of a sound signal."""

from __future__ import annotations

from typing import Any

from ..design.bench.circuit import LAMPS, BenchCircuit, as_bench_circuit, nominal
from ..design.bench.expected import expected_readings
from ..design.bench.fault import catalogue
from ..design.bench.predictions import predictions_over
from ..errors import RangeError
from ..parts.meter import VOLTS, Meter, as_meter
from ..units import Resistance, Voltage, say, with_units
from .style import NORMAL, Size
from .sums import Step, SumByHand

_DIGITS = 4  # so that a reader who works with the printed figures gets the printed answer
_FAULTS = {"a sound pair": "nothing wrong", "the red LED open": "red LED open", "a short": "short at the mast hole"}


@with_units(scalar=True)
def readings_by_hand(
    circuit: BenchCircuit, drop: Voltage, joint: Resistance, meter: Any = "hand meter", size: Size = NORMAL
) -> SumByHand:
    """The voltage across the pair, set for red: sound, with the lamp open, shorted, and behind a cold joint.

    Parameters
    ----------
    circuit: with one shared resistor; its supply counts with its printed voltage
    drop: what the red LED keeps for itself, as its data sheet says
    joint: resistance of the cold joint
    meter: a Meter, or its name in `meters`

    Raises RangeError where no resistor is shared, or the supply lies below the drop.
    """
    volts, ohms = float(as_bench_circuit(circuit).source.nominal_voltage.m_as("V")), circuit.shared
    inside = as_meter(meter).si.input_resistance
    if not ohms > 0:
        raise RangeError("circuit needs one shared resistor for this sum, but none came; give its drive a resistance")
    if not 0 < drop < volts:
        raise RangeError(f"drop needs to lie between 0 V and the supply's {_volts(volts)}; {_volts(drop)} came")
    steps = (
        *_sound(volts, ohms, drop),
        *_open(volts, ohms, inside),
        Step("The pair shorted: what flows", f"{_volts(volts)} ÷ {_ohms(ohms)}", _amps(volts / ohms)),
        Step("and the resistor then has the full supply", f"{_volts(volts)} − 0 V across the pair", _volts(volts)),
        *_joint(volts, ohms, drop, joint),
    )
    return SumByHand(
        "What the meter reads across the pair, set for red", steps, _library(circuit, as_meter(meter)), size
    )


def bench_table(circuit: BenchCircuit, meter: Any = "hand meter", size: Size = NORMAL) -> SumByHand:
    """What a sound signal reads at every measuring point, in the order in which to measure; raises as its parts do."""
    expected = expected_readings(circuit, meter)
    steps = tuple(
        Step(f"{each.point.name}: {each.point.where}", f"{each.point.setting}", each.text) for each in expected.readings
    )
    heads = ("Measure", "Meter on", "Should read")
    return SumByHand(f"What a sound signal on {circuit.source.name} reads", steps, expected.assumptions[0], size, heads)


def _sound(volts: float, ohms: float, drop: float) -> tuple[Step, ...]:
    left = volts - drop
    return (
        Step("Sound: the lamp keeps", "from its data sheet", _volts(drop)),
        Step("what is left for the resistor", f"{_volts(volts)} − {_volts(drop)}", _volts(left)),
        Step("and the current", f"{_volts(left)} ÷ {_ohms(ohms)}", _amps(left / ohms)),
    )


def _open(volts: float, ohms: float, inside: float) -> tuple[Step, ...]:
    current = volts / (ohms + inside)
    return (
        Step(
            "The lamp open: only the meter's own current flows",
            f"{_volts(volts)} ÷ ({_ohms(ohms)} + {_ohms(inside)})",
            _amps(current),
        ),
        Step("so the resistor keeps next to nothing", f"{_amps(current)} × {_ohms(ohms)}", _volts(current * ohms)),
        Step(
            "and the meter shows the full supply",
            f"{_volts(volts)} − {_volts(current * ohms)}",
            _volts(current * inside),
        ),
    )


def _joint(volts: float, ohms: float, drop: float, joint: float) -> tuple[Step, ...]:
    current = (volts - drop) / (ohms + joint)
    return (
        Step(
            f"A cold joint of {_ohms(joint)} in the mast: what flows",
            f"({_volts(volts)} − {_volts(drop)}) ÷ ({_ohms(ohms)} + {_ohms(joint)})",
            _amps(current),
        ),
        Step(
            "and the pair reads the lamp's drop and the joint's",
            f"{_volts(drop)} + {_amps(current)} × {_ohms(joint)}",
            _volts(drop + current * joint),
        ),
    )


def _library(circuit: BenchCircuit, meter: Meter) -> str:
    """What the library expects, following the LEDs' curves."""
    faults = tuple(catalogue()[name] for name in _FAULTS.values())
    (values,) = predictions_over(circuit, meter, faults, nominal()).values[f"pair, {LAMPS[0]}"].T
    said = [f"{meter.shown(VOLTS, float(value))} with {words}" for words, value in zip(_FAULTS, values, strict=True)]
    return f"Following the LEDs' curves, the library expects the {meter.name} to read {', '.join(said)}."


def _volts(value: float) -> str:
    return say(value, "V", _DIGITS)


def _amps(value: float) -> str:
    return say(value, "A", _DIGITS)


def _ohms(value: float) -> str:
    return say(value, "ohm", _DIGITS)
