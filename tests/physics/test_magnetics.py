"""Magnets: published fields, other ways to the same field, physics, and the closings of known fields."""

import mpmath
import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import integrate

from sigcalc.errors import RangeError
from sigcalc.physics.magnetics import (
    Curve,
    cylinder_field,
    last_place,
    long_coil_field,
    places_along,
)

DISC = (5e-3, 3e-3, 1.2)
sizes = st.floats(1e-3, 20e-3)
places = st.floats(-40e-3, 40e-3)


class TestPublished:
    # computed once with magpylib 6.3.0, which is also the closed form Br/2*((L+z)/hypot(R,L+z)-z/hypot(R,z)); the
    # tolerance given with them is 0.01 %
    @pytest.mark.parametrize(
        ("size", "distances", "milliteslas"),
        [
            ((3e-3, 2e-3), [1, 2, 3, 5, 8, 10], [203.8362, 81.7975, 38.0395, 11.9857, 3.6385, 2.0049]),
            ((5e-3, 3e-3), [2, 5, 8, 10, 15], [161.8393, 36.0317, 12.3917, 7.1184, 2.459]),
        ],
    )
    def test_on_the_axis(self, size, distances, milliteslas):
        found = cylinder_field(0.0, 0.0, size[1] / 2 + np.array(distances) * 1e-3, *size, 1.2)
        assert found[2] * 1e3 == pytest.approx(milliteslas, abs=5e-5)
        assert not np.any(found[:2])

    # magpylib 6.3.0, D5 x L3 mm, Br 1.20 T, axis vertical, 8 mm under its face
    def test_along_the_track_under_an_upright_magnet(self):
        along = np.array([0, 2, 4, 6, 8, 10, 15])
        field = cylinder_field(along * 1e-3, 0.0, -9.5e-3, *DISC)
        level = [0, 3.4109, 5.1929, 5.1965, 4.2784, 3.2009, 1.3716]
        upright = [12.3917, 10.9943, 7.7889, 4.563, 2.2787, 0.9533, -0.1314]
        assert np.abs(field[0]) * 1e3 == pytest.approx(level, abs=5e-5)
        assert field[2] * 1e3 == pytest.approx(upright, abs=5e-5)

    def test_peak_along_the_track(self):
        # magpylib 6.3.0: peak 5.372 mT at 4.945 mm
        along = np.linspace(4e-3, 6e-3, 2001)
        level = np.abs(cylinder_field(along, 0.0, -9.5e-3, *DISC)[0])
        assert level.max() * 1e3 == pytest.approx(5.372, abs=5e-4)
        assert along[level.argmax()] * 1e3 == pytest.approx(4.945, abs=1e-3)

    # dextermag.com, questions on sensors: 80 ampere-turns per metre develop 0.1 mT, 2 per inch 1 Oe (0.1 mT), both
    # rounded there; the third digit by mu0 * N * I / L. Tolerance given: 0.5 %
    def test_field_of_a_long_coil(self):
        turns, length = np.array([80, 2, 20]), np.array([1.0, 0.0254, 0.0254])
        assert long_coil_field(turns, length) * 1e3 == pytest.approx([0.1005, 0.0989, 0.9895], abs=5e-5)


class TestIndependent:
    """The field is magpylib's: here are other ways to it."""

    @given(sizes, sizes, st.floats(0, 0.2))
    def test_the_closed_form_on_the_axis(self, diameter, length, distance):
        radius = diameter / 2
        # Br/2*((L+z)/hypot(R,L+z)-z/hypot(R,z)), rearranged so that far away no digits are lost
        near, far = np.hypot(radius, distance), np.hypot(radius, distance + length)
        expected = 0.6 * radius**2 * (1 / (near * (near + distance)) - 1 / (far * (far + distance + length)))
        found = cylinder_field(0.0, 0.0, length / 2 + distance, diameter, length, 1.2)
        assert found[2] == pytest.approx(expected, rel=1e-8)

    @pytest.mark.parametrize(
        ("radius", "height"),
        [(1e-6, 4e-3), (2.6e-3, 0.3e-3), (4e-3, 9.5e-3), (25e-3, 1e-3), (2.5e-3, 4e-3)],
    )
    def test_the_integrals_of_derby_and_olbert(self, radius, height):
        with mpmath.workdps(30):
            radial, axial = derby_and_olbert(radius, height, 2.5e-3, 1.5e-3)
        found = cylinder_field(radius, 0.0, height, 5e-3, 3e-3, 1.0)
        size = np.hypot(radial, axial)
        assert found[0] == pytest.approx(radial, rel=1e-8 if radius < 1e-5 else 1e-11, abs=1e-11 * size)
        assert found[2] == pytest.approx(axial, rel=1e-10, abs=1e-11 * size)


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


