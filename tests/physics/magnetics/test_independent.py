"""The fields against magpylib, which works them out by other formulas, and against high-precision integrals."""

import magpylib
import mpmath
import numpy as np
import pytest

from sigcalc.physics.magnetics import bar_field, cylinder_field

REMANENCE = 1.2
RANDOM = np.random.default_rng(20)
AROUND = RANDOM.uniform(-12e-3, 12e-3, (3, 4000))


def magpylib_field(shape, dimension, places):
    magnet = shape(dimension=dimension, polarization=(0, 0, REMANENCE))
    return magnet.getB(np.transpose(places)).T


@pytest.mark.parametrize("size", [(5e-3, 3e-3), (3e-3, 2e-3), (10e-3, 1e-3), (2e-3, 12e-3)])
def test_disc_on_and_off_the_axis_inside_and_outside(size):
    found = np.array(cylinder_field(*AROUND, *size, REMANENCE))
    assert found == pytest.approx(magpylib_field(magpylib.magnet.Cylinder, size, AROUND), rel=1e-10, abs=1e-13)


@pytest.mark.parametrize("size", [(5e-3, 3e-3, 8e-3), (10e-3, 5e-3, 2e-3), (4e-3, 4e-3, 4e-3)])
def test_bar_inside_and_outside(size):
    found = np.array(bar_field(*AROUND, *size, REMANENCE))
    assert found == pytest.approx(magpylib_field(magpylib.magnet.Cuboid, size, AROUND), rel=1e-10, abs=1e-13)


def test_disc_close_to_its_edge():
    angle = RANDOM.uniform(0, 2 * np.pi, 400)
    away = 10 ** RANDOM.uniform(-8, -4, 400)
    radius, height = 2.5e-3 + away * np.cos(angle), 1.5e-3 + away * np.sin(angle)
    places = np.array([radius, np.zeros(400), height])
    found = np.array(cylinder_field(*places, 5e-3, 3e-3, REMANENCE))
    assert found == pytest.approx(magpylib_field(magpylib.magnet.Cylinder, (5e-3, 3e-3), places), rel=1e-8, abs=1e-9)


def derby_and_olbert(radius, height, a, b):
    """Radial and axial field from the paper's generalised integral, summed numerically with 30 digits, for Br = 1 T."""

    def integral(kc, p, c, s):
        def inner(phi):
            cos, sin = mpmath.cos(phi) ** 2, mpmath.sin(phi) ** 2
            return (c * cos + s * sin) / ((cos + p * sin) * mpmath.sqrt(cos + kc**2 * sin))

        return mpmath.quad(inner, mpmath.linspace(0, mpmath.pi / 2, 9))

    radius, height, a, b = (mpmath.mpf(each) for each in (radius, height, a, b))
    gamma = (a - radius) / (a + radius)
    radial = axial = 0
    for sign, z in ((1, height + b), (-1, height - b)):
        far = mpmath.sqrt(z**2 + (radius + a) ** 2)
        kc = mpmath.sqrt(z**2 + (a - radius) ** 2) / far
        radial += sign * a / far * integral(kc, 1, 1, -1)
        axial += sign * a / (a + radius) * z / far * integral(kc, gamma**2, 1, gamma)
    return float(radial / mpmath.pi), float(axial / mpmath.pi)


@pytest.mark.parametrize(
    ("radius", "height"),
    [(1e-6, 4e-3), (1e-3, 2e-3), (2.6e-3, 0.3e-3), (4e-3, 9.5e-3), (25e-3, 1e-3), (30e-3, 20e-3), (2.5e-3, 4e-3)],
)
def test_disc_against_the_integrals_of_the_paper(radius, height):
    with mpmath.workdps(30):
        radial, axial = derby_and_olbert(radius, height, 2.5e-3, 1.5e-3)
    found = cylinder_field(radius, 0.0, height, 5e-3, 3e-3, 1.0)
    size = np.hypot(radial, axial)
    assert found[0] == pytest.approx(radial, rel=1e-8 if radius < 1e-5 else 1e-11, abs=1e-11 * size)
    assert found[2] == pytest.approx(axial, rel=1e-10, abs=1e-11 * size)


def test_digits_near_the_axis_are_kept():
    # the slope of the radial field on the axis follows from the axial one: dBr/dr = -dBz/dz / 2
    height, step, near = 4e-3, 1e-6, 1e-11
    along = [cylinder_field(0.0, 0.0, height + side * step, 5e-3, 3e-3, 1.0)[2] for side in (-1, 1)]
    slope = cylinder_field(near, 0.0, height, 5e-3, 3e-3, 1.0)[0] / near
    assert slope == pytest.approx(-(along[1] - along[0]) / (4 * step), rel=1e-6)
