"""The symbols: a lit LED sends arrows out; a dark one keeps them thin and hollow; every other part stays as it is."""

import pytest

from sigcalc.views.style import LINE, PAPER, THIN, lamp_fill
from sigcalc.views.symbols import LAMP, elm, symbol

ENDS = (100.0, 20.0), (100.0, 120.0)


def style(shape, name):
    return dict(part.split(":") for part in shape.get("style").split(";") if part)[name]


@pytest.mark.parametrize("colour", ["red", "green", "white"])
def test_a_lit_lamp_is_filled_and_its_arrows_are_strong(colour):
    triangle, _, *arrows = symbol(elm.LED, *ENDS, lamp_fill(colour), LAMP)
    assert style(triangle, "fill").lower() == lamp_fill(colour).lower()
    heads = [each for each in arrows if style(each, "fill") != "none"]
    assert [style(each, "fill") for each in heads] == ["#000000"] * 2


def test_a_dark_lamp_keeps_its_arrows_but_thin_and_hollow():
    triangle, leads, *arrows = symbol(elm.LED, *ENDS, PAPER, LAMP)
    assert len(arrows) == 4  # a shaft and a head, twice
    assert {style(each, "fill") for each in (triangle, *arrows)} == {PAPER}
    assert {float(style(each, "stroke-width")) for each in arrows} == {THIN}
    assert {float(style(each, "stroke-width")) for each in (triangle, leads)} == {LINE}


def test_only_an_led_has_arrows_to_lose():
    assert {float(style(each, "stroke-width")) for each in symbol(elm.Diode, *ENDS)} == {LINE}


def test_a_lit_white_lamp_is_no_paper():
    assert lamp_fill("white").lower() != PAPER
