"""Switching a coil off."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from sigcalc.design.findings import FINE, STOP
from sigcalc.design.train.relay_off import switch_off
from sigcalc.errors import SigcalcError
from sigcalc.parts.relay import relays
from sigcalc.units import Q

WITH_INDUCTANCE = [name for name, relay in relays.items() if relay.inductance and not relay.latching]


@pytest.mark.parametrize("supply", [9, 12])
def test_published_voltage_at_the_switch(supply):
    """Kuphaldt, Lessons in Electric Circuits vol. III ch. 3: battery and about 0.7 V."""
    assert switch_off("9 V two-pole sensitive", Q(supply, "V")).with_diode == Q(supply + 0.7, "V")


def test_the_delay_against_a_solver():
    """L di/dt = -(R i + drop) of the 12 V coil, 0.74 H (Omron G5V-2), down to 75 % and 5 % of the rated current."""

    def at(share):
        event = lambda _, i: i[0] - share * 12 / 288  # noqa: E731
        event.terminal = True
        slope = lambda _, i: -(288 * i + 0.7) / 0.74  # noqa: E731
        return solve_ivp(slope, (0, 0.1), [12 / 288], events=event, rtol=1e-9, atol=1e-12).t_events[0][0]

    result = switch_off("12 V two-pole", "12 V")
    assert result.delay_min.to("s").magnitude == pytest.approx(at(0.75), rel=1e-6)
    assert result.delay_max.to("s").magnitude == pytest.approx(at(0.05), rel=1e-6)


def test_without_a_diode_against_a_solver():
    """The coil's energy swings into the stray capacitance; the coil's resistance takes a little of it."""
    henry, ohm, farad, current = 0.74, 288, 100e-12, 12 / 288
    slope = lambda _, y: [y[1] / farad, -(y[0] + ohm * y[1]) / henry]  # noqa: E731
    span = 3 * np.pi / 2 * np.sqrt(henry * farad)
    peak = solve_ivp(slope, (0, span), [0.0, current], rtol=1e-9, atol=1e-12, max_step=span / 500).y[0].max()
    assert switch_off("12 V two-pole", "12 V", diode=False).without_diode.to("V").magnitude == pytest.approx(
        12 + peak, rel=0.01
    )


def test_energy():
    result = switch_off("12 V two-pole", "12 V")
    assert result.energy.to("J").magnitude == pytest.approx(0.74 * (12 / 288) ** 2 / 2, rel=1e-12)


@given(st.sampled_from(WITH_INDUCTANCE), st.floats(0, 3), st.floats(0.8, 1.2))
def test_a_greater_drop_lets_go_sooner(name, drop, share):
    supply = Q(share * relays[name].si.rated_voltage, "V")
    one, other = (switch_off(name, supply, diode_drop=Q(each, "V")) for each in (drop, drop + 1))
    assert other.delay_max < one.delay_max
    assert one.delay_min <= one.delay_max
    assert other.with_diode > one.with_diode


def test_findings():
    (fitted,) = switch_off("12 V two-pole", "12 V").findings
    assert fitted.grade == FINE
    assert "12.7 V" in fitted.reason
    (missing,) = switch_off("12 V two-pole", "12 V", diode=False).findings
    assert missing.grade == STOP
    assert "3.6 kV" in missing.reason
    assert "12.7 V" in missing.remedy


@pytest.mark.parametrize(
    ("given_", "sentence"),
    [
        ({"relay": "9 V two-pole latching"}, "latches"),
        ({"supply": "8 V"}, "supply needs at least the 9 V"),
        ({"inductance": "0 H"}, "inductance of the 12 V two-pole relay is not known"),
        ({"diode_drop": "-1 V"}, "diode_drop needs a voltage from 0 V"),
        ({"stray_capacitance": "0 F"}, "stray_capacitance needs a capacitance from"),
        ({"relay": None}, "relay needs a Relay"),
    ],
)
def test_refusals(given_, sentence):
    with pytest.raises(SigcalcError, match=sentence):
        switch_off(**{"relay": "12 V two-pole", "supply": "12 V"} | given_)


def test_ones_own_inductance():
    double = switch_off("12 V two-pole", "12 V", inductance="1.48 H")
    assert double.si.delay_max == pytest.approx(2 * switch_off("12 V two-pole", "12 V").si.delay_max, rel=1e-12)
