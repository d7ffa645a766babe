"""Evenings: the closed form against counting one by one, limits, and what is refused."""

import dataclasses

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.power.evenings import evenings, findings
from sigcalc.design.power.load import Load
from sigcalc.design.power.run_time import run_time
from sigcalc.errors import RangeError, UnitError
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.led import leds
from sigcalc.parts.source import batteries
from sigcalc.units import Q

LOAD = Load(ResistorDrive("680 ohm", 0.05), leds["red alingap 3 mm"])
RUNS = {name: run_time(batteries[name], LOAD, 0.5) for name in ("9 V alkaline", "8.4 V NiMH")}


@settings(max_examples=40)
@given(st.sampled_from(sorted(RUNS)), st.floats(0.5, 8), st.floats(1, 60))
def test_counting_evening_by_evening_agrees(name, each, days):
    run = RUNS[name]
    result = evenings(run, Q(each, "h"), Q(days, "day"))
    loss = 1 - run.battery.discharge.kept(days / 365.25)[1]
    share = each / run.hours.m_as("h")
    left, count = 1.0, 0
    while left * (1 - loss) >= share:
        left, count = left * (1 - loss) - share, count + 1
    # the closed form takes the loss before each evening as well, and counts the broken last one
    assert count - 1 <= result.count <= count + 1.01
    assert result.count_min <= result.count <= result.count_max
    assert result.si.lasts == pytest.approx(result.count * days * 86400)


def test_without_loss_it_is_hours_over_hours():
    battery = batteries["9 V alkaline"]
    si = battery.discharge.si
    fields = {name: getattr(si, name) for name in type(battery.discharge).__kinds__}
    plain = {name: getattr(battery.discharge, name) for name in ("name", "cells", "rechargeable", "resistance_growth")}
    kept = fields | {"loss_per_year": 0.0, "loss_per_year_min": 0.0, "loss_per_year_max": 0.0}
    never = type(battery.discharge).of(**kept, **plain, from_memory=())
    run = run_time(dataclasses.replace(battery, discharge=never), LOAD, 0.5)
    result = evenings(run, "3 h")
    assert result.count == pytest.approx(run.hours.m_as("h") / 3)
    assert result.si.lost == pytest.approx(0, abs=1e-12)


def test_findings_say_what_storage_takes():
    alkaline = findings(evenings(RUNS["9 V alkaline"], "3 h"))
    assert len(alkaline) == 1
    assert "21 evenings" in alkaline[0].reason
    seldom = findings(evenings(RUNS["8.4 V NiMH"], "1 h", "120 days"))
    assert [each.topic for each in seldom] == ["8.4 V NiMH battery", "storage"]


@pytest.mark.parametrize(
    ("each", "said", "grade"),
    [
        ("6 h", "10 evenings (4 to 19)", FINE),
        ("50 h", "1 evening (0 to 2)", LOOK),
        ("80 h", "0 evenings (0 to 1)", STOP),
    ],
)
def test_the_least_is_held_against_one_whole_evening(each, said, grade):
    """A run of 60 h (37 h to 103 h) that storage shortens; part of an evening is none."""
    load = Load(ResistorDrive("1.8 kohm", 0.05), leds["red low-current 3 mm"])
    found = findings(evenings(run_time(batteries["8.4 V NiMH"], load, 0.5), each, "4 days"))[0]
    assert (found.grade, found.reason.split(" of ")[0]) == (grade, said)


def test_a_battery_that_does_not_start_counts_nothing():
    weak = run_time(batteries["9 V zinc-carbon"], "60 mA", "5.4 V")
    assert evenings(weak, "1 h").count_min == 0


@pytest.mark.parametrize(
    ("call", "kind", "said"),
    [
        (lambda: evenings("3 h", "3 h"), UnitError, "run_time"),
        (lambda: evenings(RUNS["9 V alkaline"], "0 h"), RangeError, "hours_each"),
        (lambda: evenings(RUNS["9 V alkaline"], "30 h", "1 day"), RangeError, "no longer than every"),
        (lambda: findings("3 h"), UnitError, "evenings"),
    ],
)
def test_what_is_refused_and_how(call, kind, said):
    with pytest.raises(kind, match=said):
        call()


def test_storage_may_take_all_of_it():
    result = evenings(RUNS["8.4 V NiMH"], "3 h", "12 years")  # the ordinary type loses 98.6 % in one
    assert result.count_min == 0
    assert result.count_max > 0
