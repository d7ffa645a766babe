"""The three panels: what the library says at every position, and playing the moments."""

import itertools
import math
import re

import numpy as np
import pytest

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.train.magnet_and_reed import largest_gap
from sigcalc.design.train.passing_odds import passing_odds
from sigcalc.design.train.passing_train import passing_train
from sigcalc.panels.base import AS_IT_IS_DRAWN, AS_IT_LOOKS, BOTH
from sigcalc.panels.let_the_train_do_it import (
    ALL,
    CAPACITOR,
    HALTS,
    INTERVAL,
    ODDS,
    OTHER_WAY,
    PAUSE,
    PLAY,
    POT,
    STEPS,
    STILL,
    THROUGH,
    TWO_MAGNETS,
    WHICH,
    HoldTimerPanel,
    MomentControl,
    OrientationPanel,
    PassingTrainPanel,
)
from sigcalc.parts.timer import timers
from sigcalc.physics.magnetics import ORIENTATIONS
from sigcalc.units import say
from sigcalc.views.let_the_train_do_it import FIRST_CLOSING, OVER_THE_REED, WHOLE
from sigcalc.views.scene.train_scene import train_scene
from tests.panels.moving import fresh, grades, put, refused
from tests.views.svg import spans, texts, words

MOMENT, WANTED = "moment (step)", "on-time wanted"


class TestOrientation:
    panel = fresh(OrientationPanel)

    def test_the_magnet_is_seen_over_the_reed_and_its_place_in_the_chart(self, panel):
        for place, state in ((-40, "open"), (-10, "CLOSED"), (0, "open"), (10, "CLOSED"), (40, "open")):
            scene, chart = put(panel, the_magnet_lies="upright", magnet_past_the_reed=place).pictures
            assert f"reed {state}" in words(scene)
            assert any(each.startswith("magnet now: ") for each in words(chart))

    @pytest.mark.parametrize("bought", WHICH)
    def test_the_axes_stay_while_gap_and_magnet_move_and_no_words_touch(self, panel, bought):
        axes = set()
        put(panel, magnet="10 x 3 mm disc, N35", the_one_you_bought_is=bought)
        for gap, place, lies in itertools.product((1, 30), (-40, 0, 40), ORIENTATIONS):
            put(panel, gap=gap, the_magnet_lies=lies, magnet_past_the_reed=place)
            for picture in panel.picture.pictures:
                assert not any(one.overlaps(other) for one, other in itertools.combinations(texts(picture), 2))
            chart = panel.picture.pictures[1]
            axes.add(tuple(each.words for each in texts(chart) if re.fullmatch(r"−?[\d.]+( mT)?", each.words)))
            ends = [end for pair in spans(chart, "closed") for end in pair]
            assert all(140 <= end <= 460 for end in ends)
        assert len({tuple(each for each in axis if each not in "123") for axis in axes}) == 1

    def test_upright_twice_lengthwise_three_times_crosswise_never(self, panel):
        scene = put(panel, gap=5, the_magnet_lies=ALL)
        assert len(scene.pictures) == 1
        assert "upright twice, lengthwise 3 times and crosswise never" in scene.sentence
        assert scene.findings == ()
        assert "lengthwise once" in put(panel, gap=10).sentence
        assert "upright never, lengthwise never" in put(panel, gap=30).sentence
        far = put(panel, the_magnet_lies="upright")
        assert "the magnet never closes it. At its peak the field is 0.12 times the pull-in." in far.sentence
        assert "no magnet on a track beside it closes the reed" in far.findings[1].reason

    @pytest.mark.parametrize("lies", ["upright", "lengthwise"])
    def test_one_orientation_tells_how_far_off_it_works(self, panel, lies):
        gap, neighbour = put(panel, gap=4, the_magnet_lies=lies).findings
        limit = largest_gap("8 x 3 mm disc, N35", "10 W reed, 7 to 21 AT", lies, "4 mm")
        assert limit.findings == (gap,)
        assert "beside it" in neighbour.reason
        assert [put(panel, gap=each).findings[0].grade for each in (4, 8, 20)] == [FINE, LOOK, STOP]

    def test_crosswise_no_gap_helps(self, panel):
        (found,) = put(panel, the_magnet_lies="crosswise").findings
        assert found.grade == STOP
        assert "at any gap" in found.reason


