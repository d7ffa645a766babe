"""Printed fields of disc magnets, and test-coil arithmetic."""

import numpy as np
import pytest

from sigcalc.physics.magnetics import axial_field, cylinder_field, long_coil_field

REMANENCE = 1.2  # T


# computed once with magpylib 6.3.0, which is also the closed form Br/2*((L+z)/hypot(R,L+z)-z/hypot(R,z)); the tolerance
# given with them is 0.01 %
@pytest.mark.parametrize(
    ("diameter", "length", "distance", "millitesla"),
    [
        *(
            (3, 2, *each)
            for each in [(1, 203.8362), (2, 81.7975), (3, 38.0395), (5, 11.9857), (8, 3.6385), (10, 2.0049)]
        ),
        *((5, 3, *each) for each in [(2, 161.8393), (5, 36.0317), (8, 12.3917), (10, 7.1184), (15, 2.459)]),
    ],
)
def test_on_the_axis(diameter, length, distance, millitesla):
    size = (diameter * 1e-3, length * 1e-3)
    found = axial_field(distance * 1e-3, *size, REMANENCE)
    assert found * 1e3 == pytest.approx(millitesla, abs=5e-5)
    off_axis = cylinder_field(0.0, 0.0, size[1] / 2 + distance * 1e-3, *size, REMANENCE)
    assert off_axis[2] == pytest.approx(found, rel=1e-13)
    assert off_axis[:2] == (0, 0)


# magpylib 6.3.0, D5 x L3 mm, Br 1.20 T, axis vertical, 8 mm under its face
@pytest.mark.parametrize(
    ("along", "level", "upright"),
    [
        (0, 0, 12.3917),
        (2, 3.4109, 10.9943),
        (4, 5.1929, 7.7889),
        (6, 5.1965, 4.563),
        (8, 4.2784, 2.2787),
        (10, 3.2009, 0.9533),
        (15, 1.3716, -0.1314),
    ],
)
def test_along_the_track_under_an_upright_magnet(along, level, upright):
    field = cylinder_field(along * 1e-3, 0.0, -9.5e-3, 5e-3, 3e-3, REMANENCE)
    assert abs(field[0]) * 1e3 == pytest.approx(level, abs=5e-5)
    assert field[2] * 1e3 == pytest.approx(upright, abs=5e-5)


def test_peak_along_the_track():
    # magpylib 6.3.0: peak 5.372 mT at 4.945 mm
    along = np.linspace(4e-3, 6e-3, 2001)
    level = np.abs(cylinder_field(along, 0.0, -9.5e-3, 5e-3, 3e-3, REMANENCE)[0])
    assert level.max() * 1e3 == pytest.approx(5.372, abs=5e-4)
    assert along[level.argmax()] * 1e3 == pytest.approx(4.945, abs=1e-3)


# dextermag.com, questions on sensors: 80 ampere-turns per metre develop 0.1 mT, 2 per inch 1 Oe (0.1 mT), both rounded
# there; the third digit by mu0 * N * I / L. Tolerance given: 0.5 %
@pytest.mark.parametrize(
    ("ampere_turns", "length", "millitesla"), [(80, 1.0, 0.1005), (2, 0.0254, 0.0989), (20, 0.0254, 0.9895)]
)
def test_field_of_a_long_coil(ampere_turns, length, millitesla):
    assert long_coil_field(ampere_turns, length) * 1e3 == pytest.approx(millitesla, abs=5e-5)
