"""Graph work on contacts: connectivity, lamp voltages, every wiring there is."""

import hypothesis.strategies as st
import numpy as np
import pytest
from hypothesis import given

from sigcalc.errors import RangeError
from sigcalc.physics.contacts import connected, joined, lamp_voltages, set_partitions

# Bell numbers: OEIS A000110
BELL = {1: 1, 2: 2, 3: 5, 4: 15, 5: 52, 6: 203, 7: 877, 8: 4140, 9: 21147, 10: 115975}


@pytest.mark.parametrize(("points", "ways"), BELL.items())
def test_the_number_of_wirings_is_the_bell_number(points, ways):
    groups = set_partitions(points)
    assert groups.shape == (points, ways)
    assert len(np.unique(groups, axis=1).T) == ways


@pytest.mark.parametrize("points", [0, -1, 13])
def test_too_few_or_too_many_points_are_refused(points):
    with pytest.raises(RangeError, match="points needs 1 to 12"):
        set_partitions(points)


PAIRS = st.lists(st.tuples(st.integers(0, 6), st.integers(0, 6)), max_size=10)


@given(PAIRS)
def test_joining_step_by_step_gives_the_groups_that_scipy_finds_at_once(pairs):
    step_by_step = np.arange(7).reshape(7, 1)
    for first, second in pairs:
        step_by_step = joined(step_by_step, first, second)
    at_once = connected(7, pairs)
    own = step_by_step[:, 0]
    assert np.array_equal(own[:, None] == own, at_once[:, None] == at_once)


def test_one_lamp_on_one_source():
    # points: plus, minus, A, B
    groups, sources, lamps = np.array([0, 1, 0, 1]), [(0, 1)], [(2, 3)]
    assert lamp_voltages(groups, sources, lamps) == (pytest.approx([1.0]), False)
    assert lamp_voltages(groups, sources, [(3, 2)]) == (pytest.approx([-1.0]), False)


def test_a_lamp_that_hangs_on_one_lead_is_dark():
    assert lamp_voltages(np.array([0, 1, 0, 2]), [(0, 1)], [(2, 3)]) == (pytest.approx([0.0], abs=0), False)


def test_two_lamps_in_series_share_the_voltage():
    groups = np.array([0, 1, 0, 2, 2, 1])
    assert lamp_voltages(groups, [(0, 1)], [(2, 3), (4, 5)]) == (pytest.approx([0.5, 0.5]), False)


def test_two_sources_in_series_add_up_and_side_by_side_do_not():
    in_series, side_by_side = np.array([0, 1, 1, 2]), np.array([0, 1, 0, 1])
    sources = [(0, 1), (2, 3)]
    assert lamp_voltages(in_series, sources, [(0, 3)])[0] == pytest.approx([2.0])
    assert lamp_voltages(side_by_side, sources, [(0, 1)]) == (pytest.approx([1.0]), False)


@pytest.mark.parametrize(
    "groups",
    [pytest.param([0, 0, 1, 2], id="one source's poles joined"), pytest.param([0, 1, 1, 0], id="against each other")],
)
def test_shorted_sources_are_found(groups):
    assert lamp_voltages(np.array(groups), [(0, 1), (2, 3)], [(0, 1)]) == (pytest.approx([0.0]), True)


@given(st.lists(st.integers(0, 3), min_size=8, max_size=8))
def test_voltages_are_finite_and_turning_the_sources_turns_them(groups):
    groups, lamps = np.array(groups), [(4, 5), (6, 7)]
    there, short = lamp_voltages(groups, [(0, 1), (2, 3)], lamps)
    back, also_short = lamp_voltages(groups, [(1, 0), (3, 2)], lamps)
    assert short == also_short
    assert np.isfinite(there).all()
    assert back == pytest.approx(-there, abs=1e-8)
