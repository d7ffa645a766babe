"""LEDs side by side against the general solver of branches, and what must hold of any such circuit."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.errors import RangeError
from sigcalc.physics.branches import branch_currents
from sigcalc.physics.diode import loop_current
from sigcalc.physics.side_by_side import side_by_side

led = st.tuples(
    st.one_of(st.just(0.0), st.floats(1e-2, 1e12)),
    st.floats(-28, -10).map(lambda power: 10.0**power),
    st.floats(0.03, 0.12),
    st.floats(0.1, 50.0),
)


@given(st.floats(0.0, 30.0), st.floats(1e-1, 1e7), st.lists(led, min_size=1, max_size=4))
def test_the_solver_of_branches_agrees(supply, ohms, leds):
    node, currents = side_by_side(supply, ohms, leds)
    reference, others = branch_currents(supply, ohms, [(+1, own, [(least, nvt, rs)]) for own, least, nvt, rs in leds])
    assert node == pytest.approx(reference, rel=1e-10, abs=1e-12)
    assert currents == pytest.approx(list(others), rel=1e-7, abs=1e-15)


@given(st.floats(0.1, 30.0), st.floats(1.0, 1e6), st.lists(led, min_size=2, max_size=3))
def test_what_flows_in_flows_on(supply, ohms, leds):
    node, currents = side_by_side(supply, ohms, leds)
    assert sum(currents) == pytest.approx((supply - node) / ohms, rel=1e-6, abs=1e-12)
    alone = loop_current(supply, ohms + leds[0][0], *leds[0][1:])
    assert currents[0] <= alone * (1 + 1e-9)  # company never gives more current


def test_equal_leds_share_equally_and_samples_broadcast():
    one = (0.0, 1e-20, 0.05, 5.0)
    node, (first, second) = side_by_side(np.array([9.0, 12.0]), 470.0, [one, one])
    assert np.array_equal(first, second)
    assert 2 * first == pytest.approx((np.array([9.0, 12.0]) - node) / 470.0)


@pytest.mark.parametrize(
    ("supply", "ohms", "leds", "said"),
    [
        (-1.0, 1.0, [(0.0, 1e-20, 0.05, 5.0)], "supply needs to be 0"),
        (1.0, 0.0, [(0.0, 1e-20, 0.05, 5.0)], "resistance needs to be"),
        (1.0, 1.0, [], "branches needs at least one"),
    ],
)
def test_refusals(supply, ohms, leds, said):
    with pytest.raises(RangeError, match=said):
        side_by_side(supply, ohms, leds)
