"""Which resistors of the builder's own drawer to use: one, two in series or two in parallel."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from ...errors import DesignError, RangeError
from ...parts.led import Led
from ...parts.resistor import at_least, bearable_power, rating_for_si
from ...units import Count, Current, Power, Ratio, Resistance, SupplyVoltage, Temperature, record, say, with_units
from .led_string import LedString, as_string, loop_current
from .series_resistance import MOST_TOLERANCE, needed_resistance

IN_PARALLEL = "in parallel"
ARRANGEMENTS = ("single", "in series", IN_PARALLEL)
_PARALLEL = 2
MOST_VALUES = 1000
"""That a drawer may hold."""
_AT_A_TIME = 4096  # combinations looked at together: few enough to fit in memory, many enough for numpy


@record
class Combination:
    """One resistor of the drawer, or two together: the resistance they make and what flows.

    `first` is the one that gets hotter; `second` and what belongs to it are None for a
    single resistor. Current and powers are nominal, `current_min` and `current_max` span
    the resistors' tolerance, and the ratings bear twice the most power in that span.
    """

    arrangement: str
    first: Resistance
    second: Resistance | None
    resistance: Resistance
    current: Current
    current_min: Current
    current_max: Current
    power: Power
    first_power: Power
    second_power: Power | None
    first_rating: Power
    second_rating: Power | None

    def __str__(self) -> str:
        si = self.si
        flows = f"{say(si.current, 'A')} and {say(si.power, 'W')} of heat"
        if si.second is None:
            return f"{say(si.first, 'ohm')}: {flows}"
        share = say(si.first_power / si.power, "")
        return (
            f"{say(si.first, 'ohm')} and {say(si.second, 'ohm')} {self.arrangement}, "
            f"{say(si.resistance, 'ohm')} together: {flows}, of which the {say(si.first, 'ohm')} takes {share}"
        )


class _Pairs(NamedTuple):
    """Hotter resistor, other resistor (0 ohm where there is none) and place in ARRANGEMENTS, as arrays."""

    first: np.ndarray
    second: np.ndarray
    kind: np.ndarray

    def only(self, places: np.ndarray | slice) -> _Pairs:
        """Those at some places."""
        return _Pairs(*(each[places] for each in self))

    @property
    def total(self) -> np.ndarray:
        """What each pair makes together, in ohm."""
        together = self.first + self.second
        return np.where(self.kind == _PARALLEL, self.first * self.second / together, together)


@with_units
def choose_from_drawer(
    supply: SupplyVoltage,
    led: Led | Sequence[Led],
    current: Current,
    drawer: Resistance,
    tolerance: Ratio = 0.05,
    ambient: Temperature = "25 degC",
    count: Count = 5,
) -> tuple[Combination, ...]:
    """The combinations whose nominal current comes nearest the wanted one from below, best first.

    Parameters
    ----------
    supply, current, tolerance, ambient: single values
    led: an Led, or a list of Leds in series
    drawer: the values at hand, as a list; two of each are taken to be there
    count: how many combinations to give at most

    Of combinations that make the same resistance the one with fewer parts comes first;
    one that would get too hot for usual resistors is left out. Raises DesignError where
    nothing in the drawer is large enough, RangeError where all would get too hot.
    """
    _check(supply=supply, current=current, tolerance=tolerance, ambient=ambient, count=count)
    string = tuple(each.in_air(ambient) for each in as_string(led))
    exact = needed_resistance(supply, string, current)
    pairs = _ranked(_pairs(_distinct(drawer)), exact)
    found: list[Combination] = []
    for start in range(0, len(pairs.kind), _AT_A_TIME):
        some = pairs.only(slice(start, start + _AT_A_TIME))
        found += _built(supply, string, tolerance, ambient, some, int(count) - len(found))
        if len(found) == count:
            break
    if not found:  # the sentence of the best one says what to do
        _, powers = _flows(supply, string, tolerance, pairs.only(slice(1)))
        rating_for_si(float(powers[0].max()), ambient)
    return tuple(found)


def _pairs(values: np.ndarray) -> _Pairs:
    """Every single value, and every two of them (also twice the same) in series and in parallel."""
    one, other = np.triu_indices(len(values))
    smaller, larger = values[one], values[other]
    # in series the larger of two gets hotter, in parallel the smaller
    first = np.concatenate([values, larger, smaller])
    second = np.concatenate([np.zeros_like(values), smaller, larger])
    return _Pairs(first, second, np.repeat([0, 1, _PARALLEL], [len(values), len(larger), len(larger)]))


def _ranked(pairs: _Pairs, exact: float) -> _Pairs:
    """Those of at least the exact resistance, least first."""
    enough = np.flatnonzero(pairs.total >= exact * (1 - 1e-9))
    if not enough.size:
        raise DesignError(
            f"drawer reaches {say(pairs.total.max(), 'ohm')} with two of its values, and {say(exact, 'ohm')} or more "
            f"is needed; add {say(at_least(exact, 'E12'), 'ohm')}, or use a lower supply voltage"
        )
    # sums of floats that mean one value tie, so that the fewer parts decide
    order = np.lexsort((pairs.kind[enough], np.round(pairs.total[enough] / exact, 9)))
    return pairs.only(enough[order])


def _flows(supply: float, string: LedString, tolerance: float, pairs: _Pairs) -> tuple[np.ndarray, np.ndarray]:
    """Currents, and powers of first and second, each (pair, corner): nominal, then both resistors' tolerance."""
    ends = np.array([[0, -1, -1, 1, 1], [0, -1, 1, -1, 1]])
    first, second = (each[:, None] * (1 + tolerance * end) for each, end in zip(pairs[:2], ends, strict=True))
    kind = pairs.kind[:, None]
    total = _Pairs(first, second, kind).total
    currents = loop_current(supply, total, string)
    across = currents * total
    with np.errstate(divide="ignore"):  # where there is no second resistor
        powers = [np.where(kind == _PARALLEL, across**2 / each, currents**2 * each) for each in (first, second)]
    return currents, np.stack(powers)


