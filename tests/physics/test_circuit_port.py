"""Parallel branches on one source: the pair back to back and its mishaps, against sixty digits, and laws."""

import mpmath
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.physics import diode
from sigcalc.physics.circuit import Branch, port_voltage

RED = (5e-22, 0.042, 3.6)
GREEN = (1e-28, 0.05, 20.0)
BACK_TO_BACK = [(+1, 0.0, [RED]), (-1, 0.0, [GREEN])]


def branch_currents(supply, ohms, branches, limit=np.inf):
    """The port's voltage, and the currents as one array."""
    node, currents = port_voltage(supply, ohms, [Branch(*each) for each in branches], limit)
    return node, np.stack(np.broadcast_arrays(*currents))


def exact(supply, ohms, branches):
    """Branch currents for single-LED branches and resistors, by bisection with 60 digits on the node voltage."""
    with mpmath.workdps(60):

        def current(sign, series, leds, node):
            volts = mpmath.mpf(sign) * node
            if not leds:
                return volts / mpmath.mpf(series)
            ((saturation, emission, own),) = leds
            least, n, r = mpmath.mpf(saturation), mpmath.mpf(emission), mpmath.mpf(own) + mpmath.mpf(series)
            if r == 0:
                return least * mpmath.expm1(volts / n)
            z = volts / n + least * r / n + mpmath.log(least * r / n)
            y = z if z < 1 else mpmath.log(z)  # y + exp(y) = z
            for _ in range(200):
                step = (z - y - mpmath.exp(y)) / (1 + mpmath.exp(y))
                y += step
                if abs(step) < mpmath.mpf(10) ** -55:
                    break
            return least * (mpmath.exp(y) / (least * r / n) - 1)

        def excess(node):
            taken = sum(sign * current(sign, series, leds, node) for sign, series, leds in branches)
            return taken - (mpmath.mpf(supply) - node) / mpmath.mpf(ohms)

        low, high = sorted([mpmath.mpf(0), mpmath.mpf(supply)])
        for _ in range(190):
            middle = (low + high) / 2
            low, high = (low, middle) if excess(middle) > 0 else (middle, high)
        return [current(*branch, low) for branch in branches]


CIRCUITS = {
    "back to back": BACK_TO_BACK,
    "extra resistor in one branch": [(+1, 330.0, [RED]), (-1, 0.0, [GREEN])],
    "both the same way round": [(+1, 0.0, [RED]), (+1, 0.0, [GREEN])],
    "one open": [(-1, 0.0, [GREEN])],
    "one shorted": [(+1, 0.0, [RED]), (-1, 1e-3, [])],
    "no series resistance": [(+1, 0.0, [(1e-20, 0.05, 0.0)]), (-1, 0.0, [(1e-25, 0.06, 0.0)])],
    "leaky": [(+1, 0.0, [(1e-20, 0.05, 1.0)]), (-1, 10.0, [(1e-7, 0.05, 0.0)])],
}


@pytest.mark.parametrize("branches", CIRCUITS.values(), ids=CIRCUITS)
@pytest.mark.parametrize("ohms", [0.5, 470.0, 1e5])
@pytest.mark.parametrize("supply", [-9.0, 0.3, 3.0, 24.0])
def test_against_sixty_digits(supply, ohms, branches):
    node, currents = branch_currents(supply, ohms, branches)
    for found, reference, (_, _, leds) in zip(currents, exact(supply, ohms, branches), branches, strict=True):
        floor = leds[0][0] if leds else 0.0  # a dark LED's current is good to its saturation current
        assert abs(found - reference) <= 1e-12 * (abs(reference) + floor)
    taken = sum(sign * current for (sign, _, _), current in zip(branches, currents, strict=True))
    assert float(taken) * ohms == pytest.approx(supply - float(node), abs=1e-13 * abs(supply))


def test_same_way_round_the_lower_drop_takes_the_current():
    _, (red, green) = branch_currents(9.0, 470.0, [(+1, 0.0, [RED]), (+1, 0.0, [GREEN])])
    assert red > 0.01 > 1e-4 > green > 0
    _, dark = branch_currents(-9.0, 470.0, [(+1, 0.0, [RED]), (+1, 0.0, [GREEN])])
    np.testing.assert_allclose(dark, [-RED[0], -GREEN[0]])


