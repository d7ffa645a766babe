"""The first lessons' pictures: the circuit, the load line, the curve against a resistor's line, a meter's readings."""

import itertools
import re

import numpy as np
import pytest

from sigcalc.design.lamp.direct import connect_to_source, steepness
from sigcalc.design.lamp.drive import operate
from sigcalc.errors import RangeError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.led import Led, leds
from sigcalc.parts.source import batteries
from sigcalc.units import Q
from sigcalc.views.why_a_resistor import AgainstResistor, LoadLine, bench_readings, one_led_circuit
from tests.views.samples import CONSTANT, DRIVER, GREEN, RED, RESISTOR
from tests.views.svg import by_words, corners, fills, group, groups, words


def test_with_a_resistor():
    point = operate("9.5 V", RESISTOR, RED)
    picture = one_led_circuit(point, "9 V alkaline")
    assert groups(picture, "resistor")
    assert "#d55e00" in fills(group(picture, "led red lit"))
    current, led, rest = f"{point.si.current * 1e3:.1f} mA", f"{point.si.led_voltage:.2f} V", point.si.drive_voltage
    assert {current, led, "680 Ω ± 5 %", "RED ON", "9 V alkaline", "9.5 V"} <= set(words(picture))
    assert picture.sentence == (
        f"The red LED is lit with {current}, with {led} across it and {rest:.2f} V across the resistor."
    )


def test_bare_the_resistance_is_the_supplys_own():
    picture = one_led_circuit(operate("9.5 V", ResistorDrive("2.5 ohm"), RED), "9 V alkaline", bare=True)
    assert not groups(picture, "resistor")
    assert {"no resistor", "2.5 Ω inside", "RED DEAD"} <= set(words(picture))
    assert "times its limit of 30 mA, and will not last" in picture.sentence


LOOKS = {  # mA through the ordinary red LED: what is said beside it
    0.005: ("RED DARK", ""),
    0.0112: ("RED ON", "dim"),
    0.8: ("RED ON", "normal light"),
    16: ("RED ON", "bright"),
    43: ("RED ON", "OVERLOADED"),
    1160: ("RED DEAD", ""),
}


def drawn_at(milliamperes, led=RED):
    return one_led_circuit(operate("12 V", ConstantCurrentDrive(f"{milliamperes} mA", "1 V"), led), "supply")


def test_a_lamp_is_drawn_and_named_by_its_light():
    seen = {}
    for milliamperes, (state, look) in LOOKS.items():
        picture = drawn_at(milliamperes)
        (lamp,) = groups(picture, "led red")
        assert {state, look} - {""} <= set(words(picture))
        assert ("lit" in lamp.get("class")) == (state == "RED ON")
        seen[milliamperes] = (*fills(lamp), *(each.get("style") for each in lamp.iter() if each.get("style")))
    looks = [seen[each] for each in (0.0112, 0.8, 16, 43, 1160)]
    assert len(set(looks)) == len(looks)  # each is another drawing, the colour apart


def test_what_is_too_little_to_see_is_not_lit():
    picture = drawn_at(0.05, leds["green gap 3 mm"])
    assert groups(picture, "led green dark")
    assert {"GREEN DARK", "too little to see"} <= set(words(picture))
    assert picture.sentence == "The green LED gives too little light to see: 50 µA flows."


def test_a_negative_supply_is_drawn_turned_round():
    upright = one_led_circuit(operate("4 V", RESISTOR, RED), "battery")
    turned = one_led_circuit(operate("-4 V", RESISTOR, RED), "battery")
    assert by_words(upright, "+").top < by_words(upright, "−").top
    assert by_words(turned, "+").top > by_words(turned, "−").top
    assert group(turned, "led red dark") is not None
    assert turned.sentence == "The red LED is dark, with 4 V across it in reverse."
    beyond = one_led_circuit(operate("-12 V", RESISTOR, RED), "battery")
    assert beyond.sentence == "The red LED is dark, with 12 V across it in reverse; its limit is 5 V."


def test_the_anode_of_the_led_is_at_the_top_where_plus_is():
    triangle = corners(group(one_led_circuit(operate("9 V", RESISTOR, GREEN), "battery"), "led"))[0]
    heights = sorted(y for _, y in triangle)
    assert heights[0] == heights[1] < heights[2]


def test_too_little_voltage_leaves_it_dark():
    picture = one_led_circuit(operate("1.2 V", RESISTOR, GREEN), "one cell")
    assert group(picture, "led green dark") is not None
    assert picture.sentence.startswith("The green LED is dark: ")
    assert not [line for line in corners(group(picture, "current")) if len(line) == 3]  # no arrow