def _built(
    supply: float, string: LedString, tolerance: float, ambient: float, pairs: _Pairs, count: int
) -> list[Combination]:
    """The first `count` of the pairs that usual resistors bear."""
    currents, powers = _flows(supply, string, tolerance, pairs)
    fit = np.flatnonzero(powers[0].max(axis=1) <= bearable_power(ambient))[:count]
    return [_combination(pairs, place, currents[place], powers[:, place], ambient) for place in fit]


def _combination(pairs: _Pairs, place: int, currents: np.ndarray, powers: np.ndarray, ambient: float) -> Combination:
    ratings = [rating_for_si(float(each.max()), ambient).si.power for each in powers]
    kind, alone = int(pairs.kind[place]), pairs.second[place] == 0
    return Combination.of(
        arrangement=ARRANGEMENTS[kind],
        first=float(pairs.first[place]),
        second=None if alone else float(pairs.second[place]),
        resistance=float(pairs.total[place]),
        current=float(currents[0]),
        current_min=float(currents.min()),
        current_max=float(currents.max()),
        power=float(powers[:, 0].sum()),
        first_power=float(powers[0, 0]),
        second_power=None if alone else float(powers[1, 0]),
        first_rating=ratings[0],
        second_rating=None if alone else ratings[1],
    )


def _distinct(drawer: object) -> np.ndarray:
    values = np.unique(drawer)
    if values[0] <= 0:
        raise RangeError("drawer needs resistances above 0 ohm, but 0 ohm came; leave wire links out")
    if len(values) > MOST_VALUES:
        raise RangeError(
            f"drawer needs {MOST_VALUES} values at most, but {len(values)} came; leave out those that are far off"
        )
    return values


def _check(*, tolerance: float, count: float, **single: float) -> None:
    for name, value in {**single, "tolerance": tolerance, "count": count}.items():
        if np.ndim(value):
            raise RangeError(f"{name} needs a single value, but {np.size(value)} came; ask for one at a time")
    if tolerance > MOST_TOLERANCE:
        raise RangeError(
            f"tolerance needs to be {say(MOST_TOLERANCE, '')} at most, but {say(tolerance, '')} came; "
            "resistors are sold with 5 % or closer"
        )
    if count < 1 or count != int(count):
        raise RangeError(f"count needs to be a whole number from 1 up, but {count:g} came; try count=5")
