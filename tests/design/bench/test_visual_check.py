"""What the eye says for a current, and what words it may use."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.design.bench.visual_check import DIM_BELOW, SEEN, read_seen, seen_shares
from sigcalc.errors import UnknownNameError
from sigcalc.parts.led import LIT_FROM

USUAL = (10e-3, 9e-3)


@pytest.mark.parametrize(
    ("red", "green", "said"),
    [
        (0.0, 0.0, "none"),
        (10e-3, 0.0, "red"),
        (0.0, 9e-3, "green"),
        (1e-3, 0.0, "dim red"),
        (0.0, 1e-3, "dim green"),
        (10e-3, 9e-3, "both"),
        (1e-3, 9e-3, "both"),
        (LIT_FROM / 10, 0.0, "none"),
        (100e-3, 0.0, "red"),
    ],
)
def test_plain_cases(red, green, said):
    assert SEEN[int(np.argmax(seen_shares(red, green, USUAL)))] == said


@given(st.floats(0, 1), st.floats(0, 1))
def test_shares_sum_to_one_and_nothing_is_impossible(red, green):
    shares = seen_shares(red, green, USUAL)
    assert shares.shape == (len(SEEN),)
    assert shares.sum() == pytest.approx(1.0)
    assert np.all(shares > 1e-3)


def test_the_edges_are_doubtful():
    """At the current from which a lamp counts as lit, and at the share below which it counts as dim, it is even."""
    at_edge = dict(zip(SEEN, seen_shares(LIT_FROM, 0.0, USUAL), strict=True))
    assert at_edge["none"] == pytest.approx(0.5, abs=0.01)
    dim = dict(zip(SEEN, seen_shares(DIM_BELOW * USUAL[0], 0.0, USUAL), strict=True))
    assert dim["red"] == pytest.approx(dim["dim red"], rel=0.02)


def test_samples_broadcast():
    assert seen_shares(np.array([0.0, 1e-2]), np.zeros(2), USUAL).shape == (6, 2)


def test_other_words():
    assert read_seen({"red": "dark", "green": "dim"}) == {"red": ("none",), "green": ("dim red", "dim green")}
    assert read_seen({"red": "lit"}) == {"red": ("red", "green")}
    assert read_seen(None) == {}


@pytest.mark.parametrize(
    ("seen", "said"), [({"yellow": "none"}, "position 'yellow'"), ({"red": "blinking"}, "while set for red")]
)
def test_refusals(seen, said):
    with pytest.raises(UnknownNameError, match=said):
        read_seen(seen)
