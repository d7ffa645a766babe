"""Flicker of a lamp that goes on and off: how deep, how fast, and what is known of its effect on people.

The two limits are those of IEEE Std 1789-2015, written down from memory: the standard itself was not at hand. Of the
low-risk limit one point (8 % at 100 Hz) was met in a second place; one secondary source gives the two limits other
names. Treat a result near a limit as undecided.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from .domain import together, within

Floats = np.float64 | NDArray[np.float64]

# Up to about 80 Hz the eye can see flicker (DIAL, "IEEE 1789: a new standard for evaluating flickering LEDs").
# Most people, most of the time, stop seeing it well below that.
FUSION_FREQUENCY = 80.0  # Hz

_KNEE = 90.0  # Hz; below it both limits are stricter
_WORDS = np.array(
    [
        "may be seen to flicker",
        "looks steady, but flickers more than the low-risk limit",
        "looks steady, low risk",
        "looks steady, no effect on people known",
    ]
)


def percent_modulation(most: ArrayLike, least: ArrayLike) -> Floats:
    """Depth of flicker in per cent: (most - least) / (most + least) of the light over one period; 100 for on and off.

    Raises
    ------
    RangeError
        If the light lies outside 0 to 1e12, `most` is below 1e-12, or `least` is more than `most`.
    """
    most = within("most", most, 1e-12, 1e12, "cd", "give the light at its brightest")
    least = within("least", least, 0, 1e12, "cd", "give the light at its darkest")
    most, least = together(most=most, least=least)
    within("least / most", least / most, 0, 1, "", "give the brightest light as most and the darkest as least")
    return 100 * (most - least) / (most + least)


def flicker_low_risk_limit(frequency: ArrayLike) -> Floats:
    """Most percent modulation at low risk: 0.025 f to 90 Hz, 0.08 f above; 100 (no limit) from 1250 Hz. From memory.

    Raises
    ------
    RangeError
        Outside 0.001 Hz to 1 GHz.
    """
    return _limit(frequency, 0.025, 0.08, 1250)


def flicker_no_effect_limit(frequency: ArrayLike) -> Floats:
    """Most percent modulation with no observable effect: 0.01 f to 90 Hz, 0.0333 f to 3000 Hz, 100 above. From memory.

    Raises
    ------
    RangeError
        Outside 0.001 Hz to 1 GHz.
    """
    return _limit(frequency, 0.01, 0.0333, 3000)


def flicker_word(frequency: ArrayLike, modulation: ArrayLike) -> str | NDArray[np.str_]:
    """What flicker of this frequency (Hz) and percent modulation does, in words.

    It may be seen up to 80 Hz, unless it is as shallow as the no-effect limit; above 80 Hz the two limits decide.

    Raises
    ------
    RangeError
        Outside 0.001 Hz to 1 GHz and 0 to 100 %.
    """
    low_risk, no_effect = flicker_low_risk_limit(frequency), flicker_no_effect_limit(frequency)
    modulation = within("modulation", modulation, 0, 100, "%", "see percent_modulation")
    frequency, modulation = together(frequency=np.asarray(frequency, dtype=float), modulation=modulation)
    fused = frequency > FUSION_FREQUENCY
    grade = np.where(modulation <= no_effect, 3, fused * (1 + (modulation <= low_risk)))
    words = _WORDS[grade]
    return str(words) if words.ndim == 0 else words


def _limit(frequency: ArrayLike, slope_below: float, slope_above: float, free_from: float) -> Floats:
    frequency = within("frequency", frequency, 1e-3, 1e9, "Hz", "give a frequency in hertz")
    limit = frequency * np.where(frequency <= _KNEE, slope_below, slope_above)
    return np.where(frequency > free_from, 100.0, limit)[()]
