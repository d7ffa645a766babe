"""The panel of a battery's run says what the library says, at every position."""

import itertools

import pytest

from sigcalc.design.findings import LOOK
from sigcalc.design.power.load import Load
from sigcalc.design.power.run_time import run_time
from sigcalc.design.power.same_current import DRIVER, RESISTOR, same_current
from sigcalc.panels.battery_run import CHANGED_BY, CHARGE, FAILS, HAND, LIGHT, SHARES, STORED, VOLTAGE, BatteryRun
from sigcalc.parts.led import leds
from sigcalc.parts.source import batteries
from sigcalc.units import say_band
from tests.panels.moving import at_once
from tests.views.svg import words

RED = leds["red alingap 3 mm"]
SENSITIVE = "sensitive relay, 9 V"


@pytest.fixture
def panel():
    return BatteryRun()


def put(panel, battery="9 V alkaline", drive=RESISTOR, by=HAND, view=LIGHT, current=20, **more):
    with at_once(panel):
        for name in ("stored", "coil held", "lamp lit", "LED"):
            default = {"stored": STORED["fresh"], "LED": RED}.get(name, 1.0)
            panel[name].value = more.get(name.replace(" ", "_"), default)
        panel["timer board draws"].value, panel["current at first"].value = more.get("timer", 0), current
        panel["battery"].value, panel["fed through"].value = batteries[battery], drive
        panel["changed by"].value, panel["view"].value = by, view
    return panel.picture


def test_it_says_what_the_library_says(panel):
    battery = batteries["9 V alkaline"]
    drives = same_current(battery.fresh_voltage, RED, "20 mA")
    bands = {}
    for name in (RESISTOR, DRIVER):
        si = run_time(battery, Load(drives[name], RED), FAILS).si
        bands[name] = say_band(si.hours_min, si.hours, si.hours_max, "s", 2)
    sentence = put(panel).sentence
    assert sentence.startswith(f"The 9 V alkaline battery runs it for {bands[RESISTOR]}; then the battery is empty.")
    assert "The eye notices after 37 h (27 h to 56 h), when half the light is gone." in sentence
    assert sentence.endswith(f"With a driver instead: {bands[DRIVER]}.")


def test_the_relay_is_what_ends_it(panel):
    scene = put(panel, by=SENSITIVE)
    assert "then the relay no longer pulls in. Half the light is not gone before that" in scene.sentence
    topics = {each.topic for each in scene.findings}
    assert {"what uses the charge", "chatter"} <= topics
    assert "end of the run" not in topics  # the sentence has said it
    assert {each.grade for each in scene.findings} == {LOOK}


def test_a_coil_that_is_held_less_costs_less(panel):
    def hours(share):
        put(panel, by=SENSITIVE, coil_held=SHARES[share])
        return panel._run(RESISTOR).si.hours

    always, half, rarely = (hours(each) for each in ("always", "1/2", "1/20"))
    assert always < half < rarely


def test_coil_held_is_enabled_only_where_a_coil_is_held(panel):
    for by, enabled in ((HAND, False), (SENSITIVE, True), ("latching relay, 9 V", False)):
        put(panel, by=by)
        assert panel["coil held"].widget.disabled is not enabled


def test_a_timer_board_may_end_it_too(panel):
    sentence = put(panel, "9 V zinc-carbon", DRIVER, timer=5, current=10).sentence
    assert "then the timer board starts anew" in sentence


def test_storage_shortens_the_run(panel):
    def hours(stored):
        put(panel, "8.4 V NiMH", stored=STORED[stored])
        return panel._run(RESISTOR).si

    fresh, old = hours("fresh"), hours("3 years")
    assert old.hours < fresh.hours
    assert old.hours_min < 0.1 * fresh.hours_min


def test_the_views(panel):
    assert "hours switched on" in put(panel, by=SENSITIVE).pictures[0].svg
    assert "relay pulls in from" in put(panel, by=SENSITIVE, view=VOLTAGE).pictures[0].svg
    assert put(panel, by=SENSITIVE, view=CHARGE).pictures[0].sentence.startswith("Of ")


def test_a_coin_cell_works_no_relay_and_says_why(panel):
    assert put(panel, "3 V coin cell", by=SENSITIVE, current=5) is None
    assert "never works; take a relay of a lower coil voltage or a stronger battery" in panel.view.value


def test_where_the_other_drive_does_not_work_it_is_said(panel):
    # the driver takes a little more than the resistor, and the relay's coil sags the battery that far already
    load = {"battery": "9 V zinc-carbon", "by": "relay, 9 V", "timer": 10, "current": 25}
    scene = put(panel, **load)
    assert scene.sentence.endswith("With a driver instead it would not work at all.")
    assert "driver" not in words(scene.pictures[0])
    assert put(panel, **load, drive=DRIVER) is None
    assert "it never works" in panel.view.value


@pytest.mark.parametrize("battery", batteries)
def test_every_position_has_an_answer_or_a_sentence(panel, battery):
    ends = itertools.cycle(((1, RESISTOR, LIGHT), (25, DRIVER, VOLTAGE), (25, RESISTOR, CHARGE)))
    for by, (current, drive, view) in zip(CHANGED_BY, ends, strict=False):
        scene = put(panel, battery, drive, by, view, current, lamp_lit=0.05, coil_held=0.2, timer=20)
        assert scene is not None or 'role="alert"' in panel.view.value
        assert "nan" not in panel.view.value
        assert "inf " not in panel.view.value


@pytest.mark.parametrize("typed", ["", "20 ma", "20 V", "20,500", "0", "26", "<i>5"])
def test_rubbish_in_a_box_is_refused_and_escaped(panel, typed):
    put(panel)
    panel["current at first"].box.value = typed
    assert panel.picture is None
    assert "current at first" in panel.view.value
    assert "<i>5" not in panel.view.value
    assert put(panel) is not None
