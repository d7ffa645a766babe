"""Red and green told apart by eyes that see no difference of their hues, in simulation; text read on every fill."""

import itertools
import warnings

import numpy as np
import pytest

from sigcalc.design.lamp.drive import DARK, FEEBLE, GLARING, NORMAL
from sigcalc.views.light import Light
from sigcalc.views.style import FAINT, FLOW, FLOW_RIM, INK, MINUS, PAPER, PLUS, ink_on, lamp_fill, lamp_stroke

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # backslashes in its docstrings, seen when it is compiled
    from colorspacious import cspace_convert

# Simulation: Machado, Oliveira and Fernandes (2009), at full severity, as colorspacious has it; lightness: CIE L*.
EYES = ("protanomaly", "deuteranomaly", "tritanomaly")
LOOKS = [(DARK, 0.0), (FEEBLE, 0.1), (NORMAL, 0.5), (GLARING, 1.6)]
COLOURS = ("red", "green", "yellow", "orange", "amber", "blue", "violet", "white")


def seen(fill, eyes=None):
    """CIE L*a*b* of a colour, as such eyes see it."""
    rgb = [int(fill[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    space = {"name": "sRGB1+CVD", "cvd_type": eyes, "severity": 100} if eyes else "sRGB1"
    return cspace_convert(np.clip(cspace_convert(rgb, space, "sRGB1"), 0, 1), "sRGB1", "CIELab")


def contrast(one, other):
    """WCAG 2.1's contrast ratio, from relative luminance (CIE Y)."""
    darkest, lightest = sorted(cspace_convert(seen(each), "CIELab", "XYZ100")[1] / 100 for each in (one, other))
    return (lightest + 0.05) / (darkest + 0.05)


@pytest.mark.parametrize("eyes", EYES)
def test_lit_red_and_green_differ_in_lightness_for_all_eyes(eyes):
    for word, glow in LOOKS[1:3]:
        red, green = (seen(Light(colour, word, glow).lens, eyes)[0] for colour in ("red", "green"))
        assert green - red > 12, (word, eyes)
    assert seen(lamp_fill("green"), eyes)[0] - seen(lamp_fill("red"), eyes)[0] > 20


@pytest.mark.parametrize("eyes", [None, *EYES])
@pytest.mark.parametrize("colour", ["red", "green"])
def test_a_lamp_that_gives_more_light_looks_different_to_all_eyes(colour, eyes):
    lenses = [seen(Light(colour, word, glow).lens, eyes) for word, glow in LOOKS]
    for less, more in itertools.pairwise(lenses):
        assert np.linalg.norm(more - less) > 4
    assert np.linalg.norm(lenses[2] - lenses[0]) > 15


def test_red_is_red_and_green_is_green():
    for colour, (least, most) in {"red": (0, 45), "green": (120, 170)}.items():
        _, a, b = seen(lamp_fill(colour))
        assert least < np.degrees(np.arctan2(b, a)) < most


def test_words_and_lines_are_seen_on_what_they_lie_on():
    for colour in COLOURS:
        assert contrast(ink_on(lamp_fill(colour)), lamp_fill(colour)) >= 4.5, colour
        assert contrast(lamp_stroke(colour), PAPER) >= 3, colour
    assert contrast(FAINT, PAPER) >= 4.5
    for colour in (PLUS, MINUS, INK, FLOW_RIM):
        assert contrast(colour, PAPER) >= 3
        assert contrast(FLOW, FLOW_RIM) >= 4.5
    assert abs(seen(PLUS)[2] - seen(MINUS)[2]) > 40  # warm and cool