class TestPhysics:
    def test_a_sphere_of_thin_discs_is_an_exact_dipole(self):
        # Br 1.2 T, D 5 mm, 10 mm from the centre on the axis: 2/3 Br (R/r)^3 = 12.5 mT exactly
        count, radius = 2000, 2.5e-3
        edges = np.linspace(-radius, radius, count + 1)
        middle, thick = (edges[1:] + edges[:-1]) / 2, edges[1] - edges[0]
        # each disc has its slice's mean area, so that the volume is the sphere's
        area = radius**2 - (edges[1:] ** 2 + edges[1:] * edges[:-1] + edges[:-1] ** 2) / 3
        for place in ((0, 0, 10e-3), (10e-3, 0, 0), (6e-3, 0, 8e-3), (3e-3, 0, 1e-3)):
            x, _, z = place
            found = np.sum(cylinder_field(x, 0.0, z - middle, 2 * np.sqrt(area), thick, 1.2), axis=1)
            distance = np.hypot(x, z)
            expected = 1.2 / 3 * radius**3 * (3 * np.array(place) * z / distance**2 - [0, 0, 1]) / distance**3
            assert found == pytest.approx(expected, abs=1e-3 * np.linalg.norm(expected))
        assert 2 / 3 * 1.2 * (radius / 10e-3) ** 3 == pytest.approx(12.5e-3, rel=1e-12)

    @given(x=places, y=places, z=places, scale=st.floats(0.1, 30))
    def test_symmetry_and_scale(self, x, y, z, scale):
        place = np.array([x, y, z])
        assume(abs(np.hypot(x, y) - 2.5e-3) > 1e-6)
        here = np.array(cylinder_field(*place, *DISC))
        for flipped in np.eye(3)[:2]:
            mirror = 1 - 2 * flipped
            assert np.array(cylinder_field(*(place * mirror), *DISC)) == pytest.approx(here * mirror, rel=1e-9)
        upside_down = np.array(cylinder_field(x, y, -z, *DISC))
        assert upside_down == pytest.approx(here * [-1, -1, 1], rel=1e-9, abs=1e-13)
        larger = np.array(cylinder_field(*(place * scale), 5e-3 * scale, 3e-3 * scale, 1.2))
        assert larger == pytest.approx(here, rel=1e-6, abs=1e-12)
        assert np.array(cylinder_field(*place, 5e-3, 3e-3, 0.4)) == pytest.approx(here / 3, rel=1e-12)

    def test_the_edge_itself_is_refused(self):
        for height in (1.5e-3, -1.5e-3):
            with pytest.raises(RangeError, match="the place lies on the magnet's edge"):
                cylinder_field([0.0, 2.5e-3], 0.0, height, *DISC)


GRID = np.linspace(-10.0, 10.0, 801)


def bell(x):
    return np.exp(-(x**2))


def two_lobes(x):
    return x * np.exp(-(x**2) / 2)  # peaks of exp(-1/2) at -1 and 1


def closed(field, pull_in, release, grid=GRID):
    _, start, end = Curve.through(grid, field(grid)[np.newaxis]).closed_stretches(
        np.array([pull_in]), np.array([release])
    )
    return np.column_stack([start, end])


