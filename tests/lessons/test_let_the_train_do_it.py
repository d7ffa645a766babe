"""The exercises of "let the train do it" against sums of their own."""

import math

import pytest

from sigcalc.design.train.magnet_and_reed import closures
from sigcalc.lessons.let_the_train_do_it import closed_time, longest_hold, needed_hold, questions
from sigcalc.parts.reed import reeds
from tests.lessons.sound import assert_sound


@pytest.mark.parametrize("question", questions(), ids=["longest hold", "needed hold", "closed time"])
def test_it_is_sound(question):
    assert_sound(question)


def test_both_resistors_times_capacitance_times_ln_three():
    # TI SNAS548B p. 7: the printed 1.1 R C stands for the exact ln 3
    assert longest_hold().answer == pytest.approx(172e3 * 47e-6 * math.log(3))
    assert longest_hold().check(f"{1.1 * 172e3 * 47e-6} s").right


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("8.08 s", "one time constant"),
        ("7.75 s", "end resistor is in series"),
        ("1.14 s", "right down"),
        ("5.6 s", "one half"),
        ("24.3 s", "about 1.1"),
        ("8.9 s", "Right"),
    ],
)
def test_each_slip_of_the_hold_has_its_reason(typed, said):
    assert said in longest_hold().check(typed).reason


def test_the_last_wheels_way_over_the_speed():
    assert needed_hold().answer == pytest.approx((1.2 - 0.1 + 0.7) / 0.25)
    assert "take it off" in needed_hold().check("8 s").reason
    assert "comes behind it" in needed_hold().check("2.8 s").reason


def test_the_reeds_time_at_scale_speed():
    # 30 miles an hour is 13.41 m/s; a 1:48 model of it does 0.279 m/s
    stretches = closures("8 x 3 mm disc, N35", reeds["10 W reed, 7 to 21 AT"].middle, "5 mm", "upright")
    longest = max(end - start for start, end in stretches).m_as("mm")
    assert longest == pytest.approx(18, abs=0.5)
    assert closed_time().answer == pytest.approx(0.018 / (30 * 0.44704 / 48))
    assert "48 times slower" in closed_time().check("1.34 ms").reason
    assert "not metres a second" in closed_time().check("28.8 ms").reason
