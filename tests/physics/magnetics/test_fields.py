"""Physics that any magnet's field must obey, whatever the formula."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sigcalc.errors import RangeError
from sigcalc.physics.magnetics import (
    axial_field,
    bar_field,
    bar_potential,
    cylinder_field,
    cylinder_potential,
    long_coil_field,
    remanence_at,
)

DISC = (5e-3, 3e-3, 1.2)
BAR = (6e-3, 4e-3, 9e-3, 1.2)
SHAPES = [
    pytest.param(cylinder_field, cylinder_potential, DISC, id="disc"),
    pytest.param(bar_field, bar_potential, BAR, id="bar"),
]
FIELDS = [pytest.param(each.values[0], each.values[2], id=each.id) for each in SHAPES]
NODES, WEIGHTS = np.polynomial.legendre.leggauss(40)
sizes = st.floats(1e-3, 20e-3)
places = st.floats(-40e-3, 40e-3)


def flux_out_of_a_box(field, magnet, low, high):
    """Outward flux (Wb) of the field through the six faces of a box."""
    low, high = np.array(low), np.array(high)
    total = 0.0
    for axis in range(3):
        one, two = (each for each in range(3) if each != axis)
        u, v = ((high[k] - low[k]) / 2 * NODES + (high[k] + low[k]) / 2 for k in (one, two))
        area = np.outer(WEIGHTS, WEIGHTS) * (high[one] - low[one]) * (high[two] - low[two]) / 4
        for sign, level in ((-1, low[axis]), (1, high[axis])):
            place = [None] * 3
            place[axis], place[one], place[two] = np.full((40, 40), level), *np.meshgrid(u, v, indexing="ij")
            total += sign * np.sum(area * field(*place, *magnet)[axis])
    return total


@pytest.mark.parametrize(("field", "magnet"), FIELDS)
@pytest.mark.parametrize(
    ("low", "high"),
    [
        ((-8e-3, -7e-3, -9e-3), (9e-3, 8e-3, 11e-3)),  # around the magnet
        ((5e-3, 3e-3, 2e-3), (9e-3, 8e-3, 11e-3)),  # beside it
        ((-5e-3, -5e-3, 6e-3), (5e-3, 5e-3, 9e-3)),  # over its pole
    ],
)
def test_no_flux_leaves_a_closed_surface(field, magnet, low, high):
    scale = np.abs(field(*high, *magnet)[2]) * np.prod(np.subtract(high, low)) ** (2 / 3)
    assert flux_out_of_a_box(field, magnet, low, high) == pytest.approx(0, abs=1e-6 * scale)


@pytest.mark.parametrize(("field", "potential", "magnet"), SHAPES)
def test_flux_density_is_the_fall_of_the_potential(field, potential, magnet):
    place = np.array([7e-3, -5e-3, 6e-3])
    step = 1e-6
    for axis in range(3):
        beside = np.eye(3)[axis] * step
        fall = (potential(*(place - beside), *magnet) - potential(*(place + beside), *magnet)) / (2 * step)
        assert fall == pytest.approx(field(*place, *magnet)[axis], rel=1e-6)


@pytest.mark.parametrize(("field", "potential", "magnet"), SHAPES)
@pytest.mark.parametrize("axis", [0, 1, 2])
def test_mean_along_a_line_by_potential_and_by_summing(field, potential, magnet, axis):
    length, place = 10e-3, [4e-3, 3.5e-3, 9e-3]
    place[axis] = 8e-3
    line = [np.full(40, each) for each in place]
    line[axis] = place[axis] + length / 2 * NODES
    summed = np.sum(WEIGHTS * field(*line, *magnet)[axis]) / 2
    ends = [list(place), list(place)]
    ends[0][axis], ends[1][axis] = place[axis] - length / 2, place[axis] + length / 2
    assert (potential(*ends[0], *magnet) - potential(*ends[1], *magnet)) / length == pytest.approx(summed, rel=1e-8)


@pytest.mark.parametrize(("field", "potential", "magnet"), SHAPES)
def test_far_away_it_is_a_dipole(field, potential, magnet):
    volume = np.pi / 4 * magnet[0] ** 2 * magnet[1] if len(magnet) == 3 else np.prod(magnet[:3])
    moment = magnet[-1] * volume / (4 * np.pi)  # mu0 m / (4 pi)
    for direction in np.random.default_rng(4).normal(size=(20, 3)):
        unit = direction / np.linalg.norm(direction)
        for distance, close in ((0.1, 1e-2), (0.5, 4e-4)):
            expected = moment * (3 * unit * unit[2] - [0, 0, 1]) / distance**3
            found = np.array(field(*(unit * distance), *magnet))
            assert np.linalg.norm(found - expected) < close * np.linalg.norm(expected)
            assert potential(*(unit * distance), *magnet) == pytest.approx(moment * unit[2] / distance**2, rel=close)


def test_a_sphere_of_thin_discs_is_an_exact_dipole():
    # Br 1.2 T, D 5 mm, 10 mm from the centre on the axis: 2/3 Br (R/r)^3 = 12.5 mT exactly (magpylib 6.3.0 agrees)
    count, radius = 2000, 2.5e-3
    edges = np.linspace(-radius, radius, count + 1)
    middle, thick = (edges[1:] + edges[:-1]) / 2, edges[1] - edges[0]
    # each disc has its slice's mean area, so that the volume is the sphere's
    area = radius**2 - (edges[1:] ** 2 + edges[1:] * edges[:-1] + edges[:-1] ** 2) / 3
    for place in ((0, 0, 10e-3), (10e-3, 0, 0), (6e-3, 0, 8e-3), (3e-3, 0, 1e-3)):
        x, _, z = place
        found = np.sum(cylinder_field(x, 0.0, z - middle, 2 * np.sqrt(area), max(thick, 1e-5), 1.2), axis=1)
        found *= thick / max(thick, 1e-5)
        distance = np.hypot(x, z)
        expected = 1.2 / 3 * radius**3 * (3 * np.array(place) * z / distance**2 - [0, 0, 1]) / distance**3
        assert found == pytest.approx(expected, abs=1e-3 * np.linalg.norm(expected))
    assert 2 / 3 * 1.2 * (radius / 10e-3) ** 3 == pytest.approx(12.5e-3, rel=1e-12)


@given(sizes, sizes, places, places, places)
def test_two_half_discs_make_the_whole(diameter, length, x, y, z):
    assume(min(abs(abs(z) - length / 2), abs(z)) > 1e-6)
    whole = np.array(cylinder_field(x, y, z, diameter, length, 1.2))
    halves = [cylinder_field(x, y, z + side * length / 4, diameter, length / 2, 1.2) for side in (-1, 1)]
    assert np.sum(halves, axis=0) == pytest.approx(whole, rel=1e-7, abs=1e-12)


@given(sizes, sizes, sizes, places, places, places)
def test_two_half_bars_make_the_whole(width, thickness, length, x, y, z):
    assume(min(abs(abs(x) - width / 2), abs(x), abs(abs(y) - thickness / 2)) > 1e-6)
    whole = np.array(bar_field(x, y, z, width, thickness, length, 1.2))
    halves = [bar_field(x + side * width / 4, y, z, width / 2, thickness, length, 1.2) for side in (-1, 1)]
    assert np.sum(halves, axis=0) == pytest.approx(whole, rel=1e-7, abs=1e-12)


@pytest.mark.parametrize(("field", "magnet"), FIELDS)
@given(x=places, y=places, z=places, scale=st.floats(0.1, 30))
def test_symmetry_and_scale(field, magnet, x, y, z, scale):
    place = np.array([x, y, z])
    lengths = magnet[:-1]
    assume(all(abs(abs(each) - side / 2) > 1e-6 for each in (*place, np.hypot(x, y)) for side in lengths))
    here = np.array(field(*place, *magnet))
    for flipped in np.eye(3)[:2]:
        mirror = 1 - 2 * flipped
        assert np.array(field(*(place * mirror), *magnet)) == pytest.approx(here * mirror, rel=1e-9, abs=1e-15)
    upside_down = np.array(field(x, y, -z, *magnet))
    assert upside_down == pytest.approx(here * [-1, -1, 1], rel=1e-9, abs=1e-15)
    larger = np.array(field(*(place * scale), *(scale * each for each in lengths), magnet[-1]))
    assert larger == pytest.approx(here, rel=1e-6, abs=1e-12)
    weaker = np.array(field(*place, *lengths, magnet[-1] / 3))
    assert weaker == pytest.approx(here / 3, rel=1e-12)


def test_a_long_rod_has_the_field_of_one_pole():
    # the flux that leaves one end is the remanence times the end's area
    area = np.pi / 4 * 2e-3**2
    for distance in (20e-3, 40e-3):
        expected = 1.2 * area / (4 * np.pi * distance**2)
        assert axial_field(distance, 2e-3, 5.0, 1.2) == pytest.approx(expected, rel=3e-3)


def test_a_square_bar_and_a_disc_of_its_area_agree_at_a_distance():
    bar = bar_field(0.0, 0.0, 20e-3, 5e-3, 5e-3, 3e-3, 1.2)[2]
    disc = cylinder_field(0.0, 0.0, 20e-3, 5e-3 * 2 / np.sqrt(np.pi), 3e-3, 1.2)[2]
    assert bar == pytest.approx(disc, rel=2e-3)


class TestSurfaces:
    def test_normal_flux_density_is_continuous(self):
        side = [cylinder_field(2.5e-3 + each, 0.0, 0.4e-3, *DISC)[0] for each in (-1e-9, 0.0, 1e-9)]
        assert side == pytest.approx([side[1]] * 3, rel=1e-5)
        pole = [bar_field(1e-3, 0.5e-3, 4.5e-3 + each, *BAR)[2] for each in (-1e-9, 0.0, 1e-9)]
        assert pole == pytest.approx([pole[1]] * 3, rel=1e-5)

    def test_on_the_side_it_is_the_value_just_outside(self):
        assert cylinder_field(2.5e-3, 0.0, 0.4e-3, *DISC)[2] == pytest.approx(
            cylinder_field(2.5e-3 + 1e-10, 0.0, 0.4e-3, *DISC)[2], rel=1e-5
        )
        assert bar_field(3e-3, 0.5e-3, 0.4e-3, *BAR)[2] == pytest.approx(
            bar_field(3e-3 + 1e-10, 0.5e-3, 0.4e-3, *BAR)[2], rel=1e-5
        )

    def test_lines_and_planes_of_the_faces_are_no_exception(self):
        for place in ((3e-3, 2e-3, 8e-3), (3e-3, 5e-3, 4.5e-3), (8e-3, 2e-3, 4.5e-3), (3e-3, 5e-3, 1e-3)):
            beside = np.array(bar_field(*(np.array(place) + 1e-9), *BAR))
            assert np.array(bar_field(*place, *BAR)) == pytest.approx(beside, rel=1e-5)
        for place in ((2.5e-3, 0.0, 6e-3), (4e-3, 0.0, 1.5e-3)):
            beside = np.array(cylinder_field(*np.add(place, [1e-9, 0, 1e-9]), *DISC))
            assert np.array(cylinder_field(*place, *DISC)) == pytest.approx(beside, rel=1e-5)

    @pytest.mark.parametrize(
        ("field", "place", "magnet"),
        [
            (cylinder_field, (2.5e-3, 0.0, 1.5e-3), DISC),
            (cylinder_potential, (0.0, -2.5e-3, -1.5e-3), DISC),
            (bar_field, (3e-3, 2e-3, 1e-3), BAR),
            (bar_field, (-3e-3, 1e-3, 4.5e-3), BAR),
            (bar_field, (3e-3, 2e-3, 4.5e-3), BAR),
            (bar_potential, (1e-3, 2e-3, -4.5e-3), BAR),
        ],
    )
    def test_the_edge_itself_is_refused(self, field, place, magnet):
        with pytest.raises(RangeError, match="must not lie on the magnet's edge"):
            field(*place, *magnet)


def test_arrays_broadcast():
    x, z = np.linspace(-1e-2, 1e-2, 5), np.array([[8e-3], [9e-3]])
    for each in cylinder_field(x, 0.0, z, *DISC):
        assert each.shape == (2, 5)
    assert bar_potential(x, 0.0, z, *BAR).shape == (2, 5)
    assert axial_field([1e-3, 2e-3], *DISC).shape == (2,)
    assert np.ndim(cylinder_field(1e-3, 0.0, 8e-3, *DISC)[0]) == 0
    assert np.ndim(axial_field(1e-3, *DISC)) == 0


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: axial_field(-1e-3, *DISC), "distance needs to be 0 to 1000 m; you gave -0.001"),
        (lambda: axial_field(1e-3, 0.0, 3e-3, 1.2), "diameter needs to be 1e-05 to 10 m; you gave 0"),
        (lambda: cylinder_field(1.0, 0.0, 0.0, 5e-3, 3e-3, 12.0), "remanence needs to be 0 to 3 T; you gave 12"),
        (lambda: cylinder_field(np.nan, 0.0, 0.0, *DISC), "x needs to be -1000 to 1000 m; you gave nan"),
        (
            lambda: bar_field(1.0, 0.0, 0.0, 5e-3, -3e-3, 3e-3, 1.2),
            "thickness needs to be 1e-05 to 10 m; you gave -0.003",
        ),
        (lambda: bar_field([1.0, 2.0], [0.0] * 3, 0.0, *BAR), "shapes do not fit"),
        (lambda: long_coil_field(-1.0, 0.1), "ampere_turns needs to be 0 to 1e.06 A; you gave -1"),
        (lambda: long_coil_field(1.0, 0.0), "length needs to be 0.0001 to 100 m; you gave 0"),
        (lambda: remanence_at(20.0, 1.2, -0.0012), "temperature needs to be 200 to 450 K; you gave 20"),
        (lambda: remanence_at(300.0, 1.2, -0.12), "coefficient needs to be -0.005 to 0.005 1/K; you gave -0.12"),
    ],
)
def test_what_cannot_be_is_refused(call, said):
    with pytest.raises(RangeError, match=said):
        call()