class TestHoldTimer:
    panel = fresh(HoldTimerPanel)

    def test_the_hold_is_r_c_ln_3_at_any_supply(self, panel):
        hold = say((4.7e3 + 0.4 * 220e3) * 100e-6 * math.log(3), "s")
        for supply in (7, 9, 15):
            assert f"is on for {hold}" in put(panel, supply=supply, capacitor_rated="25 V", chart_of=POT).sentence
            scene = put(panel, chart_of=CAPACITOR)
            assert grades(scene)["on-time on a flat battery"] == FINE

    def test_what_a_flat_battery_does_is_told_at_first_only_where_it_does_harm(self, panel):
        """The reader guesses at it."""
        assert "on-time on a flat battery" not in grades(panel.picture)
        assert grades(put(panel, timer="comparator"))["on-time on a flat battery"] == LOOK

    def test_a_flat_battery_may_be_too_low_for_the_timer_or_make_its_trip_drift(self, panel):
        """A one-shot works from 4.5 V; 6 V less 30 % are 4.2 V."""
        for timer in ("comparator", "mosfet"):
            assert grades(put(panel, timer=timer))["on-time on a flat battery"] in (LOOK, STOP)
        scene = put(panel, timer="one-shot", supply=6, capacitor_rated="25 V")
        (found,) = (each for each in scene.findings if each.topic == "on-time on a flat battery")
        assert found.grade == LOOK
        assert "works only from 4.5 V" in found.reason

    def test_the_pots_turn_for_a_wish_and_a_wish_beyond_it(self, panel):
        scene = put(panel, {WANTED: 10})
        assert any("For 10 s turn the pot to 39.2 %" in each.reason for each in scene.findings)
        scene = put(panel, {WANTED: 30})
        assert grades(scene)["pot"] == STOP
        assert any("on-time wanted needs an on-time that this circuit gives" in each.reason for each in scene.findings)

    @pytest.mark.parametrize("timer", timers)
    def test_the_band_is_said_once(self, panel, timer):
        scene = put(panel, timer=timer, kind="wide-tolerance electrolytic")
        assert not any(each.reason in scene.sentence for each in scene.findings)
        assert grades(scene)["on-time"] == LOOK

    def test_leak_and_rating_are_told(self, panel):
        scene = put(panel, pot=1000, capacitor=1000, turn_of_the_pot=100, timer="schmitt gate")
        assert "for ever" in scene.sentence
        assert grades(scene)["leakage"] == LOOK
        assert grades(put(panel, capacitor_rated="6.3 V"))["capacitor voltage"] == STOP


