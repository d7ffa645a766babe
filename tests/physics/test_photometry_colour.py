"""Chromaticity, mixtures, dominant wavelengths and words, against published values and colour-science."""

import colorsys

import colour
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.errors import RangeError, SigcalcError
from sigcalc.physics.photometry import (
    chromaticity,
    colour_word,
    dominant_wavelength,
    excitation_purity,
    hue_word,
    luminous_weight,
    mix,
    screen_colour,
)
from tests.physics.answers import anything, keeps_promise

telling = st.floats(361e-9, 698e-9)
EQUAL_ENERGY = np.full(2, 1 / 3)


# CIE 1931, printed by colour-science 0.4.7 to 1e-5
@pytest.mark.parametrize(
    ("nanometres", "printed"),
    [
        (525, (0.11416, 0.82621)),
        (565, (0.40874, 0.58961)),
        (570, (0.44406, 0.55471)),
        (590, (0.57515, 0.42423)),
        (625, (0.70061, 0.2993)),
        (630, (0.70792, 0.29203)),
    ],
)
def test_published_chromaticities(nanometres, printed):
    assert chromaticity(nanometres * 1e-9) == pytest.approx(printed, abs=5e-6)


# 525 nm green and 625 nm red, luminance red over green: x, y to 1e-4 and dominant wavelength to 1 nm (colour-science)
MIXTURES = [
    (0.25, (0.3536, 0.6111), 558),
    (0.5, (0.4542, 0.5207), 573),
    (1, (0.5447, 0.4394), 587),
    (2, (0.6107, 0.3801), 598),
    (4, (0.6519, 0.3431), 607),
]


@pytest.mark.parametrize(("ratio", "printed", "dominant"), MIXTURES)
def test_published_mixtures(ratio, printed, dominant):
    mixed = mix(chromaticity([525e-9, 625e-9]), [1, ratio])
    assert mixed == pytest.approx(printed, abs=5e-5)
    assert dominant_wavelength(*mixed) * 1e9 == pytest.approx(dominant, abs=1)


def test_mixtures_broadcast_over_the_luminances():
    ratios = np.array([ratio for ratio, _, _ in MIXTURES])
    mixed = mix(chromaticity([525e-9, 625e-9]), np.stack([np.ones(5), ratios], axis=-1))
    np.testing.assert_allclose(np.transpose(mixed), [printed for _, printed, _ in MIXTURES], atol=5e-5)


def test_independent_mixture_of_three():
    """colour-science: tristimulus values added."""
    nanometres, luminances = np.array([470.0, 525.0, 625.0]), np.array([0.2, 1.0, 0.7])
    functions = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"][nanometres]
    total = (functions / functions[:, 1:2] * luminances[:, np.newaxis]).sum(axis=0)
    assert mix(chromaticity(nanometres * 1e-9), luminances) == pytest.approx(colour.XYZ_to_xy(total), abs=1e-6)


@pytest.mark.parametrize("xy", [(0.6, 0.35), (0.45, 0.5), (0.2, 0.6), (0.2, 0.2), (0.5447, 0.4394)])
def test_independent_dominant_wavelength_and_purity(xy):
    """colour-science answers to its 1 nm locus."""
    theirs, *_ = colour.dominant_wavelength(np.array(xy), EQUAL_ENERGY)
    assert dominant_wavelength(*xy) * 1e9 == pytest.approx(float(theirs), abs=0.75)
    assert excitation_purity(*xy) == pytest.approx(colour.excitation_purity(np.array(xy), EQUAL_ENERGY), abs=5e-3)


@given(telling)
def test_dominant_wavelength_undoes_chromaticity(wavelength):
    x, y = chromaticity(wavelength)
    assert dominant_wavelength(x, y) == pytest.approx(wavelength, abs=1e-15)
    assert excitation_purity(x, y) == pytest.approx(1, abs=1e-5)


@given(telling, st.floats(0.05, 1))
def test_white_light_added_leaves_the_dominant_wavelength(wavelength, share):
    x, y = chromaticity(wavelength)
    paler = 1 / 3 + share * (x - 1 / 3), 1 / 3 + share * (y - 1 / 3)
    assert dominant_wavelength(*paler) == pytest.approx(wavelength, abs=2e-12)
    assert excitation_purity(*paler) == pytest.approx(share, rel=1e-6)


def test_beyond_699_nm_all_light_has_one_chromaticity():
    assert dominant_wavelength(*chromaticity([699e-9, 720e-9, 830e-9])) == pytest.approx(699e-9, abs=1e-11)


@given(telling, telling, st.floats(0.01, 100))
def test_a_mixture_lies_on_the_line_between_its_lights(first, second, ratio):
    x, y = chromaticity([first, second])
    mixed_x, mixed_y = mix((x, y), [1, ratio])
    turn = (x[1] - x[0]) * (mixed_y - y[0]) - (y[1] - y[0]) * (mixed_x - x[0])
    assert turn == pytest.approx(0, abs=1e-12)
    assert min(x) - 1e-12 <= mixed_x <= max(x) + 1e-12


@given(st.floats(500e-9, 560e-9), st.floats(600e-9, 660e-9))
def test_more_red_never_shifts_the_mixture_to_shorter_waves(green, red):
    luminances = np.stack([np.ones(20), np.geomspace(0.01, 100, 20)], axis=-1)
    assert (np.diff(dominant_wavelength(*mix(chromaticity([green, red]), luminances))) > 0).all()


