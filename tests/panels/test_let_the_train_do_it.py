"""The three panels: what the library says at every position, refusals in a sentence, and playing the moments."""

import html
import itertools
import math

import numpy as np
import pytest

from sigcalc.design.train.magnet_and_reed import largest_gap
from sigcalc.design.train.passing_train import passing_train
from sigcalc.panels.let_the_train_do_it import (
    ALL,
    HALTS,
    INTERVAL,
    ODDS,
    OTHER_WAY,
    PAUSE,
    PLAY,
    STEPS,
    STILL,
    THROUGH,
    TRACK,
    TWO_MAGNETS,
    WHICH,
    HoldTimerPanel,
    MomentControl,
    OrientationPanel,
    PassingTrainPanel,
    _passed,
)
from sigcalc.parts.capacitor import capacitor_kinds
from sigcalc.parts.magnet import magnets
from sigcalc.parts.reed import reeds
from sigcalc.parts.timer import timers
from sigcalc.physics.magnetics import ORIENTATIONS
from sigcalc.units import say
from sigcalc.views.let_the_train_do_it import FIRST_CLOSING, OVER_THE_REED, VIEWS
from sigcalc.views.track import track_picture
from tests.panels.moving import grades, put
from tests.views.svg import words

MOMENT, WANTED = "moment (step)", "on-time wanted"


class TestOrientation:
    @pytest.fixture
    def panel(self):
        return OrientationPanel()

    def test_upright_twice_lengthwise_three_times_crosswise_never(self, panel):
        scene = put(panel, gap=5, the_magnet_lies=ALL)
        assert "upright twice, lengthwise 3 times and crosswise never" in scene.sentence
        assert scene.findings == ()
        assert "lengthwise once" in put(panel, gap=10).sentence
        assert "upright never, lengthwise never" in put(panel, gap=30).sentence

    @pytest.mark.parametrize("lies", ["upright", "lengthwise"])
    def test_one_orientation_tells_how_far_off_it_works(self, panel, lies):
        gap, neighbour = put(panel, gap=4, the_magnet_lies=lies).findings
        limit = largest_gap("8 x 3 mm disc, N35", "10 W reed, 7 to 21 AT", lies, "4 mm")
        assert limit.sentence in gap.reason
        assert gap.grade == "fine"
        assert "beside it" in neighbour.reason
        assert put(panel, gap=8).findings[0].grade == "look again"
        assert put(panel, gap=20).findings[0].grade == "do not build"

    def test_crosswise_no_gap_helps(self, panel):
        (found,) = put(panel, the_magnet_lies="crosswise").findings
        assert found.grade == "do not build"
        assert "at any gap" in found.reason

    def test_a_sensitive_reed_is_closed_longer(self, panel):
        put(panel, the_magnet_lies="upright")
        said = [put(panel, the_one_you_bought_is=which).sentence for which in WHICH]
        ends = [float(each.rsplit(" to ", 1)[1].split()[0]) for each in said]
        assert ends == sorted(ends)

    def test_every_corner_is_answered(self, panel):
        for magnet, gap in itertools.product(magnets, (1, 30)):
            assert put(panel, magnet=magnet, gap=gap) is not None
        for reed, lies in itertools.product(reeds, ORIENTATIONS):
            assert put(panel, reed=reed, the_magnet_lies=lies) is not None

    @pytest.mark.parametrize("typed", ["0", "-3", "31", "five", ""])
    def test_rubbish_is_refused_and_the_picture_taken_away(self, typed):
        shown = OrientationPanel()
        shown["gap"].box.value = typed
        assert shown.picture is None
        assert 'role="alert"' in shown.view.value
        assert "1 to 30 mm" in shown.view.value


