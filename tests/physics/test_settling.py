"""Exponential settling: the law itself, its limits, and what is refused."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.errors import RangeError
from sigcalc.physics.settling import settled, settling_time
from tests.physics.answers import anything, keeps_promise

levels = st.floats(-100, 100)


def test_one_time_constant_leaves_one_eth():
    assert settled(2.0, 2.0, 1.0, 0.0) == pytest.approx(np.exp(-1), rel=1e-15)
    assert settling_time(2.0, 1.0, 0.0, np.exp(-1)) == pytest.approx(2.0, rel=1e-15)


def test_half_is_reached_after_ln_two_from_anywhere():
    np.testing.assert_allclose(settling_time(3.0, [0, 9, -9], [9, 0, 9], [4.5, 4.5, 0]), 3 * np.log(2), rtol=1e-14)


def test_a_small_step_keeps_its_digits():
    """ln(1 + x) is x - x**2/2 for a small x; a plain logarithm would lose half the digits here."""
    assert settling_time(1.0, 0.0, 1.0, 1e-9) == pytest.approx(1e-9 + 0.5e-18, rel=1e-14)


@given(st.floats(1e-6, 1e6), levels, levels, st.floats(0.0, 0.999))
def test_time_and_level_are_inverse(tau, start, end, share):
    trip = start + share * (end - start)
    if share == 0 or abs(end - start) < 1e-6:
        return
    time = settling_time(tau, start, end, trip)
    assert settled(time, tau, start, end) == pytest.approx(trip, abs=1e-12 * (abs(start) + abs(end)))


@given(levels, levels, st.floats(0, 20), st.floats(0, 20))
def test_later_is_nearer_to_the_end(start, end, one, other):
    near, far = settled(np.array([max(one, other), min(one, other)]), 1.0, start, end)
    assert abs(near - end) <= abs(far - end) + 1e-12


@pytest.mark.parametrize("trip", [9.0, 9.5, -0.1, 9.0 * (1 - 1e-13)])
def test_what_is_never_reached_names_the_limit(trip):
    with pytest.raises(RangeError, match=r"between start 0 and the limit 9 that it heads for; .* is never reached"):
        settling_time(1.0, 0.0, 9.0, trip)


def test_nowhere_to_go():
    assert settling_time(1.0, 5.0, 5.0, 5.0) == 0
    with pytest.raises(RangeError, match="never reached"):
        settling_time(1.0, 5.0, 5.0, 5.1)


@given(*[anything(0, 10)] * 4)
def test_an_answer_or_a_refusal(one, two, three, four):
    assert keeps_promise(settling_time, one, two, three, four)
    assert keeps_promise(settled, one, two, three, four)
