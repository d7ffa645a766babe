"""What feeds the coil: data-sheet limits of the output, and which end of the coil it is joined to."""

import dataclasses

import pytest

from sigcalc.parts.timer import timers
from sigcalc.parts.timer_output import timer_output


def test_published_limits_of_the_one_shot_s_output():
    """TI NE555 data sheet SLFS022: 12.75 V least at 15 V and 100 mA, 0.75 V most at 50 mA."""
    for lamp, end in (("red", 15 - 12.75), ("green", 0.75)):
        assert timer_output(timers["one-shot"], lamp).keeps[2] == pytest.approx(end)


@pytest.mark.parametrize("name", list(timers))
@pytest.mark.parametrize("lamp", ["red", "green"])
def test_only_an_output_that_bears_the_coil_may_feed_it_from_below(name, lamp):
    """High while it holds red: a coil to minus is fed for red, one from plus for green. A transistor only sinks."""
    output = timer_output(timers[name], lamp)
    assert output.from_plus is (not timers[name].bears_coil or lamp == "green")
    for least, usual, most in (output.keeps, output.leaves):
        assert 0 <= least <= usual <= most < 3


def test_of_an_own_timer_its_own_limit_counts():
    own = dataclasses.replace(timers["one-shot"], name="own", high_drop="3 V", low_drop=None)
    assert timer_output(own, "red").keeps == (0.0, 3.0, 3.0)
    assert timer_output(own, "green").keeps == (0.0, 0.0, 0.0)
