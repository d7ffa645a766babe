"""The hold timer's panel says what the library says, at every position, and refuses in a sentence."""

import itertools
import math

import pytest

from sigcalc.panels.hold_timer import HoldTimerPanel
from sigcalc.parts.capacitor import capacitor_kinds
from sigcalc.parts.timer import timers
from sigcalc.units import say
from tests.panels.moving import grades, put


@pytest.fixture
def panel():
    return HoldTimerPanel()


def test_the_hold_is_r_c_ln_3_at_any_supply(panel):
    hold = say((4.7e3 + 0.4 * 220e3) * 100e-6 * math.log(3), "s")
    for supply in (7, 9, 15):
        scene = put(panel, supply=supply, it_stands="25 V")
        assert f"is on for {hold}" in scene.sentence
        assert grades(scene)["on-time on a flat battery"] == "fine"


def test_a_flat_battery_may_be_too_low_for_the_timer(panel):
    """A one-shot works from 4.5 V; 6 V less 30 % are 4.2 V."""
    scene = put(panel, supply=6, it_stands="25 V")
    (found,) = (each for each in scene.findings if each.topic == "on-time on a flat battery")
    assert found.grade == "look again"
    assert "works only from 4.5 V" in found.reason


@pytest.mark.parametrize("timer", ["comparator", "mosfet"])
def test_a_trip_of_its_own_drifts(panel, timer):
    assert grades(put(panel, timer=timer))["on-time on a flat battery"] in ("look again", "do not build")


def test_the_pots_turn_for_a_wish_and_a_wish_beyond_it(panel):
    scene = put(panel, hold_wanted=10)
    assert any("For 10 s turn the pot to 39.2 %" in each.reason for each in scene.findings)
    scene = put(panel, hold_wanted=30)
    assert grades(scene)["pot"] == "do not build"
    assert any("needs an on-time that this circuit gives" in each.reason for each in scene.findings)


def test_wide_tolerance_makes_the_band_wide(panel):
    narrow, wide = (put(panel, kind=kind).sentence for kind in ("electrolytic", "wide-tolerance electrolytic"))
    ends = [float(each.rsplit(" to ", 1)[1].split()[0]) for each in (narrow, wide)]
    assert ends[1] > 1.4 * ends[0]


@pytest.mark.parametrize("timer", timers)
def test_the_band_is_said_once(panel, timer):
    scene = put(panel, timer=timer, kind="wide-tolerance electrolytic")
    assert not any(each.reason in scene.sentence for each in scene.findings)
    assert grades(scene)["on-time"] == "look again"


def test_leak_and_rating_are_told(panel):
    put(panel, pot=1000, capacitor=1000, turn_of_the_pot=100, timer="schmitt gate")
    assert "for ever" in panel.picture.sentence
    assert grades(panel.picture)["leakage"] == "look again"
    assert grades(put(panel, it_stands="6.3 V"))["capacitor voltage"] == "do not build"


def test_every_corner_is_answered_or_refused_in_a_sentence(panel):
    for timer, supply, (capacitor, pot, turn) in itertools.product(timers, (3, 18), ((1, 10, 0), (1000, 1000, 100))):
        put(panel, timer=timer, supply=supply, capacitor=capacitor, pot=pot, turn_of_the_pot=turn)
        assert panel.picture is not None or "timer trips" in panel.view.value
    for kind in capacitor_kinds:
        assert put(panel, kind=kind) is not None


@pytest.mark.parametrize(
    ("name", "typed", "said"),
    [("supply", "2", "3 to 18 V"), ("pot", "0", "10 to 1000 kohm"), ("hold wanted", "soon", "1 to 30 s")],
)
def test_rubbish_is_refused(panel, name, typed, said):
    panel[name].box.value = typed
    assert panel.picture is None
    assert said in panel.view.value
