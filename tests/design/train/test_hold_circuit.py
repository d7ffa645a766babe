"""A hold circuit over its tolerances: the ends are real corners, and the turn undoes the time."""

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from sigcalc.design.train.hold_circuit import HoldCircuit, as_hold_circuit
from sigcalc.errors import SigcalcError
from sigcalc.parts.capacitor import Capacitor
from sigcalc.parts.timer import Timer, timers

WET = Capacitor("electrolytic", "100 µF", "16 V")
FILM = Capacitor("polyester film", "10 µF", "63 V")


def circuit(timer="one-shot", capacitor=WET, pot="100 kohm", end="4.7 kohm", **tolerances):
    return HoldCircuit(timer, capacitor, pot, end, **tolerances)


@pytest.mark.parametrize("timer", list(timers))
def test_least_and_most_are_the_solvers_corners(timer):
    """Every combination of limits through scipy's solver of the circuit's own equation."""
    made, supply, turn = circuit(timer), 9.0, 0.6
    discharges, spread = made.timer.discharges, made.timer.si.spread

    def solved(pot, end, farad, trip, leak, drawn):
        ohm = 4.7e3 * (1 + 0.05 * end) + turn * 100e3 * (1 + 0.2 * pot)
        drain, leaks = max(drawn, 0) * made.timer.si.input_current, max(leak, 0) / WET.leakage_resistance
        start, heads_for = (supply, 0.0) if discharges else (0.0, supply)
        level = made.timer.trips(supply)[trip + 1]
        at_trip = lambda _, v: v[0] - level  # noqa: E731
        at_trip.terminal = True
        slope = lambda _, v: ((heads_for - v) / ohm - v * leaks - drain) / (100e-6 * (1 + 0.2 * farad))  # noqa: E731
        return solve_ivp(slope, (0, 400), [start], events=at_trip, rtol=1e-8, atol=1e-10).t_events[0][0]

    times = [solved(*signs) for signs in itertools.product((-1, 1), repeat=6)]
    least, nominal, most = made.seconds(supply, turn)
    assert least == pytest.approx(min(times) * (1 - spread), rel=1e-6)
    assert most == pytest.approx(max(times) * (1 + spread), rel=1e-6)
    assert nominal == pytest.approx(solved(0, 0, 0, 0, 0, 0), rel=1e-6)


def test_what_flows_out_of_a_comparators_input_shortens_and_never_holds_for_good():
    """LM393 sheets: the bias current flows out of the input, so into the capacitor."""
    made = circuit("comparator", Capacitor("polyester film", "1 µF", "63 V"), "10 Mohm", pot_tolerance=0)
    still = HoldCircuit(
        Timer(**{key: getattr(made.timer, key) for key in made.timer.__dataclass_fields__} | {"input_current": "0 A"}),
        made.capacitor,
        made.pot,
        made.end_resistor,
        pot_tolerance=0,
    )
    least, nominal, most = made.seconds(9.0, 1.0)
    assert least < 0.8 * still.seconds(9.0, 1.0)[0]
    assert (nominal, most) == still.seconds(9.0, 1.0)[1:]
    assert np.isfinite(most)
    assert made.sure_resistance(9.0) == pytest.approx(still.sure_resistance(9.0))


@given(st.sampled_from(list(timers)), st.sampled_from([WET, FILM]), st.floats(7.5, 15), st.floats(0.001, 0.999))
def test_the_turn_undoes_the_time(timer, capacitor, supply, turn):
    made = circuit(timer, capacitor)
    turns, within_reach = made.turns(supply, made.seconds(supply, turn)[1])
    assert within_reach[0]
    assert turns[0] == pytest.approx(turn, abs=1e-9)
    assert turns.min() <= turns[0] <= turns.max()


@given(st.sampled_from(list(timers)), st.floats(7.5, 15), st.floats(0, 0.9))
def test_further_turned_is_longer(timer, supply, turn):
    one, other = (np.array(circuit(timer).seconds(supply, each)) for each in (turn, turn + 0.1))
    assert (other >= one).all()


def test_without_tolerances_there_is_no_band():
    exact = Capacitor("polyester film", "10 µF", "63 V", 0.0, 0.0)
    least, nominal, most = circuit("one-shot", exact, pot_tolerance=0, end_tolerance=0).seconds(9.0, 1.0)
    assert (least / nominal, most / nominal) == pytest.approx((0.97, 1.03), rel=1e-2)  # the timer's own, and a leak
    assert nominal == pytest.approx(104.7e3 * 10e-6 * np.log(3), rel=1e-14)


def test_a_leak_may_keep_the_trip_from_ever_being_reached():
    least, nominal, most = circuit(pot="470 kohm").seconds(9.0, 1.0)
    assert np.isfinite([least, nominal]).all()
    assert np.isinf(most)


def test_a_capacitor_that_is_not_filled_to_the_trip_holds_nothing():
    least, nominal, most = circuit("mosfet").seconds(2.5, 1.0)  # up to 3 V are needed
    assert least == 0 < nominal < most


def test_where_a_turn_cannot_be_had_it_is_the_nearer_end():
    turns, within_reach = circuit().turns(9.0, 1e3)
    assert not within_reach.any()
    assert turns.min() > 0.999
    turns, within_reach = circuit().turns(9.0, 1e-3)
    assert not within_reach.any()
    assert turns.max() < 0.001


@pytest.mark.parametrize(
    ("given_", "sentence"),
    [
        ({"timer": "one shot"}, "use one of: 'one-shot'"),
        ({"capacitor": "100 µF"}, "capacitor needs a Capacitor"),
        ({"pot": "0 ohm"}, "pot needs to be at least 1 Ω, but 0 Ω came"),
        ({"pot": "-1 kohm"}, "pot needs a resistance from 0"),
        ({"pot_tolerance": 1.0}, "pot_tolerance needs to be less than 100 %"),
        ({"end_tolerance": "100 %"}, "end_tolerance needs to be less than 100 %"),
    ],
)
def test_refusals(given_, sentence):
    with pytest.raises(SigcalcError, match=sentence):
        circuit(**given_)


def test_only_a_circuit_is_a_circuit():
    assert as_hold_circuit(circuit()).timer.name == "one-shot"
    with pytest.raises(SigcalcError, match="circuit needs a HoldCircuit, but str came"):
        as_hold_circuit("one-shot")
