"""Pictures of batteries and adapters: what is drawn stands where the library says, and the words say the same."""

import re

import numpy as np
import pytest

from sigcalc.design.power.adapter import adapter_voltage
from sigcalc.parts.source import adapters
from sigcalc.units import say
from sigcalc.views.battery_or_adapter import (
    AdapterLine,
    BreakEvenChart,
    RunTimeCurve,
    RunVoltage,
    charge_shares,
    money,
    run_sentence,
    run_time_picture,
    signal_now,
)
from sigcalc.views.style import LARGE
from tests.views.samples import RELAY, costs, run
from tests.views.svg import spans, words

CURVE, CHART, BY_HAND = RunTimeCurve(), BreakEvenChart(), run()
NEEDS = {"relay": RELAY, "standby": "5 mA", "timer_voltage": "4.5 V"}


def datum(line):
    """The one point of a line."""
    ((x,), (y,)) = line.get_data()
    return x, y


def test_ring_cross_bar_and_band_are_the_run_s():
    picture, lines = CURVE.picture(BY_HAND, "resistor"), CURVE.lines
    hour = BY_HAND.when_light(0.5)[1].m_as("h")
    assert datum(lines["half"]) == (pytest.approx(hour), 50)
    hours, lights = lines["light"].get_data()
    before = lights > 45  # the line's last stroke, straight down, left out
    assert np.interp(-50.0, -lights[before], hours[before]) == pytest.approx(hour, rel=1e-3)
    end = BY_HAND.hours.m_as("h")
    assert datum(lines["end"]) == pytest.approx((end, 100 * BY_HAND.curve.light[-1]))
    assert (hours[-1], lights[-1]) == (pytest.approx(end), 0.0)  # empty: nothing is left
    low, high = lines["bar"].get_xdata()
    assert (low, high) == (BY_HAND.hours_min.m_as("h"), BY_HAND.hours_max.m_as("h"))
    assert CURVE.axes.get_xlim()[1] > high
    assert {"fails: 41 h", "the eye notices: 37 h", "half the light", "resistor"} <= set(words(picture))
    half = len(CURVE.shades["band"].get_xy()) // 2
    upper, lower = np.split(CURVE.shades["band"].get_xy()[: 2 * half], 2)
    hours, low, high = upper[:, 0], upper[:, 1], lower[::-1, 1]
    assert (lower[::-1, 0] == hours).all()
    for time, light in zip(BY_HAND.spread.time, BY_HAND.spread.light, strict=True):  # each corner is within
        inside = hours * 3600 <= time[-1]
        values = 100 * np.interp(hours[inside] * 3600, time, light)
        assert ((values >= low[inside] - 1e-9) & (values <= high[inside] + 1e-9)).all()


def test_nothing_is_left_of_the_picture_before():
    CURVE.picture(run("6 x AA alkaline"), "resistor", run(), "driver")
    assert run_time_picture(BY_HAND, LARGE) == CURVE.picture(BY_HAND, "with a resistor", size=LARGE)


@pytest.mark.parametrize(
    ("load", "said"),
    [
        ({}, "(29 h to 68 h); then the battery is empty. The eye notices after 37 h (27 h to 56 h), when half"),
        ({"drive": "driver"}, "then the battery is empty. Half the light is not gone before that."),
        ({"battery": "3 V coin cell"}, "then 10 % of the starting light is left. The eye notices after"),
        # the strongest lithium battery with little light never shows half of it before it is empty
        ({"battery": "9 V lithium", "relay": RELAY}, "then the relay no longer pulls in."),
    ],
)
def test_the_sentence_of_a_run(load, said):
    sentence = run_sentence(run(**load))
    assert said in sentence
    assert "inf" not in sentence


def test_the_voltage_against_what_relay_and_timer_need():
    view, result = RunVoltage(), run(**NEEDS)
    picture = view.picture(result)
    # 75 % of 9 V: Omron G5V-2-H1 data sheet
    assert view.lines["relay"].get_ydata()[0] == pytest.approx(6.75)
    assert datum(view.lines["end"]) == (pytest.approx(result.hours.m_as("h")), pytest.approx(6.75, abs=0.01))
    needs = "relay pulls in from 6.75 V", "timer board needs 4.5 V"
    assert {"fails at 6.75 V", "battery", *needs} <= set(words(picture))
    volts = result.curve.si.voltage
    assert f"from {volts[0]:.3g} V to {volts[-1]:.3g} V; the {needs[0]} and the {needs[1]}." in picture.sentence
    assert list(view.lines["voltage"].get_ydata()) == list(volts)
    assert len(set(re.findall(r"stroke-dasharray: ([^;\"]+)", picture.svg))) == 2


def test_the_parts_of_the_charge_follow_each_other():
    result = run(**NEEDS, energised=0.2)
    picture, si, end = charge_shares(result), result.si, 130.0
    names = ("the lamp", "the timer board and the drive", "the relay's coil")
    charges = dict(zip(names, (si.lamp_charge, si.standby_charge, si.coil_charge), strict=True))
    assert sum(charges.values()) == pytest.approx(si.used, rel=2e-3)
    for name, charge in charges.items():
        ((left, right),) = spans(picture, name)
        assert (left, right) == pytest.approx((end, end + 220 * charge / si.used), abs=0.1)
        end = right
        assert f"{name} {say(charge, 'Ah', 2)} ({say(charge / si.used, '', 2)})" in picture.sentence
        assert f"{say(charge, 'Ah')}, {say(charge / si.used, '', 2)}" in words(picture)


