"""How even two lamps look."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..domain import together, within

# Up to each ratio the word in the same place holds. Common practice, no source: for two small lamps side by side no
# published threshold was found. Weber's law (equal ratios look equally different) is why the steps are ratios.
_UP_TO = np.array([1.25, 1.6, 2.5, 5.0])
_WORDS = np.array(
    [
        "they look alike",
        "one looks a little brighter",
        "one looks clearly brighter",
        "one looks much brighter",
        "one outshines the other",
    ]
)


def brightness_ratio(first: ArrayLike, second: ArrayLike) -> np.float64 | NDArray[np.float64]:
    """The brighter lamp's luminous intensity over the dimmer one's, 1 or more; any unit, the same for both.

    Two colours never match as closely as two lamps of one colour do: deep red looks brighter than its candelas say
    (the Helmholtz-Kohlrausch effect), a diffused lens darker than a clear one seen along its axis.

    Raises
    ------
    RangeError
        If an intensity lies outside 1e-12 to 1e6: a dark lamp has no ratio to a lit one.
    """
    remedy = "give the luminous intensity of two lit lamps"
    first, second = together(
        first=within("first", first, 1e-12, 1e6, "cd", remedy),
        second=within("second", second, 1e-12, 1e6, "cd", remedy),
    )
    return np.maximum(first, second) / np.minimum(first, second)


def unevenness_word(ratio: ArrayLike) -> str | NDArray[np.str_]:
    """What a brightness ratio looks like, in words: alike up to 1.25, a little 1.6, clearly 2.5, much 5.

    Raises
    ------
    RangeError
        If the ratio is below 1: it is the brighter lamp over the dimmer one.
    """
    ratio = within("ratio", ratio, 1, 1e18, "", "give the brighter lamp over the dimmer one")
    words = _WORDS[np.searchsorted(_UP_TO, ratio)]
    return str(words) if ratio.ndim == 0 else words
