"""Adapters: published no-load ratios, the line to the rated point, ripple, the right resistor, headroom."""

import dataclasses

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.design.findings import FINE, LOOK
from sigcalc.design.lamp.drive import operate
from sigcalc.design.power.adapter import adapter_voltage, resistor_on_adapter
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.led import leds
from sigcalc.parts.source import adapters
from sigcalc.units import Q
from tests.refusals import refused

FIVE = adapters["5 V regulated"]
RED, GREEN = leds["bright red 3 mm"], leds["ordinary green 3 mm"]
LOOSE, HELD = adapters["9 V unregulated"], adapters["9 V regulated"]


@pytest.mark.parametrize(
    ("name", "volts", "tolerance"),
    [
        ("9 V unregulated", 14, 0.15),  # sparkfun.com/tutorials/103: 14 V
        # from memory, readings of 12 V adapters with nothing connected
        ("12 V unregulated", 16.8, 0.06),
        ("12 V unregulated", 19.2, 0.1),
        ("12 V unregulated", 21.0, 0.2),
    ],
)
def test_no_load_voltages_that_were_measured(name, volts, tolerance):
    si = adapter_voltage(adapters[name], "0 mA").si
    assert si.voltage == pytest.approx(volts, rel=tolerance)
    assert si.voltage_min <= volts <= si.voltage_max
    assert si.ripple == 0


@pytest.mark.parametrize("name", ["9 V unregulated", "12 V unregulated"])
def test_the_printed_voltage_is_there_only_at_full_load(name):
    adapter = adapters[name]
    full, printed = adapter_voltage(adapter, adapter.max_current).si, adapter.si.voltage
    assert full.voltage == pytest.approx(printed, rel=0.002)
    assert (full.ripple, full.peak) == pytest.approx((0.1 * printed, full.voltage_max + full.ripple / 2))


def test_a_regulated_adapter_holds_its_voltage():
    # edatec.cn/en/ac/power-1201.html, a 12 V 1 A adapter: load regulation within 5 %
    si = adapter_voltage(HELD, "100 mA").si
    assert si.voltage == pytest.approx(9, rel=0.002)
    assert (si.voltage_min, si.voltage_max) == (pytest.approx(8.55, abs=0.02), pytest.approx(9.45, abs=0.02))
    assert si.ripple == 0


@given(st.floats(0, 0.49), st.floats(0, 0.01))
def test_more_load_never_means_more_voltage(load, more):
    for adapter in (LOOSE, HELD):
        one, other = (adapter_voltage(adapter, Q(each, "A")).si for each in (load, load + more))
        assert other.voltage <= one.voltage
        assert other.voltage_max <= one.voltage_max
        assert one.voltage_min <= one.voltage <= one.voltage_max <= one.peak


def test_each_adapter_gets_its_own_resistor():
    held, loose = (resistor_on_adapter(each, RED, "10 mA") for each in (HELD, LOOSE))
    # (9 V - 1.8 V) / 10 mA and (13.2 V - 1.8 V) / 10 mA, each the next value of E12 up
    assert (held.si.resistance, loose.si.resistance) == (820, 1200)
    assert held.si.printed_resistance == loose.si.printed_resistance == 820
    assert loose.si.printed_current > 0.013
    assert max(held.si.current, loose.si.current) <= 0.010


ABLE = st.sampled_from([each for each in adapters.values() if each.si.voltage > 5])


@given(ABLE, st.floats(1e-3, 0.02), st.floats(0, 0.3))
def test_the_resistor_keeps_to_the_wish_and_agrees_with_the_bench(adapter, current, other):
    si = resistor_on_adapter(adapter, [RED, GREEN], Q(current, "A"), other_load=Q(other, "A")).si
    assert si.current <= current * (1 + 1e-6)
    assert si.current_min <= si.current <= si.current_max <= si.current_peak
    volts, ohms = adapter.corners[1]
    bench = operate(Q(volts - ohms * other, "V"), ResistorDrive(Q(si.resistance + ohms, "ohm")), [RED, GREEN])
    assert si.current == pytest.approx(bench.si.current, rel=1e-9)


@pytest.mark.parametrize(
    ("result", "grades"),
    [
        # 80 %: common practice, no source
        (adapter_voltage(HELD, "100 mA"), {"headroom": FINE, "voltage": FINE}),
        (adapter_voltage(HELD, "450 mA"), {"headroom": LOOK, "voltage": FINE}),
        (adapter_voltage(LOOSE, "50 mA"), {"headroom": FINE, "voltage": LOOK}),
        (resistor_on_adapter(HELD, RED, "10 mA"), {"LED current": FINE}),
        (resistor_on_adapter(HELD, dataclasses.replace(RED, max_current="9.5 mA"), "9.4 mA"), {"LED current": LOOK}),
        (resistor_on_adapter(LOOSE, RED, "10 mA", other_load="300 mA"), {"LED current": FINE, "printed voltage": LOOK}),
        (resistor_on_adapter(FIVE, [RED, GREEN], "10 mA"), {"LED current": FINE, "headroom": LOOK}),
    ],
)
def test_findings(result, grades):
    assert {each.topic: each.grade for each in result.findings} == grades


test_what_is_refused_and_how = refused(
    (lambda: adapter_voltage(HELD, "600 mA"), "at most the 500 mA"),
    (lambda: resistor_on_adapter(HELD, [RED] * 6, "10 mA"), "nothing would light"),
    (lambda: resistor_on_adapter(LOOSE, RED, "10 mA", other_load="495 mA"), "at most the 500 mA that"),
)
