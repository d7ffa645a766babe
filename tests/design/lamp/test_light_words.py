"""What a lamp looks like on its own: by its light where that is known, else by its current, and by what it bears."""

import dataclasses

import pytest

from sigcalc.design.lamp.light_words import (
    BRIGHT,
    DARK,
    DEAD,
    FEEBLE,
    GLARING,
    NORMAL,
    OVERLOADED,
    SHINING,
    TOO_LITTLE,
    lamp_look,
)
from sigcalc.parts.led import LIT_FROM, leds

RED, GREEN, BRIGHT_GREEN = leds["red alingap 3 mm"], leds["green gap 3 mm"], leds["green ingan 3 mm"]


@pytest.mark.parametrize(
    ("led", "milliamperes", "look"),
    [
        (RED, 0.8, NORMAL),  # 5.6 mcd, more than the ordinary green gives at 10 mA
        (RED, 16, BRIGHT),
        (RED, 31, OVERLOADED),
        (RED, 1160, DEAD),
        (GREEN, 0.1, TOO_LITTLE),
        (GREEN, 1, FEEBLE),
        (GREEN, 10, NORMAL),
        (BRIGHT_GREEN, 0.2, BRIGHT),
        (BRIGHT_GREEN, 10, GLARING),
        (leds["white 3 mm"], 10, NORMAL),
    ],
)
def test_looks(led, milliamperes, look):
    assert lamp_look(led, milliamperes * 1e-3) == look


@pytest.mark.parametrize("led", leds.values(), ids=leds)
def test_more_current_never_looks_like_less(led):
    order = [DARK, TOO_LITTLE, FEEBLE, NORMAL, BRIGHT, GLARING, OVERLOADED, DEAD]
    places = [order.index(lamp_look(led, 10.0**power)) for power in range(-9, 2)]
    assert places == sorted(places)
    assert places[0] == 0
    assert order[places[-1]] == DEAD
    assert lamp_look(led, LIT_FROM) == DARK


def test_a_dead_lamp_and_a_dark_one_do_not_shine():
    assert not {DEAD, DARK, TOO_LITTLE} & set(SHINING)


def test_an_own_led_without_a_figure_for_its_light_is_told_by_its_current():
    own = dataclasses.replace(RED, intensity=None, intensity_current=None, intensity_min=None, intensity_max=None)
    assert [lamp_look(own, each) for each in (5e-5, 1e-3, 10e-3, 40e-3)] == [TOO_LITTLE, FEEBLE, NORMAL, OVERLOADED]
