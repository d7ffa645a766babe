"""The bent curve against the straight line."""

import re

import pytest

from sigcalc.design.lamp.direct import steepness
from sigcalc.parts.led import leds
from sigcalc.views.against_resistor import AgainstResistor
from sigcalc.views.style import LARGE

RED = leds["red alingap 3 mm"]


@pytest.fixture(scope="module")
def chart():
    return AgainstResistor()


def test_the_sentence_says_both_currents_and_how_many_times(chart):
    result = steepness(RED, "1.75 V")
    sentence = chart.picture(result).sentence
    assert sentence.startswith("At 1.75 V the red LED takes 2.91 mA, at 1.85 V 12.5 mA: 4.29 times as much.")
    assert sentence.endswith("takes 3.08 mA then, 1.06 times as much.")


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
    volts, amps = chart.points.get_data()
    assert list(volts) == pytest.approx([1.8, 1.9])
    assert list(amps) == pytest.approx([si.current * 1e3, si.current_after * 1e3])
    straight = chart.resistor.get_data()
    assert straight[1] == pytest.approx(straight[0] / si.resistance * 1e3)


@pytest.mark.parametrize("volts", ["1.95 V", "2.2 V", "3 V", "4 V"])
@pytest.mark.parametrize("name", ["red alingap 3 mm", "red low-current 3 mm", "yellow gaasp 3 mm"])
def test_everything_that_is_named_is_on_the_sheet(chart, name, volts):
    svg = chart.picture(steepness(leds[name], volts)).svg
    for x, y in re.findall(r'<text style="[^"]*" (?:x="([\d.-]+)" y="([\d.-]+)")', svg):
        assert 0 <= float(x) <= chart.chart.width
        assert 0 <= float(y) <= chart.chart.height
    assert "the most it stands" in svg
    assert f"{leds[name].colour} LED" in svg


def test_the_same_question_gives_the_same_picture_after_another(chart):
    first = chart.picture(steepness(RED, "1.75 V"))
    chart.picture(steepness(leds["white 3 mm"], "3 V"))
    assert chart.picture(steepness(RED, "1.75 V")) == first


def test_large_type(chart):
    assert chart.picture(steepness(RED, "1.75 V"), LARGE).size is LARGE


@pytest.mark.parametrize("name", leds)
@pytest.mark.parametrize("voltage", ["1 V", "1.75 V", "2.6 V"])
def test_the_first_points_label_is_never_behind_the_second_ones(chart, name, voltage):
    chart.picture(steepness(leds[name], voltage))
    (first, low), (second, high) = (chart.labels[each].get_position() for each in ("at", "after"))
    assert first <= second + 0.05 or low < high - 0.02  # shares of the picture's width and height
