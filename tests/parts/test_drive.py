"""Drives as the formulas see them: a resistance, and a limit."""

import math

import pytest

from sigcalc.errors import RangeError, UnitError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive, as_drive, as_one_drive


def test_a_resistor_has_no_limit():
    drive = ResistorDrive("4k7", "5 %")
    assert (drive.series_resistance, drive.limit, drive.tolerance) == (4700, math.inf, 0.05)


def test_a_driver_below_drop_out_is_a_resistance():
    # LM317M and its 1.25 V across the setting resistor need 3.75 V together (TI SLVS297P p. 8, 2.5 V headroom)
    drive = ConstantCurrentDrive("10 mA", "3.75 V")
    assert (drive.series_resistance, drive.limit) == (pytest.approx(375), 0.01)


@pytest.mark.parametrize(
    ("call", "kind", "said"),
    [
        (lambda: ResistorDrive(470), UnitError, "resistance"),
        (lambda: ResistorDrive("-1 ohm"), RangeError, "resistance"),
        (lambda: ResistorDrive("470 ohm", 1.5), RangeError, "tolerance"),
        (lambda: ConstantCurrentDrive("0 mA", "1 V"), RangeError, "current of the drive"),
        (lambda: ConstantCurrentDrive("10 mA", "0 V"), RangeError, "dropout"),
        (lambda: as_drive("470 ohm"), UnitError, "ResistorDrive"),
        (lambda: as_one_drive(ResistorDrive(["1 kohm", "2 kohm"])), RangeError, "one value"),
        (lambda: as_one_drive(ConstantCurrentDrive(["1 mA", "2 mA"], "1 V")), RangeError, "one value"),
        (lambda: as_one_drive(None), UnitError, "ResistorDrive"),
    ],
)
def test_what_is_refused_and_how(call, kind, said):
    with pytest.raises(kind, match=said):
        call()


def test_drives_are_equal_by_value_and_cannot_be_changed():
    assert ResistorDrive("470 ohm") == ResistorDrive("0.47 kohm")
    with pytest.raises(AttributeError):
        ResistorDrive("470 ohm").tolerance = 0.1
