"""Which resistors of the builder's own drawer to use: one, two in series or two in parallel."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

import numpy as np

from ...errors import DesignError, RangeError
from ...parts.drive import SomeResistance
from ...parts.led import Led
from ...parts.resistor import at_least, bearable_power, rating_for_si
from ...units import (
    Current,
    Power,
    Resistance,
    SupplyVoltage,
    Temperature,
    Tolerance,
    kind_of,
    record,
    say,
    with_units,
)
from ...units.plain import need_whole
from ..findings import Finding
from ..tolerance import Band, over_corners
from .drive import LedString, as_string, loop_current
from .resistor import current_band, current_finding, needed_resistance

IN_PARALLEL = "in parallel"
ARRANGEMENTS = ("single", "in series", IN_PARALLEL)
_PARALLEL = 2
MOST_VALUES = 1000
"""That a drawer may hold."""
_LOOKED_AT = 4096  # combinations, the nearest first: thousands that all get too hot leave little hope for the rest


@record
class Combination:
    """One resistor of the drawer, or two together: the resistance they make and the current.

    `first` is the one that gets hotter; `second` and what belongs to it are None for a
    single resistor. Current and powers are nominal, `current_min` and `current_max` span
    the resistors' tolerance, `worst_min` and `worst_max` the supply's and the LEDs' as well, and
    the ratings are twice the most power in the resistors' span.
    """

    arrangement: str
    first: Resistance
    second: Resistance | None
    resistance: Resistance
    current: Current
    current_min: Current
    current_max: Current
    worst_min: Current
    worst_max: Current
    power: Power
    first_power: Power
    first_rating: Power
    second_rating: Power | None
    string: LedString

    @property
    def parts(self) -> str:
        """What is joined, and how: "680 Ω and 100 Ω in series"."""
        first = say(self.si.first, "ohm")
        return first if self.si.second is None else f"{first} and {say(self.si.second, 'ohm')} {self.arrangement}"

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The current with all tolerances at their ends, against the LEDs' limit."""
        return (current_finding(self, "Use a larger resistance."),)

    def __str__(self) -> str:
        si, first = self.si, say(self.si.first, "ohm")
        flows = f"{say(si.current, 'A')} and {say(si.power, 'W')} of heat"
        if si.second is None:
            return f"{first}: {flows}"
        share = say(si.first_power / si.power, "")
        return f"{self.parts}, {say(si.resistance, 'ohm')} together: {flows}, {share} of it in the {first}"


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
        both = self.first + self.second
        return np.where(self.kind == _PARALLEL, self.first * self.second / both, both)


@with_units(scalar=True)
def choose_from_drawer(
    supply: SupplyVoltage,
    led: Led | Sequence[Led],
    current: Current,
    drawer: Any,
    tolerance: Tolerance = 0.05,
    supply_tolerance: Tolerance = 0.0,
    ambient: Temperature = "25 degC",
    count: int = 5,
) -> tuple[Combination, ...]:
    """The combinations whose nominal current comes nearest the wanted one from below, best first.

    Parameters
    ----------
    led: an Led, or a list of Leds in series
    drawer: the values at hand, as a list; you are taken to have two of each
    count: how many combinations to give at most

    Of combinations that make the same resistance the one with fewer parts comes first;
    one that would get too hot for usual resistors is left out. Raises DesignError where
    nothing in the drawer is large enough, RangeError where all would get too hot.
    """
    count = need_whole(count, "count", 1, _LOOKED_AT, 5)
    values = np.unique(kind_of(SomeResistance).read(drawer, "drawer"))
    if len(values) > MOST_VALUES:
        need, advice = f"{MOST_VALUES} values at most", "leave out those that are far off"
        raise RangeError(argument="drawer", need=need, given=str(len(values)), advice=advice)
    string = tuple(each.in_air(ambient) for each in as_string(led))
    pairs = _ranked(_pairs(values), needed_resistance(supply, string, current)).only(slice(_LOOKED_AT))
    flows = _flows(supply, string, tolerance, pairs)
    hottest = flows["first"].most
    cool = np.flatnonzero(hottest <= bearable_power(ambient))[:count]
    if not cool.size:  # the sentence of the best one says what to do
        rating_for_si(float(hottest[0]), ambient)
    found = []
    for place in cool:
        worst, _ = current_band(supply, float(pairs.total[place]), string, tolerance, supply_tolerance)
        found.append(_combination(pairs, place, flows, worst, ambient, string))
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


def _flows(supply: float, string: LedString, tolerance: float, pairs: _Pairs) -> dict[str, Band]:
    """The current, and the powers in first and second, of each pair over the ends of both resistors."""

    def formula(first: np.ndarray, second: np.ndarray) -> dict[str, np.ndarray]:
        total = _Pairs(first, second, pairs.kind).total
        current = loop_current(supply, total, string)
        with np.errstate(divide="ignore", invalid="ignore"):  # where there is no second resistor
            heat = {
                name: np.where(pairs.kind == _PARALLEL, (current * total) ** 2 / each, current**2 * each)
                for name, each in (("first", first), ("second", second))
            }
        return {"current": current, **heat}

    first, second = (Band.within(each, tolerance) for each in pairs[:2])
    return over_corners(formula, first=first, second=second)


def _combination(
    pairs: _Pairs, place: int, flows: dict[str, Band], worst: Band, ambient: float, string: LedString
) -> Combination:
    current, *powers = (Band(*(float(end[place]) for end in band)) for band in flows.values())
    ratings = [rating_for_si(power.most, ambient).si.power for power in powers]
    alone = pairs.second[place] == 0
    return Combination.of(
        arrangement=ARRANGEMENTS[int(pairs.kind[place])],
        first=float(pairs.first[place]),
        second=None if alone else float(pairs.second[place]),
        resistance=float(pairs.total[place]),
        current=current.nominal,
        current_min=current.least,
        current_max=current.most,
        worst_min=worst.least,
        worst_max=worst.most,
        power=powers[0].nominal + powers[1].nominal,
        first_power=powers[0].nominal,
        first_rating=ratings[0],
        second_rating=None if alone else ratings[1],
        string=string,
    )
