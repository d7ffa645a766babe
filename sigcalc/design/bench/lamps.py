"""The pair of lamps at the end of a bench circuit: how a source's current divides between its two branches."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from ...physics.branches import branch_currents
from ...physics.diode import exponential_voltage, loop_current, string_current, string_voltage
from ...physics.side_by_side import side_by_side
from .powered import Power
from .state import Lamp

Floats = NDArray[np.float64]
_Answers = dict[str, tuple[Floats, Floats]]


class End(NamedTuple):
    """What happens at the lamps: voltage from lead A's joint to lead B's, and current that way.

    `branches` has the current through each branch, in its LED's forward direction.
    """

    voltage: Any
    current: Any
    branches: dict[str, Any]


def end_of(circuit: Power, voltage: Floats, resistance: Floats) -> End:
    """The pair at the end of a source of either sign: what is bypassed is a load, what conducts one way a loop."""
    lamps = {"red": circuit.red, "green": circuit.green}
    load = sum(1.0 / lamp.ohms for lamp in lamps.values() if not lamp.members)
    share = 1.0 / (1.0 + resistance * load)
    across = voltage * share
    taken = np.zeros(np.shape(across))
    one_way = _one_way({name: lamp for name, lamp in lamps.items() if lamp.members}, across, resistance * share)
    for name, (current, drop) in one_way.items():
        across = np.where(current > 0, lamps[name].sign * drop, across)
        taken = taken + lamps[name].sign * current
    branches = {
        name: one_way[name][0] if name in one_way else lamp.sign * across / lamp.ohms for name, lamp in lamps.items()
    }
    return End(across, taken + across * load, branches)


def _one_way(lamps: dict[str, Lamp], volts: Floats, ohms: Floats) -> _Answers:
    """Current in each branch that conducts one way, and the voltage across it in its own direction."""
    answers: _Answers = {}
    for sign in (+1, -1):
        mine = {name: lamp for name, lamp in lamps.items() if lamp.sign == sign}
        forward = np.maximum(sign * volts, 0.0)
        if not np.any(forward):
            answers |= {name: (np.zeros(np.shape(forward)), forward) for name in mine}
        elif len(mine) == 2:
            node, currents = parallel(list(mine.values()), forward, ohms)
            answers |= {name: (current, node) for name, current in zip(mine, currents, strict=True)}
        else:
            answers |= {name: _alone(lamp, forward, ohms) for name, lamp in mine.items()}
    return answers


def _alone(lamp: Lamp, forward: Floats, ohms: Floats) -> tuple[Floats, Floats]:
    """Current in a branch behind a source, and the voltage across the branch."""
    if len(lamp.members) == 1:
        current = loop_current(forward, ohms + lamp.ohms, *lamp.members[0])
        drop = exponential_voltage(current, *lamp.members[0])
    else:
        current = string_current(forward, ohms + lamp.ohms, lamp.members)
        drop = string_voltage(current, lamp.members)
    return current, drop + current * lamp.ohms


def parallel(lamps: list[Lamp], forward: Floats, ohms: Any) -> tuple[Floats, Any]:
    """Voltage across branches that all conduct the same way, and the current through each."""
    if all(len(lamp.members) == 1 for lamp in lamps):
        return side_by_side(forward, ohms, [(lamp.ohms, *lamp.members[0]) for lamp in lamps])
    return branch_currents(forward, ohms, [(+1, lamp.ohms, lamp.members) for lamp in lamps])


def choose(chosen: Any, first: Any, second: Any) -> Any:
    """Sample by sample the first or the second of two answers, lists or ends of them."""
    if isinstance(first, End):
        return End(
            np.where(chosen, first.voltage, second.voltage),
            np.where(chosen, first.current, second.current),
            {name: np.where(chosen, each, second.branches[name]) for name, each in first.branches.items()},
        )
    return [np.where(chosen, one, other) for one, other in zip(first, second, strict=True)]
