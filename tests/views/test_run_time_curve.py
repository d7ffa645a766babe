"""The light of a run: ring, cross and bar stand where the run says, the band holds every corner."""

import numpy as np
import pytest

from sigcalc.views.run_time_curve import RunTimeCurve, run_time_picture, sentence
from sigcalc.views.style import LARGE
from tests.views.power_samples import LATCHING, RELAY, run
from tests.views.svg import words


@pytest.fixture(scope="module")
def curve():
    return RunTimeCurve()


@pytest.fixture(scope="module")
def by_hand():
    return run()


def test_the_ring_marks_half_the_light_and_the_cross_the_end(curve, by_hand):
    picture = curve.picture(by_hand, "resistor")
    ((hour,), (light,)) = curve.half.get_data()
    assert hour == pytest.approx(by_hand.when_light(0.5)[1].m_as("h"))
    assert light == 50
    hours, lights = curve.light.get_data()
    before = lights > 45  # the line's last stroke, straight down, left out
    assert np.interp(-50.0, -lights[before], hours[before]) == pytest.approx(hour, rel=1e-3)
    ((end,), (last,)) = curve.end.get_data()
    assert end == pytest.approx(by_hand.hours.m_as("h"))
    assert last == pytest.approx(100 * by_hand.curve.light[-1])
    assert (hours[-1], lights[-1]) == (pytest.approx(end), 0.0)  # empty: nothing is left
    assert {"fails: 41 h", "the eye notices: 37 h", "half the light", "resistor"} <= set(words(picture))


def test_one_run_alone_is_a_still_picture_named_by_its_drive(curve, by_hand):
    alone = run_time_picture(by_hand)
    assert alone.sentence == sentence(by_hand)
    assert "with a resistor" in words(alone)
    assert "driver" not in words(alone)
    assert run_time_picture(by_hand, LARGE) == curve.picture(by_hand, "with a resistor", size=LARGE)


def test_the_bar_spans_the_band_of_the_end(curve, by_hand):
    curve.picture(by_hand, "resistor")
    low, high = curve.whiskers.get_xdata()
    assert (low, high) == (by_hand.hours_min.m_as("h"), by_hand.hours_max.m_as("h"))
    assert curve.chart.axes.get_xlim()[1] > high


def test_the_band_holds_the_nominal_line_and_every_corner(curve, by_hand):
    curve.picture(by_hand, "resistor")
    half = len(curve.band.get_xy()) // 2
    corners = curve.band.get_xy()[: 2 * half]
    hours, low, high = corners[:half, 0], corners[:half, 1], corners[half:][::-1, 1]
    assert (corners[half:][::-1, 0] == hours).all()
    for time, light in zip(by_hand.spread.time, by_hand.spread.light, strict=True):
        inside = hours * 3600 <= time[-1]
        values = 100 * np.interp(hours[inside] * 3600, time, light)
        assert (values >= low[inside] - 1e-9).all()
        assert (values <= high[inside] + 1e-9).all()


def test_a_relay_ends_it_while_the_lamp_is_lit(curve):
    result = run(relay=RELAY)
    picture = curve.picture(result, "resistor")
    assert len(curve.half.get_xdata()) == 0
    assert curve.light.get_ydata()[-1] == pytest.approx(100 * result.curve.light[-1])
    said = "then the relay no longer pulls in. Half the light is not gone before that; with poor parts"
    assert said in picture.sentence
    assert not any("the eye notices" in each for each in words(picture))


def test_the_other_line_is_there_only_when_it_is_given(curve, by_hand):
    other = run(drive="driver")
    assert "driver" in words(curve.picture(by_hand, "resistor", other, "driver"))
    assert max(curve.other.get_xdata()) == pytest.approx(other.hours.m_as("h"))
    assert "driver" not in words(curve.picture(by_hand, "resistor"))
    assert len(curve.other.get_xdata()) == 0


@pytest.mark.parametrize(
    ("load", "said"),
    [
        ({}, "(29 h to 68 h); then the battery is empty. The eye notices after 37 h (27 h to 56 h), when half"),
        ({"drive": "driver"}, "then the battery is empty. Half the light is not gone before that."),
        ({"battery": "3 V coin cell"}, "then 10 % of the starting light is left. The eye notices after"),
        ({"relay": LATCHING}, "then the relay no longer pulls in."),
    ],
)
def test_the_sentence(load, said):
    assert said in sentence(run(**load))


def test_an_open_band_is_said_as_such():
    # the strongest lithium block with little light never shows half of it before it is empty
    result = run("9 V lithium", relay=RELAY)
    assert not np.isfinite(result.when_light(0.5)[2].m)
    assert "inf" not in sentence(result)


def test_the_same_question_gives_the_same_picture_after_another(curve, by_hand):
    first = curve.picture(by_hand, "resistor")
    curve.picture(run("6 x AA alkaline"), "resistor", run(), "driver")
    assert curve.picture(by_hand, "resistor") == first
    assert curve.picture(by_hand, "resistor", size=LARGE).size is LARGE
