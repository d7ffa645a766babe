"""A battery running down: quadrature against an ODE solver, interpolation, ends, and what is refused."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from sigcalc.errors import RangeError
from sigcalc.physics.discharge import (
    SHARES,
    at_place,
    capacity_at,
    curve,
    first_below,
    loaded_source,
    peukert_exponent,
    run_down,
)

DRAINS, CAPACITIES = np.array([0.025, 0.1, 0.5]), np.array([2000.0, 1500.0, 600.0])
USED, REST, OHMS = [0, 0.1, 0.5, 0.9, 1], [9.5, 8.6, 7.8, 6.4, 4.8], [2.0, 2.2, 3.0, 5.0, 8.0]
amperes = st.floats(1e-4, 2.0)


def test_quadrature_agrees_with_an_ode_solver():
    """A resistor of 90 ohm on the battery: dq/dt = I(q), solved step by step at tight tolerance (scipy solve_ivp)."""
    rest, ohms = curve(USED, REST), curve(USED, OHMS)
    drain = rest / (ohms + 90.0)
    ours = run_down(SHARES, drain, capacity_at(drain, DRAINS, CAPACITIES))

    def pace(_, state):
        current = curve(USED, REST, state[:1]) / (curve(USED, OHMS, state[:1]) + 90.0)
        return [current[0] / capacity_at(current[0], DRAINS, CAPACITIES), current[0]]

    def empty(_, state):
        return state[0] - 0.99999

    empty.terminal = True
    solved = solve_ivp(pace, (0, 1e6), [0.0, 0.0], events=empty, rtol=1e-9, atol=1e-9, method="LSODA")
    place = np.interp(0.99999, SHARES, np.arange(SHARES.size))
    assert at_place(place, ours.time) == pytest.approx(solved.t[-1], rel=2e-5)
    assert at_place(place, ours.charge) == pytest.approx(solved.y[1, -1], rel=2e-5)


def test_the_curve_passes_its_points_and_never_overshoots():
    at = curve(USED, REST, USED)
    assert at == pytest.approx(REST, rel=1e-12)
    fine = curve(USED, REST)
    assert (np.diff(fine) <= 0).all()
    step = curve([0, 0.4, 0.41, 1], [3.0, 3.0, 2.0, 2.0])
    assert step.min() == pytest.approx(2.0)
    assert step.max() == pytest.approx(3.0)


def test_capacity_between_and_beyond_the_points():
    assert capacity_at(DRAINS, DRAINS, CAPACITIES) == pytest.approx(CAPACITIES)
    middle = np.sqrt(0.025 * 0.1)
    assert capacity_at(middle, DRAINS, CAPACITIES) == pytest.approx(np.sqrt(2000 * 1500))
    assert capacity_at([0.0, 1e-6], DRAINS, CAPACITIES) == pytest.approx(2000.0)  # held
    last = np.log(600 / 1500) / np.log(5)
    assert capacity_at(1.0, DRAINS, CAPACITIES) == pytest.approx(600 * 2.0**last)  # carried on
    assert capacity_at([0.01, 7.0], [0.1], [500.0]) == pytest.approx([500.0, 500.0])


def test_rows_broadcast():
    rows = np.stack([CAPACITIES, 2 * CAPACITIES])[:, None, :]
    drain = np.array([[0.05, 0.2, 0.3]])
    got = capacity_at(drain, DRAINS, rows)
    assert got.shape == (2, 3)
    assert got[1] == pytest.approx(2 * got[0])
    assert got[0] == pytest.approx(capacity_at(drain[0], DRAINS, CAPACITIES))
    place, found = first_below(np.array([[3.0, 2.0, 1.0], [3.0, 3.0, 3.0]]), [1.5, 1.5])
    assert (place.tolist(), found.tolist()) == ([1.5, 2.0], [True, False])


@given(amperes, amperes)
def test_more_current_never_lasts_longer_nor_gives_more(one, other):
    low, high = sorted((one, other))
    runs = [
        run_down(SHARES, np.full(SHARES.size, each), np.full(SHARES.size, capacity_at(each, DRAINS, CAPACITIES)))
        for each in (low, high)
    ]
    assert runs[1].time[-1] <= runs[0].time[-1] * (1 + 1e-12)
    assert runs[1].charge[-1] <= runs[0].charge[-1] * (1 + 1e-12)
    assert runs[0].charge[-1] <= CAPACITIES[0] * (1 + 1e-9)


@given(amperes, st.floats(0.05, 1.0))
def test_a_steady_current_gives_capacity_over_current(current, part):
    charge = capacity_at(current, DRAINS, CAPACITIES)
    shape = np.full((1, SHARES.size), current)
    run = run_down(SHARES, shape, np.full_like(shape, charge), [part])
    assert run.time[-1] == pytest.approx(charge / current / part, rel=1e-9)
    assert run.charge[-1] == pytest.approx(charge, rel=1e-9)


def test_phases_share_the_time():
    """Half of the time 100 mA, half 25 mA: each takes its own share of the battery."""
    drain = np.broadcast_to([[0.1], [0.025]], (2, SHARES.size))
    charge = capacity_at(drain, DRAINS, CAPACITIES)
    run = run_down(SHARES, drain, charge, [0.5, 0.5])
    assert run.time[-1] == pytest.approx(1 / (0.5 * 0.1 / 1500 + 0.5 * 0.025 / 2000), rel=1e-9)
    assert run.charge[-1] == pytest.approx(run.time[-1] * 0.0625, rel=1e-9)


@given(st.floats(0, 20), st.floats(0, 50), st.floats(0, 1), st.floats(0, 1), st.floats(0, 0.5))
def test_the_loaded_source_obeys_kirchhoff(volts, ohms, drawn, siemens, more):
    """The terminal voltage with a further current is the same from the battery and from its substitute."""
    opened, inner = loaded_source(volts, ohms, drawn, siemens)
    terminal = opened - inner * more
    assert volts - ohms * (drawn + more + siemens * terminal) == pytest.approx(terminal, abs=1e-9)


@given(st.lists(st.floats(-5, 5), min_size=2, max_size=30), st.floats(-6, 6))
def test_first_below_finds_the_first_crossing(values, limit):
    rows = np.array(values)
    place, found = first_below(rows, limit)
    below = rows < limit
    assert found == below.any()
    if not found:
        assert place == rows.size - 1
    elif below[0]:
        assert place == 0
    else:
        after = int(below.argmax())
        assert after - 1 <= place <= after
        assert at_place(place, rows) == pytest.approx(limit, abs=1e-9)


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: capacity_at(0.1, DRAINS, [0.0, 1.0, 2.0]), "without capacity"),
        (lambda: curve([0, 0.5], [1, 2]), "rise from 0 to 1"),
        (lambda: curve([0, 1], [1, 2, 3]), "rise from 0 to 1"),
        (lambda: run_down(SHARES, 0 * SHARES, SHARES + 1), "nothing connected"),
        (lambda: run_down(SHARES, SHARES + 1, 0 * SHARES), "without capacity"),
        (lambda: peukert_exponent([0.1, 0.1], [1.0, 1.0]), "two different drains"),
    ],
)
def test_where_the_mathematics_has_no_answer(call, said):
    with pytest.raises(RangeError, match=said):
        call()
