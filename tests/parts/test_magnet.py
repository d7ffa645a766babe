"""Magnets: records, grades, the table of sizes, and their field along the track in every orientation."""

import magpylib
import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from sigcalc.errors import DesignError, RangeError, UnitError, UnknownNameError
from sigcalc.parts.magnet import BarMagnet, Magnet, as_magnet, as_orientation, axial_field, magnets
from sigcalc.parts.magnet_grade import MagnetGrade, magnet_grades
from sigcalc.units import Q

DISC = Magnet(diameter="5 mm", length="3 mm", remanence="1.2 T")
BAR = BarMagnet(width="10 mm", thickness="4 mm", length="6 mm", remanence="1.2 T")


# other makers' figures lie within 0.03 T of the table: N35 1.17 to 1.21 T, N52 1.45 to 1.48 T (kjmagnetics.com);
# N52 1.42 to 1.46 T (shanghaimagnet.com)
@pytest.mark.parametrize(("name", "least", "most"), [("N35", 1.17, 1.21), ("N52", 1.45, 1.48), ("N52", 1.42, 1.46)])
def test_makers_differ_by_no_more_than_the_note_says(name, least, most):
    grade = magnet_grades[name].si
    assert grade.remanence_least == pytest.approx(least, abs=0.03)
    assert grade.remanence_most == pytest.approx(most, abs=0.03)


def test_axial_field_at_the_door():
    # magpylib 6.3.0: 161.8393 mT at 2 mm, 36.0317 mT at 5 mm
    found = axial_field(magnet=DISC, distance=["2 mm", "5 mm"]).to("mT").magnitude
    assert found == pytest.approx([161.8393, 36.0317], abs=5e-5)
    assert axial_field(DISC, "0 mm").to("T").magnitude == pytest.approx(0.6 * 3 / np.hypot(2.5, 3), rel=1e-12)
    assert axial_field("5 x 3 mm disc, N35", "5 mm").magnitude == pytest.approx(36.0317e-3 * 1.195 / 1.2, rel=1e-5)
    reference = magpylib.magnet.Cuboid(dimension=(10e-3, 4e-3, 6e-3), polarization=(0, 0, 1.2))
    assert axial_field(BAR, "5 mm").magnitude == pytest.approx(reference.getB((0, 0, 8e-3))[2], rel=1e-11)


# turns magpylib's magnet, built along its own axes, into the track's: x along it, y across it, z up
TURNS = {
    "upright": Rotation.from_euler("z", 90, degrees=True),
    "lengthwise": Rotation.from_matrix([[0, 0, 1], [1, 0, 0], [0, 1, 0]]),
    "crosswise": Rotation.from_euler("x", -90, degrees=True),
}


@pytest.mark.parametrize("orientation", TURNS)
@pytest.mark.parametrize("magnet", [DISC, BAR], ids=["disc", "bar"])
def test_along_the_track_against_magpylib(magnet, orientation):
    along = np.linspace(-25e-3, 25e-3, 41)
    if isinstance(magnet, Magnet):
        reference = magpylib.magnet.Cylinder(dimension=(5e-3, 3e-3), polarization=(0, 0, 1.2))
        height = {"upright": 3e-3}.get(orientation, 5e-3)
    else:
        reference = magpylib.magnet.Cuboid(dimension=(10e-3, 4e-3, 6e-3), polarization=(0, 0, 1.2))
        height = {"upright": 6e-3}.get(orientation, 4e-3)
    assert magnet.lying(orientation)[2] == pytest.approx(height)
    for gap, offset in ((8e-3, 0.0), (3e-3, 7e-3)):
        expected = []
        for position in along:
            reference.orientation = TURNS[orientation]
            reference.position = (position, offset, gap + height / 2)
            expected.append(reference.getB((0, 0, 0))[0])
        found = magnet.along_track(along, offset, gap, orientation)
        assert found == pytest.approx(np.array(expected), rel=1e-9, abs=1e-12)


@pytest.mark.parametrize("orientation", TURNS)
@pytest.mark.parametrize("magnet", [DISC, BAR], ids=["disc", "bar"])
def test_mean_over_the_reed_is_the_mean(magnet, orientation):
    nodes, weights = np.polynomial.legendre.leggauss(60)
    length = 12e-3
    for position in (-9e-3, 1e-3, 6e-3):
        field = magnet.along_track(position - length / 2 * nodes, 2e-3, 5e-3, orientation)
        mean = magnet.mean_along_track(position, 2e-3, 5e-3, orientation, length)
        assert mean == pytest.approx(np.sum(weights * field) / 2, rel=1e-8)


