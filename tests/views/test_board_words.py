"""How light and wire are said."""

import pytest

from sigcalc.design.lamp.drive import brightness_word
from sigcalc.parts.wire import wires
from sigcalc.views.board_words import share_words, wire_words


@pytest.mark.parametrize(
    ("share", "current", "word"),
    [
        (1.0, 0.01, "full light"),
        (0.9, 0.01, "full light"),
        (0.89, 0.01, "a little dim"),
        (0.67, 0.01, "a little dim"),
        (0.66, 0.01, "clearly dim"),
        (0.2, 0.01, "clearly dim"),
        (0.19, 0.01, "faint"),
        (0.01, 11e-6, "faint"),
        (0.006, 30e-6, "dark"),  # of 5 mA
        (0.5, 10e-6, "dark"),
        (1.0, 0.0, "dark"),
    ],
)
def test_brightness(share, current, word):
    assert brightness_word(share, current) == word


@pytest.mark.parametrize(
    ("share", "said"),
    [(1, "100 %"), (0.996, "100 %"), (0.994, "99 %"), (0.5, "50 %"), (0.01, "1 %"), (0.001, "under 1 %"), (0, "0 %")],
)
def test_nothing_is_rounded_to_nought_or_to_all(share, said):
    assert share_words(share) == said


@pytest.mark.parametrize(
    ("wire", "said"),
    [
        (26, "26 AWG"),
        ("26 AWG", "26 AWG"),
        ("22 AWG stranded hook-up", "22 AWG"),
        (wires["30 AWG wrapping"], "30 AWG"),
        (wires["0.14 mm2 flexible"], "0.14 mm² flexible"),
        ("0.14 mm2", "0.14 mm²"),
    ],
)
def test_wires(wire, said):
    assert wire_words(wire) == said
