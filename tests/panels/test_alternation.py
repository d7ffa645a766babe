"""The pair on AC and quickly reversed: what both lamps seem to show, their mean currents, the controls that count."""

import re

import pytest

from sigcalc.design.pair.alternating import AC, REVERSED
from sigcalc.panels.alternation import AlternationPanel
from tests.panels.moving import grades, put

SHARE = "share of the time for red"


@pytest.fixture
def panel():
    return AlternationPanel()


def mean_currents(scene):
    """Through red and through green, in mA."""
    found = re.search(r"([\d.]+) mA through red and ([\d.]+) mA through green", scene.sentence)
    return float(found[1]), float(found[2])


def test_ac_lights_both_and_tells_nothing(panel):
    assert panel.picture.sentence.startswith("On 60 Hz AC both lamps seem to be on")
    assert grades(panel.picture)["colour"] == "do not build"


def test_quick_reversal_may_be_wanted(panel):
    scene = put(panel, supply_turns_round=REVERSED, frequency=200)
    assert scene.sentence.startswith("On 200 Hz quick reversal both lamps seem to be on")
    assert grades(scene)["colour"] == "look again"


def test_the_share_of_the_time_counts_for_quick_reversal_alone(panel):
    share = panel[SHARE]
    assert share.slider.disabled
    assert share.box.disabled
    before = mean_currents(panel.picture)
    assert mean_currents(put(panel, **{SHARE: 80})) == before
    put(panel, supply_turns_round=REVERSED)
    assert not share.slider.disabled
    assert not share.box.disabled
    assert mean_currents(panel.picture)[0] > 3 * mean_currents(panel.picture)[1]
    put(panel, supply_turns_round=AC)
    assert share.slider.disabled


def test_a_lamps_mean_current_goes_with_its_share_of_the_time(panel):
    half = mean_currents(put(panel, supply_turns_round=REVERSED, **{SHARE: 50}))
    most = mean_currents(put(panel, **{SHARE: 80}))
    assert most[0] == pytest.approx(1.6 * half[0], rel=0.01)
    assert most[1] == pytest.approx(0.4 * half[1], rel=0.01)


def test_rubbish_in_the_share_is_refused_where_it_counts(panel):
    panel[SHARE].box.value = "most of it"
    assert panel.picture is not None
    put(panel, supply_turns_round=REVERSED)
    assert panel.picture is None
    assert "share of the time for red needs 5 to 95 %" in panel.view.value


@pytest.mark.parametrize(("frequency", "seen"), [(2, "flash in turn"), (60, "seem to be on"), (3000, "looks steady")])
def test_how_quick_reversal_looks(panel, frequency, seen):
    assert seen in put(panel, supply_turns_round=REVERSED, frequency=frequency).sentence


def test_what_flashes_in_turn_does_not_mix(panel):
    assert "no mixture" in put(panel, frequency=2).pictures[0].svg
    assert "no mixture" not in put(panel, frequency=60).pictures[0].svg


def test_no_voltage_and_too_much_current(panel):
    scene = put(panel, supply=0)
    assert "both lamps stay dark" in scene.sentence
    assert {grades(scene)[lamp] for lamp in ("red lamp", "green lamp")} == {"do not build"}
    scene = put(panel, supply=24, resistor=100)
    assert {grades(scene)[lamp] for lamp in ("red lamp", "green lamp")} == {"do not build"}
