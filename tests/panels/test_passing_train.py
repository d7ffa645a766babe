"""The passing train: what it says at each view, how it is played, and that it stands still until it is started."""

import html
import itertools

import numpy as np
import pytest

from sigcalc.design.train.passing_train import passing_train
from sigcalc.panels.moment import INTERVAL, PAUSE, PLAY, MomentControl
from sigcalc.panels.passing_train import (
    HALTS,
    ODDS,
    OTHER_WAY,
    STEPS,
    STILL,
    THROUGH,
    TRACK,
    TWO_MAGNETS,
    PassingTrainPanel,
    _passed,
)
from sigcalc.parts.timer import timers
from sigcalc.views.timeline import FIRST_CLOSING, OVER_THE_REED, VIEWS
from sigcalc.views.track import track_picture
from tests.panels.moving import grades, put
from tests.views.svg import words

MOMENT = "moment (step)"


@pytest.fixture
def panel():
    return PassingTrainPanel()


def test_at_first_it_stands_still_in_the_middle_of_red(panel):
    assert panel[MOMENT].step == STILL
    assert not panel[MOMENT].player.playing
    assert "the lamp shows red" in panel.picture.sentence
    assert panel.picture.sentence.startswith("This train gets its red, at 32 miles an hour on 1:48")
    assert set(grades(panel.picture).values()) == {"fine"}


def test_a_fast_train_is_not_said_as_a_power_of_ten(panel):
    # 1.5 m/s on 1:48 are 72 m/s, 161 miles an hour
    sentence = put(panel, speed_of_the_model=1.5).sentence
    panel["speed of the model"].value = 0.3
    assert "at 161 miles an hour" in sentence


def test_a_timer_whose_capacitor_the_reed_empties_misses_a_fast_train(panel):
    verdicts = {}
    for timer in timers:
        scene = put(panel, timer=timer, speed_of_the_model=1.5)
        verdicts[timer] = scene.findings[0].grade
    put(panel, timer="one-shot", speed_of_the_model=0.3)
    assert verdicts == {"one-shot": "fine"} | dict.fromkeys(list(timers)[1:], "do not build")


def test_paper_shows_the_still_picture(panel):
    page = html.unescape(panel._repr_mimebundle_()["text/html"])
    assert panel.picture.sentence in page
    assert page.count("<svg ") == 2


def test_stepping_goes_through_green_red_green_and_each_closing(panel):
    lamps, reeds = [], []
    for step in range(STEPS + 1):
        said = put(panel, **{MOMENT: step}).pictures[0].sentence
        lamps.append("shows red" in said)
        reeds.append("reed is closed" in said)
    changes = np.flatnonzero(np.diff(lamps))
    assert len(changes) == 2
    assert np.count_nonzero(np.diff(reeds)) == 4  # closed twice: no closing falls between two steps


def test_nothing_flashes_faster_than_three_times_a_second():
    assert 1000 / INTERVAL < 3
    player = MomentControl("moment", 10, 3).player
    assert player.interval == INTERVAL
    assert not player.repeat


def test_play_pause_and_back():
    control = MomentControl("moment", 10, 3)
    control.play.value = True
    assert control.player.playing
    assert control.play.description == PAUSE
    control.player.set_state({"value": 4})  # as the browser does
    assert (control.step, control.slider.value, control.box.value) == (4, 4, "4")
    control.slider.value = 7
    assert control.player.value == 7
    control.player.set_state({"playing": False})
    assert (control.play.value, control.play.description) == (False, PLAY)
    control.back.click()
    assert (control.step, control.player.value) == (0, 0)


def test_play_at_the_end_begins_anew():
    control = MomentControl("moment", 10, 10)
    control.play.value = True
    assert (control.step, control.player.playing) == (0, True)


@pytest.mark.parametrize("typed", ["1.5", "", "x", "101", "-1"])
def test_a_moment_that_is_none_is_refused(panel, typed):
    panel[MOMENT].box.value = typed
    assert panel.picture is None
    assert 'role="alert"' in panel.view.value


@pytest.mark.parametrize(
    ("changes", "topic", "grade"),
    [
        ({"speed_of_the_model": 0.1}, "on-time", "do not build"),
        ({"reed_beyond_the_signal": 0}, "reed's place", "do not build"),
        ({"magnet_lies": "crosswise"}, "red", "do not build"),
        ({"the_train": OTHER_WAY}, "the other way", "look again"),
        ({"the_train": HALTS}, "halt", "look again"),
        ({"the_train": TWO_MAGNETS, "speed_of_the_model": 0.05}, "second red", "look again"),
    ],
)
def test_what_goes_wrong_is_told(panel, changes, topic, grade):
    assert grades(put(panel, **changes))[topic] == grade


@pytest.mark.parametrize("view", VIEWS)
def test_timelines(panel, view):
    scene = put(panel, view=view)
    assert len(scene.pictures) == 1
    assert passing_train(panel.run).sentence in scene.sentence


@pytest.mark.parametrize("view", [OVER_THE_REED, FIRST_CLOSING])
def test_in_a_narrow_view_every_step_is_a_moment_of_its_own_in_it(panel, view):
    seen = set()
    for step in (0, 1, 50, 99, 100):
        scene = put(panel, view=view, **{MOMENT: step})
        assert any(each.startswith("now: ") for each in words(scene.pictures[0]))
        seen.add(scene.pictures[0].svg)
    assert len(seen) == 5


def test_right_at_the_signal_no_distance_is_said(panel):
    result = _passed(panel.run)
    moment = result.si.at_signal
    assert "the train's front is at the signal" in track_picture(result, moment).sentence
    assert "e-" not in track_picture(result, moment).sentence


def test_a_magnet_that_lies_well_is_not_to_be_turned(panel):
    upright, crosswise = (put(panel, gap=20, magnet_lies=each).findings[0].remedy for each in ("upright", "crosswise"))
    assert upright == "Bring the magnet nearer."
    assert crosswise.startswith("Turn the magnet")


def test_many_trains(panel):
    scene = put(panel, view=ODDS)
    assert "Of 500 trains" in scene.sentence
    assert panel[MOMENT].play.disabled
    assert put(panel, the_train=OTHER_WAY) is None
    assert "needs no red" in panel.view.value
    put(panel, view=TRACK, the_train=THROUGH)
    assert not panel[MOMENT].play.disabled


def test_every_corner_is_answered(panel):
    corners = itertools.product(timers, (2, 20), ((2, 0.05), (20, 1.5)), (200, 3000))
    for timer, hold, (gap, speed), length in corners:
        values = {"hold": hold, "gap": gap, "speed_of_the_model": speed, "length_of_the_train": length}
        assert put(panel, timer=timer, **values) is not None
    for does in (THROUGH, OTHER_WAY, HALTS, TWO_MAGNETS):
        assert put(panel, the_train=does, length_of_the_train=3000) is not None


def test_a_short_train_has_no_room_for_two_magnets(panel):
    put(panel, the_train=TWO_MAGNETS, gap=5)
    assert put(panel, length_of_the_train=200) is not None


def test_large_type(panel):
    panel["large type for the projector"].value = True
    assert "sigcalc-large" in panel._dom_classes
    assert all(each.size.name == "large" for each in panel.picture.pictures)
