"""May signals that are reversed independently share one return wire? Worked out from what is joined, case by case."""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np

from ...errors import DesignError, UnknownNameError
from ...parts.contacts import SPLIT_SUPPLY, SUPPLIES, Wiring, wirings
from ...parts.table import unknown
from ...physics.contacts import lamp_voltages
from ..findings import FINE, STOP, Finding
from .wiring import DARK, GREEN, RED, Shown, all_positions, show_all

_NOWHERE = ""
_REMEDY = (
    f"Give each signal two wires of its own, or a supply of its own, or take {SPLIT_SUPPLY}, its middle as return."
)


@dataclass(frozen=True)
class Independence:
    """Whether each signal of a wiring obeys a switch of its own.

    masters: for each signal the device that alone decides between its red and green, "" where there is none
    """

    wiring: Wiring
    states: tuple[Shown, ...]
    masters: tuple[str, ...]

    @property
    def independent(self) -> bool:
        """Whether each signal has a master, no two the same one, and no position shorts a supply."""
        return all(self.masters) and len(set(self.masters)) == len(self.masters)

    @property
    def shorts(self) -> tuple[str, ...]:
        """The positions that short a supply."""
        return tuple(each.position for each in self.states if each.short)

    @property
    def sentence(self) -> str:
        """The answer in words."""
        if self.independent:
            return f"{self.wiring.name}: each signal obeys its own switch, whatever the others do."
        if self.shorts:
            return f"{self.wiring.name}: the supply is shorted with {' and with '.join(self.shorts)}."
        return f"{self.wiring.name}: the signals cannot be set one without the other."


def independence(wiring: str | Wiring) -> Independence:
    """Whether the signals of a wiring can be set independently; the wiring by its name in `wirings` or as a `Wiring`.

    Raises UnknownNameError for a name in no table, DesignError for a wiring with one signal only.
    """
    wiring = wiring if isinstance(wiring, Wiring) else wirings[wiring]
    if len(wiring.signals) < 2:
        raise DesignError(f"wiring {wiring.name!r} needs two signals or more; one signal shares its return with none")
    states = show_all(wiring)
    positions = list(all_positions(wiring).values())
    polarities = zip(*(each.polarities for each in states), strict=True)
    return Independence(wiring, states, tuple(_master(wiring, positions, each) for each in polarities))


def _master(wiring: Wiring, positions: list[tuple[str, ...]], polarities: tuple[int | str, ...]) -> str:
    """The label of the device that alone decides these polarities, one for each state; "" where there is none."""
    if not {1, -1} <= set(polarities) <= {1, -1, 0}:
        return ""
    for place, (label, device) in enumerate(wiring.devices):
        seen = {(state[place], polarity) for state, polarity in zip(positions, polarities, strict=True)}
        if len(seen) == len(device.positions):
            return label
    return ""


@dataclass(frozen=True)
class ReturnWay:
    """One way of putting the three wires of two signals on a supply: the pole of each, "" for none, and what shows."""

    first: str
    second: str
    shared: str
    lamps: tuple[str, str]
    voltages: tuple[float, float]

    @property
    def differ(self) -> bool:
        """Whether one signal shows red and the other green."""
        return set(self.lamps) == {RED, GREEN}


@dataclass(frozen=True)
class ReturnSearch:
    """Every way of putting the own wires of two signals and their shared return on the poles of one supply."""

    supply: str
    ways: tuple[ReturnWay, ...]

    @property
    def differing(self) -> tuple[ReturnWay, ...]:
        """The ways with the return on a pole in which the signals show different colours."""
        return tuple(each for each in self.ways if each.differ and each.shared)

    @property
    def in_series(self) -> tuple[ReturnWay, ...]:
        """The ways with the return on no pole in which they do: the lamps then share the voltage."""
        return tuple(each for each in self.ways if each.differ and not each.shared)

    @property
    def sentence(self) -> str:
        """The result in words."""
        if self.differing:
            poles = sorted({each.shared for each in self.differing})
            return (
                f"On a {self.supply} supply two signals with a shared return on {' or '.join(poles)} can show "
                f"different colours, in {len(self.differing)} of {len(self.ways)} ways."
            )
        return (
            f"On a {self.supply} supply none of {len(self.ways)} ways shows different colours while the shared return "
            f"is on a pole; in the {len(self.in_series)} ways that do, the return is cut and both lamps in series "
            f"share the voltage. A switch that turns one signal round alone has to put the return on a pole, and the "
            "other switch then puts it on the other: a short circuit."
        )


def return_ways(supply: str = "two-terminal") -> ReturnSearch:
    """Try every way of putting wires A1, A2 and a shared return on the poles of a supply or on nothing.

    supply: "two-terminal" (+, -) or "split" (+, 0, -)

    Raises UnknownNameError for another supply.
    """
    if not isinstance(supply, str) or supply not in SUPPLIES:
        raise UnknownNameError(unknown("supply", supply, SUPPLIES))
    poles = SUPPLIES[supply]
    ways = (_way(poles, *each) for each in itertools.product((*poles, _NOWHERE), repeat=3))
    return ReturnSearch(supply, tuple(ways))


def _way(poles: tuple[str, ...], *wires: str) -> ReturnWay:
    groups = [*range(len(poles)), *(poles.index(w) if w else len(poles) + place for place, w in enumerate(wires))]
    sources = np.array(list(itertools.pairwise(range(len(poles)))))
    first, second, shared = range(len(poles), len(groups))
    voltages, _ = lamp_voltages(np.array(groups), sources, np.array([(first, shared), (second, shared)]))
    lamps = tuple(RED if each > 0 else GREEN if each < 0 else DARK for each in voltages)
    return ReturnWay(*wires, lamps, tuple(float(each) for each in voltages))


def findings(result: Independence | ReturnSearch) -> tuple[Finding, ...]:
    """The verdict on sharing a return wire, with its remedy."""
    fine = result.independent if isinstance(result, Independence) else bool(result.differing)
    if fine:
        return (Finding(FINE, "shared return", result.sentence),)
    return (Finding(STOP, "shared return", result.sentence, _REMEDY),)
