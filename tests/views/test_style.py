"""Red and green told apart by eyes that see no difference of their hues, in simulation; text read on every fill."""

import itertools
import warnings

import numpy as np
import pytest

from sigcalc.design.lamp.drive import DARK, FEEBLE, GLARING, NORMAL
from sigcalc.views import style
from sigcalc.views.light import Light
from sigcalc.views.style import (
    FLOW,
    FLOW_RIM,
    INK,
    LOOSE,
    MATERIALS,
    MINUS,
    PAPER,
    PLUS,
    ink_on,
    lamp_fill,
    lamp_stroke,
)

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # backslashes in its docstrings, seen when it is compiled
    from colorspacious import cspace_convert

# Simulation: Machado, Oliveira and Fernandes (2009), at full severity, as colorspacious has it; lightness: CIE L*.
EYES = ("protanomaly", "deuteranomaly", "tritanomaly")
LOOKS = [(DARK, 0.0), (FEEBLE, 0.1), (NORMAL, 0.5), (GLARING, 1.6)]
STROKES = tuple(dict.fromkeys(style.STROKES.values()))
EDGES = (style.FINE_EDGE, style.LOOK_EDGE, style.STOP_EDGE)
GROUNDS = (style.FINE_GROUND, style.LOOK_GROUND, style.STOP_GROUND)
PAGES = ("#FFFFFF", "#EEEEEE", "#111111", "#212121")  # JupyterLab's: light and dark, plain and inside tabs
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


def apart(one, other, eyes):
    """How different two colours look to such eyes (CIE 1976); some 2 is just seen side by side."""
    return np.linalg.norm(seen(one, eyes) - seen(other, eyes))


def test_words_and_lines_are_seen_on_what_they_lie_on():
    for colour in COLOURS:
        assert contrast(ink_on(lamp_fill(colour)), lamp_fill(colour)) >= 4.5, colour
    for ink in (INK, style.FAINT, MATERIALS["red"], MATERIALS["green"]):
        for ground in (PAPER, MATERIALS["plaster"]):  # on a switch's plate too
            assert contrast(ink, ground) >= 4.5, (ink, ground)
    for ground in GROUNDS:
        assert contrast(ink_on(ground), ground) >= 4.5, ground
    for line in (PLUS, MINUS, LOOSE, *STROKES, FLOW_RIM, style.OUTLINE):
        assert contrast(line, PAPER) >= 3, line
    for edge, page in itertools.product(EDGES, PAGES):
        assert contrast(edge, page) >= 3, (edge, page)


def test_dots_of_a_current_are_seen_on_every_wire_and_lenses_and_scales_on_what_holds_them():
    for wire in (PLUS, MINUS, LOOSE, INK, PAPER):
        assert max(contrast(dot, wire) for dot in (FLOW, FLOW_RIM)) >= 3, wire
    for mark, ground in (("metal_dark", "black"), ("running", "black"), ("running", "board"), ("outline", "glass")):
        assert contrast(MATERIALS[mark], MATERIALS[ground]) >= 3, (mark, ground)


@pytest.mark.parametrize("eyes", [None, *EYES])
def test_colours_with_different_meanings_differ_to_all_eyes(eyes):
    lit = [Light(colour, NORMAL, 0.5).lens for colour in ("red", "green")]
    curves = [lamp_stroke(colour) for colour in ("red", "green", "blue")]
    for group in (EDGES, GROUNDS, (PLUS, MINUS, LOOSE, FLOW), lit, curves):
        for one, other in itertools.combinations(group, 2):
            assert apart(one, other, eyes) > 10, (one, other)
    assert seen(PLUS, eyes)[2] - seen(MINUS, eyes)[2] > 10  # warm and cool


def test_curves_of_one_chart_differ_without_colour():
    assert len(set(style.DASHES)) == len(style.DASHES) > len(STROKES)
