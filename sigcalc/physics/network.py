"""Many loads on one supply through a network of feeder sections: every node's voltage, every current.

`network_tree` lays a tree through the sections, `network_loads` holds what hangs on them, `network_nodal` the
linear equations, `network_newton` solves them with the loads.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from ..errors import RangeError
from .domain import together, within
from .network_loads import FixedLoads, Group, Loads, constant_loads, lamp_loads, resistor_loads
from .network_newton import Network
from .network_nodal import APART
from .network_tree import MOST_RESISTANCE, Floats, checked_sections, path_resistance, spanning_tree

__all__ = [
    "NetworkCase",
    "NetworkPoint",
    "chain_voltages",
    "checked_sections",
    "constant_loads",
    "lamp_loads",
    "path_resistance",
    "resistor_loads",
    "solve_network",
    "solve_networks",
    "spanning_tree",
]

MOST_VOLTS = 1e6
_TRUSTED = 1e-9  # of the supply: no answer is given whose voltages and currents differ by more
_HELD = 1e-14  # of itself: the voltage at which a supply gives just its limit is known to this
_MOST_TRIALS = 200


class NetworkPoint(NamedTuple):
    """What a network does.

    node_voltage: in V, shape (nodes,), node 0 the supply's terminals
    load_current: in A, shape (loads,), the groups one after another as they were given
    section_current: in A, shape (sections,), positive from `start` to `end`
    supply_current: in A; the currents obey Kirchhoff's current law to rounding
    residual: in V, the most by which a node's voltage differs from what the currents leave there
    limited: whether the supply is held at its limit
    steps: how many Newton steps it took
    """

    node_voltage: Floats
    load_current: Floats
    section_current: Floats
    supply_current: float
    residual: float
    limited: bool
    steps: int


def chain_voltages(supply: ArrayLike, resistances: ArrayLike, currents: ArrayLike) -> Floats:
    """Voltage in V at each load of a chain, the loads drawing constant currents; in closed form.

    V_k = E - sum over j <= k of R_j times the sum over m >= j of I_m.

    Parameters
    ----------
    supply : array_like, shape (...)
        Voltage at the supply's end, in V.
    resistances, currents : array_like, shape (..., loads)
        Loop resistance of each section, there and back, in ohm, from the supply's end on; and the current in A
        drawn at the section's far end.

    Returns shape (..., loads). Raises RangeError for an argument out of range, for shapes that do not fit each
    other, and where less than no voltage would be left: such a load cannot draw its current.
    """
    volts = within("supply", supply, 0.0, MOST_VOLTS, "V", _REVERSED)
    ohms = within("resistances", resistances, 0.0, MOST_RESISTANCE, "ohm", "give the loop resistance of each section")
    amperes = within("currents", currents, 0.0, 1e9, "A", "give what each load draws, such as 0.02")
    volts, ohms, amperes = together(supply=volts[..., None], resistances=ohms, currents=amperes)
    beyond = np.cumsum(amperes[..., ::-1], axis=-1)[..., ::-1]
    left = volts - np.cumsum(ohms * beyond, axis=-1)
    starved = (left <= 0.0) & (amperes > 0.0)
    if starved.any():
        place = np.unravel_index(np.argmax(starved), starved.shape)
        raise RangeError(_unsatisfied(place[-1], amperes[place], left[place]))
    return left


def solve_network(
    supply: float,
    sections: tuple[ArrayLike, ArrayLike, ArrayLike],
    loads: Sequence[Group],
    source_resistance: float = 0.0,
    limit: float = np.inf,
    loops: bool = False,
) -> NetworkPoint:
    """The voltages and currents of loads on one supply through a tree of sections, or any network of them.

    Parameters
    ----------
    supply : float
        Open voltage in V, 0 or more.
    sections : (start, end, resistance), each array_like, shape (sections,)
        Node numbers at both ends, in either order, node 0 being the supply's terminals; and the loop resistance in
        ohm, there and back: 0 to 1e4.
    loads : sequence of groups from `lamp_loads`, `resistor_loads` and `constant_loads`
        In any order; several at one node, or none.
    source_resistance : float
        The supply's internal resistance in ohm.
    limit : float
        The most current the supply gives, in A: an overloaded one lets its voltage down and holds the current.
    loops : bool
        Whether sections may close a loop (a ring, fed from both ends).

    Raises RangeError for an argument out of range, a node that hangs on nothing, a loop where none is allowed
    or one without resistance, and for a load of constant current that no voltage satisfies.
    """
    case = NetworkCase(supply, sections, loads, source_resistance, limit)
    return solve_networks([case], loops)[0]


class NetworkCase(NamedTuple):
    """A network to solve: what `solve_network` takes."""

    supply: float
    sections: tuple[ArrayLike, ArrayLike, ArrayLike]
    loads: Sequence[Group]
    source_resistance: float = 0.0
    limit: float = np.inf


def solve_networks(cases: Sequence[NetworkCase], loops: bool = False) -> list[NetworkPoint]:
    """The answers of `solve_network` for many cases at once, in little more time than one of them takes alone.

    Cases that hold the very same `sections` share the work on these. Raises RangeError as soon as one case is refused.
    """
    volts = np.array([float(_one("supply", each.supply, MOST_VOLTS, "V", _REVERSED)) for each in cases])
    ohms = np.array(
        [
            float(
                _one("source_resistance", each.source_resistance, MOST_RESISTANCE, "ohm", "give 0 where there is none")
            )
            for each in cases
        ]
    )
    remedy = "give the supply's most current, infinite where it has none"
    most = np.array([float(_one("limit", each.limit, np.inf, "A", remedy)) for each in cases])
    read = {id(each.sections): checked_sections(each.sections) for each in cases}
    members = [(read[id(each.sections)], _checked_groups(each.loads)) for each in cases]
    points = _points(Network(members, loops), volts, ohms)
    over = [place for place, each in enumerate(points) if each.supply_current > most[place]]
    if over:
        terminals = np.array([float(points[place].node_voltage[0]) for place in over])
        for place, held in zip(
            over, _held([members[place] for place in over], loops, terminals, most[over]), strict=True
        ):
            points[place] = held
    for (_, groups), point in zip(members, points, strict=True):
        _refuse_starved(groups, point)
    return points


def _points(network: Network, supply: Floats, source_resistance: Floats, limited: bool = False) -> list[NetworkPoint]:
    """All figures on supplies of so many volts: currents from voltages, and voltages once more from the currents."""
    drop, steps = network.settle(supply, source_resistance)
    caused, current, through, total = network.flows(supply, drop)
    off = np.abs(caused - drop)
    residuals = [float(off[nodes].max()) for nodes in network.nodes]
    if not (residuals <= _TRUSTED * supply).all():
        raise RangeError(APART)
    return [
        NetworkPoint(
            supply[place] - caused[nodes],
            current[loads],
            through[sections],
            float(total[place]),
            residuals[place],
            limited,
            steps,
        )
        for place, (nodes, loads, sections) in enumerate(
            zip(network.nodes, network.loads, network.sections, strict=True)
        )
    ]


def _refuse_starved(groups: list[Group], point: NetworkPoint) -> None:
    """RangeError for a load of constant current without any voltage left."""
    place = 0
    for group in groups:
        if isinstance(group, FixedLoads):
            left = point.node_voltage[group.node]
            starved = np.flatnonzero((left <= 0.0) & (group.current > 0.0))
            if starved.size:
                first = starved[0]
                raise RangeError(_unsatisfied(place + first, group.current[first], left[first]))
        place += group.node.size


_REVERSED = "a reversed supply lights nothing, turn it round"


def _one(name: str, value: Any, high: float, unit: str, remedy: str) -> Floats:
    array = within(name, value, 0.0, high, unit, remedy)
    if array.ndim:
        raise RangeError(f"{name} must be one number; {array.size} came: solve one network at a time.")
    return array


def _checked_groups(loads: Any) -> list[Group]:
    groups = list(loads) if isinstance(loads, list | tuple) and not isinstance(loads, Loads | FixedLoads) else [loads]
    if not groups or not all(isinstance(each, Loads | FixedLoads) for each in groups):
        raise RangeError("loads must be a list of groups of loads; something else came: make them with lamp_loads.")
    return groups


def _unsatisfied(place: int, amperes: float, volts: float) -> str:
    return (
        f"No voltage satisfies load {place}: its {amperes:g} A would leave {volts:g} V there; "
        "use thicker wire, fewer loads or a higher supply."
    )


def _held(members: list[Any], loops: bool, high: Floats, limit: Floats) -> list[NetworkPoint]:
    """Each network at the terminal voltage, below `high`, at which it takes just its supply's limit.

    The current grows with the voltage: Newton's method, kept inside a bracket that closes.
    """
    for (_, groups), most in zip(members, limit, strict=True):
        fixed = sum(float(each.current.sum()) for each in groups if isinstance(each, FixedLoads))
        if fixed >= most:
            raise RangeError(
                f"No voltage satisfies the loads of constant current: they draw {fixed:g} A together, and the supply "
                f"gives {most:g} A at most; use a stronger supply."
            )
    network, low, volts, ohms = Network(members, loops), np.zeros(limit.size), high, np.zeros(limit.size)
    done = np.zeros(limit.size, bool)
    for _ in range(_MOST_TRIALS):
        drop, _ = network.settle(volts, ohms)
        excess = network.flows(volts, drop)[3] - limit
        low, high = np.where(excess > 0.0, low, volts), np.where(excess > 0.0, volts, high)
        with np.errstate(divide="ignore", invalid="ignore"):  # nothing grows where every load is at its own limit
            step = excess / network.growth(volts, drop)
        near = np.abs(step) <= _HELD * volts
        inside = (volts - step > low) & (volts - step < high)
        moved = np.where(near | inside, volts - step, (low + high) / 2)
        done |= near | (moved == volts)
        if done.all():
            break
        volts = np.where(done, volts, moved)
    return _points(network, volts, ohms, limited=True)
