"""Batteries and adapters: the figures that stand in the tables, their corners, and what is refused."""

import dataclasses

import pytest

from sigcalc.errors import RangeError, SigcalcError, UnknownNameError
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


def test_a_fresh_cell_of_the_measured_kind():
    # bat-e91-curve-25mA: github tektronix/keithley @75320c0e, 2281S battery models, E91 AA, first point:
    # 1.617 V at rest, 0.154 ohm, 1.613 V at 25 mA; six of them in series
    six = batteries["6 x AA alkaline"].si
    assert six.fresh_voltage / 6 == pytest.approx(1.617, abs=5e-3)
    assert six.internal_resistance / 6 == pytest.approx(0.154, abs=5e-3)
    assert six.fresh_voltage / 6 - 0.025 * six.internal_resistance / 6 == pytest.approx(1.613, abs=5e-3)


@pytest.mark.parametrize(
    ("name", "nominal"),
    [
        # bat-9v-nominal-table: liquisearch.com/nine-volt_battery: 8.4 V for NiMH; the others carry 9 V by their name
        ("9 V alkaline", 9),
        ("9 V zinc-carbon", 9),
        ("9 V lithium", 9),
        ("8.4 V NiMH", 8.4),
        ("6 x AA alkaline", 9),
        ("3 V coin cell", 3),
    ],
)
def test_nominal_voltages(name, nominal):
    assert batteries[name].nominal_voltage.to("V").magnitude == pytest.approx(nominal)


def test_a_lithium_block_rests_higher_than_its_name():
    # bat-9v-nominal-table: lithium 9.6 V; bat-lithium9v-60ohm: 7.0 V at 125 mA near the end, about 21 ohm
    lithium = batteries["9 V lithium"].si
    assert lithium.fresh_voltage == pytest.approx(9.6)
    assert lithium.internal_resistance_max == pytest.approx((9.6 - 7.0) / 0.125, rel=0.05)


def test_the_first_corner_gives_the_least_current_and_the_last_the_most():
    for source in (*batteries.values(), *adapters.values()):
        currents = [volts / (ohms + 100) for volts, ohms in source.corners]
        assert currents == sorted(currents)


def test_an_adapter_spreads_by_its_tolerance():
    (least, _), (nominal, _), (most, _) = adapters["12 V regulated"].corners
    assert (least, nominal, most) == pytest.approx((11.4, 12.0, 12.6))


@pytest.mark.parametrize(
    ("change", "match"),
    [
        ({"voltage": 12}, "voltage needs a supply voltage with its unit"),
        ({"voltage": "70 V"}, "voltage needs a supply voltage from"),
        ({"tolerance": "150 %"}, "tolerance needs a fraction from"),
        ({"internal_resistance": "-1 ohm"}, "internal_resistance needs a resistance from"),
    ],
)
def test_an_adapter_that_is_none(change, match):
    with pytest.raises(SigcalcError, match=match):
        dataclasses.replace(adapters["12 V regulated"], **change)
