"""Small circuits: textbook cases, dense solvers, exact fractions, sixty digits, the laws of circuits, LEDs, drivers.

Published cases: T. R. Kuphaldt, Lessons in Electric Circuits vol. I (DC), read at
github.com/vikdotdev/lessons-in-electric-circuits; the tolerance is half the last printed digit.
"""

from fractions import Fraction

import mpmath
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from sigcalc.errors import RangeError
from sigcalc.physics.circuit import GROUND, Branch, Driver, Network, port_voltage, solve
from sigcalc.physics.diode import exponential_current, loop_current

OPEN, WIRE = 1e15, 1e-9


def chain(volts, *ohms, more=()):
    """The voltages along a chain of resistors from a stiff source to GROUND, its first point the source."""
    resistors = [(point, point + 1 if ohms[point + 1 :] else GROUND, each) for point, each in enumerate(ohms)]
    network = Network(len(ohms), [(0, GROUND, 1e-6), *resistors, *more])
    return np.array(network.voltages({0: volts / 1e-6}))


def test_published_meter_across_a_divider():
    """ch. 8 "Voltmeter impact": 24 V on two 250 megohm, 12 V each; a 10 megohm meter shows 0.8889 V."""
    assert chain(24.0, 250e6, 250e6)[1] == pytest.approx(12.0, abs=1e-6)
    assert chain(24.0, 250e6, 250e6, more=[(1, GROUND, 10e6)])[1] == pytest.approx(0.8889, abs=5e-5)


def test_published_ammeters():
    """ch. 8 "Ammeter impact": 666.7 mA in 3 ohm, 1.33 A in 1.5 ohm; a meter of 0.5 ohm lowers its own branch's.

    "Ammeter design": 12 V through 1 ohm and 15 kohm; the shunt shows 7.999E-04 V.
    """
    assert chain(2.0, 0.5, 3.0)[1] / 3.0 * 1e3 == pytest.approx(571.43, abs=0.005)
    assert chain(2.0, 0.5, 1.5)[1] / 1.5 * 1e3 == pytest.approx(1000.0, abs=0.5)
    assert -np.diff(chain(12.0, 1.0, 15e3)) == pytest.approx(7.999e-4, abs=5e-8)


@pytest.mark.parametrize(
    ("second", "milliamperes", "across_it"),
    # ch. 5 "Component failure analysis": 9 V, 20 mA healthy and 60 mA with R2 shorted; open, R2 has the whole 9 V.
    # 450 and 150 ohm follow from the printed currents; the split of the 150 ohm is 100 and 50, from memory.
    [(300.0, 20.0, 6.0), (WIRE, 60.0, 0.0), (OPEN, 0.0, 9.0)],
    ids=["healthy", "shorted", "open"],
)
def test_published_resistor_that_fails(second, milliamperes, across_it):
    volts = chain(9.0, 100.0, second, 50.0)
    assert volts[2] / 50.0 * 1e3 == pytest.approx(milliamperes, abs=0.5)
    assert volts[1] - volts[2] == pytest.approx(across_it, abs=0.05)


def random_network(random, points):
    chain = [(point, point - 1 if point else GROUND, 10 ** random.uniform(-2, 9, 5)) for point in range(points)]
    more = [
        (int(one), int(other), 10 ** random.uniform(-2, 9, 5))
        for one, other in random.integers(-1, points, (2 * points, 2))
        if one != other
    ]
    return chain + more


def dense(points, resistors, currents):
    """The same with numpy's general solver, sample by sample."""
    matrix = np.zeros((5, points + 1, points + 1))
    for one, other, ohms in resistors:
        matrix[:, one, one] += 1 / ohms
        matrix[:, other, other] += 1 / ohms
        matrix[:, one, other] -= 1 / ohms
        matrix[:, other, one] -= 1 / ohms
    entering = np.array([np.broadcast_to(currents.get(point, 0.0), 5) for point in range(points)]).T
    return np.linalg.solve(matrix[:, :points, :points], entering[..., None])[..., 0].T


@pytest.mark.parametrize("seed", range(12))
def test_numpy_s_dense_solver_agrees(seed):
    random = np.random.default_rng(seed)
    points = int(random.integers(2, 9))
    resistors = random_network(random, points)
    currents = {0: random.uniform(-1, 1, 5), points - 1: random.uniform(-1, 1, 5)}
    found = np.array(Network(points, resistors).voltages(currents))
    reference = dense(points, resistors, currents)
    assert found == pytest.approx(reference, rel=1e-4, abs=1e-4 * np.abs(reference).max())  # the dense one loses digits