class TestPassingTrain:
    panel = fresh(PassingTrainPanel)

    def test_at_first_and_on_paper_it_is_still_in_the_middle_of_red(self, panel):
        assert panel[MOMENT].whole == STILL
        assert not panel[MOMENT].player.playing
        assert "the lamp shows red" in panel.picture.sentence
        assert panel.picture.sentence.startswith("This train gets its red, at a scale 32 mph (1:48)")
        assert set(grades(panel.picture).values()) == {FINE}
        assert panel._repr_mimebundle_()["text/html"].count("<svg ") == 1
        for show, pictures in ((AS_IT_LOOKS, 1), (AS_IT_IS_DRAWN, 1), (BOTH, 2)):
            assert len(put(panel, show=show).pictures) == pictures

    def test_a_fast_train_is_missed_by_a_timer_whose_capacitor_the_reed_empties(self, panel):
        verdicts = {}
        for timer in timers:
            scene = put(panel, timer=timer, speed_of_the_model=1.5)
            verdicts[timer] = scene.findings[0].grade
            assert "at a scale 161 mph" in scene.sentence  # 1.5 m/s on 1:48 are 72 m/s
        assert verdicts == {"one-shot": FINE} | dict.fromkeys(list(timers)[1:], STOP)

    def test_stepping_goes_through_green_red_green_and_each_closing(self, panel):
        lamps, closed = [], []
        for step in range(STEPS + 1):
            said = put(panel, {MOMENT: step}).pictures[0].sentence
            lamps.append("shows red" in said)
            closed.append("reed is closed" in said)
        assert np.count_nonzero(np.diff(lamps)) == 2
        assert np.count_nonzero(np.diff(closed)) == 4  # closed twice: no closing falls between two steps

    def test_play_pause_and_back_and_nothing_flashes_faster_than_three_times_a_second(self):
        control = MomentControl("moment", 0, 10, 3)
        assert 1000 / INTERVAL < 3
        assert (control.player.interval, control.player.repeat) == (INTERVAL, False)
        control.play.value = True
        assert control.player.playing
        assert control.play.description == PAUSE
        control.player.set_state({"value": 4})  # as the browser does
        assert (control.whole, control.slider.value, control.box.value) == (4, 4, "4")
        control.slider.value = 7
        assert control.player.value == 7
        control.player.set_state({"playing": False})
        assert (control.play.value, control.play.description) == (False, PLAY)
        control.back.click()
        assert (control.whole, control.player.value) == (0, 0)
        control.value = 10
        control.play.value = True  # at the end it begins anew
        assert (control.whole, control.player.playing) == (0, True)

    @pytest.mark.parametrize(
        ("changes", "topic", "grade"),
        [
            ({"speed_of_the_model": 0.1}, "on-time", STOP),
            ({"reed_beyond_the_signal": 0}, "reed's place", STOP),
            ({"magnet_lies": "crosswise"}, "red", STOP),
            ({"the_train": OTHER_WAY}, "the other way", LOOK),
            ({"the_train": HALTS}, "halt", LOOK),
            ({"the_train": TWO_MAGNETS, "speed_of_the_model": 0.05}, "second red", LOOK),
        ],
    )
    def test_what_goes_wrong_is_told(self, panel, changes, topic, grade):
        assert grades(put(panel, changes))[topic] == grade

    @pytest.mark.parametrize("view", [OVER_THE_REED, FIRST_CLOSING])
    def test_in_a_narrow_view_every_step_is_a_moment_of_its_own_in_it(self, panel, view):
        seen = set()
        for step in (0, 1, 50, 99, 100):
            _, picture = put(panel, {MOMENT: step}, view=view, show=BOTH).pictures
            assert any(each.startswith("now: ") for each in words(picture))
            assert passing_train(panel.run).sentence in put(panel, show=AS_IT_IS_DRAWN).sentence
            seen.add(picture.svg)
        assert len(seen) == 5

    def test_a_relay_that_has_not_followed_its_coil_yet_is_said_to_be_still_as_it_was(self, panel):
        said = words(put(panel, {"on-time": 8}, speed_of_the_model=0.05, show=AS_IT_LOOKS).pictures[0])
        assert {"timer off", "coil off", "relay still pulled in: red"} <= set(said)

    def test_right_at_the_signal_no_distance_is_said(self, panel):
        result = passing_train(panel.run)
        sentence = train_scene(result, result.si.at_signal).sentence
        assert "the train's front is at the signal" in sentence
        assert "e-" not in sentence

    def test_a_magnet_that_lies_well_is_not_to_be_turned(self, panel):
        upright, crosswise = (
            put(panel, gap=20, magnet_lies=each).findings[0].remedy for each in ("upright", "crosswise")
        )
        assert upright == "Bring the magnet nearer."
        assert crosswise.startswith("Turn the magnet")

    def test_many_trains(self, panel):
        scene = put(panel, view=ODDS)
        assert "Of 500 trains" in scene.sentence
        assert scene.findings[0].grade == STOP  # though the one train with parts as printed gets its red
        assert passing_odds(panel.run, watch=True).right == 1
        assert panel[MOMENT].play.disabled
        put(panel, the_train=OTHER_WAY)
        assert "needs no red" in refused(panel)
        put(panel, view=WHOLE, the_train=THROUGH)
        assert not panel[MOMENT].play.disabled
