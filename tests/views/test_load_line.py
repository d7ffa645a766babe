"""The load line: the point lies on both curves, the limits are drawn, the spread is computed."""

import itertools

import numpy as np
import pytest

from sigcalc.design.lamp.drive import operate
from sigcalc.errors import RangeError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.led import Exponential, Led
from sigcalc.views.load_line import LoadLine
from tests.views.samples import CONSTANT, DRIVER, GREEN, RED, RESISTOR
from tests.views.svg import by_words, words

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
    offered, through = view.supply.get_data()
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
    assert f"the most it stands: {limit * 1e3:g} mA" in said
    assert float(view.limit.get_ydata()[0]) == pytest.approx(limit * _factor(view), rel=1e-9)
    assert any(label.startswith("current (") for label in said)
    assert any("voltage across the LED" in label for label in said)
    assert ("more than the" in picture.sentence) == (point.si.current > limit)


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
    corners = itertools.product(("423 ohm", "517 ohm"), ("-0.2 V", "0.3 V"))
    currents = [_shifted_current(*corner) for corner in corners]
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


def test_without_spread_nothing_is_shaded(view):
    view.picture(operate("9 V", RESISTOR, RED), spread=True)
    picture = view.picture(operate("9 V", RESISTOR, RED))
    assert not view.led_band.get_visible()
    assert not view.supply_band.get_visible()
    assert "bought parts" not in picture.sentence


def test_a_kept_figure_draws_what_a_new_one_draws(view):
    for supply in ("3 V", "24 V", "9.5 V"):
        kept = view.picture(operate(supply, RESISTOR, GREEN), spread=True)
    assert kept == LoadLine().picture(operate("9.5 V", RESISTOR, GREEN), spread=True)


def test_nothing_piles_up_in_the_figure(view):
    view.picture(operate("9 V", RESISTOR, RED))
    before = (len(view.chart.axes.get_children()), len(view.chart.figure.get_children()))
    for volts in range(3, 20):
        view.picture(operate(f"{volts} V", RESISTOR, RED), spread=bool(volts % 2))
    assert (len(view.chart.axes.get_children()), len(view.chart.figure.get_children())) == before


def test_too_little_to_light_it_is_said(view):
    assert view.picture(operate("1.2 V", RESISTOR, GREEN)).sentence.endswith("too little to light it.")


def test_a_tiny_rating_takes_another_unit(view):
    small = Led("tiny", "red", Exponential("1e-21 A", 2, "10 ohm"), "0.5 mA")
    assert "current (µA)" in words(view.picture(operate("3 V", ResistorDrive("100 kohm"), small)))


def test_arrays_and_reverse_are_refused(view):
    with pytest.raises(RangeError, match="array"):
        view.picture(operate(["3 V", "9 V"], RESISTOR, RED))
    with pytest.raises(RangeError, match="turn it round"):
        view.picture(operate("-3 V", RESISTOR, RED))


def test_the_bands_lie_on_both_sides_of_their_lines(view):
    view.picture(operate("9 V", RESISTOR, RED), spread=True)
    for band, line in ((view.led_band, view.led), (view.supply_band, view.supply)):
        corners = band.get_xy()
        across, current = line.get_data()
        middle = len(current) // 2
        level = np.abs(corners[:, 1] - current[middle]) < 0.02 * view.chart.axes.get_ylim()[1]
        assert corners[level, 0].min() < across[middle] < corners[level, 0].max()
