"""Small circuits: textbook cases, dense solvers, exact fractions, the laws of circuits, LEDs and drivers.

Published cases: T. R. Kuphaldt, Lessons in Electric Circuits vol. I (DC), read at
github.com/vikdotdev/lessons-in-electric-circuits; the tolerance is half the last printed digit.
"""

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from sigcalc.errors import RangeError
from sigcalc.physics.circuit import GROUND, Branch, Driver, Network, port_voltage, solve
from sigcalc.physics.diode import exponential_current, loop_current

OPEN, WIRE = 1e15, 1e-9


class TestPublished:
    def test_a_meter_across_a_divider(self):
        """ch. 8 "Voltmeter impact": 24 V on two 250 megohm, 12 V each; a 10 megohm meter shows 0.8889 V."""
        source = 1e-3
        bare = [(0, GROUND, source), (0, 1, 250e6), (1, GROUND, 250e6)]
        assert Network(2, bare).voltages({0: 24.0 / source})[1] == pytest.approx(12.0, abs=1e-6)
        upper, lower = Network(2, [*bare, (1, GROUND, 10e6)]).voltages({0: 24.0 / source})
        assert lower == pytest.approx(0.8889, abs=5e-5)
        assert upper - lower == pytest.approx(23.1111, abs=5e-5)

    @pytest.mark.parametrize(("meter_in", "milliamperes", "half_digit"), [(3.0, 571.43, 0.005), (1.5, 1000.0, 0.5)])
    def test_an_ammeter_in_a_branch(self, meter_in, milliamperes, half_digit):
        """ch. 8 "Ammeter impact": 666.7 mA in 3 ohm, 1.33 A in 1.5 ohm; a meter of 0.5 ohm lowers its own branch's."""
        volts = 0.6667 * 3.0  # 2 V, from the printed current
        circuit = Network(2, [(0, GROUND, 1e-6), (0, 1, 0.5), (1, GROUND, meter_in)])
        across = circuit.voltages({0: round(volts) / 1e-6})
        assert across[1] / meter_in * 1e3 == pytest.approx(milliamperes, abs=half_digit)

    def test_a_shunt_reads_a_current(self):
        """ch. 8 "Ammeter design": 12 V through 1 ohm and 15 kohm; the shunt shows 7.999E-04 V."""
        first, second = Network(2, [(0, GROUND, 1e-6), (0, 1, 1.0), (1, GROUND, 15e3)]).voltages({0: 12.0 / 1e-6})
        assert first - second == pytest.approx(7.999e-4, abs=5e-8)

    @pytest.mark.parametrize(
        ("second", "milliamperes", "across_it"),
        # ch. 5 "Component failure analysis": 9 V, 20 mA healthy and 60 mA with R2 shorted; open, R2 has the whole 9 V.
        # 450 and 150 ohm follow from the printed currents; the split of the 150 ohm is 100 and 50, from memory.
        [(300.0, 20.0, 6.0), (WIRE, 60.0, 0.0), (OPEN, 0.0, 9.0)],
        ids=["healthy", "shorted", "open"],
    )
    def test_a_resistor_that_fails(self, second, milliamperes, across_it):
        source = 1e-6
        chain = [(0, GROUND, source), (0, 1, 100.0), (1, 2, second), (2, GROUND, 50.0)]
        volts = Network(3, chain).voltages({0: 9.0 / source})
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
    ohms = [Fraction(1, 1000), Fraction(10) ** 12, Fraction(1, 20), Fraction(10) ** 12]
    resistors = [(0, GROUND, 1e-3), (0, 1, 1e12), (1, 2, 0.05), (2, GROUND, 1e12)]
    current = 12000.0
    total = ohms[1] + ohms[2] + ohms[3]
    top = Fraction(12000) * (ohms[0] * total / (ohms[0] + total))
    exact = [top, top * (ohms[2] + ohms[3]) / total, top * ohms[3] / total]
    found = Network(3, resistors).voltages({0: current})
    assert found == pytest.approx([float(each) for each in exact], rel=1e-14)
    assert float(exact[1] - exact[2]) == pytest.approx(6e-13 * 1, rel=1e-3)  # what would be lost


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


def test_samples_of_any_shape():
    ohms = np.array([[100.0], [200.0]])
    volts = Network(1, [(0, GROUND, ohms), (0, GROUND, np.array([100.0, 200.0, 300.0]))]).voltages({0: 1.0})[0]
    assert volts.shape == (2, 3)
    assert volts[1, 2] == pytest.approx(120.0)


RED, GREEN = (3e-20, 0.048, 6.0), (1e-18, 0.06, 12.0)
ANTIPARALLEL = [Branch(+1, 0.2, [RED]), Branch(-1, 0.3, [GREEN])]


