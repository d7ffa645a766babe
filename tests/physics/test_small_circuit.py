"""Small circuits point by point: textbook cases, numpy's dense solver, exact fractions and the laws of circuits.

Published cases: T. R. Kuphaldt, Lessons in Electric Circuits vol. I (DC), read at
github.com/vikdotdev/lessons-in-electric-circuits; the tolerance is half the last printed digit.
"""

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.errors import RangeError
from sigcalc.physics.small_circuit import GROUND, SmallCircuit

OPEN, WIRE = 1e15, 1e-9


class TestPublished:
    def test_a_meter_across_a_divider(self):
        """ch. 8 "Voltmeter impact": 24 V on two 250 megohm, 12 V each; a 10 megohm meter shows 0.8889 V."""
        source = 1e-3
        bare = [(0, GROUND, source), (0, 1, 250e6), (1, GROUND, 250e6)]
        assert SmallCircuit(2, bare).voltages({0: 24.0 / source})[1] == pytest.approx(12.0, abs=1e-6)
        upper, lower = SmallCircuit(2, [*bare, (1, GROUND, 10e6)]).voltages({0: 24.0 / source})
        assert lower == pytest.approx(0.8889, abs=5e-5)
        assert upper - lower == pytest.approx(23.1111, abs=5e-5)

    @pytest.mark.parametrize(("meter_in", "milliamperes", "half_digit"), [(3.0, 571.43, 0.005), (1.5, 1000.0, 0.5)])
    def test_an_ammeter_in_a_branch(self, meter_in, milliamperes, half_digit):
        """ch. 8 "Ammeter impact": 666.7 mA in 3 ohm, 1.33 A in 1.5 ohm; a meter of 0.5 ohm lowers its own branch's."""
        volts = 0.6667 * 3.0  # 2 V, from the printed current
        circuit = SmallCircuit(2, [(0, GROUND, 1e-6), (0, 1, 0.5), (1, GROUND, meter_in)])
        across = circuit.voltages({0: round(volts) / 1e-6})
        assert across[1] / meter_in * 1e3 == pytest.approx(milliamperes, abs=half_digit)

    def test_a_shunt_reads_a_current(self):
        """ch. 8 "Ammeter design": 12 V through 1 ohm and 15 kohm; the shunt shows 7.999E-04 V."""
        first, second = SmallCircuit(2, [(0, GROUND, 1e-6), (0, 1, 1.0), (1, GROUND, 15e3)]).voltages({0: 12.0 / 1e-6})
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
        volts = SmallCircuit(3, chain).voltages({0: 9.0 / source})
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
    found = np.array(SmallCircuit(points, resistors).voltages(currents))
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
    found = SmallCircuit(3, resistors).voltages({0: current})
    assert found == pytest.approx([float(each) for each in exact], rel=1e-14)
    assert float(exact[1] - exact[2]) == pytest.approx(6e-13 * 1, rel=1e-3)  # what would be lost


@given(st.integers(0, 10_000))
def test_power_put_in_is_power_turned_to_heat(seed):
    """Tellegen: the injected power equals the heat in all resistors."""
    random = np.random.default_rng(seed)
    points = int(random.integers(2, 8))
    resistors = random_network(random, points)
    currents = {point: random.uniform(0, 1, 5) for point in range(points)}
    volts = [*SmallCircuit(points, resistors).voltages(currents), np.zeros(5)]  # GROUND is the last, index -1
    put_in = sum(currents[point] * volts[point] for point in range(points))
    heat = sum((volts[one] - volts[other]) ** 2 / ohms for one, other, ohms in resistors)
    assert heat == pytest.approx(put_in, rel=1e-6)


def test_a_port_answers_for_any_current():
    random = np.random.default_rng(7)
    resistors = random_network(random, 6)
    circuit = SmallCircuit(6, resistors)
    port = circuit.port({0: 0.3}, 2, 4)
    drawn = 0.01
    whole = circuit.voltages({0: 0.3, 2: -drawn, 4: drawn})
    assert np.array(port.voltages(drawn)) == pytest.approx(np.array(whole), rel=1e-9, abs=1e-9)
    assert whole[2] - whole[4] == pytest.approx(port.voltage - drawn * port.resistance, rel=1e-9, abs=1e-9)
    assert np.all(port.resistance > 0)


def test_samples_of_any_shape():
    ohms = np.array([[100.0], [200.0]])
    volts = SmallCircuit(1, [(0, GROUND, ohms), (0, GROUND, np.array([100.0, 200.0, 300.0]))]).voltages({0: 1.0})[0]
    assert volts.shape == (2, 3)
    assert volts[1, 2] == pytest.approx(120.0)


@pytest.mark.parametrize(
    ("points", "resistors", "said"),
    [
        (2, [(0, GROUND, 1.0)], "Point 1 hangs in the air"),
        (1, [(0, GROUND, 0.0)], "resistance needs to be 1e-09 to 1e+18 ohm; you gave 0"),
        (1, [(0, GROUND, np.nan)], "resistance needs to be"),
        (1, [(0, 3, 1.0)], "There is no point 3; the points are 0 to 0"),
    ],
)
def test_refusals(points, resistors, said):
    with pytest.raises(RangeError, match=said.replace("+", r"\+")):
        SmallCircuit(points, resistors)