def test_equal_branches_share_equally():
    _, currents = branch_currents(9.0, 470.0, [(+1, 5.0, [RED])] * 4)
    assert np.ptp(currents) == 0.0
    assert currents.sum() == pytest.approx(
        diode.loop_current(9.0, 470.0, RED[0], RED[1], (RED[2] + 5.0) / 4 + 0.0), rel=0.02
    )
    quarter = diode.loop_current(9.0, 4 * 470.0, RED[0], RED[1], RED[2] + 5.0)
    np.testing.assert_allclose(currents, quarter, rtol=1e-12)


# ---- the source's limit


def test_limit_is_shared_by_branches_the_same_way_round():
    node, currents = branch_currents(9.0, 10.0, [(+1, 20.0, [RED]), (+1, 0.0, [GREEN]), (+1, 500.0, [])], limit=0.02)
    assert currents.sum() == pytest.approx(0.02, rel=1e-12)
    np.testing.assert_allclose(currents[0], diode.loop_current(node, 20.0, *RED), rtol=1e-10)


def test_a_limit_below_the_leakage_of_dark_lamps():
    # only a saturation current would flow; the source cannot even give that, so the node stays near zero
    node, (green,) = branch_currents(9.0, 470.0, [(-1, 0.0, [(1e-8, 0.05, 0.0)])], limit=4e-9)
    assert -green == pytest.approx(4e-9, rel=1e-12)
    assert node == pytest.approx(-0.05 * np.log1p(-0.4), rel=1e-12)


def test_no_limit_at_all_and_none_left():
    assert branch_currents(9.0, 470.0, BACK_TO_BACK, limit=0.0)[0] == 0.0
    assert branch_currents(0.0, 470.0, BACK_TO_BACK)[0] == 0.0
    assert (branch_currents(0.0, 470.0, BACK_TO_BACK)[1] == 0.0).all()


# ---- laws


SUPPLY, OHMS = st.floats(-20.0, 60.0), st.floats(1e-3, 1e7)
POWER = st.floats(-34.0, -6.0)


@given(SUPPLY, OHMS, POWER, POWER, st.floats(0.0, 1e3), st.floats(1e-4, 1.0), st.sampled_from([-1, 1]))
def test_the_current_law_and_the_limit(supply, ohms, first, second, extra, limit, sign):
    branches = [(+1, extra, [(10.0**first, 0.05, 2.0)]), (sign, 0.0, [(10.0**second, 0.06, 5.0), RED])]
    node, currents = branch_currents(supply, ohms, branches, limit)
    taken = currents[0] + sign * currents[1]
    given_by_source = np.clip((supply - node) / ohms, -limit, limit)
    assert taken == pytest.approx(given_by_source, rel=1e-9, abs=1e-14 * max(1.0, abs(supply) / ohms))
    assert abs(taken) <= limit * (1.0 + 1e-12)
    assert node * supply >= 0.0
    assert abs(node) <= abs(supply)


@given(SUPPLY, OHMS, POWER, POWER)
def test_turning_everything_round_turns_the_answer_round(supply, ohms, first, second):
    branches = [(+1, 0.0, [(10.0**first, 0.05, 2.0)]), (-1, 0.0, [(10.0**second, 0.06, 5.0)])]
    turned = [(-sign, series, leds) for sign, series, leds in branches]
    node, currents = branch_currents(supply, ohms, branches)
    back, again = branch_currents(-supply, ohms, turned)
    assert back == -node
    np.testing.assert_array_equal(again, currents)


def test_broadcasting_equals_element_by_element():
    random = np.random.default_rng(2)
    supply, ohms = random.uniform(-20.0, 60.0, (7, 1)), 10.0 ** random.uniform(0.0, 5.0, 5)
    limit = np.where(random.random((3, 1, 1)) < 0.5, np.inf, 0.02)
    extra = np.array([0.0, 10.0, 330.0, 0.0, 1e4])
    signs = np.array([1, -1, 1, -1, 1])
    node, currents = branch_currents(supply, ohms, [(+1, extra, [RED]), (signs, 0.0, [GREEN])], limit)
    assert node.shape == (3, 7, 5)
    assert currents.shape == (2, 3, 7, 5)
    for place in [(0, 0, 0), (1, 3, 4), (2, 6, 1), (0, 5, 3)]:
        alone, parts = branch_currents(
            supply[place[1], 0],
            ohms[place[2]],
            [(+1, extra[place[2]], [RED]), (int(signs[place[2]]), 0.0, [GREEN])],
            limit[place[0], 0, 0],
        )
        assert node[place] == pytest.approx(alone, rel=1e-12)
        np.testing.assert_allclose(currents[(slice(None), *place)], parts, rtol=1e-11)
