"""Curves: drops read off, points and residuals, names."""

import numpy as np
import pytest

from sigcalc.errors import RangeError, UnitError
from sigcalc.parts.led import Exponential, Led, leds
from sigcalc.views.curves import Curves
from tests.views.samples import CONSTANT, GREEN, OWN, POINTS, RED
from tests.views.svg import words


@pytest.fixture(scope="module")
def view():
    return Curves()


def test_the_drops_at_the_current_are_said(view):
    picture = view.picture([RED, GREEN], current="5 mA")
    drops = [float(led.model.voltage_si(5e-3)) for led in (RED, GREEN)]
    assert picture.sentence == (
        f"At 5 mA the voltage is {drops[0]:.2f} V for red alingap 3 mm and {drops[1]:.2f} V for green gap 3 mm."
    )
    assert {"red alingap 3 mm", "green gap 3 mm", "5 mA", "voltage (V)", "current (mA)"} <= set(words(picture))
    assert set(view.guide.get_ydata()) == {5.0}


def test_curves_are_the_models(view):
    view.picture([RED, GREEN])
    for line, led in zip(view.lines, (RED, GREEN), strict=False):
        across, current = line.get_data()
        assert across[1:] == pytest.approx(led.model.voltage_si(current[1:] / 1e3), rel=1e-12)
    assert len({line.get_linestyle() + str(line._dash_pattern) for line in view.lines}) == 2  # each told by its dashes


def test_points_and_their_residuals_are_drawn(view):
    picture = view.picture(OWN, points=POINTS)
    volts, amps = view.measured.get_data()
    assert list(volts) == [float(each[0].split()[0]) for each in POINTS]
    assert list(amps) == pytest.approx([float(each[1].split()[0]) for each in POINTS])
    gaps = view.residuals.get_xdata().reshape(-1, 3)[:, :2]
    rms = np.sqrt(np.mean((gaps[:, 0] - gaps[:, 1]) ** 2))
    assert rms == pytest.approx(OWN.model.fit.si.residual, rel=1e-6)
    assert f"misses the 5 points by {rms * 1e3:.2g} mV (root mean square)" in picture.sentence


def test_a_poor_fit_is_said(view):
    wild = [("1.6 V", "2 mA"), ("1.95 V", "5 mA"), ("1.96 V", "10 mA"), ("2.3 V", "20 mA")]
    led = Led("wild", "red", Exponential.fitted(wild, colour="red"), "30 mA")
    assert led.model.fit.poor
    assert "a poor fit" in view.picture(led, points=wild).sentence


def test_one_point_claims_no_residual(view):
    led = Led("one point", "red", Exponential.fitted(POINTS[:1], colour="red"), "30 mA")
    picture = view.picture(led, points=POINTS[:1])
    assert "No residual can be given for 1 point;" in picture.sentence
    assert led.model.fit.assumption in picture.sentence
    assert "root mean square" not in picture.sentence


def test_three_points_are_too_few_to_judge_the_fit_and_the_sentence_is_whole(view):
    points = [("1.75 V", "2 mA"), ("1.86 V", "10 mA"), ("1.95 V", "20 mA")]
    sentence = view.picture(Led("three", "red", Exponential.fitted(points), "30 mA"), points=points).sentence
    assert sentence.endswith(
        "No residual can be given for 3 points; as many readings as unknowns: a fourth would show how well they fit."
    )


def test_a_kept_figure_draws_what_a_new_one_draws(view):
    view.picture([leds["white 3 mm"], GREEN], current="1 mA")
    assert view.picture([RED, CONSTANT]) == Curves().picture([RED, CONSTANT])
    assert view.picture(RED) == Curves().picture(RED)


def test_what_cannot_be_drawn_is_refused(view):
    with pytest.raises(RangeError, match="at most 2"):
        view.picture([RED] * 3)
    with pytest.raises(UnitError, match="leds"):
        view.picture("red")
    with pytest.raises(UnitError, match="points: voltage"):
        view.picture(RED, points=[(1.9, "5 mA")])
    with pytest.raises(UnitError, match="pairs"):
        view.picture(RED, points=["1.9 V"])
