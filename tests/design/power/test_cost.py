"""Evenings of a battery, an adapter's energy, and the evening it pays: by hand, level VI, limits, refusals."""

import dataclasses
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.power.cost import break_even, evenings, level_vi_efficiency, level_vi_no_load, yearly_energy
from sigcalc.design.power.load import Load
from sigcalc.design.power.run_time import run_time
from sigcalc.errors import RangeError, UnitError
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.led import leds
from sigcalc.parts.source import adapters, batteries
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
    alkaline = evenings(RUNS["9 V alkaline"], "3 h").findings
    assert len(alkaline) == 1
    assert "21 evenings" in alkaline[0].reason
    seldom = evenings(RUNS["8.4 V NiMH"], "1 h", "120 days").findings
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
    found = evenings(run_time(batteries["8.4 V NiMH"], load, 0.5), each, "4 days").findings[0]
    assert (found.grade, found.reason.split(" of ")[0]) == (grade, said)


def test_a_battery_that_does_not_start_counts_nothing():
    weak = run_time(batteries["9 V zinc-carbon"], "60 mA", "5.4 V")
    assert evenings(weak, "1 h").count_min == 0


def test_storage_may_take_all_of_it():
    result = evenings(RUNS["8.4 V NiMH"], "3 h", "12 years")  # the ordinary type loses 98.6 % in one
    assert result.count_min == 0
    assert result.count_max > 0


NINE, TWELVE = adapters["9 V regulated"], adapters["12 V regulated"]
prices = st.floats(0, 100)


def printed(watts, volts=12):
    return dataclasses.replace(TWELVE, voltage=Q(volts, "V"), max_current=Q(watts / volts, "A"))


@pytest.mark.parametrize(
    ("watts", "efficiency"), [(1.0001, 0.6686), (3, 0.7438), (6, 0.7888), (12, 0.8296), (24, 0.862)]
)
def test_level_vi_efficiency(watts, efficiency):
    # FROM MEMORY (10 CFR 430.32(w)), 0.0005
    assert level_vi_efficiency(printed(watts)) == pytest.approx(efficiency, abs=0.0005)


def test_level_vi_at_the_ends():
    # FROM MEMORY: 0.1 W up to 49 W, 0.21 W up to 250 W; below 6 V and from 550 mA the low-voltage formula
    assert (level_vi_no_load(printed(12)), level_vi_no_load(printed(60))) == (0.1, 0.21)
    assert level_vi_efficiency(printed(60)) == 0.88
    assert level_vi_efficiency(printed(1)) == pytest.approx(0.66)
    assert level_vi_efficiency(printed(10, 5)) < level_vi_efficiency(printed(10))
    assert level_vi_efficiency(printed(58, 5.9)) == 0.87
    assert level_vi_efficiency(dataclasses.replace(TWELVE, voltage="1 V", max_current="0.6 A")) == pytest.approx(
        0.397, abs=1e-3
    )


def test_plugged_in_all_year_with_nothing_lit():
    # FROM MEMORY (10 CFR 430.32(w)): 0.1 W all year are 0.876 kWh (365 days; 0.8766 with leap years)
    energy = yearly_energy(NINE, "0 mA", "1 h", "8766 h")
    assert energy.year.m_as("kWh") == pytest.approx(0.876, abs=0.001)
    assert yearly_energy(NINE, "0 mA", "1 h", "8766 h", plugged_in=False).idle.m_as("kWh") == 0


def test_energy_by_hand():
    energy = yearly_energy(NINE, "50 mA", "3 h", efficiency="75 %", no_load_power="0.2 W")
    evening = (9 * 0.05 / 0.75 + 0.2) * 3 + 0.2 * (168 - 3)  # Wh
    assert energy.evening.m_as("Wh") == pytest.approx(evening)
    assert energy.year.m_as("kWh") == pytest.approx(evening * 365.25 / 7 / 1000)
    assert (energy.lit + energy.idle).m_as("kWh") == pytest.approx(energy.year.m_as("kWh"))
    assert not energy.assumed


def test_break_even_by_hand():
    energy = yearly_energy(NINE, "50 mA", "3 h", plugged_in=False, efficiency="75 %", no_load_power="0 W")
    # 1.8 Wh an evening at 0.50 a kWh is 0.0009; a battery of 2.00 for four evenings is 0.50
    result = break_even(energy, adapter_price=10, price_per_kwh=0.5, battery_price=2, evenings_each=4)
    assert result.adapter_per_evening == pytest.approx(0.0009)
    assert result.battery_per_evening == pytest.approx(0.5)
    assert result.evening == math.ceil(10 / 0.4991)
    assert result.after_years == pytest.approx(result.evening * 7 / 365.25)


