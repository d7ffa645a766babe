"""Candelas from watts and amperes, and how even two lamps look."""

import colour
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.errors import RangeError
from sigcalc.physics.photometry import (
    brightness_ratio,
    current_for,
    intensity_at,
    led_efficacy,
    luminous_efficacy,
    luminous_from_radiant,
    luminous_weight,
    unevenness_word,
)
from tests.physics.answers import anything, keeps_promise

# Luminous efficacy of LEDs: peak and dominant wavelength in nm, lm/W. The first seven are measured spectra (R package
# photobiologyLEDs, data leds-mspct, integrated with colour-science); the last two are printed on p. 3 of the Broadcom
# ASMT-QTB4 data sheet.
LED_EFFICACIES = {
    "HLMP-CM30 green": (519, 526, 468.8),
    "HLMP-CM31 green": (520, 527, 477.8),
    "Weili 525 green": (521, 527, 503.5),
    "HLMP-DL32": (596, 594, 459.1),
    "Osram LY5436 yellow": (594, 592, 489.5),
    "Norlux R": (643, 629, 137.2),
    "Epileds 620": (629, 619, 220.3),
    "ASMT-QTB4 red": (629, 622, 210.0),
    "ASMT-QTB4 green": (521, 530, 535.0),
}


# colour-science 0.4.7: 683.002 * V, printed to 0.01 lm/W
@pytest.mark.parametrize(
    ("nanometres", "efficacy"), [(525, 541.76), (570, 650.22), (590, 517.03), (625, 219.24), (630, 181.0)]
)
def test_published_efficacies(nanometres, efficacy):
    assert luminous_efficacy(nanometres * 1e-9) == pytest.approx(efficacy, abs=0.005)


def test_definition_of_the_candela():
    """SI: 683 lm/W at 540 THz, which is 555.016 nm in standard air (index 1.00028; from memory)."""
    in_air = 299_792_458 / 540e12 / 1.000_28
    assert luminous_efficacy(in_air) == pytest.approx(683, abs=0.5)


def test_independent_table_of_weights_between_its_points():
    """colour-science's V between the 1 nm points, by its own (Sprague) interpolation: the straight line is near."""
    nanometres = np.arange(400, 700, 0.25)
    theirs = colour.SDS_LEFS["CIE 1924 Photopic Standard Observer"].copy()
    theirs.interpolate(colour.SpectralShape(360, 830, 0.25))
    np.testing.assert_allclose(luminous_weight(nanometres * 1e-9), theirs[nanometres], atol=1.5e-4)


@pytest.mark.parametrize(("peak", "dominant", "printed"), LED_EFFICACIES.values(), ids=LED_EFFICACIES)
def test_published_efficacies_of_leds(peak, dominant, printed):
    """The documented 10 % of `led_efficacy`."""
    assert led_efficacy(peak * 1e-9, dominant * 1e-9) == pytest.approx(printed, rel=0.1)


def test_one_wavelength_alone_errs_as_much_as_documented():
    peak, dominant, printed = np.array(list(LED_EFFICACIES.values())).T
    error = [np.abs(luminous_efficacy(nanometres * 1e-9) / printed - 1).max() for nanometres in (dominant, peak)]
    assert np.round(error, 2).tolist() == [0.37, 0.24]


# Broadcom ASMT-QTB4, p. 3: the printed efficacy lies between those of peak and dominant wavelength
@pytest.mark.parametrize(("peak", "dominant", "printed"), [(629, 622, 210), (521, 530, 535)])
def test_published_bracket(peak, dominant, printed):
    assert luminous_efficacy(peak * 1e-9) < printed < luminous_efficacy(dominant * 1e-9)


def test_blue_wants_the_whole_spectrum():
    with pytest.raises(RangeError, match="blue wants the whole measured spectrum"):
        led_efficacy(464e-9, 470e-9)


def test_radiant_intensity_becomes_luminous():
    assert luminous_from_radiant([1.0, 2e-3], 555e-9) == pytest.approx([683.002, 1.366_004])


