"""Copper: gauges and resistances against printed tables; wires through a hole against published ratios."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize

from sigcalc.errors import RangeError
from sigcalc.physics.copper import (
    MOST_WIRES,
    enclosing_ratio,
    gauge_area,
    gauge_diameter,
    stranded_area,
    wire_resistance,
)

# ---- copper

GAUGES = np.array([20, 22, 24, 26, 28, 30, 32])
FOOT, INCH = 0.3048, 25.4e-3
CIRCULAR_MIL = np.pi / 4 * (INCH / 1000) ** 2


def test_published_diameters_areas_and_resistances():
    """GNU units 2.22, wiregauge(), printed to 1e-5 mm; HyperPhysics, wire gauge table, ohms per 1000 ft at 20 degC.

    HwB AWG table (formulas of the Standard Handbook for Electrical Engineers, 14th edition) for the metric figures.
    """
    printed = [0.81182, 0.6438, 0.51056, 0.40489, 0.32109, 0.25464, 0.20194]
    np.testing.assert_allclose(gauge_diameter(GAUGES) * 1e3, printed, atol=5e-6)
    areas, per_kilometre = gauge_area(GAUGES) * 1e6, wire_resistance(gauge_area(GAUGES), 1000)
    np.testing.assert_allclose(areas[:5], [0.518, 0.326, 0.205, 0.129, 0.081], atol=5e-4)
    np.testing.assert_allclose(areas[5:], [0.0509, 0.0320], atol=5e-5)
    np.testing.assert_allclose(per_kilometre[:3], [33.3, 53.0, 84.2], atol=0.05)
    np.testing.assert_allclose(per_kilometre[3:], [134, 213, 339, 538], atol=0.5)
    np.testing.assert_allclose(per_kilometre[:4] * FOOT, [10.15, 16.14, 25.67, 40.81], atol=0.005)
    np.testing.assert_allclose(per_kilometre[4:] * FOOT, [64.9, 103.2, 164.1], atol=0.05)


def test_published_circular_mils():
    """Kuphaldt, Lessons in Electric Circuits vol. I ch. 12. 22 AWG is printed 642.5, its last digit one too high."""
    printed = np.array([1022, 642.5, 404.0, 254.1, 159.8, 100.5, 63.21])
    off = np.array([0.5, 0.1, 0.05, 0.05, 0.05, 0.05, 0.005])
    assert (np.abs(gauge_area(GAUGES) / CIRCULAR_MIL - printed) <= off).all()
    assert gauge_diameter([-3, 36]) == pytest.approx([0.46 * INCH, 0.005 * INCH])  # ASTM B258: 4/0 and 36 AWG
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


def test_published_strands():
    """Grob's Basic Electronics, ex. 11-2: 16 strands of 27 AWG (201.5 cmil each) are 3224 cmil, the area of 15 AWG."""
    strand = np.sqrt(201.5) * INCH / 1000
    assert stranded_area(16, strand) / CIRCULAR_MIL == pytest.approx(3224, abs=0.5)
    assert stranded_area(16, strand) == pytest.approx(gauge_area(15), rel=0.11)  # half a gauge


def test_published_field_in_a_wire():
    """OpenStax University Physics vol. 2, m58731: 12 AWG, 2.053 mm, 5 m, 10 mA, with its own rho of 1.68e-8."""
    area = stranded_area(1, 2.053e-3)
    assert area * 1e6 == pytest.approx(3.31, abs=0.005)
    resistance = wire_resistance(area, 5, resistivity=1.68e-8)
    assert resistance == pytest.approx(0.025, abs=5e-4)
    assert 10e-3 / area == pytest.approx(3020, abs=5)
    assert 10e-3 * resistance / 5 == pytest.approx(5.07e-5, rel=0.01)  # printed from rounded figures
    assert gauge_diameter(12) == pytest.approx(2.053e-3, abs=5e-7)


@given(st.floats(1e-9, 1e-4), st.floats(0.1, 1e3), st.floats(230, 400))
def test_wires_in_series_and_parallel(area, length, temperature):
    one = wire_resistance(area, length, temperature)
    assert wire_resistance(area, 2 * length, temperature) == pytest.approx(2 * one)
    assert wire_resistance(2 * area, length, temperature) == pytest.approx(one / 2)
    assert wire_resistance(area, length, temperature + 1) > one


# ---- bundles

# Wikipedia, "Circle packing in a circle", table for 1 to 20, four digits; cut off, not rounded, where marked "..."
PUBLISHED = {1: 1, 2: 2, 4: 2.414, 5: 2.701, 6: 3, 7: 3, 8: 3.304, 9: 3.613, 10: 3.813, 11: 3.923, 12: 4.029}
PUBLISHED |= {13: 4.236, 14: 4.328, 15: 4.521, 16: 4.615, 17: 4.792, 18: 4.863, 19: 4.863, 20: 5.122}


@pytest.mark.parametrize(("count", "printed"), PUBLISHED.items())
def test_published_ratios(count, printed):
    assert printed <= enclosing_ratio(count) < printed + 0.001
    assert enclosing_ratio(3) == pytest.approx(2.155, abs=5e-4)  # this one is rounded


def tightest(count, starts, enough=0.0, seed=5):
    """The smallest enclosing ratio that a local optimisation finds from random starts, or one below `enough`."""
    random = np.random.default_rng(seed)
    first, second = np.triu_indices(count, 1)

    def room(unknowns):
        places = unknowns[:-1].reshape(count, 2)
        apart = ((places[first] - places[second]) ** 2).sum(axis=1) - 4
        return np.concatenate([apart, (unknowns[-1] - 1) ** 2 - (places**2).sum(axis=1)])

    found = [np.inf]
    for _ in range(starts):
        start = np.append(random.normal(size=2 * count) * 0.8 * np.sqrt(count), 1.8 * np.sqrt(count) + 1)
        result = minimize(
            lambda unknowns: unknowns[-1],
            start,
            bounds=[(None, None)] * (2 * count) + [(1, None)],
            constraints={"type": "ineq", "fun": room},
            method="SLSQP",
            options={"maxiter": 300, "ftol": 1e-13},
        )
        if result.success and room(result.x).min() > -1e-8:
            found.append(result.x[-1])
            if found[-1] < enough:
                break
    return min(found)


@pytest.mark.parametrize("count", [*range(2, 8), 10, 12, 14, 16, 17, 20])
def test_independent_search(count):
    """The ratio is reached, and for few wires nothing tighter is found; for more the table proves the first digits."""
    ratio = enclosing_ratio(count)
    found = tightest(count, 25) if count < 8 else tightest(count, 200, ratio + 1e-7)
    assert found == pytest.approx(ratio, abs=1e-7)


def test_a_thicker_bundle_never_has_fewer_wires_and_none_is_denser_than_circles_can_lie():
    """Thue: equal circles fill at most pi / sqrt(12) of the plane; in a round hole, from two on, less."""
    counts = np.arange(2, MOST_WIRES + 1)
    assert (np.diff(enclosing_ratio(np.arange(1, MOST_WIRES + 1))) >= 0).all()
    assert (counts / enclosing_ratio(counts) ** 2 < np.pi / np.sqrt(12)).all()


@pytest.mark.parametrize("count", [0, 21, 2.5])
def test_counts_without_a_ratio(count):
    with pytest.raises(RangeError, match="use more holes"):
        enclosing_ratio(count)