def test_one_lit_light_is_the_mixture():
    assert mix(chromaticity([525e-9, 625e-9]), [0, 3]) == pytest.approx(chromaticity(625e-9))


@pytest.mark.parametrize(
    ("xy", "reason"),
    [
        ((1 / 3, 1 / 3), "is white"),
        ((0.4, 0.2), "is a purple"),
        ((0.1, 0.1), "no light has"),
        ((0.8, 0.3), "at most 1"),
    ],
)
def test_colours_without_a_dominant_wavelength(xy, reason):
    with pytest.raises(RangeError, match=reason):
        dominant_wavelength(*xy)


def test_the_dark_make_no_mixture():
    with pytest.raises(RangeError, match="light one lamp"):
        mix(chromaticity([525e-9, 625e-9]), [[1, 1], [0, 0]])


# Wavelength groups in which lamps are sold: Vishay 83006 (TLHR4400 red, TLHG4400 green, TLHP4401 pure green), 83005
# (TLHO4200 soft orange), TLHY6400 yellow; NBS Letter Circular 454 p. 1 has 555 nm as a yellowish green and 570 nm as a
# greenish yellow, which the word "yellow-green" stands for.
@pytest.mark.parametrize(
    ("low", "high", "word"),
    [
        (612, 625, "red"),
        (598, 611, "orange"),
        (581, 594, "yellow"),
        (562, 575, "yellow-green"),
        (555, 565, "yellow-green"),
        (555, 570, "yellow-green"),
    ],
)
def test_published_groups_have_one_word(low, high, word):
    assert set(hue_word(np.linspace(low, high, 50) * 1e-9)) == {word}


def test_words_of_colours():
    words = colour_word([1 / 3, 0.4, 0.5447, 0.345], [1 / 3, 0.2, 0.4394, 0.345])
    assert words.tolist() == ["white", "purple", "yellow", "white"]
    assert type(colour_word(0.5, 0.45)) is type(hue_word(5e-7)) is str


@given(telling)
def test_a_single_wavelength_has_the_word_of_its_hue(wavelength):
    assert colour_word(*chromaticity(wavelength)) in {hue_word(wavelength), hue_word(wavelength * (1 + 1e-12))}


# stretches of the colour circle, in degrees, around the named colours of CSS
STRETCHES = {
    "red": (-15, 15),  # red 0
    "orange": (15, 48),  # darkorange 33, orange 39
    "yellow": (48, 68),  # gold 51, yellow 60
    "yellow-green": (68, 105),  # yellowgreen 80, chartreuse 90
    "green": (105, 150),  # lime and green 120
    "blue-green": (150, 200),  # cyan and teal 180
    "blue": (200, 256),  # blue 240
    "violet": (255, 290),  # blueviolet 271
    "purple": (290, 330),  # purple and magenta 300
}


def hue_and_saturation(text):
    hue, saturation, value = colorsys.rgb_to_hsv(*(int(text[at : at + 2], 16) / 255 for at in (1, 3, 5)))
    assert value == 1
    return hue * 360, saturation


@pytest.mark.parametrize("nanometres", np.arange(400.5, 700, 3.1))
@pytest.mark.parametrize("purity", [1.0, 0.9, 0.4])
def test_a_colour_is_drawn_in_the_hue_that_its_word_names(nanometres, purity):
    pure = np.array(chromaticity(nanometres * 1e-9))
    xy = purity * pure + (1 - purity) / 3
    low, high = STRETCHES[colour_word(*xy)]
    hue, saturation = hue_and_saturation(screen_colour(*xy))
    assert low - 1 <= (hue - 360 if hue > 345 else hue) <= high + 1
    assert saturation == pytest.approx(purity, abs=0.01)


def test_what_is_called_purple_or_white_is_drawn_so():
    assert 290 < hue_and_saturation(screen_colour(0.4, 0.2))[0] < 330
    assert screen_colour(1 / 3, 1 / 3) == "#ffffff"
    assert hue_and_saturation(screen_colour(0.345, 0.345))[1] < 0.15


def test_shapes_broadcast():
    x, y = np.full((3, 1), 0.4), np.full(2, 0.45)
    for function in (dominant_wavelength, excitation_purity, colour_word, screen_colour):
        assert function(x, y).shape == (3, 2)
    assert np.shape(chromaticity(np.full((3, 2), 5e-7))) == (2, 3, 2)


def test_the_second_function_is_the_luminous_weight():
    """A mixture of two wavelengths of equal power, weighted by V, is that of their tristimulus values."""
    pair = np.array([540e-9, 610e-9])
    x, y = mix(chromaticity(pair), luminous_weight(pair))
    functions = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"][pair * 1e9]
    assert (x, y) == pytest.approx(colour.XYZ_to_xy(functions.sum(axis=0)), abs=1e-6)


unit = anything(0, 1)


@given(unit, unit)
def test_colour_functions_keep_the_promise(x, y):
    for function in (dominant_wavelength, excitation_purity, colour_word, screen_colour):
        assert keeps_promise(function, x, y)
    assert keeps_promise(mix, x, y)
    assert keeps_promise(mix, (x, y), y)


@given(anything(360e-9, 830e-9), anything(0, 1e12))
def test_mixtures_keep_the_promise(wavelengths, luminances):
    assert keeps_promise(chromaticity, wavelengths)
    assert keeps_promise(hue_word, wavelengths)
    try:
        lights = chromaticity(wavelengths)
    except SigcalcError:
        return
    assert keeps_promise(mix, lights, luminances)