# Measured light of an LED, student laboratory: github byn1002/byn1002.github.io, RGB.pdf, table 4, and the line printed
# with it (slope 0.5346 mV/mA, correlation 0.99918). Current in mA, photodiode signal in mV, stray light included.
CURRENT = np.array([1.4, 4.1, 9.5, 14.2, 23.7, 27.8, 32.6, 37.7, 41.0, 50.0, 62.0, 70.3, 80.9, 89.1, 90.3, 98.7])
SIGNAL = np.array(
    [2.17, 3.74, 7.06, 9.84, 15.37, 17.69, 20.5, 23.29, 25.12, 30.11, 36.29, 40.37, 45.31, 49.32, 49.88, 53.61]
)


def test_published_straight_line_of_light_against_current():
    """These rows give the slope 0.5303: within 1 % of the printed one, not to its last digit."""
    light = intensity_at(CURRENT * 1e-3, 0.5346 * 20, 20e-3)
    assert np.corrcoef(light, SIGNAL)[0, 1] > 0.999
    assert np.polyfit(light, SIGNAL, 1)[0] == pytest.approx(1, abs=0.01)


def test_proportional_law_errs_as_much_as_documented():
    error = np.abs(intensity_at(CURRENT * 1e-3, SIGNAL[4], CURRENT[4] * 1e-3) / SIGNAL - 1)
    assert error[(CURRENT > 14) & (CURRENT <= 50)].max() == pytest.approx(0.08, abs=0.005)
    assert error[CURRENT == 98.7] == pytest.approx(0.19, abs=0.005)
    assert error[CURRENT == 4.1] == pytest.approx(0.29, abs=0.005)


@given(st.floats(1e-6, 0.1), st.floats(1e-6, 100), st.floats(1e-4, 0.1))
def test_current_and_light_undo_each_other(current, intensity, reference):
    assert current_for(intensity_at(current, intensity, reference), intensity, reference) == pytest.approx(current)


def test_no_current_no_light():
    assert intensity_at(0, 0.013, 10e-3) == 0


def test_ratio_is_the_brighter_over_the_dimmer():
    assert brightness_ratio([13e-3, 4e-3], [4e-3, 13e-3]) == pytest.approx([3.25, 3.25])


def test_a_dark_lamp_has_no_ratio():
    with pytest.raises(RangeError, match="lit lamps"):
        brightness_ratio(0.01, 0)


def test_words_of_unevenness():
    words = unevenness_word([1.0, 1.25, 1.3, 2.0, 4.9, 100.0])  # common practice, no source
    expected = ["look alike", "look alike", "a little brighter", "clearly brighter", "much brighter", "outshines"]
    assert all(part in word for part, word in zip(expected, words, strict=True))
    assert type(unevenness_word(1.0)) is str


@given(st.floats(1e-3, 10), st.floats(1, 10))
def test_unevenness_goes_by_the_ratio_alone(intensity, factor):
    same = unevenness_word(brightness_ratio(intensity, intensity * factor))
    assert (
        same == unevenness_word(brightness_ratio(1000 * factor, 1000)) or np.isclose(factor, [1.25, 1.6, 2.5, 5]).any()
    )


def test_shapes_broadcast():
    assert intensity_at(np.ones((3, 1)), np.ones(2), 1).shape == (3, 2)
    assert luminous_from_radiant(np.ones((3, 1)), np.full(2, 5e-7)).shape == (3, 2)
    assert led_efficacy(np.full((3, 1), 5e-7), np.full(2, 5e-7)).shape == (3, 2)


light = anything(360e-9, 830e-9)


@given(light, light)
def test_wavelength_functions_keep_the_promise(first, second):
    assert keeps_promise(luminous_weight, first)
    assert keeps_promise(luminous_efficacy, first)
    assert keeps_promise(led_efficacy, first, second)


@given(anything(0, 1e6), anything(0, 1e6), anything(1e-9, 1e3))
def test_the_other_functions_keep_the_promise(first, second, third):
    assert keeps_promise(intensity_at, third, first, third)
    assert keeps_promise(current_for, first, second, third)
    assert keeps_promise(brightness_ratio, first, second)
    assert keeps_promise(unevenness_word, first)
    assert keeps_promise(luminous_from_radiant, first, 525e-9)
