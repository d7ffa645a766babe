"""Evenings of a battery, an adapter's energy, and the evening it pays: by hand, level VI, limits, refusals."""

import dataclasses
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.power.cost import break_even, evenings, level_vi, yearly_energy
from sigcalc.design.power.load import Load
from sigcalc.design.power.run_time import run_time
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.led import leds
from sigcalc.parts.source import adapters, batteries
from sigcalc.units import Q
from tests.refusals import refused

LOAD = Load(ResistorDrive("680 ohm", 0.05), leds["bright red 3 mm"])
DIM = Load(ResistorDrive("1.8 kohm", 0.05), leds["low-current red 3 mm"])
BLOCK, CELLS = batteries["9 V alkaline"], batteries["8.4 V NiMH"]
RUNS = {"block": run_time(BLOCK, LOAD, 0.5), "cells": run_time(CELLS, LOAD, 0.5), "dim": run_time(CELLS, DIM, 0.5)}


@settings(max_examples=40)
@given(st.sampled_from(["block", "cells"]), st.floats(0.5, 8), st.floats(1, 60))
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


def test_limits_of_what_storage_loses():
    never = dict.fromkeys(("loss_per_year", "loss_per_year_min", "loss_per_year_max"), 0.0)
    kept = dataclasses.replace(BLOCK, discharge=dataclasses.replace(BLOCK.discharge, **never))
    run = run_time(kept, LOAD, 0.5)
    found = evenings(run, "3 h")
    assert (found.count, found.si.lost) == pytest.approx((run.hours.m_as("h") / 3, 0), abs=1e-12)
    years = evenings(RUNS["cells"], "3 h", "12 years")  # the ordinary type loses 98.6 % in one
    assert years.count_min == 0 < years.count_max
    assert evenings(run_time(batteries["9 V zinc-carbon"], "60 mA", "5.4 V"), "1 h").count_min == 0


@pytest.mark.parametrize(
    ("name", "times", "said", "grade"),
    [
        ("block", ("3 h",), "21 evenings", FINE),
        # a run of 60 h (37 h to 103 h) that storage shortens; part of an evening is none
        ("dim", ("6 h", "4 days"), "10 evenings (4 to 19)", FINE),
        ("dim", ("50 h", "4 days"), "1 evening (0 to 2)", LOOK),
        ("dim", ("80 h", "4 days"), "0 evenings (0 to 1)", STOP),
    ],
)
def test_the_least_is_held_against_one_whole_evening(name, times, said, grade):
    found = evenings(RUNS[name], *times).findings[0]
    assert found.grade == grade
    assert found.reason.startswith(said)
    assert [each.topic for each in evenings(RUNS["cells"], "1 h", "120 days").findings][1:] == ["storage"]


NINE, TWELVE = adapters["9 V regulated"], adapters["12 V regulated"]
ENERGY = yearly_energy(NINE, "50 mA", "3 h")
KINDS = ("regulated", "unregulated")
prices = st.floats(0, 100)


def printed(watts, volts=12):
    return dataclasses.replace(TWELVE, voltage=Q(volts, "V"), max_current=Q(watts / volts, "A"))


@pytest.mark.parametrize(
    ("watts", "volts", "efficiency"),
    [
        *((1, 12, 0.66), (1.0001, 12, 0.6686), (3, 12, 0.7438), (6, 12, 0.7888), (12, 12, 0.8296), (24, 12, 0.862)),
        # below 6 V and from 550 mA the low-voltage formula
        *((60, 12, 0.88), (58, 5.9, 0.87), (0.6, 1, 0.397)),
    ],
)
def test_level_vi(watts, volts, efficiency):
    # FROM MEMORY (10 CFR 430.32(w)), 0.0005; 0.1 W up to 49 W, 0.21 W up to 250 W
    assert level_vi(printed(watts, volts)) == (pytest.approx(efficiency, abs=0.0005), 0.1 if watts <= 49 else 0.21)