def test_milliohms_beside_teraohms_lose_no_digits():
    """Against exact fractions, where a general solver has hardly a digit left."""
    small, middle, great = Fraction(1, 1000), Fraction(1, 20), Fraction(10) ** 12
    total = 2 * great + middle
    top = 12000 * small * total / (small + total)
    exact = [top, top * (middle + great) / total, top * great / total]  # the last two differ by 6e-13 V
    resistors = [(0, GROUND, 1e-3), (0, 1, 1e12), (1, 2, 0.05), (2, GROUND, 1e12)]
    found = Network(3, resistors).voltages({0: 12000.0})
    assert found == pytest.approx([float(each) for each in exact], rel=1e-14)


@given(st.integers(0, 10_000))
def test_power_put_in_is_power_turned_to_heat(seed):
    """Tellegen: the injected power equals the heat in all resistors."""
    random = np.random.default_rng(seed)
    points = int(random.integers(2, 8))
    resistors = random_network(random, points)
    currents = {point: random.uniform(0, 1, 5) for point in range(points)}
    volts = [*Network(points, resistors).voltages(currents), np.zeros(5)]  # GROUND is the last, index -1
    put_in = sum(currents[point] * volts[point] for point in range(points))
    heat = sum((volts[one] - volts[other]) ** 2 / ohms for one, other, ohms in resistors)
    assert heat == pytest.approx(put_in, rel=1e-6)


# ---- branches side by side on one source: the pair back to back and its mishaps

RED, GREEN = (5e-22, 0.042, 3.6), (1e-28, 0.05, 20.0)
BACK_TO_BACK = [Branch(+1, 0.0, [RED]), Branch(-1, 0.0, [GREEN])]


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
            return n / r * mpmath.lambertw(least * r / n * mpmath.exp((volts + least * r) / n)).real - least

        def excess(node):
            taken = sum(sign * current(sign, series, leds, node) for sign, series, leds, _ in branches)
            return taken - (mpmath.mpf(supply) - node) / mpmath.mpf(ohms)

        low, high = sorted([mpmath.mpf(0), mpmath.mpf(supply)])
        for _ in range(110):  # to 1e-31 V
            middle = (low + high) / 2
            low, high = (low, middle) if excess(middle) > 0 else (middle, high)
        return [current(*branch[:3], low) for branch in branches]


CIRCUITS = {
    "back to back": BACK_TO_BACK,
    "extra resistor in one branch": [Branch(+1, 330.0, [RED]), Branch(-1, 0.0, [GREEN])],
    "both the same way round": [Branch(+1, 0.0, [RED]), Branch(+1, 0.0, [GREEN])],
    "one open": [Branch(-1, 0.0, [GREEN])],
    "one shorted": [Branch(+1, 0.0, [RED]), Branch(-1, 1e-3, [])],
    "no series resistance": [Branch(+1, 0.0, [(1e-20, 0.05, 0.0)]), Branch(-1, 0.0, [(1e-25, 0.06, 0.0)])],
    "leaky": [Branch(+1, 0.0, [(1e-20, 0.05, 1.0)]), Branch(-1, 10.0, [(1e-7, 0.05, 0.0)])],
}


@pytest.mark.parametrize("branches", CIRCUITS.values(), ids=CIRCUITS)
@pytest.mark.parametrize("ohms", [0.5, 470.0, 1e5])
@pytest.mark.parametrize("supply", [-9.0, 0.3, 3.0, 24.0])
def test_against_sixty_digits(supply, ohms, branches):
    node, currents = port_voltage(supply, ohms, branches)
    for found, reference, branch in zip(currents, exact(supply, ohms, branches), branches, strict=True):
        floor = branch.leds[0][0] if branch.leds else 0.0  # a dark LED's current is good to its saturation current
        assert abs(found - reference) <= 1e-12 * (abs(reference) + floor)
    taken = sum(branch.sign * current for branch, current in zip(branches, currents, strict=True))
    assert float(taken) * ohms == pytest.approx(supply - float(node), abs=1e-13 * abs(supply))


