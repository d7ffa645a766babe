"""A bench circuit under power: voltages, currents and light, with a meter in it, sound or faulty.

Where both leads reach the supply, source, limit, contacts, wires and pair are one loop: a ladder that ends in one LED,
with a closed form. Where they do not (a jumper missing, a contact stuck), points hang on leakage and on the meter
alone, and the same circuit is solved point by point. Two LEDs the same way round share the end of either. Each way is
the check of the other. Reverse breakdown and the dark LED's leakage, below a nanoampere, are left out.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from .lamps import End
from .loop import loop
from .points import points
from .powered import Power, take
from .state import OPEN, Lamp

_IN_BRANCH = ("red resistor", "green resistor")
_PAST_THE_LOOP = ("plus to a", "plus to b")  # a meter there makes a second loop
PLACES = ("supply", "limit", "lead a", "lead b", *_PAST_THE_LOOP, "pair", "lamps", *_IN_BRANCH, "current")
"""Where a meter can be while the power is on; "current" is in series with lead A."""


class Solved(NamedTuple):
    """The voltage (or current) that is measured, None without a meter, and the current through each LED, in SI."""

    value: Any
    red: Any
    green: Any


def solve(circuit: Power, place: str | None = None, meter: float = OPEN, way: str = "") -> Solved:
    """What a meter at one of PLACES shows, or None for none.

    Parameters
    ----------
    meter: its resistance in ohm, across the place; in series for "current"
    way: "loop" or "points" takes that way for all samples, to compare the two; else each takes its own
    """
    circuit = _with_meter_inside(circuit, place, meter)
    looped = circuit.looped
    if way == "points" or place in _PAST_THE_LOOP or not looped.any():
        return _answer(circuit, place, *points(circuit, place, meter))
    if way == "loop" or looped.all():
        return _answer(circuit, place, *loop(circuit, place, meter))
    first, second = take(circuit, looped), take(circuit, ~looped)
    answers = _answer(first, place, *loop(first, place, meter)), _answer(second, place, *points(second, place, meter))
    return Solved(*(_merged(looped, *each) for each in zip(*answers, strict=True)))


def _merged(chosen: np.ndarray, first: Any, second: Any) -> Any:
    if first is None:
        return None
    values = np.empty(chosen.shape)
    values[chosen], values[~chosen] = first, second
    return values


def _with_meter_inside(circuit: Power, place: str | None, meter: float) -> Power:
    """A meter across a resistor inside a branch lies beside it; in series with lead A it lengthens that wire."""
    if place == "current":
        return circuit._replace(wire_a=circuit.wire_a + meter)
    if place in _IN_BRANCH:
        name = place.split()[0]
        lamp: Lamp = getattr(circuit, name)
        beside = lamp.resistor * meter / (lamp.resistor + meter)
        return circuit._replace(**{name: lamp._replace(resistor=beside)})
    return circuit


def _answer(circuit: Power, place: str | None, value: Any, end: End) -> Solved:
    """The measured value, and the light: what is bypassed gives none."""
    if place in _IN_BRANCH:
        name = place.split()[0]
        lamp: Lamp = getattr(circuit, name)
        towards = lamp.sign if name == "red" else -lamp.sign  # the red probe is where the current should enter
        value = towards * end.branches[name] * lamp.resistor
    light = {
        name: np.zeros(np.shape(each)) if getattr(circuit, name).bridged else np.maximum(each, 0.0)
        for name, each in end.branches.items()
    }
    return Solved(value, light["red"], light["green"])
