"""A coil on a supply, the contacts behind it, and switching it off."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.power.relay_coil import coil_on, operates_down_to, switch_off
from sigcalc.parts.relay import relays
from sigcalc.parts.source import adapters, batteries
from sigcalc.parts.timer import timers
from sigcalc.units import Q
from tests.refusals import refused

# common practice, no source: supplies of 9 to 12 V DC


def test_published_shares():
    """Omron G5V-2 data sheet (dtsheet.com/doc/1167300): 10 % either way, at most 75 % of 12 V; G5V-1: 80 % of 9 V."""
    current = coil_on("12 V two-pole", "12 V").current
    assert list(current) == pytest.approx(current.nominal / np.array([1.1, 1.0, 0.9]), rel=1e-12)
    assert operates_down_to("12 V two-pole") == Q("9 V")
    assert operates_down_to("9 V one-pole").m_as("V") == pytest.approx(7.2)
    # 0.393 % for each kelvin
    warm = operates_down_to("12 V two-pole", "60 °C") / operates_down_to("12 V two-pole")
    assert warm == pytest.approx(1.1437, abs=5e-5)


@given(st.sampled_from(list(relays)), st.floats(1, 40))
def test_voltages_and_powers_balance(name, supply):
    coil = coil_on(name, Q(supply, "V"))
    assert list(coil.voltage) == pytest.approx([supply] * 3, rel=1e-12)
    assert list(coil.power) == pytest.approx([supply * each for each in coil.current], rel=1e-12)
    assert coil.current.least < coil.current.nominal < coil.current.most


@pytest.mark.parametrize("source", [batteries["9 V alkaline"], adapters["9 V regulated"]])
def test_a_source_keeps_a_part_for_itself(source):
    coil = coil_on("9 V two-pole", source)
    (least, inside), (volts, middle), _ = source.corners
    expected = least * 145.8 / (145.8 + inside), volts * 162 / (162 + middle)
    assert (coil.voltage.least, coil.voltage.nominal) == pytest.approx(expected, rel=1e-12)


ONE_SHOT = timers["one-shot"]


@pytest.mark.parametrize(
    ("name", "supply", "lost", "wanted"),
    [
        ("9 V two-pole", "9 V", "0 V", FINE),
        ("9 V two-pole", "7 V", "0 V", LOOK),  # cold it pulls in at 6.75 V, hot at 7.72 V
        ("9 V two-pole", "6.7 V", "0 V", STOP),
        ("9 V two-pole", "10.8 V", "0 V", FINE),
        ("9 V two-pole", "10.9 V", "0 V", STOP),
        # TI NE555 data sheet SLFS022: the high output keeps up to 2.25 V for itself, the low one 0.75 V
        ("9 V two-pole", "9 V", ONE_SHOT.high_drop, LOOK),
        ("9 V two-pole", "9 V", ONE_SHOT.low_drop, FINE),
        ("9 V two-pole sensitive", batteries["9 V alkaline"], "0 V", FINE),
        ("12 V two-pole", adapters["12 V regulated"], "0 V", FINE),
    ],
)
def test_the_voltage_is_judged(name, supply, lost, wanted):
    (found,) = (each for each in coil_on(name, supply, coil_drop_max=lost).findings if each.topic == "relay coil")
    assert found.grade == wanted


def test_a_driver_that_may_keep_less_lets_the_coil_have_more():
    """A data sheet gives the most that an output keeps; a coil that may overheat gets what is left at the least."""
    for drops, volts in ((["2.25 V"], [9.75, 9.75, 12]), (["2.25 V", "1.7 V", "1.2 V"], [9.75, 10.3, 10.8])):
        assert list(coil_on("9 V two-pole", "12 V", *drops).voltage) == pytest.approx(volts)


def test_one_pole_does_not_turn_a_current_round():
    assert {each.topic: each.grade for each in coil_on("9 V one-pole", "9 V").findings}["relay contacts"] == LOOK
    assert "60 °C needs 7.72 V" in coil_on("9 V two-pole", "7 V").findings[0].reason


# ---- switching off

FED = ("12 V two-pole", "12 V")
HENRY, OHM, AMPERE = 0.74, 288, 12 / 288  # Omron G5V-2


@pytest.mark.parametrize("supply", [9, 12])
def test_published_voltage_at_the_switch(supply):
    """Kuphaldt, Lessons in Electric Circuits vol. III ch. 3: battery and about 0.7 V."""
    assert switch_off("9 V two-pole sensitive", Q(supply, "V")).with_diode == Q(supply + 0.7, "V")


def test_the_delay_against_a_solver():
    """L di/dt = -(R i + drop), down to 75 % and 5 % of the rated current."""

    def at(share):
        event = lambda _, i: i[0] - share * AMPERE  # noqa: E731
        event.terminal = True
        slope = lambda _, i: -(OHM * i + 0.7) / HENRY  # noqa: E731
        return solve_ivp(slope, (0, 0.1), [AMPERE], events=event, rtol=1e-9, atol=1e-12).t_events[0][0]

    si = switch_off(*FED).si
    assert (si.delay_min, si.delay_max) == pytest.approx((at(0.75), at(0.05)), rel=1e-6)


def test_without_a_diode_against_a_solver():
    """The coil's energy swings into the stray capacitance; the coil's resistance takes a little of it."""
    farad = 100e-12
    slope = lambda _, y: [y[1] / farad, -(y[0] + OHM * y[1]) / HENRY]  # noqa: E731
    span = 3 * np.pi / 2 * np.sqrt(HENRY * farad)
    peak = solve_ivp(slope, (0, span), [0.0, AMPERE], rtol=1e-9, atol=1e-12, max_step=span / 500).y[0].max()
    off = switch_off(*FED, diode=False)
    assert off.si.without_diode == pytest.approx(12 + peak, rel=0.01)
    assert off.si.energy == pytest.approx(HENRY * AMPERE**2 / 2, rel=1e-12)


def test_a_missing_diode_stops_the_build():
    (fitted,), (missing,) = (switch_off(*FED, diode=each).findings for each in (True, False))
    assert (fitted.grade, missing.grade) == (FINE, STOP)
    assert "12.7 V" in fitted.reason
    assert "3.6 kV" in missing.reason


test_refusals = refused(
    (lambda: coil_on("9 V two-pole", "0 V"), "supply needs more than 0 V"),
    (lambda: coil_on("9 V two-pole", "9 V", "9 V"), "nothing would be left for it"),
    (lambda: coil_on("9 V two-pole", "12 V", "1 V", "2 V"), "need to rise from 0 V"),
    (lambda: switch_off("9 V two-pole latching", "12 V"), "latches"),
    (lambda: switch_off("12 V two-pole", "8 V"), "supply needs at least the 9 V"),
)
