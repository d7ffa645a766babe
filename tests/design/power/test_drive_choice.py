"""Drives over a falling supply: agreement with the bench functions, balances, slopes, where each stops, limits."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.lamp.drive import operate
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.design.power.drive_choice import compare_drives, findings
from sigcalc.errors import DesignError, RangeError, UnitError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive, current_diodes, regulators
from sigcalc.parts.led import ConstantDrop, Led, leds
from sigcalc.units import Q

RED, GREEN = leds["red alingap 3 mm"], leds["green gap 3 mm"]
PAIR = TwoLeadPair(RED, GREEN, extra_green="100 ohm")
FALLING = Q(np.linspace(9.5, 3.0, 27), "V")
DRIVES = {
    "resistor": ResistorDrive("330 ohm"),
    "limiter": ConstantCurrentDrive("20 mA", "1.5 V", quiescent="1 mA"),
    "regulator": regulators["lm317"].set_by("62 ohm"),
    "diodes": current_diodes["1n5314"].drive(4),
}


@pytest.mark.parametrize("lamp", [RED, [RED, GREEN]], ids=["one", "two in series"])
@pytest.mark.parametrize("name", DRIVES)
def test_each_is_the_operating_point_at_every_supply(lamp, name):
    over = compare_drives(FALLING, DRIVES, lamp)[name]
    point = operate(FALLING, DRIVES[name], lamp)
    assert over.si.current == pytest.approx(point.si.current, rel=1e-9, abs=1e-12)
    assert over.si.led_power == pytest.approx(point.si.led_power, rel=1e-6, abs=1e-9)


@pytest.mark.parametrize(("polarity", "lit"), [(1, "red"), (-1, "green")])
@pytest.mark.parametrize("name", DRIVES)
def test_each_is_the_pairs_point(polarity, lit, name):
    over = compare_drives(FALLING, DRIVES, PAIR, polarity)[name]
    point = PAIR.operate(FALLING, DRIVES[name], polarity)
    assert over.si.current == pytest.approx(point.si.current, rel=1e-6, abs=1e-9), lit
    assert over.si.extra_power == pytest.approx(point.si.extra_power, rel=1e-6, abs=1e-9)


def test_powers_balance():
    for over in compare_drives(FALLING, DRIVES, PAIR, -1).values():
        si = over.si
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
    around = compare_drives(Q([volts - step, volts + step], "V"), DRIVES, GREEN)[name].si.current
    slope = (around[1] - around[0]) / (2 * step)
    if abs(volts - (over.si.drops_out_at or 0)) > 2 * step:
        held = over.drive.limit == pytest.approx(over.si.current)
        stiff = getattr(over.drive.si, "output_resistance", None)
        # the formulas hold a current altogether; the data sheet's output resistance says how little it follows
        assert over.sensitivity == pytest.approx(1 / stiff if held and stiff else slope, rel=1e-4, abs=1e-9)


def test_where_each_stops_half_the_light_is_left():
    for name, over in compare_drives(FALLING, DRIVES, GREEN).items():
        at = compare_drives(Q([9.5, over.stops_at.m_as("V")], "V"), DRIVES, GREEN)[name]
        assert at.light[1] == pytest.approx(0.5, rel=1e-6)
        if over.drops_out_at is not None:
            low, high = over.drops_out_at.m_as("V") + np.array([-1e-3, 1e-3])
            edge = compare_drives(Q([9.5, low, high], "V"), DRIVES, GREEN)[name]
            assert edge.light[1] < 1
            assert edge.light[2] == pytest.approx(1)
    # LM317: 3.75 V (TI SLVS297P p. 8: 2.5 V, and 1.25 V) and the lamp's drop at 20 mA
    regulator = compare_drives(FALLING, DRIVES, GREEN)["regulator"]
    drop = GREEN.model.voltage_si(regulator.drive.limit)
    assert regulator.drops_out_at.m_as("V") == pytest.approx(3.75 + drop)


def test_an_lm317_needs_more_supply_than_a_better_limiter_and_a_resistor_fades_first():
    comparison = compare_drives(FALLING, DRIVES, GREEN)
    stops = {name: over.si.stops_at for name, over in comparison.items()}
    assert stops["limiter"] < stops["regulator"] < stops["resistor"]
    assert max(comparison["limiter"].sensitivity[:10]) < min(comparison["resistor"].sensitivity[:10])


def test_a_constant_drop_by_hand():
    plain = Led("plain", "red", ConstantDrop("2 V"), "30 mA")
    over = compare_drives("9 V", {"r": ResistorDrive("350 ohm")}, plain)["r"]
    assert over.si.current == pytest.approx(0.02)
    assert over.sensitivity == pytest.approx(1 / 350)
    assert over.efficiency == pytest.approx(2 / 9)
    assert over.si.stops_at == pytest.approx(2 + 0.01 * 350)


def test_findings():
    found = findings(compare_drives(Q(np.linspace(9.5, 4.5, 9), "V"), DRIVES, GREEN))
    graded = {each.topic: each.grade for each in found}
    assert graded["resistor"] == LOOK
    assert graded["limiter"] == FINE
    assert found[-1].topic == "comparison"
    assert found[-1].reason.startswith("limiter")
    alike = findings(compare_drives(Q([9.0, 8.9], "V"), {k: DRIVES[k] for k in ("limiter", "regulator")}, GREEN))
    assert "alike" in alike[-1].reason
    at_rest = findings(compare_drives("9 V", DRIVES, GREEN))[-1]
    assert at_rest.reason.startswith("As long as the supply does not sag all drives keep the light alike")
    gone = findings(compare_drives(Q([9.0, 1.0], "V"), DRIVES, GREEN))[-1]
    assert (gone.grade, gone.topic) == (LOOK, "comparison")
    assert "none of them" in gone.reason
    assert len(findings(compare_drives("9 V", {"limiter": DRIVES["limiter"]}, GREEN))) == 1


def test_a_drive_is_not_praised_for_light_that_is_gone():
    drives = {"resistor": ResistorDrive("680 ohm"), "driver": ConstantCurrentDrive("10 mA", "1.5 V")}
    *_, verdict = findings(compare_drives(Q([9.0, 2.4], "V"), drives, RED))
    assert verdict.grade == LOOK
    assert "lost more than half its light; driver keeps most of it" in verdict.reason


def test_a_driver_that_never_holds_its_current_is_named():
    drives = {"diodes": current_diodes["1n5314"].drive(2)}
    for supply, grades in ((9.0, [FINE, LOOK]), (14.0, [FINE])):
        found = findings(compare_drives(Q([supply], "V"), drives, [leds["white 3 mm"]] * 3))
        assert [each.grade for each in found] == grades
    never = findings(compare_drives(Q([9.0], "V"), drives, [leds["white 3 mm"]] * 3))[1]
    assert never.reason.startswith("Even at 9 V it gives 2.48 mA of its 9.4 mA: to hold that it needs 12.5 V")


def test_limits_are_judged():
    # LM317L data sheet (Motorola): a lamp of 5 mA is below the least load of 10 mA; 40 V from input to output
    dim = findings(compare_drives("9 V", {"dim": regulators["lm317"].set_by("250 ohm")}, RED))
    assert [each.grade for each in dim] == [FINE, LOOK]
    assert "minimum load" in dim[1].reason
    high = findings(compare_drives("48 V", {"high": regulators["lm317"].set_by("62 ohm")}, RED))
    assert [each.grade for each in high] == [FINE, STOP]
    hot = findings(compare_drives("12 V", {"hot": ResistorDrive("100 ohm")}, RED))
    assert [each.grade for each in hot] == [FINE, STOP]


@pytest.mark.parametrize(
    ("call", "kind", "said"),
    [
        (lambda: compare_drives("1.2 V", DRIVES, RED), DesignError, "below what resistor and the lamp need"),
        (lambda: compare_drives("-9 V", DRIVES, RED), RangeError, "wrong way in"),
        (lambda: compare_drives("9 V", [DRIVES["resistor"]], RED), UnitError, "names with a drive each"),
        (lambda: compare_drives("9 V", {}, RED), UnitError, "names with a drive each"),
        (lambda: compare_drives("9 V", {"r": "330 ohm"}, RED), UnitError, "ResistorDrive"),
        (lambda: compare_drives("9 V", DRIVES, "red"), UnitError, "lamp needs"),
    ],
)
def test_what_is_refused_and_how(call, kind, said):
    with pytest.raises(kind, match=said):
        call()
