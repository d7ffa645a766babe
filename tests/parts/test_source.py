"""Batteries and adapters: the figures that stand in the tables, their corners, and what is refused."""

import dataclasses

import pytest

from sigcalc.errors import RangeError, UnknownNameError
from sigcalc.parts.source import adapters, batteries


def test_the_keys_that_are_promised():
    promised = {"9 V alkaline", "9 V zinc-carbon", "9 V lithium", "8.4 V NiMH", "6 x AA alkaline"}
    assert promised <= set(batteries)
    assert "12 V regulated" in adapters


def test_published_figures():
    nine = batteries["9 V alkaline"].si
    # bat-mn1604-impedance: maker's sheet MN1604: 1.7 ohm at 1 kHz; bat-9v-operating-range: 9.6 V fresh at most
    assert nine.internal_resistance_min == pytest.approx(1.7, abs=0.05)
    assert nine.fresh_voltage_max == pytest.approx(9.6, abs=0.05)
    # adapter-regulated: 5 % where nothing else is specified
    assert all(each.tolerance == 0.05 for each in adapters.values())


@pytest.mark.parametrize("source", [*batteries.values(), *adapters.values()], ids=lambda each: each.name)
def test_corners_go_from_the_least_to_the_most_current(source):
    (low, high_ohms), (volts, ohms), (high, low_ohms) = source.corners
    assert low <= volts <= high
    assert low_ohms <= ohms <= high_ohms
    assert low < high
    assert source.nominal_voltage.to("V").magnitude > 0
    assert source.note == "typical, not guaranteed"


def test_figures_out_of_order_are_refused():
    with pytest.raises(RangeError, match="rising order"):
        dataclasses.replace(batteries["9 V alkaline"], fresh_voltage_min="9.55 V")
    with pytest.raises(RangeError, match="rising order"):
        dataclasses.replace(batteries["9 V alkaline"], internal_resistance_min="0 ohm")


def test_a_name_in_no_table_lists_the_nearest():
    with pytest.raises(UnknownNameError, match="9 V alkaline"):
        batteries["9 V alkalin"]
