"""Wire gauges, cross-sections and resistances against printed tables."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.errors import RangeError
from sigcalc.physics.copper import gauge_area, gauge_diameter, nearest_gauge, stranded_area, wire_resistance
from tests.physics.answers import anything, keeps_promise

GAUGES = np.array([20, 22, 24, 26, 28, 30, 32])
FOOT, INCH = 0.3048, 25.4e-3
CIRCULAR_MIL = np.pi / 4 * (INCH / 1000) ** 2


def test_published_diameters():
    """GNU units 2.22, wiregauge(), printed to 1e-5 mm."""
    printed = [0.81182, 0.6438, 0.51056, 0.40489, 0.32109, 0.25464, 0.20194]
    np.testing.assert_allclose(gauge_diameter(GAUGES) * 1e3, printed, atol=5e-6)


def test_published_resistance_per_thousand_feet():
    """HyperPhysics, wire gauge table, ohms per 1000 ft at 20 degC."""
    ours = wire_resistance(gauge_area(GAUGES), 1000 * FOOT)
    np.testing.assert_allclose(ours[:4], [10.15, 16.14, 25.67, 40.81], atol=0.005)
    np.testing.assert_allclose(ours[4:], [64.9, 103.2, 164.1], atol=0.05)


def test_published_metric_table():
    """HwB AWG table (formulas of the Standard Handbook for Electrical Engineers, 14th edition)."""
    printed = [0.812, 0.644, 0.511, 0.405, 0.321, 0.255, 0.202]
    np.testing.assert_allclose(gauge_diameter(GAUGES) * 1e3, printed, atol=5e-4)
    areas = gauge_area(GAUGES) * 1e6
    np.testing.assert_allclose(areas[:5], [0.518, 0.326, 0.205, 0.129, 0.081], atol=5e-4)
    np.testing.assert_allclose(areas[5:], [0.0509, 0.0320], atol=5e-5)
    per_kilometre = wire_resistance(gauge_area(GAUGES), 1000)
    np.testing.assert_allclose(per_kilometre[:3], [33.3, 53.0, 84.2], atol=0.05)
    np.testing.assert_allclose(per_kilometre[3:], [134, 213, 339, 538], atol=0.5)


def test_published_circular_mils():
    """Kuphaldt, Lessons in Electric Circuits vol. I ch. 12. 22 AWG is printed 642.5, its last digit one too high."""
    printed = np.array([1022, 642.5, 404.0, 254.1, 159.8, 100.5, 63.21])
    off = np.array([0.5, 0.1, 0.05, 0.05, 0.05, 0.05, 0.005])
    assert (np.abs(gauge_area(GAUGES) / CIRCULAR_MIL - printed) <= off).all()
    inches = [0.03196, 0.02535, 0.02010, 0.01594, 0.01264, 0.01003, 0.00795]
    np.testing.assert_allclose(gauge_diameter(GAUGES) / INCH, inches, atol=5e-6)


def test_published_annealed_copper():
    """IEC 60028 (1925), summary at tnlab.org: 0.017241 ohm mm2/m, 58 MS/m, 0.393 % a kelvin.

    Its 0.15328 ohm g/m2 are the first figure before rounding, times the density of 8.89 g/cm3.
    """
    assert wire_resistance(1e-6, 1) == pytest.approx(0.017241, abs=5e-7)
    assert 1 / wire_resistance(1e-6, 1) == pytest.approx(58, abs=0.05)
    assert wire_resistance(1e-6, 1) * 8.89 == pytest.approx(0.15328, abs=1e-5)
    assert wire_resistance(1e-6, 1, 293.15 + 100) / wire_resistance(1e-6, 1) == pytest.approx(1.393, abs=5e-4)


def test_published_long_run_in_circular_mils():
    """Kuphaldt, vol. I ch. 12 "Specific resistance": 10.09 ohm cmil/ft, 2300 ft, 4107 cmil; loop and short at 230 V."""
    rho = 10.09 * CIRCULAR_MIL / FOOT
    one_way = wire_resistance(4107 * CIRCULAR_MIL, 2300 * FOOT, resistivity=rho)
    assert one_way == pytest.approx(5.651, abs=5e-4)
    assert 2 * one_way == pytest.approx(11.301, abs=5e-4)
    assert 230 / (2 * one_way) == pytest.approx(20.352, abs=5e-4)


def test_published_strands():
    """Grob's Basic Electronics, ex. 11-2: 16 strands of 27 AWG (201.5 cmil each) are 3224 cmil, the area of 15 AWG."""
    strand = np.sqrt(201.5) * INCH / 1000
    assert stranded_area(16, strand) / CIRCULAR_MIL == pytest.approx(3224, abs=0.5)
    assert nearest_gauge(stranded_area(16, strand)) == 15


def test_published_field_in_a_wire():
    """OpenStax University Physics vol. 2, m58731: 12 AWG, 2.053 mm, 5 m, 10 mA, with its own rho of 1.68e-8."""
    area = stranded_area(1, 2.053e-3)
    assert area * 1e6 == pytest.approx(3.31, abs=0.005)
    resistance = wire_resistance(area, 5, resistivity=1.68e-8)
    assert resistance == pytest.approx(0.025, abs=5e-4)
    assert 10e-3 / area == pytest.approx(3020, abs=5)
    assert 10e-3 * resistance / 5 == pytest.approx(5.07e-5, rel=0.01)  # printed from rounded figures
    assert gauge_diameter(12) == pytest.approx(2.053e-3, abs=5e-7)


def test_four_aught_and_thirty_six():
    """ASTM B258 defines 4/0 as 0.46 in and 36 AWG as 0.005 in."""
    assert gauge_diameter([-3, 36]) == pytest.approx([0.46 * INCH, 0.005 * INCH])


def test_gauge_of_its_own_area():
    gauges = np.arange(-3, 57)
    np.testing.assert_array_equal(nearest_gauge(gauge_area(gauges)), gauges)


@given(st.floats(-3, 56))
def test_the_nearest_gauge_is_at_most_half_a_gauge_off(gauge):
    assert abs(nearest_gauge(gauge_area(gauge)) - gauge) <= 0.5 + 1e-9


@given(st.floats(1e-9, 1e-4), st.floats(0.1, 1e3), st.floats(230, 400))
def test_wires_in_series_and_parallel(area, length, temperature):
    one = wire_resistance(area, length, temperature)
    assert wire_resistance(area, 2 * length, temperature) == pytest.approx(2 * one)
    assert wire_resistance(2 * area, length, temperature) == pytest.approx(one / 2)
    assert wire_resistance(area, length, temperature + 1) > one


def test_degrees_celsius_are_refused():
    with pytest.raises(RangeError, match=r"temperature needs to be 200 to 450 K; you gave 20; add 273\.15"):
        wire_resistance(1e-6, 1, 20)


def test_shapes_broadcast():
    assert wire_resistance(np.full((4, 1, 1), 1e-6), np.ones((3, 1)), np.full(2, 300.0)).shape == (4, 3, 2)
    assert stranded_area(np.array([[7], [19]]), np.array([1e-4, 2e-4])).shape == (2, 2)


@given(anything(-3, 56), anything(1e-8, 1e-4), anything(0, 1e3), anything(200, 450))
def test_every_function_keeps_the_promise(gauge, area, length, temperature):
    assert keeps_promise(gauge_diameter, gauge)
    assert keeps_promise(gauge_area, gauge)
    assert keeps_promise(nearest_gauge, area)
    assert keeps_promise(stranded_area, gauge, area)
    assert keeps_promise(wire_resistance, area, length, temperature, area)
