"""Light of an LED against its current, and how even two lamps look."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..errors import RangeError

Floats = np.float64 | NDArray[np.float64]

MAY_DIFFER = "they may differ"
"""What to say of two lamps that are alike where typical, when too many bought ones are not."""

_STEPS = 200

# Up to each ratio the word in the same place holds. Common practice, no source: for two small lamps side by side no
# published threshold was found. Weber's law (equal ratios look equally different) is why the steps are ratios.
_UP_TO = np.array([1.25, 1.6, 2.5, 5.0])
_WORDS = np.array([
    "they look alike", "one looks a little brighter", "one looks clearly brighter", "one looks much brighter",
    "one outshines the other",
])  # fmt: skip


def intensity_at(current: ArrayLike, reference_intensity: ArrayLike, reference_current: ArrayLike) -> Floats:
    """Luminous intensity (cd) at a current (A), when it is `reference_intensity` at `reference_current`.

    The assumption: light is proportional to current. For one measured lamp, scaled from its light at 24 mA, that was
    within 8 % from 14 to 50 mA, 19 % too much at 99 mA (a warm chip gives less) and 29 % too little at 4 mA (stray
    light in the reading is part of it); see the tests. Well below a milliampere older red, yellow and green lamps
    (GaAsP, GaP) give less light than this says, since part of the current passes without making any; InGaN (green,
    blue, white) gives more, since its efficiency is best at small currents. For small currents start from a lamp
    specified there (2 mA types).
    """
    return np.multiply(current, np.divide(reference_intensity, reference_current))


def brightness_ratio(first: ArrayLike, second: ArrayLike) -> Floats:
    """The brighter lamp's luminous intensity over the dimmer one's, 1 or more; any unit, the same for both.

    Two colours never match as closely as two lamps of one colour do: deep red looks brighter than its candelas say
    (the Helmholtz-Kohlrausch effect), a diffused lens darker than a clear one seen along its axis.

    Raises RangeError for a dark lamp, which has no ratio to a lit one.
    """
    if not np.all(np.minimum(first, second) > 0):
        raise RangeError("first and second need the luminous intensity of two lit lamps; a dark lamp has no ratio")
    return np.maximum(first, second) / np.minimum(first, second)


def drawn_ratios(first: tuple[float, float, float], second: tuple[float, float, float]) -> NDArray[np.float64]:
    """The brightness ratios of many pairs of bought lamps, all equally likely, in rising order.

    Each lamp is its typical light and its least and most share of that. Half of all lamps exceed the typical; the
    logarithm of a lamp's light is likeliest there, and less likely towards the ends in a straight line (our choice, no
    source; as for the LEDs' drop). The two lamps do not depend on each other. Nothing is left to chance: even steps of
    both distributions, each with each.
    """
    steps = (np.arange(_STEPS) + 0.5) / _STEPS
    logs = []
    for typical, least, most in (first, second):
        below, above = 1 - np.sqrt(2 * np.minimum(steps, 0.5)), 1 - np.sqrt(2 * np.minimum(1 - steps, 0.5))
        logs.append(np.log(typical) + below * np.log(least) + above * np.log(most))
    return np.sort(np.exp(np.abs(np.subtract.outer(*logs))), axis=None)


def unevenness_word(ratio: ArrayLike) -> str | NDArray[np.str_]:
    """What a brightness ratio (1 or more) looks like, in words: alike up to 1.25, a little 1.6, clearly 2.5, much 5."""
    words = _WORDS[np.searchsorted(_UP_TO, ratio)]
    return str(words) if np.ndim(ratio) == 0 else words
