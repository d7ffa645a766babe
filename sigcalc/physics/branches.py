"""One source that feeds several branches in parallel, such as two LEDs head to tail."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from ..errors import RangeError
from .diode import Floats, Triple, checked, named, string_current, string_voltage
from .domain import together, within

_MOST_STEPS = 200
_SETTLED = 1e-13
_NOTHING = 1e-250  # in V: a node this near zero is at zero, and its digits begin to fail
_GREATEST = 1e100
_LEAST = 1e-100


class Branch(NamedTuple):
    """One branch, its figures checked: which way it lies, its own resistance, its LEDs."""

    sign: Floats
    resistance: Floats
    leds: list[tuple[Floats, Floats, Floats]]

    def current(self, node: Floats) -> Floats:
        """Current in the branch's own forward direction at a node voltage."""
        across = self.sign * node
        return string_current(across, self.resistance, self.leds) if self.leds else across / self.resistance

    def conductance(self, current: Floats) -> Floats:
        """How fast the current grows with the node voltage, in A/V."""
        with np.errstate(divide="ignore"):  # a saturated reverse current no longer grows
            return 1.0 / (
                self.resistance + sum(series + emission / (current + least) for least, emission, series in self.leds)
            )

    def voltage_at(self, current: Floats, direction: Floats) -> Floats:
        """The most the node's amount can be while the branch alone takes at most this current from it."""
        if not self.leds:
            return current * self.resistance
        finite = np.where(np.isfinite(current), current, 0.0)
        lit = (self.sign == direction) & np.isfinite(current)
        return np.where(lit, string_voltage(finite, self.leds) + finite * self.resistance, np.inf)


def branch_currents(
    supply: ArrayLike,
    resistance: ArrayLike,
    branches: Sequence[tuple[Any, ArrayLike, Sequence[Triple]]],
    limit: ArrayLike = np.inf,
) -> tuple[Floats, Floats]:
    """Voltage at the node of a source and parallel branches, and the current of each branch.

    Kirchhoff's current law at the node, solved for its voltage by Newton's method inside a bracket that
    starts at zero and at the least voltage any branch would have alone; where a step leaves the
    bracket, it is halved instead.

    Parameters
    ----------
    supply : array_like
        Open voltage of the source in V, either sign.
    resistance : array_like
        The source's resistance in ohm, above zero.
    branches : sequence of (sign, series_resistance, leds)
        Sign +1 forward or -1 reversed, a resistance in ohm, and LEDs in series as for
        `diode.string_current`. Without LEDs the resistance must be above zero: a plain resistor, or
        nearly a short circuit. An open branch is left out.
    limit : array_like
        The most current the source gives in either direction, in A; infinite unless said.

    Returns
    -------
    node_voltage : float or ndarray
        In V, with the supply's sign.
    currents : ndarray, shape (branches, ...)
        In A, each positive in its branch's own forward direction.

    Raises
    ------
    RangeError
        For an argument out of range, or shapes that do not fit each other.
    """
    if not isinstance(branches, Sequence):
        raise RangeError(
            f"branches must be a sequence of branches; {branches!r} came: give such as [(+1, 0.0, [led])]."
        )
    checked_branches = [_branch(branch) for branch in branches]
    volts, ohms, most, *_ = together(
        supply=within("supply", supply, -_GREATEST, _GREATEST, "V", "give the source's open voltage, such as 9.0"),
        resistance=within(
            "resistance", resistance, _LEAST, _GREATEST, "ohm", "give the source's resistance, such as 470.0"
        ),
        limit=within("limit", limit, 0.0, np.inf, "A", "give the source's most current, such as 0.02"),
        **_named(checked_branches),
    )
    direction = np.where(volts < 0.0, -1.0, 1.0)
    node = direction * _node(np.abs(volts), ohms, most, direction, checked_branches)
    currents = [branch.current(node) for branch in checked_branches]
    return node[()], np.stack(np.broadcast_arrays(*currents)) if currents else np.empty((0, *node.shape))


def _branch(branch: Any) -> Branch:
    try:
        sign, resistance, leds = branch
        leds = list(leds)
    except (TypeError, ValueError):
        raise RangeError(
            f"Each branch must be (sign, series_resistance, leds); {branch!r} came: give all three."
        ) from None
    direction = within("sign", sign, -1.0, 1.0, "", "give +1 for a forward branch, -1 for a reversed one")
    if not (np.abs(direction) == 1.0).all():
        raise RangeError(
            f"sign must be +1 for a forward branch or -1 for a reversed one; {sign!r} came: give one of them."
        )
    least = 0.0 if leds else _LEAST
    ohms = within(
        "series_resistance", resistance, least, _GREATEST, "ohm", "a branch without LEDs needs some resistance"
    )
    return Branch(direction, ohms, checked(leds) if leds else [])


def _named(branches: list[Branch]) -> dict[str, Floats]:
    """Every figure under a name that tells its branch, for a message about shapes."""
    return {
        f"{name} of branch {place}": each
        for place, branch in enumerate(branches, 1)
        for name, each in {
            "sign": branch.sign,
            "series_resistance": branch.resistance,
            **named(branch.leds),
        }.items()
    }


def _node(volts: Floats, ohms: Floats, most: Floats, direction: Floats, branches: list[Branch]) -> Floats:
    """The amount of the node's voltage for the amount of the supply's.

    It is the lesser of two: where the branches take what the source's resistance lets through, and
    where they take the source's limit.
    """
    node = _highest(volts, ohms, most, direction, branches)
    high = np.minimum(node + _SETTLED * volts, volts)  # the start is rounded, and may lie a little below the answer
    low = np.zeros_like(high)
    for _ in range(_MOST_STEPS):
        currents = [branch.current(direction * node) for branch in branches]
        taken, slope = np.zeros_like(node), np.zeros_like(node)
        for branch, current in zip(branches, currents, strict=True):
            taken = taken + direction * branch.sign * current
            slope = slope + branch.conductance(current)
        over = taken - (volts - node) / ohms, taken - most
        excess = np.maximum(*over)
        high, low = np.where(excess >= 0.0, node, high), np.where(excess <= 0.0, node, low)
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            after = node - np.fmax(over[0] / (slope + 1.0 / ohms), over[1] / slope)
        after = np.where((after >= low) & (after <= high), after, 0.5 * (low + high))
        settled = np.abs(after - node) <= _SETTLED * np.abs(node) + _NOTHING
        node = after
        if settled.all():
            return node
    raise RangeError(
        "The node voltage of the branches could not be found: the resistances lie too many powers of ten apart."
    )


def _highest(volts: Floats, ohms: Floats, most: Floats, direction: Floats, branches: list[Branch]) -> Floats:
    """The least voltage that any branch would leave at the node alone: all branches only take from it."""
    high = volts
    for branch in branches:
        if branch.leds:
            alone = string_current(direction * branch.sign * volts, ohms + branch.resistance, branch.leds)
            high = np.minimum(high, volts - ohms * np.abs(alone))
        else:
            high = np.minimum(high, volts * branch.resistance / (branch.resistance + ohms))
        high = np.minimum(high, branch.voltage_at(most, direction))
    return np.maximum(high, 0.0)
