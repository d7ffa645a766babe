"""Drives as the formulas see them, and those made of parts: published examples, data sheets' limits, LEDs and pairs."""

import math

import numpy as np
import pytest

from sigcalc.design.findings import FINE, STOP, worst
from sigcalc.design.lamp.drive import operate
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.errors import SigcalcError
from sigcalc.parts.drive import (
    ConstantCurrentDrive,
    Regulator,
    ResistorDrive,
    as_drive,
    as_one_drive,
    current_diodes,
    regulators,
)
from sigcalc.parts.led import leds
from sigcalc.units import Q

RED, GREEN = leds["bright red 3 mm"], leds["ordinary green 3 mm"]
FRANCO = Regulator("textbook LM317", "1.25 V", "1.25 V", "1.25 V", headroom="2 V", max_current="1 A")
FLOYD = Regulator("textbook 7805", "5 V", "5 V", "5 V", headroom="2 V", max_current="1 A")


def test_textbook_sources_of_one_ampere():
    # S. Franco, Design with Op Amps and Analog ICs, 3rd edition, p. 529: 1.25 ohm, 1.25 W, compliance 11.75 V
    assert FRANCO.resistance_for("1 A").m_as("ohm") == pytest.approx(1.25, rel=1e-9)
    drive = FRANCO.set_by("1.25 ohm", 0.0)
    assert drive.limit == pytest.approx(1.0, rel=1e-9)
    assert drive.limit * FRANCO.si.reference_voltage == pytest.approx(1.25, rel=1e-9)  # the heat in the resistor
    assert 15 - drive.si.dropout == pytest.approx(11.75, rel=1e-9)
    assert drive.tolerance == 0
    # T. L. Floyd, Electronic Devices, example 17.9, p. 574: 7805, 1 A, 5 ohm
    assert FLOYD.resistance_for("1 A").m_as("ohm") == pytest.approx(5, rel=1e-9)


@pytest.mark.parametrize("milliamperes", [10, 20])
def test_a_field_effect_transistor_as_limiter(milliamperes):
    """Kuphaldt, Lessons in Electric Circuits VI ch. 5: a 2N3819 limits an LED's current, 10 mA typical, 20 mA most."""
    limiter = ConstantCurrentDrive(Q(milliamperes, "mA"), "2 V")
    for supply in ("9 V", "18 V"):
        point = operate(supply, limiter, leds["ordinary yellow 3 mm"])
        assert point.current.m_as("mA") == pytest.approx(milliamperes)
        assert worst(point.findings) == FINE
    assert worst(operate("9 V", limiter, leds["low-current red 3 mm"]).findings) == STOP


def test_the_regulators_spread_holds_every_sample():
    drive = regulators["lm317"].set_by("62 ohm", 0.01)
    for volts in (1.2, 1.25, 1.3):
        for ohms in (62 * 0.99, 62.0, 62 * 1.01):
            assert volts / ohms + 50e-6 <= drive.limit * (1 + drive.tolerance) * (1 + 1e-3)
            assert volts / ohms + 50e-6 >= drive.limit * (1 - drive.tolerance) * (1 - 1e-3)
    assert regulators["lm317"].resistance_for("20 mA").m_as("ohm") == pytest.approx(1.25 / 0.01995)
    # TI SLVS297P p. 8: 2.5 V of headroom, 3.75 V with the reference of 1.25 V
    assert drive.si.dropout == pytest.approx(3.75)


def test_current_regulator_diodes():
    # Motorola data sheet 1N5283 to 1N5314 (studfile.net/preview/16503264): mA and limiting voltage; of the last the
    # current from Microsemi T4-LDS-0159, and 2.90 V FROM MEMORY
    for name, (milliamperes, limiting) in {"1n5283": (0.22, 1.0), "1n5290": (0.47, 1.05), "1n5314": (4.7, 2.9)}.items():
        diode, drive = current_diodes[name], current_diodes[name].drive()
        assert diode.si.current == pytest.approx(milliamperes * 1e-3)
        assert diode.tolerance == pytest.approx(0.1)  # 1N5283: 0.198 to 0.242 mA
        # at the limiting voltage 80 % of the least current flows, as the sheet says
        assert limiting / drive.series_resistance == pytest.approx(0.8 * 0.9 * drive.limit)
    three = diode.drive(3)
    assert three.limit == pytest.approx(3 * drive.limit)
    assert three.si.dropout == pytest.approx(drive.si.dropout)
    assert three.si.output_resistance == pytest.approx(drive.si.output_resistance / 3)
    rows = [(each.si.current, each.si.limiting_voltage, -each.si.output_resistance) for each in current_diodes.values()]
    assert (np.diff(rows, axis=0) >= 0).all()


@pytest.mark.parametrize("drive", [regulators["lm317"].set_by("100 ohm"), current_diodes["1n5314"].drive(2)])
def test_every_kind_feeds_one_led_several_and_the_pair(drive):
    assert operate("9 V", drive, RED).si.current == pytest.approx(drive.limit)
    assert operate("12 V", drive, [RED, GREEN]).si.current == pytest.approx(drive.limit)
    pair = TwoLeadPair(RED, GREEN)
    for polarity, lit in ((+1, "red"), (-1, "green")):
        point = pair.operate("9 V", drive, polarity)
        assert (point.lit, point.si.current) == (lit, pytest.approx(drive.limit))
        low = pair.operate("4 V", drive, polarity).si
        assert low.current == pytest.approx(low.drive_voltage / drive.series_resistance, rel=1e-6)  # dropped out


def test_a_resistor_has_no_limit_and_a_driver_below_drop_out_is_a_resistance():
    resistor = ResistorDrive("4k7", "5 %")
    assert (resistor.series_resistance, resistor.limit, resistor.tolerance) == (4700, math.inf, 0.05)
    assert (resistor.own_current, resistor.kind) == (0, "resistor")
    # LM317M and its 1.25 V across the setting resistor need 3.75 V together (TI SLVS297P p. 8, 2.5 V headroom)
    driver = ConstantCurrentDrive("10 mA", "3.75 V", quiescent="0.5 mA")
    assert (driver.series_resistance, driver.limit) == (pytest.approx(375), 0.01)
    assert (driver.own_current, driver.kind) == (pytest.approx(5e-4), "constant-current driver")


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: regulators["lm317"].set_by("1 ohm"), "more than the 1 A"),
        (lambda: regulators["lm317"].resistance_for("40 µA"), "adjust pin"),
        (lambda: current_diodes["1n5314"].drive(1.5), "whole number"),
        (
            lambda: Regulator("x", "1.25 V", "1.3 V", "1.4 V", "2 V", "1 A"),
            "reference_min to reference_max needs figures",
        ),
        (lambda: ConstantCurrentDrive("1 mA", "1 V", max_voltage="0 V"), "max_voltage"),
        (lambda: ConstantCurrentDrive("10 mA", "0 V"), "dropout"),
        (lambda: as_drive("470 ohm"), "ResistorDrive"),
        (lambda: as_one_drive(ConstantCurrentDrive(["1 mA", "2 mA"], "1 V")), "one value"),
    ],
)
def test_what_is_refused_and_how(call, said):
    with pytest.raises(SigcalcError, match=said):
        call()