class TestPort:
    @pytest.mark.parametrize("volts", [9.0, -12.0, 1.0, 1e-6, 0.0])
    def test_antiparallel_leds_are_a_loop_with_the_lit_one(self, volts):
        node, (red, green) = port_voltage(volts, 680.0, ANTIPARALLEL)
        alone = loop_current(abs(volts), 680.0 + (0.2 if volts > 0 else 0.3), *(RED if volts > 0 else GREEN))
        assert (red if volts > 0 else green) == pytest.approx(alone, rel=1e-9, abs=1e-17)
        assert red - green == pytest.approx((volts - node) / 680.0, rel=1e-9, abs=1e-15)

    @pytest.mark.parametrize("ohms", [0.0, 1.0, 1e3, 1e7])
    def test_side_by_side_against_a_bracketing_search(self, ohms):
        both = [Branch(+1, 5.0, [RED]), Branch(+1, 20.0, [GREEN]), Branch(+1, 300.0, drop=1.5), Branch(-1, 1e5)]
        node, currents = port_voltage(5.0, ohms, both)

        def excess(volts):
            taken = exponential_current(volts, *RED[:2], RED[2] + 5) + exponential_current(volts, *GREEN[:2], 32.0)
            return ohms * (taken + max(volts - 1.5, 0) / 300.0 + volts / 1e5) - (5.0 - volts)

        assert node == pytest.approx(brentq(excess, 0, 5, xtol=1e-14), rel=1e-10)
        assert currents[3] == pytest.approx(-node / 1e5)

    def test_several_leds_in_a_branch(self):
        node, (current,) = port_voltage(12.0, 100.0, [Branch(+1, 0.0, [RED, GREEN])])
        assert Branch(+1, 0.0, [RED, GREEN]).voltage(current) == pytest.approx(node, rel=1e-10)
        assert current == pytest.approx((12.0 - node) / 100.0, rel=1e-10)

    def test_a_limit_holds_the_current_in_either_direction(self):
        for volts in (12.0, -12.0):
            node, currents = port_voltage(volts, 100.0, ANTIPARALLEL, limit=0.01)
            assert max(currents) == pytest.approx(0.01, rel=1e-9)
            assert 1.5 < abs(node) < 3.0

    def test_a_branch_that_is_not_there_changes_nothing(self):
        gone = [*ANTIPARALLEL, Branch(np.array([0, 1]), 1.0)]
        node, (red, _, short) = port_voltage(12.0, 1e3, gone)
        assert (node[0], red[0], short[0]) == (*_first(port_voltage(12.0, 1e3, ANTIPARALLEL)), 0.0)
        assert node[1] == pytest.approx(12.0 / 1001.0, rel=1e-9)

    def test_figures_that_lie_too_far_apart_are_refused(self):
        with pytest.raises(RangeError, match="beyond any number"):
            port_voltage(1e3, 0.0, [Branch(+1, 0.0, [(1e-20, 1e-9, 0.0)])])


def _first(answer):
    return answer[0], answer[1][0]


def signal(meter=None, driver=None, more=()):
    """Supply, limit, two leads and the pair; a meter across two points."""
    source = (0, GROUND, np.array([0.5, 50.0]))
    limit = [] if driver else [(0, 1, np.array([470.0, 1e12]))]
    resistors = [source, *limit, (1, 2, 0.05), (2, 3, 0.3), (3, GROUND, 1e7), (3, 4, 0.1), (4, GROUND, 0.4), *more]
    meters = [meter] if meter else []
    return solve(5, resistors, {0: 12.0 / source[2]}, (2, 4), ANTIPARALLEL, driver, meters)


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
    found = solve(5, [*resistors, (4, GROUND, 0.4)], {0: 12.0 / source}, (2, 4), ANTIPARALLEL).voltages
    assert shown == pytest.approx((found[2] - found[3]) / 1.3, rel=1e-7)


def test_a_driver_holds_its_current_above_its_drop_out_and_is_a_resistance_below():
    """1.5 V at 10 mA: 150 ohm below; a megohm beside adds what the rest of the supply drives through it."""
    held, low = (
        solve(
            2,
            [(0, GROUND, 1.0), (1, GROUND, 1e12)],
            {0: volts},
            (1, GROUND),
            ANTIPARALLEL,
            Driver((0, 1), 150.0, 0.01, 1e6),
        )
        for volts in (12.0, 3.0)
    )
    drop = held.voltages[0] - held.voltages[1]
    assert held.currents[0] == pytest.approx(0.01 + drop / 1e6, rel=1e-9)
    assert low.currents[0] < 0.01
    assert low.currents[0] == pytest.approx((low.voltages[0] - low.voltages[1]) / 150.0, rel=1e-9)


def test_a_point_in_the_air_is_refused():
    with pytest.raises(RangeError, match="Point 1 has no way to GROUND"):
        Network(2, [(0, GROUND, 1.0)])