class TestClosedStretches:
    def test_a_single_peak_closes_at_pull_in_and_opens_at_release(self):
        assert closed(bell, np.exp(-1.0), np.exp(-4.0)) == pytest.approx(np.array([[-1.0, 2.0]]), abs=1e-6)

    def test_both_signs_close_it_and_it_opens_in_between(self):
        found = closed(two_lobes, 0.5, 0.2)
        assert len(found) == 2
        assert np.abs(two_lobes(found[:, 0])) == pytest.approx(0.5, abs=1e-6)
        assert np.abs(two_lobes(found[:, 1])) == pytest.approx(0.2, abs=1e-6)
        assert found[0, 1] < 0 < found[1, 0]

    def test_it_opens_between_two_places_where_the_field_turns_round(self):
        coarse = np.linspace(-9.7, 10.0, 200)  # no place near 0: the field goes from one sign to the other in one step
        found = closed(two_lobes, 0.045, 0.045, coarse)
        assert len(found) == 2
        assert found == pytest.approx(-found[::-1, ::-1], abs=2e-4)

    def test_a_dip_that_stays_above_the_release_does_not_open_it(self):
        def saddle(x):
            return bell(x - 1.5) + bell(x + 1.5)  # 0.211 in the middle

        assert len(closed(saddle, 0.5, 0.2)) == 1
        assert len(closed(saddle, 0.5, 0.22)) == 2

    def test_no_field_never_closes_it(self):
        assert closed(np.zeros_like, 0.1, 0.05).shape == (0, 2)
        assert Curve.through(GRID, np.zeros((1, len(GRID)))).peaks() == [0.0]

    def test_rows_are_kept_apart_and_peaks_between_places_found(self):
        curve = Curve.through(GRID, np.outer([1, 2, 3], bell(GRID)))
        row, start, end = curve.closed_stretches(np.array([2.0, 1.0, 1.0]), np.array([0.5, 0.5, 0.5]))
        assert row.tolist() == [1, 2]
        assert start == pytest.approx([-np.sqrt(np.log(2)), -np.sqrt(np.log(3))], abs=1e-6)
        assert end == pytest.approx([np.sqrt(np.log(4)), np.sqrt(np.log(6))], abs=1e-6)
        assert curve.peaks() == pytest.approx([1, 2, 3], rel=1e-6)
        grid = np.linspace(-10.0, 10.0, 400)  # two neighbours equally far from the peak, as high as each other
        assert Curve.through(grid, bell(grid)[np.newaxis]).peaks() == pytest.approx([1.0], abs=1e-6)

    @pytest.mark.parametrize("field", [bell, two_lobes])
    def test_the_mean_over_a_length_is_the_mean(self, field):
        curve = Curve.through(GRID, field(GRID)[np.newaxis], 3.0)
        assert curve.places[0] >= GRID[0] + 1.5
        for place, value in zip(curve.places[::60], curve.values[0, ::60], strict=True):
            assert value == pytest.approx(integrate.quad(field, place - 1.5, place + 1.5)[0] / 3, abs=1e-8)


def test_the_last_place_above_a_level():
    def hills(x):
        return np.exp(-((x - 2) ** 2)) + 2 * np.exp(-((x - 6) ** 2))

    grid = np.linspace(1, 12, 120)
    found = last_place(grid, hills(grid), np.array([1.0, 1.5, 3.0]))
    expected = 6 + np.sqrt(np.log(np.array([2.0, 2.0 / 1.5])))
    assert found[:2] == pytest.approx(expected, abs=1e-5)
    assert np.isnan(found[2])


def test_places_reach_both_ends_and_lie_close_where_the_field_changes():
    ends, nearest = np.array([0.004, 0.009]), 1e-4
    grid = places_along(0.1, ends, nearest, 801)
    assert (grid[0], grid[-1], len(grid)) == (-0.1, 0.1, 801)
    assert (np.diff(grid) > 0).all()
    assert grid == pytest.approx(-grid[::-1], abs=1e-12)
    for place in (0.0, *ends, *-ends):
        assert np.sort(np.abs(grid - place))[2] < nearest