def test_a_block_lies_as_its_docstring_says():
    assert BAR.lying("upright") == pytest.approx((4e-3, 10e-3, 6e-3))
    assert BAR.lying("lengthwise") == pytest.approx((6e-3, 10e-3, 4e-3))
    assert BAR.lying("crosswise") == pytest.approx((10e-3, 6e-3, 4e-3))
    assert BAR.volume == pytest.approx(240e-9)
    assert DISC.volume == pytest.approx(np.pi / 4 * 75e-9)


class TestTable:
    @pytest.mark.parametrize("name", magnets)
    def test_every_size(self, name):
        magnet = magnets[name]
        assert magnet.name == name
        assert magnet.grade.name in name
        least, nominal, most = magnet.remanence_band
        assert least < nominal < most
        assert all(f"{round(side * 1e3):d}" in name for side in magnet.sides)

    def test_a_name_that_is_not_there(self):
        with pytest.raises(UnknownNameError, match="use one of: '5 x 3 mm disc, N52', '5 x 3 mm disc, N35'"):
            magnets["5 x 3 mm disc, N42"]
        with pytest.raises(UnknownNameError, match="grade of magnet 'N43' is not known"):
            Magnet.of_grade("N43", diameter="5 mm", length="3 mm")


class TestTemperature:
    def test_a_warm_magnet_is_weaker(self):
        cold = Magnet.of_grade("N42", diameter="5 mm", length="3 mm")
        warm = cold.at("60 degC")
        assert np.array(warm.remanence_band) == pytest.approx(
            np.array(cold.remanence_band) * (1 - 0.0012 * 40), rel=1e-12
        )
        assert cold.at("20 degC").remanence_band == pytest.approx(cold.remanence_band, rel=1e-12)
        assert warm.name == "5 mm x 3 mm, N42 at 60 °C"
        assert axial_field(warm, "5 mm") < axial_field(cold, "5 mm")

    def test_too_hot(self):
        with pytest.raises(RangeError, match="temperature 90 °C is above the 80 °C that grade N42 bears"):
            Magnet.of_grade("N42", diameter="5 mm", length="3 mm").at("90 degC")

    def test_a_magnet_of_no_grade(self):
        with pytest.raises(DesignError, match="needs a magnet of a known grade"):
            DISC.at("40 degC")
        with pytest.raises(DesignError, match="known grade"):
            magnets["5 x 3 mm disc, N35"].at("40 degC").at("50 degC")  # the coefficient counts from 20 degC


@pytest.mark.parametrize(
    ("call", "kind", "said"),
    [
        (lambda: Magnet("0 mm", "3 mm", "1.2 T"), RangeError, "diameter of a magnet needs to be above zero"),
        (lambda: Magnet("5 mm", "2 m", "1.2 T"), RangeError, "length of a magnet needs .* to 1 m, but 2 m came"),
        (lambda: Magnet("5 mm", "3 mm", "1.2 T", grade="N42"), UnitError, "grade needs MagnetGrade; you gave 'N42'"),
        (lambda: Magnet("5 mm", "3 mm", "0 T"), RangeError, "rising order above zero, but 0 T, 0 T and 0 T came"),
        (lambda: Magnet("5 mm", "3 mm", "1.2 T", "1.3 T"), RangeError, "rising order"),
        (lambda: Magnet("5 mm", "3 mm", "12 T"), RangeError, "remanence needs a flux density from 0 T to 3 T"),
        (
            lambda: Magnet(5, "3 mm", "1.2 T"),
            UnitError,
            "diameter needs a length with its unit, .*; you gave 5",
        ),
        (lambda: BarMagnet("5 mm", "0 mm", "5 mm", "1 T"), RangeError, "thickness of a magnet needs to be above zero"),
        (lambda: axial_field(DISC, "-1 mm"), RangeError, "distance needs a length from 0 m"),
        (lambda: axial_field(DISC, 1), UnitError, "distance needs a length with its unit"),
        (lambda: as_magnet(5), UnitError, "magnet needs a Magnet, a BarMagnet or a name in magnets, but 5 came"),
        (
            lambda: as_orientation("across"),
            UnknownNameError,
            "orientation 'across' is not known; use one of: 'crosswise'",
        ),
        (lambda: as_orientation(["upright"]), UnknownNameError, "orientation"),
        (
            lambda: MagnetGrade("X", "1.3 T", "1.2 T", "-0.1 %/K", "80 degC"),
            RangeError,
            "remanence_least of grade X needs to be above zero and at or below remanence_most of 1.2 T, but 1.3 T came",
        ),
    ],
)
def test_what_cannot_be_is_refused(call, kind, said):
    with pytest.raises(kind, match=said):
        call()


def test_records_are_frozen_and_comparable():
    assert Magnet("5 mm", "3 mm", "1.2 T") == DISC
    assert as_magnet(DISC) is DISC
    assert DISC.remanence == Q("1.2 T")
    assert DISC.remanence_band == (1.2, 1.2, 1.2)
    with pytest.raises(AttributeError):
        DISC.length = "4 mm"