@pytest.mark.parametrize("share", [0.0, 0.3, 1.0])
@pytest.mark.parametrize("name", ["9 V unregulated", "12 V regulated"])
def test_line_point_and_band_of_an_adapter(name, share):
    adapter, adapter_line = adapters[name], AdapterLine()
    at = adapter_voltage(adapter, share * adapter.max_current)
    said = set(words(adapter_line.picture(at)))
    assert {f"printed: {say(adapter.si.voltage, 'V')}", f"{say(at.si.voltage, 'V')} at {say(at.si.load, 'A')}"} <= said
    assert ("hatched: ripple" in said) == (adapter.ripple > 0)
    loads, volts = adapter_line.lines["line"].get_data()
    assert volts[-1] == pytest.approx(adapter.si.voltage, rel=0.025)
    load, given = datum(adapter_line.lines["point"])
    assert given == pytest.approx(np.interp(load, loads, volts))
    low, high = adapter_line.lines["bar"].get_ydata()
    assert (low, high) == (at.si.voltage_min, at.si.voltage_max)
    assert low < given < high
    band, ripple = (adapter_line.shades[name].get_xy() for name in ("band", "ripple"))
    assert max(ripple[:, 1]) <= adapter_line.axes.get_ylim()[1]
    # from peak to valley at full load, half of it on each side of the band
    at_full = band[:, 0] == loads[-1]
    assert min(band[at_full, 1]) - min(ripple[at_full, 1]) == pytest.approx(adapter.ripple * adapter.si.voltage / 2)


def test_the_costs_meet_in_the_ring():
    result, *given = costs(5.0, 15.0)
    picture, lines = CHART.picture(result, *given, 5.0), CHART.lines
    evening, height = datum(lines["ring"])
    assert evening == result.evening == 16
    batteries, adapter = (np.interp(evening, *lines[name].get_data()) for name in ("batteries", "adapter"))
    assert height == pytest.approx(adapter)
    assert batteries == pytest.approx(adapter, abs=result.battery_per_evening)  # the evening is a whole one
    assert list(lines["ends"].get_xdata()) == [result.evening_min, result.evening_max]
    assert {"evening 16", "batteries", "adapter"} <= set(words(picture))
    assert "An evening costs 1.00 in batteries and 0.005 in mains energy." in picture.sentence
    never = CHART.picture(*costs(1.0, 15.0, uses=500), 5.0)
    assert never.sentence.endswith("At these prices the adapter never pays for itself.")
    assert len(lines["ring"].get_xdata()) == 0
    assert "inf" not in never.html()


def test_a_band_that_leaves_the_sheet_has_no_end_there():
    result, *given = costs(0.05, 5.0, evenings=(0.5, 2.0, 40.0))
    CHART.picture(result, *given, 80.0)
    right = CHART.axes.get_xlim()[1]
    assert result.evening_max > right == CHART.lines["bar"].get_xdata()[1]
    assert list(CHART.lines["ends"].get_xdata()) == [result.evening_min]
    for prices in ((0.0, 15.0), (50.0, 0.0), (0.0, 0.0)):
        CHART.picture(*costs(*prices), 5.0)
        assert (CHART.shades["band"].get_xy() <= (CHART.axes.get_xlim()[1], CHART.axes.get_ylim()[1])).all()


def test_money():
    amounts = {0: "0.00", 12.345: "12.35", 0.0042: "0.004", 1e-5: "under 0.001", 0.01: "0.01"}
    assert {amount: money(amount) for amount in amounts} == amounts


@pytest.mark.parametrize(("share", "state"), [(0.0, "RELAY HELD"), (0.9, "RELAY HELD"), (1.0, "RELAY FAILS")])
def test_the_relay_on_the_table_lets_go_where_the_run_ends_with_its_coil_still_fed(share, state):
    result = run(relay=RELAY)
    now = signal_now(result, share, "9 V battery")
    (way,) = now.ways
    # Ohm's law: the coil of 540 ohm (Omron G5V-2-H1 data sheet) on what the battery then gives
    assert now.board.current == pytest.approx(now.volts / 540, rel=1e-9)
    assert now.board.pulled == (state == "RELAY HELD")
    for picture in (now.looks("It is so."), now.drawn("It is so.")):
        assert {state, f"coil {say(now.board.current, 'A')}"} <= set(words(picture))
    assert sum(each.volts for each in way.shares(now.volts, False)) == pytest.approx(now.volts)
    assert f"{say(way.current / result.curve.si.current[0], '', 2)} of its light" in words(now.looks("It is so."))


def test_at_the_end_of_an_empty_battery_nothing_flows():
    for drive in ("resistor", "driver"):
        picture = signal_now(run(drive=drive), 1.0, "9 V battery").looks("It is so.")
        assert "no current flows" in words(picture)
        assert "sigcalc-flow" not in picture.svg
