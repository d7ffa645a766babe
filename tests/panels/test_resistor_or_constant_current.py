"""The panels of "resistor or constant current" say what the library says, at every position."""

import itertools

import pytest

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.power.drive_choice import DIODE, DRIVER, REGULATOR
from sigcalc.panels.resistor_or_constant_current import (
    BOTH,
    CURVE,
    IN_TURN,
    LAMPS,
    OTHERS,
    TOGETHER,
    DriveChoice,
    SharedDriver,
)
from sigcalc.parts.led import leds
from tests.panels.moving import at_once


@pytest.fixture
def panel():
    return DriveChoice()


def put(panel, fresh=9, sag=0, current=10, other=DRIVER, led="red alingap 3 mm", count=1, view=LAMPS):
    with at_once(panel):
        panel["beside the resistor"].value, panel["LED"].value, panel["in series"].value = other, leds[led], count
        panel["wanted current"].value, panel["fresh supply"].value = current, fresh
        panel["it has sagged by"].value, panel["view"].value = sag, view
    return panel.picture


def test_fresh_both_give_about_the_same(panel):
    scene = put(panel)
    assert scene.sentence.startswith("Fresh, at 9 V, the resistor gives 8.76 mA and the driver gives 10 mA.")
    assert [(each.grade, "alike" in each.reason) for each in scene.findings] == [(FINE, True)]


def test_sagged_the_driver_keeps_the_light(panel):
    scene = put(panel, sag=3)
    assert "At 6 V, down from 9 V, the resistor keeps 58.7 % of the light (5.14 mA)" in scene.sentence
    assert [each.reason for each in scene.findings] == ["Driver keeps the light best over this supply."]


def test_where_all_are_dark_no_drive_is_called_fine(panel):
    scene = put(panel, sag=8)
    (finding,) = scene.findings
    assert finding.grade == LOOK
    assert finding.reason.startswith("At 1 V less than a tenth of the light is left")
    assert scene.sentence.count("under 0.1 % of the light") == 2
    assert "e-" not in scene.pictures[0].sentence


def test_a_regulator_set_to_less_than_its_minimum_load_is_looked_at_again(panel):
    scene = put(panel, current=5, other=REGULATOR)
    assert [each.grade for each in scene.findings] == [LOOK, FINE]
    assert "minimum load" in scene.findings[0].reason
    assert all(each.grade == FINE for each in put(panel, current=20, other=REGULATOR).findings)


def test_how_the_light_falls_is_not_said_twice(panel):
    for other, sag in itertools.product(OTHERS.values(), (0, 4, 7.5)):
        reasons = [each.reason for each in put(panel, sag=sag, other=other, current=20).findings]
        assert not any("the light falls to" in each for each in reasons)


def test_the_views(panel):
    for view, count in ((LAMPS, 1), (CURVE, 1), (BOTH, 2)):
        assert len(put(panel, sag=2, view=view).pictures) == count
    assert "At 7 V the resistor passes 6.35 mA, the driver passes 10 mA." in panel.picture.pictures[1].sentence


def test_too_many_leds_are_refused_with_what_to_do(panel):
    assert put(panel, led="white 3 mm", count=3, current=25) is None
    assert "nothing would light; use at least" in panel.view.value
    assert put(panel, led="white 3 mm", count=3, current=25, fresh=12) is not None


def test_too_much_current_is_refused_with_what_to_do(panel):
    assert put(panel, led="red low-current 3 mm") is None
    assert "ask for at most 7 mA" in panel.view.value


@pytest.mark.parametrize("other", OTHERS.values())
def test_every_position_has_an_answer_or_a_sentence(panel, other):
    for fresh, sag, current, count in ((9, 8, 1, 3), (9, 8, 25, 1), (9, 0, 25, 3), (24, 8, 1, 3), (24, 0, 25, 1)):
        led = list(leds)[(int(fresh + sag + current) + count) % len(leds)]
        assert put(panel, fresh, sag, current, other, led, count, BOTH) or 'role="alert"' in panel.view.value
        assert "nan" not in panel.view.value


@pytest.mark.parametrize("typed", ["", "9,500", "9..12", "abc", "9 mA", "-1", "1e999", "<b>9"])
def test_rubbish_in_a_box_is_refused_and_escaped(panel, typed):
    put(panel)
    panel["it has sagged by"].box.value = typed
    assert panel.picture is None
    assert "it has sagged by" in panel.view.value
    assert "<b>9" not in panel.view.value
    assert put(panel) is not None


@pytest.fixture
def shared():
    return SharedDriver()


def test_at_once_the_lower_drop_takes_it_all(shared):
    assert "red wants 4 mA and gets 9.99 mA" in shared.picture.sentence
    assert shared.picture.sentence.endswith("Together that is 10 mA of the driver's 10 mA.")
    assert [each.topic for each in shared.picture.findings] == ["one limiter"]
    assert "one with the lowest drop" in shared.picture.findings[0].reason


def test_a_resistor_in_red_brings_them_nearer(shared):
    shared["resistor in red"].value = 100
    shared["red wants"].value, shared["green wants"].value = 5, 5
    red = shared.picture.sentence
    assert "green gets 10.3" not in red
    assert "% of what it wants" in red or "about right" in red


def test_in_turn_a_resistor_changes_nothing(shared):
    shared["lit"].value = IN_TURN
    before = shared.picture.sentence
    assert "green wants 10 mA and gets 10 mA, about right" in before
    assert "Together" not in before
    shared["resistor in red"].value = 300
    assert shared.picture.sentence == before
    assert shared.picture.findings[0].grade == LOOK


def test_what_is_met_is_fine(shared):
    shared["lit"].value, shared["red wants"].value = IN_TURN, 10
    assert [each.grade for each in shared.picture.findings] == [FINE]


def test_too_much_for_a_lamp_is_not_to_be_built(shared):
    shared["lit"].value, shared["driver"].value = IN_TURN, 20
    shared["red LED"].value = leds["red low-current 3 mm"]
    assert STOP in {each.grade for each in shared.picture.findings}


def test_every_end_of_the_sharing_has_an_answer(shared):
    for supply, driver, red, lit in itertools.product((2, 24), (1, 25), (0, 1000), (TOGETHER, IN_TURN)):
        shared["supply"].value, shared["driver"].value = supply, driver
        shared["resistor in red"].value, shared["lit"].value = red, lit
        assert shared.picture is not None, shared.view.value
        assert "nan" not in shared.view.value


def test_the_diode_names_what_to_buy(panel):
    assert "2 x current-regulator diode" in put(panel, other=DIODE).pictures[0].svg
