"""What the prose of `plan_your_signal` says, held against the library."""

import re

import pytest

from sigcalc import Plan, Q, leds
from tests.notebooks.lesson_text import open_words, says_in
from tests.plan.plans import QUILLHAVEN

RED = {"part": "bright red 3 mm"}


says = says_in("plan_your_signal")


def test_the_open_words_are_few():
    assert open_words("plan_your_signal") <= 900


def test_the_planner_opens_with_the_adapter_and_the_leds_named_and_the_plans_are_counted():
    opens = Plan()
    assert (opens.supply.part, opens.red.part, opens.green.part) == (
        "12 V regulated",
        "low-current red 3 mm",
        "low-current green 3 mm",
    )
    says("a 12 V adapter and two low-current LEDs")
    assert len(QUILLHAVEN) == 4
    says("Four signals of Quillhaven")


def grade(**changes):
    return Plan(**changes).study().grade


def graver(**changes):
    return [each for each in Plan(**changes).study().findings if each.grade != "fine"]


def test_a_battery_needs_a_smaller_resistor_than_the_adapter():
    on_adapter, on_battery = (Plan(supply={"kind": kind}).study() for kind in ("adapter", "battery"))
    shared = [study.figures["shared_resistance"].nominal for study in (on_adapter, on_battery)]
    assert shared[1] < shared[0]


def test_a_bright_red_led_overloads_nothing_but_outshines_the_green_one():
    (finding,) = graver(red=RED)
    assert (finding.grade, finding.topic) == ("look again", "brightness")
    assert finding.reason.startswith("One outshines the other: red has")


def test_of_usual_leds_about_half_the_pairs_differ_by_more_than_half_as_much_again():
    (finding,) = graver()
    assert finding.topic == "brightness"
    assert 40 <= float(re.search(r"about (\d+) pairs in 100 differ by more than 1.5 times", finding.reason)[1]) <= 60


def test_its_extra_resistor_endangers_the_dark_lamp_and_series_diodes_mend_it():
    assert grade(red=RED, wiring={"form": "shared and extra"}) == "do not build"
    assert grade(red=RED, wiring={"form": "shared and extra", "series_diodes": True}) != "do not build"
    assert grade(wiring={"form": "shared and extra"}) != "do not build"


def test_with_a_resistor_in_each_branch_the_dark_lamp_sees_the_whole_supply():
    study = Plan(wiring={"form": "one in each branch"}).study()
    assert study.grade == "do not build"
    assert study.figures["red_reverse"].nominal == pytest.approx(study.figures["supply"].nominal, rel=1e-3)
    assert grade(wiring={"form": "one in each branch", "series_diodes": True}) != "do not build"


def test_the_sum_gives_a_little_less_than_the_resistor_that_the_planner_takes():
    exact = (Q("12 V") - leds["low-current red 3 mm"].voltage("5 mA")) / Q("5 mA")
    figures = Plan().study().figures
    assert 0.8 < exact.m_as("ohm") / figures["shared_resistance"].nominal < 1
    assert figures["red_current"].nominal < 5e-3