class TestHoldTimer:
    @pytest.fixture
    def panel(self):
        return HoldTimerPanel()

    def test_the_hold_is_r_c_ln_3_at_any_supply(self, panel):
        hold = say((4.7e3 + 0.4 * 220e3) * 100e-6 * math.log(3), "s")
        for supply in (7, 9, 15):
            scene = put(panel, supply=supply, rated="25 V")
            assert f"is on for {hold}" in scene.sentence
            assert grades(scene)["on-time on a flat battery"] == "fine"

    def test_a_flat_battery_may_be_too_low_for_the_timer(self, panel):
        """A one-shot works from 4.5 V; 6 V less 30 % are 4.2 V."""
        scene = put(panel, supply=6, rated="25 V")
        (found,) = (each for each in scene.findings if each.topic == "on-time on a flat battery")
        assert found.grade == "look again"
        assert "works only from 4.5 V" in found.reason

    @pytest.mark.parametrize("timer", ["comparator", "mosfet"])
    def test_a_trip_of_its_own_drifts(self, panel, timer):
        assert grades(put(panel, timer=timer))["on-time on a flat battery"] in ("look again", "do not build")

    def test_the_pots_turn_for_a_wish_and_a_wish_beyond_it(self, panel):
        scene = put(panel, **{WANTED: 10})
        assert any("For 10 s turn the pot to 39.2 %" in each.reason for each in scene.findings)
        scene = put(panel, **{WANTED: 30})
        assert grades(scene)["pot"] == "do not build"
        assert any("on-time wanted needs an on-time that this circuit gives" in each.reason for each in scene.findings)

    def test_wide_tolerance_makes_the_band_wide(self, panel):
        narrow, wide = (put(panel, kind=kind).sentence for kind in ("electrolytic", "wide-tolerance electrolytic"))
        ends = [float(each.rsplit(" to ", 1)[1].split()[0]) for each in (narrow, wide)]
        assert ends[1] > 1.4 * ends[0]

    @pytest.mark.parametrize("timer", timers)
    def test_the_band_is_said_once(self, panel, timer):
        scene = put(panel, timer=timer, kind="wide-tolerance electrolytic")
        assert not any(each.reason in scene.sentence for each in scene.findings)
        assert grades(scene)["on-time"] == "look again"

    def test_leak_and_rating_are_told(self, panel):
        put(panel, pot=1000, capacitor=1000, turn_of_the_pot=100, timer="schmitt gate")
        assert "for ever" in panel.picture.sentence
        assert grades(panel.picture)["leakage"] == "look again"
        assert grades(put(panel, rated="6.3 V"))["capacitor voltage"] == "do not build"

    def test_every_corner_is_answered_or_refused_in_a_sentence(self, panel):
        for timer, supply, (capacitor, pot, turn) in itertools.product(
            timers, (3, 18), ((1, 10, 0), (1000, 1000, 100))
        ):
            put(panel, timer=timer, supply=supply, capacitor=capacitor, pot=pot, turn_of_the_pot=turn)
            assert panel.picture is not None or "timer trips" in panel.view.value
        for kind in capacitor_kinds:
            assert put(panel, kind=kind) is not None

    @pytest.mark.parametrize(
        ("name", "typed", "said"),
        [("supply", "2", "3 to 18 V"), ("pot", "0", "10 to 1000 kohm"), ("on-time wanted", "soon", "1 to 30 s")],
    )
    def test_rubbish_is_refused(self, panel, name, typed, said):
        panel[name].box.value = typed
        assert panel.picture is None
        assert said in panel.view.value


