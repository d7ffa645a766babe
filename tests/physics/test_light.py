"""Light against current, and how even two lamps look."""

import numpy as np
import pytest

from sigcalc.errors import RangeError
from sigcalc.physics.light import (
    brightness_ratio,
    intensity_at,
    unevenness_word,
)

# Measured light of an LED, student laboratory: github byn1002/byn1002.github.io, RGB.pdf, table 4, and the line printed
# with it (slope 0.5346 mV/mA, correlation 0.99918). Current in mA, photodiode signal in mV, stray light included.
CURRENT = np.array([1.4, 4.1, 9.5, 14.2, 23.7, 27.8, 32.6, 37.7, 41.0, 50.0, 62.0, 70.3, 80.9, 89.1, 90.3, 98.7])
SIGNAL = np.array(
    [2.17, 3.74, 7.06, 9.84, 15.37, 17.69, 20.5, 23.29, 25.12, 30.11, 36.29, 40.37, 45.31, 49.32, 49.88, 53.61]
)


def test_published_straight_line_of_light_against_current():
    """These rows give the slope 0.5303: within 1 % of the printed one, not to its last digit."""
    light = intensity_at(CURRENT * 1e-3, 0.5346 * 20, 20e-3)
    assert np.corrcoef(light, SIGNAL)[0, 1] > 0.999
    assert np.polyfit(light, SIGNAL, 1)[0] == pytest.approx(1, abs=0.01)


def test_proportional_law_errs_as_much_as_documented():
    error = np.abs(intensity_at(CURRENT * 1e-3, SIGNAL[4], CURRENT[4] * 1e-3) / SIGNAL - 1)
    assert error[(CURRENT > 14) & (CURRENT <= 50)].max() == pytest.approx(0.08, abs=0.005)
    assert error[CURRENT == 98.7] == pytest.approx(0.19, abs=0.005)
    assert error[CURRENT == 4.1] == pytest.approx(0.29, abs=0.005)


def test_ratio_is_the_brighter_over_the_dimmer_and_a_dark_lamp_has_none():
    assert intensity_at(0, 0.013, 10e-3) == 0
    assert brightness_ratio([13e-3, 4e-3], [4e-3, 13e-3]) == pytest.approx([3.25, 3.25])
    with pytest.raises(RangeError, match="lit lamps"):
        brightness_ratio(0.01, 0)


def test_words_of_unevenness():
    words = unevenness_word([1.0, 1.25, 1.3, 2.0, 4.9, 100.0])  # common practice, no source
    expected = ["look alike", "look alike", "a little brighter", "clearly brighter", "much brighter", "outshines"]
    assert all(part in word for part, word in zip(expected, words, strict=True))
    assert type(unevenness_word(1.0)) is str
