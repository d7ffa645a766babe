"""Depth of flicker and its limits. IEEE Std 1789-2015 is quoted from memory; see sigcalc/physics/flicker.py."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.errors import RangeError
from sigcalc.physics.flicker import flicker_low_risk_limit, flicker_no_effect_limit, flicker_word, percent_modulation
from tests.physics.answers import anything, keeps_promise


# IEEE Std 1789-2015, FROM MEMORY; the 8 % at 100 Hz was seen in a second place
@pytest.mark.parametrize(("frequency", "percent"), [(50, 1.25), (100, 8.0), (120, 9.6)])
def test_published_low_risk_limit(frequency, percent):
    assert flicker_low_risk_limit(frequency) == pytest.approx(percent, abs=0.005)


# IEEE Std 1789-2015, FROM MEMORY
@pytest.mark.parametrize(("frequency", "percent"), [(100, 3.33), (120, 4.0), (50, 0.5)])
def test_published_no_effect_limit(frequency, percent):
    assert flicker_no_effect_limit(frequency) == pytest.approx(percent, abs=0.005)


def test_above_the_last_frequency_there_is_no_limit():
    assert flicker_low_risk_limit([1250, 1251, 1e6]).tolist() == [100, 100, 100]
    assert flicker_no_effect_limit([3001, 1e6]).tolist() == [100, 100]


def test_depth():
    assert percent_modulation([3.0, 1.0, 2.0], [0.0, 1.0, 1.0]) == pytest.approx([100, 0, 100 / 3])


def test_least_above_most_is_refused():
    with pytest.raises(RangeError, match="brightest light as most"):
        percent_modulation(1, 2)


@given(st.floats(1, 1e5), st.floats(1, 1e5))
def test_faster_flicker_may_be_deeper(first, second):
    slow, fast = sorted([first, second])
    assert flicker_low_risk_limit(slow) <= flicker_low_risk_limit(fast)
    assert flicker_no_effect_limit(slow) <= flicker_no_effect_limit(fast)
    assert flicker_no_effect_limit(fast) <= flicker_low_risk_limit(fast)


def test_words():
    frequencies = [50, 50, 80, 100, 100, 100, 5000]
    depths = [100, 0.4, 100, 100, 5, 3, 100]
    assert flicker_word(frequencies, depths).tolist() == [
        "may be seen to flicker",
        "looks steady, no effect on people known",
        "may be seen to flicker",
        "looks steady, but flickers more than the low-risk limit",
        "looks steady, low risk",
        "looks steady, no effect on people known",
        "looks steady, no effect on people known",
    ]
    assert type(flicker_word(50, 100)) is str


def test_a_pair_on_the_mains_frequency_may_be_seen_to_flicker():
    """Each lamp of a pair on 50 or 60 Hz is lit once a cycle, fully on and fully off."""
    assert set(flicker_word([50, 60], percent_modulation(1, 0))) == {"may be seen to flicker"}


def test_shapes_broadcast():
    assert flicker_word(np.full((3, 1), 60.0), np.array([1.0, 100.0])).shape == (3, 2)
    assert percent_modulation(np.ones((3, 1)), np.zeros(2)).shape == (3, 2)


@given(anything(1e-3, 1e9), anything(0, 100), anything(0, 1e12), anything(0, 1e12))
def test_every_function_keeps_the_promise(frequency, modulation, most, least):
    assert keeps_promise(flicker_low_risk_limit, frequency)
    assert keeps_promise(flicker_no_effect_limit, frequency)
    assert keeps_promise(flicker_word, frequency, modulation)
    assert keeps_promise(percent_modulation, most, least)
