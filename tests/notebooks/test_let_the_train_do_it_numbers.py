"""What stands in the prose of "let the train do it" is what the library finds."""

import math

import numpy as np
import pytest

from sigcalc.design.train.hold import supply_effect
from sigcalc.design.train.magnet_and_reed import Passing, closures
from sigcalc.design.train.passing_odds import passing_odds
from sigcalc.design.train.passing_train import OWN_RED, SHORT, passing_train
from sigcalc.panels.let_the_train_do_it import PassingTrainPanel
from sigcalc.parts.magnet import as_magnet
from sigcalc.parts.reed import BRIDGE, Reed, reeds
from sigcalc.physics.rc import one_shot_time
from tests.design.train.passing_runs import circuit
from tests.notebooks.lesson_text import open_words, says_in

says = says_in("let_the_train_do_it")
MAGNET, REED = "8 x 3 mm disc, N35", reeds["10 W reed, 7 to 21 AT"].middle


def test_the_open_words_are_few():
    assert open_words("let_the_train_do_it") <= 900


def count(orientation, gap="5 mm", reed=REED):
    return len(closures(MAGNET, reed, gap, orientation))


def test_how_often_the_reed_closes():
    says("Upright: twice")
    assert count("upright") == 2
    says("Lengthwise: once, or three times")
    assert (count("lengthwise", "10 mm"), count("lengthwise")) == (1, 3)
    says("Crosswise: never")
    assert count("crosswise", "1 mm", Reed("1 µT", "1 µT")) == 0


def test_three_times_from_about_four_times_the_pull_in():
    says("here from about four times the pull-in on")
    gaps = np.arange(3.0, 10.0, 0.25)
    passing = Passing.over(as_magnet(MAGNET), "lengthwise", REED)
    times = np.array([passing.peak(gap * 1e-3)[0] / REED.at_magnet[0] for gap in gaps])
    often = np.array([count("lengthwise", f"{gap} mm") for gap in gaps])
    assert set(often) == {1, 3}
    assert times[often == 1].max() == pytest.approx(4.0, abs=0.3)
    assert times[often == 3].min() == pytest.approx(4.0, abs=0.4)


def test_each_bar_is_longer_behind_the_reed():
    says("each bar is a little longer behind the reed than before it")
    for orientation in ("upright", "lengthwise"):
        stretches = closures(MAGNET, REED, "5 mm", orientation)
        assert stretches[-1][1].magnitude > -stretches[0][0].magnitude
    says(f"{BRIDGE.least:.1f} to {BRIDGE.most:.0f} times the coil's field")
    says(f"the mean over {BRIDGE.length * 1e3:.0f} mm of reed")


def test_which_timer_drifts_and_what_its_on_time_is():
    says("the on-time stays the same")
    assert supply_effect(circuit("one-shot"), "9 V", "6.3 V").grade == "fine"
    says("such as the comparator or the mosfet, drifts")
    for name in ("comparator", "mosfet"):
        assert supply_effect(circuit(name), "9 V", "6.3 V").grade == "look again"  # by more than a tenth
    says("(resistance times capacitance) to fill to two thirds")
    assert 1 - math.exp(-math.log(3)) == pytest.approx(2 / 3)
    assert one_shot_time(1.0, 1.0) == pytest.approx(math.log(3))


@pytest.fixture(scope="module")
def run():
    return PassingTrainPanel().run


def test_the_reed_is_closed_for_hundredths_of_a_second_and_red_for_many_seconds(run):
    says("closed for a few hundredths of a second, the lamp is red for many seconds")
    result = passing_train(run)
    closed = np.diff([result.happenings.field.starts[0], result.happenings.field.ends[0]], axis=0)
    assert (closed > 0.02).all()
    assert (closed < 0.1).all()
    assert result.si.red_until - result.si.red_from > 5
    says("The reed needs part of a millisecond, the relay several")
    assert REED.si.operate_time < 1e-3
    assert 2e-3 < run.relay.si.operate_time < 10e-3


def test_what_may_go_wrong_with_the_train(run):
    says("A train at half the speed is only half as far when it ends")
    assert passing_train(run, speed="0.15 m/s").verdict == SHORT
    says("the signal turns red under the driver's eyes")
    assert passing_train(run, reed_beyond="0 mm").verdict == OWN_RED
    says("does nothing to a quick train, and sets the signal anew behind a slow one")
    reds = [passing_train(run, last_magnet="860 mm", **speed).reds for speed in ({}, {"speed": "0.05 m/s"})]
    assert reds == [1, 2]


def test_the_watch_does_better_than_the_scale(run):
    says("First the pot is set by its scale, then with a watch")
    spread = [np.ptp(passing_odds(run, watch=watch).sample.hold) for watch in (False, True)]
    assert spread[1] < spread[0] / 4
