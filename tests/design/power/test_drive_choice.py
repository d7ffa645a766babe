"""Drives for one current, and over a falling supply: the bench functions, balances, slopes, where each stops."""

from functools import partial

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sigcalc.design.findings import LOOK, STOP
from sigcalc.design.lamp.drive import operate
from sigcalc.design.lamp.resistor import choose_resistor
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.design.power.drive_choice import (
    DIODE,
    DRIVER,
    REGULATOR,
    RESISTOR,
    compare_drives,
    current_with_bought_parts,
    same_current,
)
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive, current_diodes, regulators
from sigcalc.parts.led import ConstantDrop, Led, leds
from sigcalc.units import Q
from tests.refusals import refused

RED, GREEN, WHITE = leds["bright red 3 mm"], leds["ordinary green 3 mm"], leds["white 3 mm"]
PAIR = TwoLeadPair(RED, GREEN, extra_green="100 ohm")
FALLING = Q(np.linspace(9.5, 3.0, 27), "V")
LM317 = regulators["lm317"]
DRIVES = {
    "resistor": ResistorDrive("330 ohm"),
    "limiter": ConstantCurrentDrive("20 mA", "1.5 V", quiescent="1 mA"),
    "regulator": LM317.set_by("62 ohm"),
    "diodes": current_diodes["1n5314"].drive(4),
}


@pytest.mark.parametrize(("lamp", "polarity"), [(RED, 1), ([RED, GREEN], 1), (PAIR, 1), (PAIR, -1)])
def test_each_is_the_operating_point_at_every_supply_and_powers_balance(lamp, polarity):
    rel, least = (1e-6, 1e-9) if lamp is PAIR else (1e-9, 1e-12)
    for name, over in compare_drives(FALLING, DRIVES, lamp, polarity).items():
        alone = (PAIR.operate, (polarity,)) if lamp is PAIR else (partial(operate, led=lamp), ())
        point, si = alone[0](FALLING, DRIVES[name], *alone[1]).si, over.si
        assert si.current == pytest.approx(point.current, rel=rel, abs=least)
        assert si.led_power == pytest.approx(point.led_power, rel=1e-6, abs=1e-9)
        assert si.extra_power == pytest.approx(getattr(point, "extra_power", 0), rel=1e-6, abs=1e-9)
        given = si.supply * (si.current + over.drive.own_current)
        assert si.led_power + si.extra_power + si.drive_power == pytest.approx(given)
        assert over.efficiency == pytest.approx(si.led_power / given)
        assert (si.drive_power > -1e-12).all()
        assert ((over.efficiency >= 0) & (over.efficiency <= 1)).all()


@settings(max_examples=30)
@given(st.sampled_from(sorted(DRIVES)), st.floats(2.6, 9.5))
def test_sensitivity_is_the_slope(name, volts):
    over = compare_drives(Q(volts, "V"), DRIVES, GREEN)[name]
    step = 1e-4
    (slope,) = np.diff(compare_drives(Q([volts - step, volts + step], "V"), DRIVES, GREEN)[name].si.current) / 2 / step
    if abs(volts - (over.si.drops_out_at or 0)) > 2 * step:
        held = over.drive.limit == pytest.approx(over.si.current)
        stiff = getattr(over.drive.si, "output_resistance", None)
        # the formulas hold a current altogether; the data sheet's output resistance says how little it follows
        assert over.sensitivity == pytest.approx(1 / stiff if held and stiff else slope, rel=1e-4, abs=1e-9)


def test_where_each_stops_half_the_light_is_left():
    comparison = compare_drives(FALLING, DRIVES, GREEN)
    for name, over in comparison.items():
        at = compare_drives(Q([9.5, over.stops_at.m_as("V")], "V"), DRIVES, GREEN)[name]
        assert at.light[1] == pytest.approx(0.5, rel=1e-6)
        if over.drops_out_at is not None:
            low, high = over.drops_out_at.m_as("V") + np.array([-1e-3, 1e-3])
            edge = compare_drives(Q([9.5, low, high], "V"), DRIVES, GREEN)[name]
            assert edge.light[1] < 1
            assert edge.light[2] == pytest.approx(1)
    # LM317: 3.75 V (TI SLVS297P p. 8: 2.5 V, and 1.25 V) and the lamp's drop at 20 mA
    regulator = comparison["regulator"]
    assert regulator.drops_out_at.m_as("V") == pytest.approx(3.75 + GREEN.model.voltage_si(regulator.drive.limit))
    stops = [comparison[name].si.stops_at for name in ("limiter", "regulator", "resistor")]
    assert stops == sorted(stops)


def test_a_constant_drop_by_hand():
    plain = Led("plain", "red", ConstantDrop("2 V"), "30 mA")
    over = compare_drives("9 V", {"r": ResistorDrive("350 ohm")}, plain)["r"]
    found = over.si.current, over.sensitivity, over.efficiency, over.si.stops_at
    assert found == pytest.approx((0.02, 1 / 350, 2 / 9, 2 + 0.01 * 350))


DIM = {"resistor": ResistorDrive("680 ohm"), "driver": ConstantCurrentDrive("10 mA", "1.5 V")}