@pytest.mark.parametrize("ohms", [0.0, 1.0, 1e3, 1e7])
def test_side_by_side_with_a_constant_drop_against_a_bracketing_search(ohms):
    leds = (3e-20, 0.048, 6.0), (1e-18, 0.06, 12.0)
    both = [Branch(+1, 5.0, [leds[0]]), Branch(+1, 20.0, [leds[1]]), Branch(+1, 300.0, drop=1.5), Branch(-1, 1e5)]
    node, currents = port_voltage(5.0, ohms, both)

    def excess(volts):
        taken = exponential_current(volts, *leds[0][:2], 11.0) + exponential_current(volts, *leds[1][:2], 32.0)
        return ohms * (taken + max(volts - 1.5, 0) / 300.0 + volts / 1e5) - (5.0 - volts)

    assert node == pytest.approx(brentq(excess, 0, 5, xtol=1e-14), rel=1e-10)
    assert currents[3] == pytest.approx(-node / 1e5)


def test_several_leds_in_a_branch():
    branch = Branch(+1, 0.0, [RED, GREEN])
    node, (current,) = port_voltage(12.0, 100.0, [branch])
    assert branch.voltage(current) == pytest.approx(node, rel=1e-10)
    assert current == pytest.approx((12.0 - node) / 100.0, rel=1e-10)


def test_a_branch_that_is_not_there_changes_nothing():
    node, (red, _, short) = port_voltage(12.0, 1e3, [*BACK_TO_BACK, Branch(np.array([0, 1]), 1.0)])
    alone, (lit, _) = port_voltage(12.0, 1e3, BACK_TO_BACK)
    assert (node[0], red[0], short[0]) == (alone, lit, 0.0)
    assert node[1] == pytest.approx(12.0 / 1001.0, rel=1e-9)


def test_a_limit_is_shared_by_branches_the_same_way_round_and_holds_in_either_direction():
    three = [Branch(+1, 20.0, [RED]), Branch(+1, 0.0, [GREEN]), Branch(+1, 500.0)]
    for turn in (1, -1):
        turned = [branch._replace(sign=turn * branch.sign) for branch in three]
        node, currents = port_voltage(turn * 9.0, 10.0, turned, limit=0.02)
        assert sum(currents) == pytest.approx(0.02, rel=1e-12)
        np.testing.assert_allclose(currents[0], loop_current(turn * node, 20.0, *RED), rtol=1e-10)


def test_a_limit_below_the_leakage_of_dark_lamps():
    # only a saturation current would flow; the source cannot even give that, so the node stays near zero
    node, (green,) = port_voltage(9.0, 470.0, [Branch(-1, 0.0, [(1e-8, 0.05, 0.0)])], limit=4e-9)
    assert -green == pytest.approx(4e-9, rel=1e-12)
    assert node == pytest.approx(-0.05 * np.log1p(-0.4), rel=1e-12)
    assert port_voltage(9.0, 470.0, BACK_TO_BACK, limit=0.0)[0] == port_voltage(0.0, 470.0, BACK_TO_BACK)[0] == 0.0


SUPPLY, OHMS = st.floats(-20.0, 60.0), st.floats(1e-3, 1e7)
POWER = st.floats(-34.0, -6.0)


@given(SUPPLY, OHMS, POWER, POWER, st.floats(0.0, 1e3), st.floats(1e-4, 1.0), st.sampled_from([-1, 1]))
def test_the_current_law_the_limit_and_turning_everything_round(supply, ohms, first, second, extra, limit, sign):
    branches = [Branch(+1, extra, [(10.0**first, 0.05, 2.0)]), Branch(sign, 0.0, [(10.0**second, 0.06, 5.0), RED])]
    node, currents = port_voltage(supply, ohms, branches, limit)
    taken = currents[0] + sign * currents[1]
    given_by_source = np.clip((supply - node) / ohms, -limit, limit)
    assert taken == pytest.approx(given_by_source, rel=1e-9, abs=1e-14 * max(1.0, abs(supply) / ohms))
    assert abs(taken) <= limit * (1.0 + 1e-12)
    assert node * supply >= 0.0
    assert abs(node) <= abs(supply)
    turned = [branch._replace(sign=-branch.sign) for branch in branches]
    back, again = port_voltage(-supply, ohms, turned, limit)
    assert (back, *again) == (-node, *currents)


