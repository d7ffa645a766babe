"""Adapter or battery: level VI, energy in a year, the evening from which the adapter pays, and what is refused."""

import dataclasses
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.design.findings import FINE, LOOK
from sigcalc.design.power.running_cost import break_even, findings, level_vi_efficiency, level_vi_no_load, yearly_energy
from sigcalc.errors import RangeError, UnitError
from sigcalc.parts.source import adapters
from sigcalc.units import Q

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
    pays = findings(break_even(energy, 10, 0.2, 3, (4, 6, 9)))
    assert [(each.grade, each.topic) for each in pays] == [(FINE, "break-even"), (LOOK, "plugged in")]
    never = findings(break_even(energy, 10, 0.2, 0.001, 9))
    assert "stay cheaper for ever" in never[0].reason
    off = yearly_energy(NINE, "50 mA", "3 h", plugged_in=False)
    assert [each.topic for each in findings(break_even(off, 10, 0.2, 3, 6))] == ["break-even"]
    loose = yearly_energy(adapters["9 V unregulated"], "50 mA", "3 h", plugged_in=False)
    assert [each.topic for each in findings(break_even(loose, 10, 0.2, 3, 6))] == ["break-even", "age of the adapter"]


ENERGY = yearly_energy(NINE, "50 mA", "3 h")


@pytest.mark.parametrize(
    ("call", "kind", "said"),
    [
        (lambda: yearly_energy(NINE, "50 mA", "0 h"), RangeError, "hours_each"),
        (lambda: yearly_energy(NINE, "50 mA", "25 h", "1 day"), RangeError, "no longer than every"),
        (lambda: yearly_energy(NINE, "50 mA", "3 h", efficiency=0), RangeError, "efficiency"),
        (lambda: yearly_energy("9 V", "50 mA", "3 h"), UnitError, "adapter needs"),
        (
            lambda: yearly_energy("9 V", "50 mA", "3 h", efficiency=0.8, no_load_power="0.1 W"),
            UnitError,
            "adapter needs",
        ),
        (lambda: yearly_energy(NINE, "50 mA", "3 h", plugged_in="no"), UnitError, "plugged_in needs True or False"),
        (lambda: break_even(ENERGY, 10**400, 1, 1, 1), RangeError, "adapter_price needs a plain number from 0"),
        (lambda: break_even(ENERGY, 1, 1, 1, 1, uses=10**400), RangeError, "uses"),
        (lambda: level_vi_efficiency(printed(300, 48)), RangeError, "up to 250 W"),
        (lambda: break_even("1 kWh", 1, 1, 1, 1), UnitError, "yearly_energy"),
        (lambda: break_even(ENERGY, -1, 1, 1, 1), RangeError, "adapter_price"),
        (lambda: break_even(ENERGY, 1, "0.2", 1, 1), RangeError, "price_per_kwh"),
        (lambda: break_even(ENERGY, 1, 1, math.inf, 1), RangeError, "battery_price"),
        (lambda: break_even(ENERGY, 1, 1, 1, 0), RangeError, "no evening"),
        (lambda: break_even(ENERGY, 1, 1, 1, (3, 2, 1)), RangeError, "rise"),
        (lambda: break_even(ENERGY, 1, 1, 1, (3, 2)), RangeError, "least, nominal and most"),
        (lambda: break_even(ENERGY, 1, 1, 1, 1, uses=0), RangeError, "uses"),
    ],
)
def test_what_is_refused_and_how(call, kind, said):
    with pytest.raises(kind, match=said):
        call()
