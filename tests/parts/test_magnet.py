"""Magnets: records, grades, the table of sizes, and the field on the axis at the door."""

import numpy as np
import pytest

from sigcalc.errors import DesignError, RangeError, UnitError, UnknownNameError
from sigcalc.parts.magnet import Magnet, MagnetGrade, as_magnet, as_orientation, axial_field, magnet_grades, magnets

DISC = Magnet(diameter="5 mm", length="3 mm", remanence="1.2 T")


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


@pytest.mark.parametrize("name", magnets)
def test_every_size_of_the_table(name):
    magnet = magnets[name]
    assert magnet.name == name
    assert magnet.grade.name in name
    least, nominal, most = magnet.remanence_band
    assert least < nominal < most
    assert all(f"{round(side * 1e3):d}" in name for side in magnet.sides)
    assert magnet.volume == pytest.approx(np.pi / 4 * magnet.sides[0] ** 2 * magnet.sides[2])


def test_a_warm_magnet_is_weaker_and_one_of_no_grade_has_one_remanence():
    cold = Magnet.of_grade("N42", diameter="5 mm", length="3 mm")
    warm = cold.at("60 degC")
    assert warm.remanence_band == pytest.approx(np.array(cold.remanence_band) * (1 - 0.0012 * 40), rel=1e-12)
    assert cold.at("20 degC").remanence_band == pytest.approx(cold.remanence_band, rel=1e-12)
    assert warm.name == "5 mm x 3 mm, N42 at 60 °C"
    assert as_magnet(DISC) is DISC
    assert DISC.remanence_band == (1.2, 1.2, 1.2)


N42 = Magnet.of_grade("N42", diameter="5 mm", length="3 mm")


@pytest.mark.parametrize(
    ("call", "kind", "said"),
    [
        (lambda: magnets["5 x 3 mm disc, N42"], UnknownNameError, "'5 x 3 mm disc, N52', '5 x 3 mm disc, N35'"),
        (lambda: Magnet.of_grade("N43", "5 mm", "3 mm"), UnknownNameError, "grade of magnet 'N43' is not known"),
        (lambda: N42.at("90 degC"), RangeError, "temperature needs no more than the 80 °C of grade N42"),
        (lambda: DISC.at("40 degC"), DesignError, "needs a magnet of a known grade"),
        # the coefficient counts from 20 degC
        (lambda: N42.at("40 degC").at("50 degC"), DesignError, "known grade"),
        (lambda: Magnet("5 mm", "3 mm", "0 T"), RangeError, "above zero in rising order; you gave 0 T"),
        (lambda: Magnet("5 mm", "3 mm", "1.2 T", "1.3 T"), RangeError, "rising order"),
        (lambda: as_magnet(5), UnitError, "magnet needs a Magnet or its name; you gave 5"),
        (lambda: as_orientation("across"), UnknownNameError, "orientation 'across' .* use one of: 'crosswise'"),
        (lambda: as_orientation(["upright"]), UnknownNameError, "orientation"),
        (
            lambda: MagnetGrade("X", "1.3 T", "1.2 T", "-0.1 %/K", "80 degC"),
            RangeError,
            "remanence_least to remanence_most needs .* you gave 1.3 T, 1.2 T",
        ),
    ],
)
def test_what_cannot_be_is_refused(call, kind, said):
    with pytest.raises(kind, match=said):
        call()
