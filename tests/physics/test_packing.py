"""Wires through a round hole: the published ratios, and an optimisation that tries to beat them."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize

from sigcalc.errors import RangeError
from sigcalc.physics.packing import MOST_WIRES, bundle_diameter, clearance, enclosing_ratio
from tests.physics.answers import anything, keeps_promise

# Wikipedia, "Circle packing in a circle", table for 1 to 20, four digits; cut off, not rounded, where marked "..."
PUBLISHED = {1: 1, 2: 2, 4: 2.414, 5: 2.701, 6: 3, 7: 3, 8: 3.304, 9: 3.613, 10: 3.813, 11: 3.923, 12: 4.029}
PUBLISHED |= {13: 4.236, 14: 4.328, 15: 4.521, 16: 4.615, 17: 4.792, 18: 4.863, 19: 4.863, 20: 5.122}


@pytest.mark.parametrize(("count", "printed"), PUBLISHED.items())
def test_published_ratios(count, printed):
    assert printed <= enclosing_ratio(count) < printed + 0.001


def test_published_ratio_of_three():
    assert enclosing_ratio(3) == pytest.approx(2.155, abs=5e-4)  # this one is rounded


def tightest(count, starts, enough=0.0, seed=1):
    """The smallest enclosing ratio that a local optimisation finds from random starts, or one below `enough`."""
    random = np.random.default_rng(seed)
    first, second = np.triu_indices(count, 1)
    wires, pairs = np.arange(count), np.arange(len(first))

    def room(unknowns):
        places = unknowns[:-1].reshape(count, 2)
        apart = ((places[first] - places[second]) ** 2).sum(axis=1) - 4
        return np.concatenate([apart, (unknowns[-1] - 1) ** 2 - (places**2).sum(axis=1)])

    def slopes(unknowns):
        places = unknowns[:-1].reshape(count, 2)
        out = np.zeros((len(pairs) + count, 2 * count + 1))
        for axis in (0, 1):
            difference = 2 * (places[first, axis] - places[second, axis])
            out[pairs, 2 * first + axis], out[pairs, 2 * second + axis] = difference, -difference
            out[len(pairs) + wires, 2 * wires + axis] = -2 * places[:, axis]
        out[len(pairs) :, -1] = 2 * (unknowns[-1] - 1)
        return out

    last = np.eye(2 * count + 1)[-1]
    found = [np.inf]
    for _ in range(starts):
        start = np.append(random.normal(size=2 * count) * 0.8 * np.sqrt(count), 1.8 * np.sqrt(count) + 1)
        result = minimize(
            lambda unknowns: unknowns[-1],
            start,
            jac=lambda _: last,
            bounds=[(None, None)] * (2 * count) + [(1, None)],
            constraints={"type": "ineq", "fun": room, "jac": slopes},
            method="SLSQP",
            options={"maxiter": 300, "ftol": 1e-13},
        )
        if result.success and room(result.x).min() > -1e-8:
            found.append(result.x[-1])
            if found[-1] < enough:
                break
    return min(found)


@pytest.mark.parametrize("count", range(2, 8))
def test_independent_search_for_few_wires(count):
    """The ratio is reached, and nothing tighter is found."""
    assert tightest(count, 25) == pytest.approx(enclosing_ratio(count), rel=1e-6)


@pytest.mark.parametrize("count", [10, 12, 14, 16, 17, 20])
def test_independent_search_behind_the_further_digits(count):
    """The ratio is reached; the search ends there, since the table itself is the proof of the first digits."""
    ratio = enclosing_ratio(count)
    assert tightest(count, 200, ratio + 1e-7) == pytest.approx(ratio, abs=1e-7)


def test_a_thicker_bundle_never_has_fewer_wires():
    assert (np.diff(enclosing_ratio(np.arange(1, MOST_WIRES + 1))) >= 0).all()


def test_no_bundle_is_denser_than_circles_can_lie():
    """Thue: equal circles fill at most pi / sqrt(12) of the plane; in a round hole, from two on, less."""
    counts = np.arange(2, MOST_WIRES + 1)
    assert (counts / enclosing_ratio(counts) ** 2 < np.pi / np.sqrt(12)).all()


def test_two_wires_through_a_hole():
    """Two insulated 26 AWG wires of 1.2 to 1.3 mm (makers' figures for a 15 mil wall) through 3 mm, 0.1 mm off."""
    band = clearance(3e-3, 0.1e-3, 2, 1.25e-3, 0.05e-3)
    assert band == pytest.approx((3e-3 - 0.1e-3 - 2.6e-3, 0.5e-3, 3e-3 + 0.1e-3 - 2.4e-3))


@given(st.integers(1, 20), st.floats(1e-4, 1e-2), st.floats(0, 0.2), st.floats(1e-4, 1e-2), st.floats(0, 0.2))
def test_clearance_is_that_of_its_corners(count, hole, hole_off, wire, wire_off):
    least, nominal, most = clearance(hole, hole_off * hole, count, wire, wire_off * wire)
    assert least <= nominal <= most
    assert least == pytest.approx(hole * (1 - hole_off) - bundle_diameter(count, wire * (1 + wire_off)), abs=1e-15)
    assert most == pytest.approx(hole * (1 + hole_off) - bundle_diameter(count, wire * (1 - wire_off)), abs=1e-15)


@pytest.mark.parametrize("count", [0, 21, 2.5])
def test_counts_without_a_ratio(count):
    with pytest.raises(RangeError, match="more than one hole"):
        enclosing_ratio(count)


def test_a_tolerance_as_large_as_its_hole():
    with pytest.raises(RangeError, match="hole_tolerance must be less than hole_diameter"):
        clearance(1e-3, 1e-3, 2, 1e-4)


def test_shapes_broadcast():
    assert clearance(np.full((3, 1), 3e-3), 0, np.array([2, 4]), 1e-3).least.shape == (3, 2)


length = anything(1e-6, 1)


@given(anything(1, 20), length, length, length, length)
def test_every_function_keeps_the_promise(count, hole, hole_off, wire, wire_off):
    assert keeps_promise(enclosing_ratio, count)
    assert keeps_promise(bundle_diameter, count, wire)
    assert keeps_promise(clearance, hole, hole_off, count, wire, wire_off)
