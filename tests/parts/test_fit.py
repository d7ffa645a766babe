"""The table of assumptions behind a fit, and the story a fit tells of itself."""

import numpy as np
import pytest

from sigcalc import Exponential
from sigcalc.errors import RangeError, UnknownNameError
from sigcalc.parts.fit import POOR_ABOVE, Fit, fit_points, usual_colour
from sigcalc.parts.led_table import leds
from sigcalc.parts.table import read_figures
from sigcalc.physics.diode import thermal_voltage
from sigcalc.units import Resistance, TemperatureCoefficient, kind_of

PRIORS = read_figures("led_priors.csv")
VT = thermal_voltage(300.0)


def fit(volts, amperes, colour=None):
    return fit_points(np.asarray(volts, float), np.asarray(amperes, float), VT, colour)


@pytest.mark.parametrize("colour", PRIORS)
def test_every_colour_has_its_four_assumptions_in_a_plausible_range(colour):
    figures = PRIORS[colour]
    assert 1 <= float(figures["ideality"].value) <= 4
    assert 0 < float(figures["ideality_spread"].value) < float(figures["ideality"].value)
    ohms = [
        kind_of(Resistance).read(figures[key].text, key) for key in ("series_resistance", "series_resistance_spread")
    ]
    assert 0 < ohms[1] < ohms[0] < 30
    slope = kind_of(TemperatureCoefficient).read(figures["temperature_coefficient"].text, "slope")
    # textbooks, from memory: -1 to -2.5 mV/K
    assert -2.5e-3 <= slope <= -1e-3


@pytest.mark.parametrize("colour", PRIORS)
def test_the_assumption_is_said_with_its_spread(colour):
    _, story, slope = fit([2.0], [0.02], colour)
    said = PRIORS[colour]
    assert f"usual for {colour} LEDs" in story.assumption
    for value in ("ideality", "series_resistance"):
        figures = (float(said[end].value) for end in (value, f"{value}_spread"))
        assert "{:g} ± {:g}".format(*figures) in story.assumption
    assert slope.to("mV/K").magnitude == pytest.approx(float(said["temperature_coefficient"].value))


def test_where_the_colour_is_not_given_the_assumption_for_any_is_taken():
    _, story, _ = fit([2.0], [0.02])
    assert "LEDs of any colour" in story.assumption
    assert f"ideality {float(PRIORS['any']['ideality'].value):g}" in story.assumption


def test_a_colour_in_no_row_is_refused_with_the_nearest():
    with pytest.raises(UnknownNameError, match="'infrared'"):
        fit([2.0], [0.02], "infra-red")


def test_rows_that_are_no_colour_are_not_offered_as_one():
    with pytest.raises(UnknownNameError) as refusal:
        fit([2.0], [0.02], "pink")
    assert "'red'" in str(refusal.value)
    assert "ingan" not in str(refusal.value)


@pytest.mark.parametrize(
    ("colour", "technology", "row"),
    [
        ("green", "GaP", "green gap"),
        ("green", "InGaN", "ingan"),
        ("white", "InGaN", "ingan"),
        ("red", "AlInGaP", "red"),
        ("yellow", "GaAsP/GaP", "yellow"),
    ],
)
def test_the_row_that_fits_colour_and_technology(colour, technology, row):
    assert usual_colour(colour, technology) == row
    assert row in PRIORS


def test_every_led_of_the_table_has_a_row():
    assert all(each.model.fit.assumption for each in leds.values())


def test_the_residual_is_the_root_mean_square_of_what_is_left():
    amperes = np.array([1e-3, 3e-3, 1e-2, 2e-2])
    clean = Exponential("1e-21 A", 1.8, "4 ohm", temperature="300 K").voltage_si(amperes)
    off = np.array([2e-3, -2e-3, 2e-3, -2e-3])
    solved, story, _ = fit(clean + off, amperes)
    model = Exponential.fitted([(f"{v:.9f} V", f"{i} A") for v, i in zip(clean + off, amperes, strict=True)], "300 K")
    left = clean + off - model.voltage_si(amperes)
    assert story.si.residual == pytest.approx(np.sqrt(np.mean(left**2)), rel=1e-4)
    assert 0 < story.si.residual <= 2e-3
    assert solved.ideality_spread == story.ideality_spread > 0
    assert not story.poor


@pytest.mark.parametrize(("off", "poor"), [(0.9, False), (3.0, True)])
def test_poor_begins_at_the_limit_said(off, poor):
    amperes = np.geomspace(1e-4, 3e-2, 12)
    clean = Exponential("1e-21 A", 1.8, "4 ohm", temperature="300 K").voltage_si(amperes)
    wave = off * POOR_ABOVE * np.resize([1, 1, -1], 12)
    _, story, _ = fit(np.maximum.accumulate(clean + wave), amperes)
    assert (story.si.residual > POOR_ABOVE) == poor == story.poor


@pytest.mark.parametrize("count", [3, 5])
def test_equal_voltages_at_rising_currents_are_no_fall_but_no_diode_either(count):
    solved, story, _ = fit([2.0] * count, np.linspace(0.01, 0.03, count))
    assert solved.ideality == pytest.approx(0.5)
    assert story.poor
    assert (story.residual is None) == (count == 3)


def test_voltages_that_rise_too_steeply_are_no_diode():
    with pytest.raises(RangeError, match="do not lie on a diode's curve"):
        fit([2.0, 2.5, 3.0], [0.01, 0.01001, 0.01002])


def test_a_rising_voltage_at_one_current_is_no_fall():
    _, story, _ = fit([2.1, 2.0], [0.02, 0.02])
    assert isinstance(story, Fit)
    assert story.points == 2