@pytest.mark.parametrize(
    ("count", "note"), [(2, None), (3, None), (4, "and 1 more LED in series"), (9, "and 6 more LEDs in series")]
)
def test_a_string_is_drawn_as_far_as_it_fits_and_the_rest_is_said(count, note):
    picture = one_led_circuit(
        operate("40 V", ConstantCurrentDrive("10 mA", "2 V"), [RED] * count), "adapter", adapter=True
    )
    assert len(groups(picture, "led red lit")) == min(count, 3)
    assert [each for each in words(picture) if "more LED" in each] == ([note] if note else [])
    assert picture.sentence.startswith(f"The string of {count} LEDs is lit with 10 mA")
    assert "across the driver" in picture.sentence


# ---- the load line

CASES = pytest.mark.parametrize(
    ("supply", "drive", "led"),
    [
        ("9.5 V", RESISTOR, RED),
        ("12 V", DRIVER, [RED, GREEN]),
        ("3 V", ResistorDrive("33 ohm"), RED),
        ("4.6 V", DRIVER, [RED, GREEN]),  # dropped out
        ("5 V", ResistorDrive("100 ohm"), CONSTANT),
        ("60 V", ResistorDrive("10 ohm"), GREEN),
    ],
)


@pytest.fixture(scope="module")
def view():
    return LoadLine()


@CASES
def test_the_point_lies_on_both_lines(view, supply, drive, led):
    point = operate(supply, drive, led)
    view.picture(point)
    volts, amps = (float(each[0]) for each in view.point.get_data())
    assert volts == pytest.approx(point.si.led_voltage, rel=1e-9)
    top = view.chart.axes.get_ylim()[1]
    across, current = view.led.get_data()
    assert np.interp(amps, current, across) == pytest.approx(volts, rel=0.01)
    offered, through = view.straight.get_data()
    assert min(np.hypot((offered - volts) / 60, (through - amps) / top)) < 0.01
    right, low = view.chart.axes.get_xlim()[1], view.chart.axes.get_ylim()[0]
    assert 0 <= volts <= right
    assert low <= amps <= top


@CASES
def test_words_and_limit(view, supply, drive, led):
    point = operate(supply, drive, led)
    picture = view.picture(point)
    said = words(picture)
    limit = min(each.si.max_current for each in point.string)
    assert f"its limit: {limit * 1e3:g} mA" in said
    assert float(view.limit.get_ydata()[0]) == pytest.approx(limit * _factor(view), rel=1e-9)
    assert any(label.startswith("current (") for label in said)
    assert any("voltage across the LED" in label for label in said)
    assert ("more than the limit" in picture.sentence) == (point.si.current > limit)


def _factor(view):
    return {"current (µA)": 1e6, "current (mA)": 1e3, "current (A)": 1.0}[view.chart.axes.get_ylabel()]


def test_the_label_stands_near_its_point(view):
    point = operate("9.5 V", RESISTOR, RED)
    picture = view.picture(point)
    label = by_words(picture, f"{point.si.current * 1e3:.1f} mA at {point.si.led_voltage:.2f} V")
    ((x, up),) = view.chart.points(*(each[0] for each in view.point.get_data()))
    assert min(abs(label.left - x), abs(label.right - x)) < 15
    assert abs((label.top + label.bottom) / 2 - (view.chart.height - up)) < 25


def test_the_spread_holds_every_corner(view):
    spread_led = Led("led", "red", RED.model, "30 mA", drop_below="0.2 V", drop_above="0.3 V")
    drive = ResistorDrive("470 ohm", 0.1)
    picture = view.picture(operate("9 V", drive, spread_led), spread=True)
    ends = itertools.product(("423 ohm", "517 ohm"), ("-0.2 V", "0.3 V"))
    currents = [_shifted_current(*corner) for corner in ends]
    assert f"between {min(currents) * 1e3:.1f} mA and {max(currents) * 1e3:.1f} mA" in picture.sentence
    assert view.led_band.get_visible()
    assert view.supply_band.get_visible()


def _shifted_current(ohms, shift):
    """The current when the whole curve lies higher by a shift: as if the supply were lower by it."""
    supply = 9.0 - float(shift.removesuffix(" V"))
    return operate(f"{supply:.9f} V", ResistorDrive(ohms), RED).si.current


def test_a_drivers_tolerance_bounds_its_current(view):
    picture = view.picture(operate("12 V", ConstantCurrentDrive("10 mA", "1.5 V", 0.1), RED), spread=True)
    assert "between 9 mA and 11 mA" in picture.sentence
    assert "12 V through a 10 mA driver" in words(picture)


