"""Curves: drops read off, points and residuals, names."""

import numpy as np
import pytest

from sigcalc.errors import RangeError, UnitError
from sigcalc.parts.led import Exponential, Led, leds
from sigcalc.views.curves import Curves
from tests.views.samples import CONSTANT, GREEN, OWN, POINTS, RED
from tests.views.svg import words

VIEW = Curves()


def test_the_curves_are_the_models_and_the_drops_are_said():
    picture = VIEW.picture([RED, GREEN], current="5 mA")
    drops = [float(led.model.voltage_si(5e-3)) for led in (RED, GREEN)]
    said = f"At 5 mA the voltage is {drops[0]:.2f} V for bright red 3 mm and {drops[1]:.2f} V for ordinary green 3 mm."
    assert picture.sentence == said
    assert {"bright red 3 mm", "ordinary green 3 mm", "5 mA", "voltage (V)", "current (mA)"} <= set(words(picture))
    assert set(VIEW.lines["guide"].get_ydata()) == {5.0}
    for name, led in (("first", RED), ("second", GREEN)):
        across, current = VIEW.lines[name].get_data()
        assert across[1:] == pytest.approx(led.model.voltage_si(current[1:] / 1e3), rel=1e-12)
    assert VIEW.lines["first"].get_linestyle() != VIEW.lines["second"].get_linestyle()  # each told by its dashes


def test_points_and_their_residuals_are_drawn():
    picture = VIEW.picture(OWN, points=POINTS)
    volts, amps = VIEW.lines["measured"].get_data()
    given = np.array([[float(each.split()[0]) for each in point] for point in POINTS])
    assert np.column_stack([volts, amps]) == pytest.approx(given)
    gaps = VIEW.lines["gaps"].get_xdata().reshape(-1, 3)[:, :2]
    rms = np.sqrt(np.mean((gaps[:, 0] - gaps[:, 1]) ** 2))
    assert rms == pytest.approx(OWN.model.fit.si.residual, rel=1e-6)
    assert f"misses the 5 points by {rms * 1e3:.2g} mV (root mean square)" in picture.sentence


@pytest.mark.parametrize(
    ("points", "said"),
    [
        ([("1.6 V", "2 mA"), ("1.95 V", "5 mA"), ("1.96 V", "10 mA"), ("2.3 V", "20 mA")], "a poor fit"),
        (POINTS[:1], "No residual can be given for 1 point;"),
        (POINTS[::2][:3], "for 3 points; as many readings as unknowns: a fourth would show how well they fit."),
    ],
)
def test_what_a_fit_is_worth_is_said(points, said):
    led = Led("own", "red", Exponential.fitted(points, colour="red"), "30 mA")
    sentence = VIEW.picture(led, points=points).sentence
    assert said in sentence
    assert ("root mean square" in sentence) == (len(points) > 3)


def test_a_kept_figure_draws_what_a_new_one_draws():
    VIEW.picture([leds["white 3 mm"], GREEN], current="1 mA")
    assert VIEW.picture([RED, CONSTANT]) == Curves().picture([RED, CONSTANT])
    assert VIEW.picture(RED) == Curves().picture(RED)


def test_what_cannot_be_drawn_is_refused():
    for error, said, *given in (
        (RangeError, "at most 2", [RED] * 3),
        (UnitError, "leds", "red"),
        (UnitError, "points: voltage", RED, [(1.9, "5 mA")]),
    ):
        with pytest.raises(error, match=said):
            VIEW.picture(*given)
