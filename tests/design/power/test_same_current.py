"""Four drives for one current: each gives it, and bought parts stay in the band."""

import numpy as np
import pytest

from sigcalc.design.lamp.drive import operate
from sigcalc.design.lamp.resistor import choose_resistor
from sigcalc.design.power.same_current import (
    DIODE,
    DRIVER,
    REGULATOR,
    RESISTOR,
    current_with_bought_parts,
    same_current,
)
from sigcalc.errors import DesignError, RangeError, UnitError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive, current_diodes
from sigcalc.parts.led import leds
from sigcalc.units import Q

RED = leds["red alingap 3 mm"]


@pytest.mark.parametrize("current", ["2 mA", "5 mA", "10 mA", "20 mA"])
@pytest.mark.parametrize("supply", ["9 V", "12 V"])
def test_each_gives_about_the_wanted_current(supply, current):
    wanted = Q(current).m_as("A")
    for name, drive in same_current(supply, RED, current).items():
        flows = operate(supply, drive, RED).si.current
        # one step of E12, or E24 and 1 %, below; a current-regulator diode within its tolerance
        low, high = (0.9, 1.1) if name == DIODE else (0.8, 1.0 + 1e-9)
        assert low * wanted <= flows <= high * wanted, name


def test_the_resistor_is_the_one_that_is_chosen_elsewhere():
    drive = same_current("12 V", RED, "10 mA", series="E24", tolerance=0.02)[RESISTOR]
    assert drive.resistance == choose_resistor("12 V", RED, "10 mA", series="E24").resistance
    assert drive.tolerance == 0.02


def test_the_regulator_by_its_formula():
    # 1.25 V / R, data sheet of the lm317l (Motorola); E24 has 130 ohm above 125; 50 uA of the adjust pin on top
    drive = same_current("9 V", RED, "10 mA")[REGULATOR]
    assert drive.current.m_as("A") == pytest.approx(1.25 / 130 + 50e-6, rel=1e-9)
    assert drive.least_current == Q("10 mA")


def test_the_driver_as_asked():
    drive = same_current("9 V", RED, "7 mA", dropout="2 V")[DRIVER]
    assert (drive.current, drive.dropout) == (Q("7 mA"), Q("2 V"))


@pytest.mark.parametrize(
    ("current", "count"),
    [("2 mA", 1), ("5 mA", 1), ("5.2 mA", 2), ("10 mA", 2), ("10.5 mA", 3), ("20 mA", 4)],
)
def test_as_few_diodes_as_come_within_their_tolerance(current, count):
    # the largest is 4.7 mA with 10 %: one does for up to 5.17 mA
    drive = same_current("9 V", RED, current)[DIODE]
    wanted = Q(current).m_as("A")
    kinds = np.array([each.si.current for each in current_diodes.values()])
    nearest = kinds[np.argmin(np.abs(kinds - wanted / count))]
    assert drive.current.m_as("A") == pytest.approx(count * nearest)
    assert ("x" in drive.kind) == (count > 1)


@pytest.mark.parametrize(
    ("supply", "current", "sentence"),
    [("1.5 V", "10 mA", "nothing would light"), ("9 V", "0 mA", "current"), ("9 V", "40 mA", "30 mA")],
)
def test_what_cannot_be_is_refused(supply, current, sentence):
    with pytest.raises(DesignError, match=sentence):
        same_current(supply, RED, current)


def test_what_the_regulator_cannot_set_is_refused():
    with pytest.raises(RangeError, match="adjust pin"):
        same_current("9 V", RED, "40 µA")


def test_the_band_of_a_resistor_is_that_of_its_corners():
    drive = ResistorDrive("820 ohm", 0.05)
    nominal, least, most = current_with_bought_parts("9 V", drive, RED).m_as("A")
    choice = choose_resistor("9 V", RED, "10 mA", tolerance=0.05)
    assert choice.resistance == Q("820 ohm")
    assert nominal == pytest.approx(choice.si.current)
    assert (least, most) == (pytest.approx(choice.si.worst_min), pytest.approx(choice.si.worst_max))


def test_a_driver_holds_its_current_but_for_its_tolerance():
    drive = ConstantCurrentDrive("10 mA", "1.5 V", 0.1)
    assert current_with_bought_parts("9 V", drive, RED).m_as("mA") == pytest.approx([10, 9, 11])


def test_it_broadcasts():
    drive = same_current("9 V", RED, "10 mA")[DRIVER]
    whole = current_with_bought_parts(Q([2.0, 3.0, 9.0], "V"), drive, [RED])
    assert whole.shape == (3, 3)
    assert (whole[1] <= whole[0]).all()
    assert (whole[0] <= whole[2]).all()
    for place, volts in enumerate(("2 V", "3 V", "9 V")):
        assert whole[:, place].m == pytest.approx(current_with_bought_parts(volts, drive, RED).m)


def test_bad_input_is_refused():
    drive = ResistorDrive("820 ohm")
    with pytest.raises(RangeError, match="turn it round"):
        current_with_bought_parts("-9 V", drive, RED)
    with pytest.raises(UnitError, match="led needs"):
        current_with_bought_parts("9 V", drive, "red")