@given(prices, prices, prices, st.floats(0.5, 50), st.floats(1, 2), st.integers(1, 500))
def test_the_band_is_ordered_and_the_sums_cross_there(adapter, kwh, battery, evenings, more, uses):
    energy = yearly_energy(NINE, "50 mA", "3 h")
    result = break_even(energy, adapter, kwh, battery, (evenings / more, evenings, evenings * more), uses)
    assert 0 <= result.evening_min <= result.evening <= result.evening_max
    saved = result.battery_per_evening - result.adapter_per_evening
    if math.isfinite(result.evening):
        assert result.evening * saved >= adapter * (1 - 1e-6) - 1e-6
        assert (result.evening - 1) * saved <= adapter * (1 + 1e-6) + 1e-6
    else:
        assert saved <= 0


def test_findings():
    energy = yearly_energy(NINE, "50 mA", "3 h")
    pays = break_even(energy, 10, 0.2, 3, (4, 6, 9)).findings
    assert [(each.grade, each.topic) for each in pays] == [(FINE, "break-even"), (LOOK, "plugged in")]
    never = break_even(energy, 10, 0.2, 0.001, 9).findings
    assert "never pays for itself" in never[0].reason
    late = break_even(energy, 10, 0.2, 0.05, 9)
    assert late.after_years > 30
    assert late.sentence.endswith(f"after {late.evening:.0f} evenings, longer than you will keep it.")
    off = yearly_energy(NINE, "50 mA", "3 h", plugged_in=False)
    assert [each.topic for each in break_even(off, 10, 0.2, 3, 6).findings] == ["break-even"]
    loose = yearly_energy(adapters["9 V unregulated"], "50 mA", "3 h", plugged_in=False)
    assert [each.topic for each in break_even(loose, 10, 0.2, 3, 6).findings] == ["break-even", "age of the adapter"]


ENERGY = yearly_energy(NINE, "50 mA", "3 h")


@pytest.mark.parametrize(
    ("given", "kind", "said"),
    [
        ({"hours_each": "0 h"}, RangeError, "hours_each"),
        ({"hours_each": "25 h", "every": "1 day"}, RangeError, "no longer than every"),
        ({"efficiency": 0}, RangeError, "efficiency"),
        ({"adapter": "9 V"}, UnitError, "adapter needs"),
        ({"adapter": "9 V", "efficiency": 0.8, "no_load_power": "0.1 W"}, UnitError, "adapter needs"),
        ({"adapter": printed(300, 48)}, RangeError, "at most 250 W"),
    ],
)
def test_what_is_no_energy_in_a_year(given, kind, said):
    with pytest.raises(kind, match=said):
        yearly_energy(**{"adapter": NINE, "load": "50 mA", "hours_each": "3 h"} | given)


@pytest.mark.parametrize(
    ("given", "kind", "said"),
    [
        ({"energy": "1 kWh"}, UnitError, "yearly_energy"),
        ({"adapter_price": 10**400}, RangeError, "adapter_price needs a plain number from 0"),
        ({"adapter_price": -1}, RangeError, "adapter_price"),
        ({"price_per_kwh": "0.2"}, RangeError, "price_per_kwh"),
        ({"battery_price": math.inf}, RangeError, "battery_price"),
        ({"evenings_each": 0}, RangeError, "one number above zero"),
        ({"evenings_each": (3, 2, 1)}, RangeError, "rising order"),
        ({"evenings_each": (3, 2)}, RangeError, "least, nominal and most"),
        ({"uses": 0}, RangeError, "uses"),
    ],
)
def test_what_is_no_break_even(given, kind, said):
    prices = {"adapter_price": 1, "price_per_kwh": 1, "battery_price": 1, "evenings_each": 1}
    with pytest.raises(kind, match=said):
        break_even(**{"energy": ENERGY} | prices | given)


@pytest.mark.parametrize(
    ("given", "kind", "said"),
    [
        (("3 h", "3 h"), UnitError, "run_time"),
        ((RUNS["9 V alkaline"], "0 h"), RangeError, "hours_each needs a second at least"),
        ((RUNS["9 V alkaline"], "30 h", "1 day"), RangeError, "no longer than every"),
    ],
)
def test_what_is_no_evening(given, kind, said):
    with pytest.raises(kind, match=said):
        evenings(*given)