def test_a_kept_figure_draws_what_a_new_one_draws(view):
    for supply in ("3 V", "24 V", "9.5 V"):
        kept = view.picture(operate(supply, RESISTOR, GREEN), spread=True)
    assert kept == LoadLine().picture(operate("9.5 V", RESISTOR, GREEN), spread=True)


def test_arrays_and_reverse_are_refused(view):
    with pytest.raises(RangeError, match="array"):
        view.picture(operate(["3 V", "9 V"], RESISTOR, RED))
    with pytest.raises(RangeError, match="turn it round"):
        view.picture(operate("-3 V", RESISTOR, RED))


def test_the_bands_lie_on_both_sides_of_their_lines(view):
    view.picture(operate("9 V", RESISTOR, RED), spread=True)
    for band, line in ((view.led_band, view.led), (view.supply_band, view.straight)):
        outline = band.get_xy()
        across, current = line.get_data()
        middle = len(current) // 2
        level = np.abs(outline[:, 1] - current[middle]) < 0.02 * view.chart.axes.get_ylim()[1]
        assert outline[level, 0].min() < across[middle] < outline[level, 0].max()


# ---- against a resistor


@pytest.fixture(scope="module")
def chart():
    return AgainstResistor()


def test_the_sentence_says_both_currents_and_how_many_times(chart):
    result = steepness(RED, "1.75 V")
    sentence = chart.picture(result).sentence
    assert sentence.startswith(
        "At 1.75 V the current through the red LED is 2.91 mA, at 1.85 V 12.5 mA: 4.29 times as much."
    )
    assert sentence.endswith("it is 3.08 mA then, 1.06 times as much.")


@pytest.mark.parametrize("name", leds)
def test_below_the_bend_the_led_is_dark_and_no_resistor_is_drawn(chart, name):
    picture = chart.picture(steepness(leds[name], "1 V"))
    assert picture.sentence.startswith(f"At 1 V next to nothing flows through the {leds[name].colour} LED")
    assert "resistor" not in picture.svg
    assert "nan" not in picture.svg
    assert "resistor of" in chart.picture(steepness(leds[name], "3.2 V")).svg


def test_the_lines_go_through_the_two_points(chart):
    si = steepness(RED, "1.8 V").si
    chart.picture(steepness(RED, "1.8 V"))
    volts, amps = chart.point.get_data()
    assert list(volts) == pytest.approx([1.8, 1.9])
    assert list(amps) == pytest.approx([si.current * 1e3, si.current_after * 1e3])
    straight = chart.straight.get_data()
    assert straight[1] == pytest.approx(straight[0] / si.resistance * 1e3)


@pytest.mark.parametrize("volts", ["1.95 V", "2.2 V", "3 V", "4 V"])
@pytest.mark.parametrize("name", ["red alingap 3 mm", "red low-current 3 mm", "yellow gaasp 3 mm"])
def test_everything_that_is_named_is_on_the_sheet(chart, name, volts):
    svg = chart.picture(steepness(leds[name], volts)).svg
    for x, y in re.findall(r'<text style="[^"]*" (?:x="([\d.-]+)" y="([\d.-]+)")', svg):
        assert 0 <= float(x) <= chart.chart.width
        assert 0 <= float(y) <= chart.chart.height
    assert "its limit" in svg
    assert f"{leds[name].colour} LED" in svg


@pytest.mark.parametrize("name", leds)
@pytest.mark.parametrize("voltage", ["1 V", "1.75 V", "2.6 V"])
def test_the_first_points_label_is_never_behind_the_second_ones(chart, name, voltage):
    chart.picture(steepness(leds[name], voltage))
    (first, low), (second, high) = (chart.labels[each].get_position() for each in ("at", "after"))
    assert first <= second + 0.05 or low < high - 0.02  # shares of the picture's width and height


# ---- at the bench


def si(text):
    return Q(text).to_base_units().magnitude


def test_the_readings_at_the_bench_add_up_and_each_has_a_band():
    result = connect_to_source(batteries["9 V alkaline"], RED, "470 ohm")
    readings = bench_readings(result)
    assert "9 V alkaline, 470 Ω, red alingap 3 mm" in readings.caption
    bands = [[si(each) for each in re.findall(r"[\d.]+ [a-zA-ZµΩ]+", row[2])] for row in readings.rows]
    source, led, resistor, current = (middle for middle, _, _ in bands)
    assert led + resistor + result.si.current * result.si.internal_resistance == pytest.approx(source, abs=0.01)
    assert resistor / 470 == pytest.approx(current, rel=5e-3)
    for middle, least, most in bands:
        assert least < middle < most
