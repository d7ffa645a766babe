"""The first lessons' pictures: the load line, the curve against a resistor's line, a meter's readings."""

import re

import numpy as np
import pytest

from sigcalc.design.lamp.direct import connect_to_source, steepness
from sigcalc.design.lamp.drive import operate
from sigcalc.errors import RangeError
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.led import Led, leds
from sigcalc.parts.source import batteries
from sigcalc.units import Q
from sigcalc.views.why_a_resistor import AgainstResistor, LoadLine, bench_readings, steepness_brief
from tests.views.samples import CONSTANT, DRIVER, GREEN, RED, RESISTOR
from tests.views.svg import words

VIEW, CHART = LoadLine(), AgainstResistor()


@pytest.mark.parametrize(
    ("supply", "drive", "led"),
    [
        ("9.5 V", RESISTOR, RED),
        ("12 V", DRIVER, [RED, GREEN]),
        ("4.6 V", DRIVER, [RED, GREEN]),  # dropped out
        ("5 V", ResistorDrive("100 ohm"), CONSTANT),
        ("60 V", ResistorDrive("10 ohm"), GREEN),
    ],
)
def test_the_point_lies_on_both_lines_and_the_limit_is_drawn(supply, drive, led):
    point = operate(supply, drive, led)
    picture = VIEW.picture(point)
    (volts,), (amps,) = VIEW.lines["point"].get_data()
    assert volts == pytest.approx(point.si.led_voltage, rel=1e-9)
    (_, right), (_, top) = VIEW.axes.get_xlim(), VIEW.axes.get_ylim()
    assert 0 <= volts <= right
    assert 0 <= amps <= top
    across, current = VIEW.lines["led"].get_data()
    assert np.interp(amps, current, across) == pytest.approx(volts, rel=0.01)
    offered, through = VIEW.lines["straight"].get_data()
    assert min(np.hypot((offered - volts) / 60, (through - amps) / top)) < 0.01
    limit = min(each.si.max_current for each in point.string)
    unit = {"current (mA)": 1e3, "current (A)": 1.0}[VIEW.axes.get_ylabel()]
    assert VIEW.lines["limit"].get_ydata()[0] == pytest.approx(limit * unit, rel=1e-9)
    assert f"its limit: {limit * 1e3:g} mA" in words(picture)
    assert ("more than the limit" in picture.sentence) == (point.si.current > limit)


def test_the_spread_holds_every_corner():
    led = Led("led", "red", RED.model, "30 mA", drop_below="0.2 V", drop_above="0.3 V")
    picture = VIEW.picture(operate("9 V", ResistorDrive("470 ohm", 0.1), led), spread=True)
    # the whole curve lies higher by a shift: as if the supply were lower by it
    ends = (("8.7 V", "517 ohm"), ("9.2 V", "423 ohm"))
    least, most = (operate(volts, ResistorDrive(ohms), RED).si.current * 1e3 for volts, ohms in ends)
    assert f"between {least:.1f} mA and {most:.1f} mA" in picture.sentence
    for shade, line in (("led", "led"), ("supply", "straight")):
        outline, (across, current) = VIEW.shades[shade].get_xy(), VIEW.lines[line].get_data()
        half = len(current) // 2
        level = np.abs(outline[:, 1] - current[half]) < 0.02 * VIEW.axes.get_ylim()[1]
        assert outline[level, 0].min() < across[half] < outline[level, 0].max()
    driven = VIEW.picture(operate("12 V", DRIVER, RED), spread=True)
    assert "between 9 mA and 11 mA" in driven.sentence
    assert "12 V through a 10 mA driver" in words(driven)


def test_a_kept_figure_draws_what_a_new_one_draws():
    for supply in ("3 V", "24 V", "9.5 V"):
        kept = VIEW.picture(operate(supply, RESISTOR, GREEN), spread=True)
    assert kept == LoadLine().picture(operate("9.5 V", RESISTOR, GREEN), spread=True)


@pytest.mark.parametrize(("supply", "said"), [(["3 V", "9 V"], "array"), ("-3 V", "turn it round")])
def test_arrays_and_reverse_are_refused(supply, said):
    with pytest.raises(RangeError, match=said):
        VIEW.picture(operate(supply, RESISTOR, RED))


# ---- against a resistor


def test_both_currents_are_on_the_line_and_in_the_sentence():
    si = steepness(RED, "1.75 V").si
    sentence = CHART.picture(steepness(RED, "1.75 V")).sentence
    volts, amps = CHART.lines["point"].get_data()
    assert list(volts) == pytest.approx([1.75, 1.85])
    assert list(amps) == pytest.approx([si.current * 1e3, si.current_after * 1e3])
    across, through = CHART.lines["straight"].get_data()
    assert through == pytest.approx(across / si.resistance * 1e3)
    assert "is 2.91 mA, at 1.85 V it is 12.5 mA: 4.29 times as much." in sentence
    assert sentence.endswith("it is 3.08 mA then, 1.06 times as much.")


@pytest.mark.parametrize("led", leds.values(), ids=list(leds))
def test_every_led_is_drawn_dark_and_lit_with_labels_on_the_sheet_and_in_order(led):
    for voltage in ("1 V", "1.75 V", "2.6 V", "3.2 V"):
        picture = CHART.picture(steepness(led, voltage))
        assert "nan" not in picture.svg
        assert f"{led.colour} LED" in words(picture)
        assert ("resistor of" in picture.svg) == ("next to nothing flows" not in picture.sentence)
        (first, low), (second, high) = (CHART.labels[each].get_position() for each in ("at", "after"))
        assert not CHART.labels["at"].get_text() or first <= second + 24 or low < high - 5
        places = np.array([label.get_position() for label in CHART.labels.values()])
        assert ((places >= 0) & (places <= (CHART.width, CHART.height))).all()


def test_the_readings_at_the_bench_add_up_and_each_has_a_band():
    result = connect_to_source(batteries["9 V alkaline"], RED, "470 ohm")
    found = [re.findall(r"[\d.]+ [a-zA-ZµΩ]+", row[2]) for row in bench_readings(result).rows]
    bands = np.array([[Q(each).to_base_units().magnitude for each in texts] for texts in found])
    source, led, resistor, current = bands[:, 0]
    assert led + resistor + result.si.current * result.si.internal_resistance == pytest.approx(source, abs=0.01)
    assert resistor / 470 == pytest.approx(current, rel=5e-3)
    assert ((bands[:, 1] < bands[:, 0]) & (bands[:, 0] < bands[:, 2])).all()


@pytest.mark.parametrize(
    ("voltage", "says"),
    [
        ("1 V", "Dark: next to nothing flows. 0.1 V more: under 0.001 mA."),
        ("1.75 V", "0.1 V more: 12.5 mA, 4.3 times as much."),
        ("1.9 V", "0.1 V more: 38.2 mA, 1.9 times; its limit is 30 mA."),
    ],
)
def test_a_wall_is_told_what_a_little_more_voltage_does(voltage, says):
    assert steepness_brief(steepness(RED, voltage)) == says