def test_broadcasting_equals_element_by_element():
    random = np.random.default_rng(2)
    supply, ohms = random.uniform(-20.0, 60.0, (7, 1)), 10.0 ** random.uniform(0.0, 5.0, 5)
    limit = np.where(random.random((3, 1, 1)) < 0.5, np.inf, 0.02)
    extra, signs = np.array([0.0, 10.0, 330.0, 0.0, 1e4]), np.array([1, -1, 1, -1, 1])
    node, currents = port_voltage(supply, ohms, [Branch(+1, extra, [RED]), Branch(signs, 0.0, [GREEN])], limit)
    assert node.shape == (3, 7, 5)
    for page, row, column in [(0, 0, 0), (1, 3, 4), (2, 6, 1), (0, 5, 3)]:
        branches = [Branch(+1, extra[column], [RED]), Branch(int(signs[column]), 0.0, [GREEN])]
        alone, parts = port_voltage(supply[row, 0], ohms[column], branches, limit[page, 0, 0])
        assert node[page, row, column] == pytest.approx(alone, rel=1e-12)
        found = [np.broadcast_to(each, node.shape)[page, row, column] for each in currents]
        np.testing.assert_allclose(found, parts, rtol=1e-11)


# ---- whole circuits, with meters and drivers


def signal(meter=None, driver=None, more=()):
    """Supply, limit, two leads and the pair; a meter across two points."""
    source = (0, GROUND, np.array([0.5, 50.0]))
    limit = [] if driver else [(0, 1, np.array([470.0, 1e12]))]
    resistors = [source, *limit, (1, 2, 0.05), (2, 3, 0.3), (3, GROUND, 1e7), (3, 4, 0.1), (4, GROUND, 0.4), *more]
    meters = [meter] if meter else []
    return solve(5, resistors, {0: 12.0 / source[2]}, (2, 4), BACK_TO_BACK, driver, meters)


@pytest.mark.parametrize("driver", [None, Driver((0, 1), 150.0, np.array([0.01, np.inf]), 1e6)])
@pytest.mark.parametrize("meter", [(0, 1, 1e6), (2, GROUND, 1e6), (2, 4, 100.0), (1, 3, 1e7)])
def test_a_meter_is_one_more_resistance(meter, driver):
    shown = signal(meter, driver).meters[0]
    built_in = signal(driver=driver, more=[meter])
    volts = [*built_in.voltages, 0.0]
    assert shown == pytest.approx(volts[meter[0]] - volts[meter[1]], rel=1e-7)


def test_an_ammeter_takes_the_place_of_a_wire():
    shown = signal((2, 3, 1 / (1 / 1.3 - 1 / 0.3))).meters[0] / 1.3
    source = np.array([0.5, 50.0])
    limit = np.array([470.0, 1e12])
    resistors = [(0, GROUND, source), (0, 1, limit), (1, 2, 0.05), (2, 3, 1.3), (3, GROUND, 1e7), (3, 4, 0.1)]
    found = solve(5, [*resistors, (4, GROUND, 0.4)], {0: 12.0 / source}, (2, 4), BACK_TO_BACK).voltages
    assert shown == pytest.approx((found[2] - found[3]) / 1.3, rel=1e-7)


def test_a_driver_holds_its_current_above_its_drop_out_and_is_a_resistance_below():
    """1.5 V at 10 mA: 150 ohm below; a megohm beside adds what the rest of the supply drives through it."""
    driver, resistors = Driver((0, 1), 150.0, 0.01, 1e6), [(0, GROUND, 1.0), (1, GROUND, 1e12)]
    held, low = (solve(2, resistors, {0: volts}, (1, GROUND), BACK_TO_BACK, driver) for volts in (12.0, 3.0))
    drop = held.voltages[0] - held.voltages[1]
    assert held.currents[0] == pytest.approx(0.01 + drop / 1e6, rel=1e-9)
    assert low.currents[0] < 0.01
    assert low.currents[0] == pytest.approx((low.voltages[0] - low.voltages[1]) / 150.0, rel=1e-9)


def test_what_has_no_answer_is_refused():
    with pytest.raises(RangeError, match="Point 1 has no way to GROUND"):
        Network(2, [(0, GROUND, 1.0)])
    with pytest.raises(RangeError, match="beyond any number"):
        port_voltage(1e3, 0.0, [Branch(+1, 0.0, [(1e-20, 1e-9, 0.0)])])
