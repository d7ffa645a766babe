"""What hangs on a feeder: lamps behind their drives, resistors, and loads of constant current.

Each group of loads is one record of arrays, a load an element. It answers with the current of every load at
its voltage and with dI/dV, both in closed form.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from ..errors import RangeError
from .diode import Triple, checked, loop_current, named, string_current
from .domain import together, within
from .network_tree import Floats, Whole, node_numbers

_GREATEST = 1e9
_LEAST_RESISTANCE = 1e-3


class Loads(NamedTuple):
    """Loads of one make-up: node, ohms in series, LEDs in series, constant drop in V, limit in A; shape (loads,) each.

    The current is that of voltage less drop through the resistance and the LEDs, never more than the limit.
    """

    node: Whole
    resistance: Floats
    leds: list[tuple[Floats, Floats, Floats]]
    drop: Floats
    limit: Floats

    @property
    def make_up(self) -> int:
        """What loads must share to stand in one group: how many LEDs are in series."""
        return len(self.leds)

    def at(self, first: int) -> Loads:
        """The same loads where the nodes count from another number."""
        return self._replace(node=self.node + first)

    @property
    def bent(self) -> bool:
        """Whether the current may stop growing: such a load is no longer convex in its voltage."""
        return bool(np.isfinite(self.limit).any())

    def answer(self, volts: Floats) -> tuple[Floats, Floats]:
        """Current in A and dI/dV in A/V at the loads' voltages."""
        current, slope = self._unlimited(volts, self.resistance)
        held = current >= self.limit
        return np.where(held, self.limit, current), np.where(held, 0.0, slope)

    def only(self, chosen: Floats) -> Loads:
        """Those of the loads for which `chosen`, shape (loads,), is true."""
        leds = [tuple(figure[chosen] for figure in each) for each in self.leds]
        return Loads(self.node[chosen], self.resistance[chosen], leds, self.drop[chosen], self.limit[chosen])

    def alone(self, supply: Floats | float, path: Floats | float) -> Floats:
        """Voltage of each load where it alone hangs on the supply, at the end of its path: never less with others."""
        current, _ = self._unlimited(np.broadcast_to(supply, self.node.shape), self.resistance + path)
        return supply - path * np.minimum(current, self.limit)

    def _unlimited(self, volts: Floats, ohms: Floats) -> tuple[Floats, Floats]:
        falling = self.drop > 0.0
        left = np.where(falling, np.maximum(volts - self.drop, 0.0), volts)
        passing = ~falling | (left > 0.0)
        if not self.leds:
            return left / ohms, passing / ohms
        one = len(self.leds) == 1  # its figures have been checked, and need not be read again at every step
        current = loop_current(left, ohms, *self.leds[0]) if one else string_current(left, ohms, self.leds)
        with np.errstate(divide="ignore"):  # a saturated reverse current no longer grows
            total = ohms + sum(series + emission / (current + least) for least, emission, series in self.leds)
            return current, passing / total


class FixedLoads(NamedTuple):
    """Loads that draw the same current at any voltage above zero; shape (loads,) each."""

    node: Whole
    current: Floats

    bent = False
    make_up = "fixed"

    def at(self, first: int) -> FixedLoads:
        """The same loads where the nodes count from another number."""
        return self._replace(node=self.node + first)

    def answer(self, volts: Floats) -> tuple[Floats, Floats]:
        """Current in A and dI/dV, which is zero, at the loads' voltages."""
        return self.current, np.zeros_like(volts)

    def only(self, chosen: Floats) -> Loads:
        """Those of the loads for which `chosen`, shape (loads,), is true."""
        leds = [tuple(figure[chosen] for figure in each) for each in self.leds]
        return Loads(self.node[chosen], self.resistance[chosen], leds, self.drop[chosen], self.limit[chosen])

    def alone(self, supply: Floats | float, path: Floats | float) -> Floats:
        """Voltage of each load where it alone hangs on the supply."""
        return supply - path * self.current


Group = Loads | FixedLoads


def joined_loads(groups: list[Group]) -> Group:
    """Groups of one make-up as one, the loads in their order."""
    if len(groups) == 1:
        return groups[0]
    if isinstance(groups[0], FixedLoads):
        return FixedLoads(*(np.concatenate(each) for each in zip(*groups, strict=True)))
    leds = [
        tuple(map(np.concatenate, zip(*nth, strict=True))) for nth in zip(*(each.leds for each in groups), strict=True)
    ]
    return Loads(
        *(np.concatenate([getattr(each, name) for each in groups]) for name in ("node", "resistance")),
        leds,
        *(np.concatenate([getattr(each, name) for each in groups]) for name in ("drop", "limit")),
    )


def lamp_loads(
    node: ArrayLike,
    resistance: ArrayLike,
    leds: Sequence[Triple] = (),
    drop: ArrayLike = 0.0,
    limit: ArrayLike = np.inf,
) -> Loads:
    """Lamps behind their drives, as many LEDs in series in each.

    Parameters
    ----------
    node : array_like of int, shape (loads,)
        Where each hangs.
    resistance : array_like
        In series with the LEDs, in ohm: the drive's, below its limit, and any in the branch. At least 1e-3
        where there is no LED.
    leds : sequence of (saturation_current, emission_voltage, series_resistance)
        As for `diode.string_current`; each figure one for all or an array, one for each load.
    drop : array_like
        Further drop in V that does not depend on the current; below it nothing flows.
    limit : array_like
        The most current the drive lets through, in A; infinite for a resistor.

    Raises RangeError for an argument out of range, and for shapes that do not fit each other.
    """
    least = 0.0 if leds else _LEAST_RESISTANCE
    members = checked(leds) if leds else []
    places = node_numbers("node", node)
    figures = {
        "node": places,
        "resistance": within("resistance", resistance, least, _GREATEST, "ohm", "give the drive's, such as 470.0"),
        "drop": within("drop", drop, 0.0, _GREATEST, "V", "give 0 where there is none"),
        "limit": within("limit", limit, 0.0, np.inf, "A", "give the drive's most current, such as 0.02"),
    } | named(members)
    _, ohms, drops, limits, *flat = (np.array(each) for each in together(**figures))
    if ohms.shape != places.shape:
        raise RangeError(f"node must be given for every load; {places.size} came for figures of shape {ohms.shape}.")
    return Loads(places, ohms, list(zip(*(flat[start::3] for start in range(3)), strict=True)), drops, limits)


def resistor_loads(node: ArrayLike, resistance: ArrayLike) -> Loads:
    """Plain resistances in ohm, 1e-3 or more, such as a relay's coil or nearly a short circuit; RangeError as above."""
    return lamp_loads(node, resistance)


def constant_loads(node: ArrayLike, current: ArrayLike) -> FixedLoads:
    """Loads of constant current in A, zero or more, such as a timer board at rest; RangeError as above."""
    places = node_numbers("node", node)
    amperes = within("current", current, 0.0, _GREATEST, "A", "give what the load draws, such as 0.005")
    _, amperes = together(node=places, current=amperes)
    if amperes.shape != places.shape:
        raise RangeError(f"node must be given for every load; {places.size} came for {amperes.size} currents.")
    return FixedLoads(places, np.array(amperes))