@pytest.mark.parametrize(
    ("supply", "drives", "lamp", "said"),
    [
        (
            np.linspace(9.5, 4.5, 9),
            ("resistor", "limiter"),
            GREEN,
            "fine: steadiest with the limiter: The limiter keeps the light best",
        ),
        (
            [9.0, 8.9],
            ("limiter", "regulator"),
            GREEN,
            "fine: all alike: Over this supply, every drive keeps the light",
        ),
        ([9.0], DRIVES, GREEN, "fine: all alike: As long as the supply does not sag, every drive keeps the light"),
        ([9.0, 1.0], DRIVES, GREEN, "look again: too little voltage: At 1 V less than a tenth of the light is left"),
        (
            [9.0, 2.4],
            DIM,
            RED,
            "look again: too little voltage: At 2.4 V every lamp has lost more than half its light; the d",
        ),
    ],
)
def test_what_a_comparison_comes_to(supply, drives, lamp, said):
    compared = {name: (DIM if drives is DIM else DRIVES)[name] for name in drives}
    *_, verdict = compare_drives(Q(supply, "V"), compared, lamp).findings
    assert str(verdict).startswith(said)


TWO, THREE = current_diodes["1n5314"].drive(2), [WHITE] * 3


@pytest.mark.parametrize(
    ("supply", "drive", "lamp", "grades", "said"),
    [
        ("14 V", TWO, THREE, [], ""),
        ("9 V", TWO, THREE, [LOOK], "Even at 9 V it gives 2.48 mA of its 9.4 mA: to hold that it needs 12.5 V"),
        # LM317L data sheet (Motorola): a lamp of 5 mA is below the least load of 10 mA; 40 V from input to output
        ("9 V", LM317.set_by("250 ohm"), RED, [LOOK], "minimum load"),
        ("48 V", LM317.set_by("62 ohm"), RED, [STOP], "voltage across"),
        ("12 V", ResistorDrive("100 ohm"), RED, [STOP], "current through"),
    ],
)
def test_limits_are_judged(supply, drive, lamp, grades, said):
    found = compare_drives(supply, {"one": drive}, lamp).findings
    assert [each.grade for each in found] == grades
    assert all(said in each.reason for each in found)


test_what_is_refused_and_how = refused(
    (partial(compare_drives, "1.2 V", DRIVES, RED), "below what resistor and the lamp need"),
    (partial(compare_drives, "-9 V", DRIVES, RED), "wrong way in"),
    (partial(compare_drives, "9 V", {}, RED), "names with a drive each"),
    (partial(compare_drives, "9 V", {"r": "330 ohm"}, RED), "ResistorDrive"),
)


@pytest.mark.parametrize("current", ["2 mA", "5 mA", "10 mA", "20 mA"])
@pytest.mark.parametrize("supply", ["9 V", "12 V"])
def test_each_gives_about_the_wanted_current(supply, current):
    wanted = Q(current).m_as("A")
    for name, drive in same_current(supply, RED, current).items():
        flows = operate(supply, drive, RED).si.current
        # one step of E12, or E24 and 1 %, below; a current-regulator diode within its tolerance
        low, high = (0.9, 1.1) if name == DIODE else (0.8, 1.0 + 1e-9)
        assert low * wanted <= flows <= high * wanted, name


def test_the_drives_are_as_asked():
    drives = same_current("12 V", RED, "10 mA")
    regulator = drives[REGULATOR]
    assert drives[RESISTOR].resistance == choose_resistor("12 V", RED, "10 mA").resistance
    assert (drives[DRIVER].current, drives[DRIVER].dropout) == (Q("10 mA"), Q("1.5 V"))
    # 1.25 V / R, data sheet of the lm317l (Motorola); E24 has 130 ohm above 125; 50 uA of the adjust pin on top
    assert regulator.current.m_as("A") == pytest.approx(1.25 / 130 + 50e-6, rel=1e-9)
    assert regulator.least_current == Q("10 mA")


@pytest.mark.parametrize(
    ("current", "count"), [("2 mA", 1), ("5 mA", 1), ("5.2 mA", 2), ("10 mA", 2), ("10.5 mA", 3), ("20 mA", 4)]
)
def test_as_few_diodes_as_come_within_their_tolerance(current, count):
    # the largest is 4.7 mA with 10 %: one does for up to 5.17 mA
    drive = same_current("9 V", RED, current)[DIODE]
    kinds = np.array([each.si.current for each in current_diodes.values()])
    nearest = kinds[np.argmin(np.abs(kinds - Q(current).m_as("A") / count))]
    assert drive.current.m_as("A") == pytest.approx(count * nearest)


def test_the_bands_of_bought_parts_are_those_of_their_corners():
    choice = choose_resistor("9 V", RED, "10 mA", tolerance=0.05)
    assert choice.resistance == Q("820 ohm")
    band = current_with_bought_parts("9 V", ResistorDrive("820 ohm", 0.05), RED)
    assert band.m_as("A") == pytest.approx([choice.si.current, choice.si.worst_min, choice.si.worst_max])
    driver = same_current("9 V", RED, "10 mA")[DRIVER]
    assert current_with_bought_parts("9 V", driver, RED).m_as("mA") == pytest.approx([10, 9, 11])
    alone = [current_with_bought_parts(volts, driver, RED).m for volts in ("2 V", "3 V", "9 V")]
    whole = current_with_bought_parts(Q([2.0, 3.0, 9.0], "V"), driver, [RED])
    assert whole.m == pytest.approx(np.transpose(alone))
