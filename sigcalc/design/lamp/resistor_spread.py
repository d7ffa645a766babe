"""How far the current wanders with bought parts: the corners of their tolerances, and many random parts."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated, Any

import numpy as np

from ...errors import RangeError
from ...parts.led import Led
from ...units import Current, Power, QuantityKind, Ratio, Resistance, SupplyVoltage, record, say, say_band, with_units
from ...units.reading import quoted
from ..findings import FINE, LOOK, Finding
from .led_string import LedString, as_string, loop_current
from .series_resistance import corners

ASSUMED = (
    "supply: every value within its tolerance is as likely as the next",
    "resistor: every value within its tolerance is as likely as the next",
    "LED: the typical drop is likeliest, less and less so in a straight line to the least and the most of the sheet",
    "LEDs of one string come from one batch and differ from the typical alike",
)
"""What the random study takes for granted about parts that nobody has measured."""

DEFAULT_SEED = 1
_OFTEN = 0.01
Draws = Annotated[Any, QuantityKind("number of draws", "", 100, 1e6, "10000", bare=True)]


@record
class CurrentSpread:
    """Current through the LEDs with typical parts, and least and most over all corners.

    `power` is the most the resistor turns into heat in a corner.
    """

    current: Current
    current_min: Current
    current_max: Current
    power: Power


@record
class RandomStudy:
    """What many random sets of parts give: the currents that 5, 50 and 95 of 100 sets stay below.

    `share_over` is the share of sets above `limit`. `assumed` names the distributions;
    the same `seed` and `draws` give the same figures.
    """

    percentile_5: Current
    median: Current
    percentile_95: Current
    share_over: Ratio
    limit: Current
    draws: int
    seed: int
    assumed: tuple[str, ...] = ASSUMED


@with_units(scalar=True)
def current_spread(
    supply: SupplyVoltage,
    led: Led | Sequence[Led],
    resistance: Resistance,
    tolerance: Ratio = 0.05,
    supply_tolerance: Ratio = 0.0,
) -> CurrentSpread:
    """The current at the nominal values and over the corners of supply, resistor and LED spread.

    Below the LEDs' drop next to nothing flows: that is an answer, not an error. Raises
    RangeError for a resistance of zero or tolerances above one half.
    """
    string = _checked(led, resistance)
    worst = corners(supply, resistance, string, tolerance, supply_tolerance)
    return CurrentSpread.of(
        current=float(loop_current(supply, resistance, string)),
        current_min=worst.least,
        current_max=worst.most,
        power=worst.power,
    )


@with_units(scalar=True)
def random_study(
    supply: SupplyVoltage,
    led: Led | Sequence[Led],
    resistance: Resistance,
    tolerance: Ratio = 0.05,
    supply_tolerance: Ratio = 0.0,
    limit: Current | None = None,
    draws: Draws = 10_000,
    seed: int = DEFAULT_SEED,
) -> RandomStudy:
    """The current of many random sets of supply, resistor and LEDs; `ASSUMED` names the distributions.

    Parameters
    ----------
    limit: the current whose passing is counted; the least limit among the LEDs if not given
    draws: how many sets
    seed: of numpy's default generator; the same seed gives the same sets

    Raises RangeError for a resistance of zero, tolerances above one half or a seed that is no whole number.
    """
    string = _checked(led, resistance)
    corners(supply, resistance, string, tolerance, supply_tolerance)  # refuses tolerances beyond sense
    if draws != int(draws):
        raise RangeError(f"draws needs to be a whole number, but {draws:g} came; try draws=10000")
    if isinstance(seed, bool) or not isinstance(seed, int) or seed < 0:
        raise RangeError(f"seed needs to be a whole number from 0 up, but {quoted(seed)} came; try seed={DEFAULT_SEED}")
    random, count = np.random.default_rng(seed), int(draws)
    currents = loop_current(
        supply * (1 + supply_tolerance * random.uniform(-1, 1, count)),
        resistance * (1 + tolerance * random.uniform(-1, 1, count)),
        string,
        spread=random.triangular(-1, 0, 1, count),
    )
    low, middle, high = np.percentile(currents, (5, 50, 95))
    limit = min(each.si.max_current for each in string) if limit is None else limit
    return RandomStudy.of(
        percentile_5=float(low),
        median=float(middle),
        percentile_95=float(high),
        share_over=float(np.mean(currents > limit)),
        limit=limit,
        draws=count,
        seed=seed,
        assumed=ASSUMED,
    )


def findings(study: RandomStudy) -> list[Finding]:
    """What the share of sets over the limit says."""
    si = study.si
    band = say_band(si.percentile_5, si.median, si.percentile_95, "A")
    reason = (
        f"{band} in nine of ten random sets of parts; {say(si.share_over, '')} of {study.draws} sets "
        f"pass {say(si.limit, 'A')}."
    )
    if si.share_over <= _OFTEN:
        return [Finding(FINE, "random parts", reason)]
    return [Finding(LOOK, "random parts", reason, "Use a larger resistance.")]


def _checked(led: Any, resistance: float) -> LedString:
    if resistance <= 0:
        raise RangeError('resistance needs to be above 0 ohm for a study of its tolerance; give for example "470 ohm"')
    return as_string(led)