def test_energy_by_hand():
    energy = yearly_energy(NINE, "50 mA", "3 h", efficiency="75 %", no_load_power="0.2 W")
    evening = (9 * 0.05 / 0.75 + 0.2) * 3 + 0.2 * (168 - 3)  # Wh
    assert energy.evening.m_as("Wh") == pytest.approx(evening)
    assert energy.year.m_as("kWh") == pytest.approx(evening * 365.25 / 7 / 1000)
    assert (energy.lit + energy.idle).m_as("kWh") == pytest.approx(energy.year.m_as("kWh"))
    # FROM MEMORY (10 CFR 430.32(w)): 0.1 W all year are 0.876 kWh (365 days; 0.8766 with leap years)
    assert yearly_energy(NINE, "0 mA", "1 h", "8766 h").year.m_as("kWh") == pytest.approx(0.876, abs=0.001)
    assert yearly_energy(NINE, "0 mA", "1 h", "8766 h", plugged_in=False).idle.m_as("kWh") == 0


def test_break_even_by_hand():
    energy = yearly_energy(NINE, "50 mA", "3 h", plugged_in=False, efficiency="75 %", no_load_power="0 W")
    # 1.8 Wh an evening at 0.50 a kWh is 0.0009; a battery of 2.00 for four evenings is 0.50
    result = break_even(energy, adapter_price=10, price_per_kwh=0.5, battery_price=2, evenings_each=4)
    assert (result.adapter_per_evening, result.battery_per_evening) == pytest.approx((0.0009, 0.5))
    assert result.evening == math.ceil(10 / 0.4991)
    assert result.after_years == pytest.approx(result.evening * 7 / 365.25)


@given(prices, prices, prices, st.floats(0.5, 50), st.floats(1, 2), st.integers(1, 500))
def test_the_band_is_ordered_and_the_sums_cross_there(adapter, kwh, battery, evenings, more, uses):
    result = break_even(ENERGY, adapter, kwh, battery, (evenings / more, evenings, evenings * more), uses)
    assert 0 <= result.evening_min <= result.evening <= result.evening_max
    saved = result.battery_per_evening - result.adapter_per_evening
    if math.isfinite(result.evening):
        assert result.evening * saved >= adapter * (1 - 1e-6) - 1e-6
        assert (result.evening - 1) * saved <= adapter * (1 + 1e-6) + 1e-6
    else:
        assert saved <= 0


def test_when_an_adapter_pays_and_what_it_wastes():
    off, loose = (yearly_energy(adapters[f"9 V {kind}"], "50 mA", "3 h", plugged_in=False) for kind in KINDS)
    for energy, topics in ((ENERGY, ["plugged in all year"]), (off, []), (loose, ["age of the adapter"])):
        assert [each.topic for each in break_even(energy, 10, 0.2, 3, (4, 6, 9)).findings] == ["break-even", *topics]
    assert "never pays for itself" in break_even(ENERGY, 10, 0.2, 0.001, 9).sentence
    late = break_even(ENERGY, 10, 0.2, 0.05, 9)
    assert late.after_years > 30
    assert late.sentence.endswith(f"after {late.evening:.0f} evenings, longer than you will keep it.")


test_what_is_refused = refused(
    (lambda: evenings(RUNS["block"], "0 h"), "hours_each needs a second at least"),
    (lambda: evenings(RUNS["block"], "30 h", "1 day"), "no longer than every"),
    (lambda: yearly_energy(NINE, "50 mA", "3 h", efficiency=0), "efficiency"),
    (lambda: yearly_energy(printed(300, 48), "50 mA", "3 h"), "at most 250 W"),
    (lambda: break_even(ENERGY, 1, -1, 1, 1), "price_per_kwh needs a plain number from 0"),
    (lambda: break_even(ENERGY, 1, 1, 1, 0), "one number above zero"),
    (lambda: break_even(ENERGY, 1, 1, 1, (3, 2, 1)), "rising order"),
)