class TestPassingTrain:
    @pytest.fixture
    def panel(self):
        return PassingTrainPanel()

    def test_at_first_rated_still_in_the_middle_of_red(self, panel):
        assert panel[MOMENT].step == STILL
        assert not panel[MOMENT].player.playing
        assert "the lamp shows red" in panel.picture.sentence
        assert panel.picture.sentence.startswith("This train gets its red, at a scale 32 mph (1:48)")
        assert set(grades(panel.picture).values()) == {"fine"}

    def test_a_fast_train_is_not_said_as_a_power_of_ten(self, panel):
        # 1.5 m/s on 1:48 are 72 m/s, 161 miles an hour
        sentence = put(panel, speed_of_the_model=1.5).sentence
        panel["speed of the model"].value = 0.3
        assert "at a scale 161 mph" in sentence

    def test_a_timer_whose_capacitor_the_reed_empties_misses_a_fast_train(self, panel):
        verdicts = {}
        for timer in timers:
            scene = put(panel, timer=timer, speed_of_the_model=1.5)
            verdicts[timer] = scene.findings[0].grade
        put(panel, timer="one-shot", speed_of_the_model=0.3)
        assert verdicts == {"one-shot": "fine"} | dict.fromkeys(list(timers)[1:], "do not build")

    def test_paper_shows_the_still_picture(self, panel):
        page = html.unescape(panel._repr_mimebundle_()["text/html"])
        assert panel.picture.sentence in page
        assert page.count("<svg ") == 2

    def test_stepping_goes_through_green_red_green_and_each_closing(self, panel):
        lamps, reeds = [], []
        for step in range(STEPS + 1):
            said = put(panel, **{MOMENT: step}).pictures[0].sentence
            lamps.append("shows red" in said)
            reeds.append("reed is closed" in said)
        changes = np.flatnonzero(np.diff(lamps))
        assert len(changes) == 2
        assert np.count_nonzero(np.diff(reeds)) == 4  # closed twice: no closing falls between two steps

    def test_nothing_flashes_faster_than_three_times_a_second(self):
        assert 1000 / INTERVAL < 3
        player = MomentControl("moment", 10, 3).player
        assert player.interval == INTERVAL
        assert not player.repeat

    def test_play_pause_and_back(self):
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

    def test_play_at_the_end_begins_anew(self):
        control = MomentControl("moment", 10, 10)
        control.play.value = True
        assert (control.step, control.player.playing) == (0, True)

    @pytest.mark.parametrize("typed", ["1.5", "", "x", "101", "-1"])
    def test_a_moment_that_is_none_is_refused(self, panel, typed):
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
    def test_what_goes_wrong_is_told(self, panel, changes, topic, grade):
        assert grades(put(panel, **changes))[topic] == grade

    @pytest.mark.parametrize("view", VIEWS)
    def test_timelines(self, panel, view):
        scene = put(panel, view=view)
        assert len(scene.pictures) == 1
        assert passing_train(panel.run).sentence in scene.sentence

    @pytest.mark.parametrize("view", [OVER_THE_REED, FIRST_CLOSING])
    def test_in_a_narrow_view_every_step_is_a_moment_of_its_own_in_it(self, panel, view):
        seen = set()
        for step in (0, 1, 50, 99, 100):
            scene = put(panel, view=view, **{MOMENT: step})
            assert any(each.startswith("now: ") for each in words(scene.pictures[0]))
            seen.add(scene.pictures[0].svg)
        assert len(seen) == 5

    def test_right_at_the_signal_no_distance_is_said(self, panel):
        result = _passed(panel.run)
        moment = result.si.at_signal
        assert "the train's front is at the signal" in track_picture(result, moment).sentence
        assert "e-" not in track_picture(result, moment).sentence

    def test_a_magnet_that_lies_well_is_not_to_be_turned(self, panel):
        upright, crosswise = (
            put(panel, gap=20, magnet_lies=each).findings[0].remedy for each in ("upright", "crosswise")
        )
        assert upright == "Bring the magnet nearer."
        assert crosswise.startswith("Turn the magnet")

    def test_many_trains(self, panel):
        scene = put(panel, view=ODDS)
        assert "Of 500 trains" in scene.sentence
        assert panel[MOMENT].play.disabled
        assert put(panel, the_train=OTHER_WAY) is None
        assert "needs no red" in panel.view.value
        put(panel, view=TRACK, the_train=THROUGH)
        assert not panel[MOMENT].play.disabled

    def test_every_corner_is_answered(self, panel):
        corners = itertools.product(timers, (2, 20), ((2, 0.05), (20, 1.5)), (200, 3000))
        for timer, hold, (gap, speed), length in corners:
            values = {"on-time": hold, "gap": gap, "speed_of_the_model": speed, "length_of_the_train": length}
            assert put(panel, timer=timer, **values) is not None
        for does in (THROUGH, OTHER_WAY, HALTS, TWO_MAGNETS):
            assert put(panel, the_train=does, length_of_the_train=3000) is not None

    def test_a_short_train_has_no_room_for_two_magnets(self, panel):
        put(panel, the_train=TWO_MAGNETS, gap=5)
        assert put(panel, length_of_the_train=200) is not None

    def test_large_type(self, panel):
        panel["large type for the projector"].value = True
        assert "sigcalc-large" in panel._dom_classes
        assert all(each.size.name == "large" for each in panel.picture.pictures)
