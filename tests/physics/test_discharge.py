"""A battery running down: published figures, quadrature against an ODE solver, laws, ends, and what is refused."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp, trapezoid

from sigcalc.errors import RangeError
from sigcalc.physics.discharge import (
    SHARES,
    at_place,
    capacity_at,
    curve,
    first_below,
    loaded_source,
    run_down,
)

DRAINS, CAPACITIES = np.array([0.025, 0.1, 0.5]), np.array([2000.0, 1500.0, 600.0])
USED, REST, OHMS = [0, 0.1, 0.5, 0.9, 1], [9.5, 8.6, 7.8, 6.4, 4.8], [2.0, 2.2, 3.0, 5.0, 8.0]
amperes = st.floats(1e-4, 2.0)


def steady(current, charge):
    """A battery of so many coulomb with a steady current in A."""
    return run_down(SHARES, np.full(SHARES.size, current), np.full(SHARES.size, charge))


# ---- published: a textbook, Peukert, a replayed discharge

# github tektronix/keithley @75320c0e, 2281S battery models, Energizer E91 AA at 25 mA, one cell
CELL_USED = np.array([0, 5, 10, 20, 30, 40, 50, 60, 70, 80, 90, 95, 100]) / 100
LOADED = np.array([1.613, 1.47, 1.423, 1.376, 1.338, 1.311, 1.287, 1.256, 1.215, 1.142, 1.025, 0.906, 0.8])
CELL_REST = np.array([1.617, 1.473, 1.427, 1.379, 1.343, 1.317, 1.296, 1.267, 1.225, 1.153, 1.037, 0.919, 0.81])
CELL_OHMS = np.array([0.154, 0.122, 0.135, 0.141, 0.169, 0.229, 0.326, 0.418, 0.41, 0.402, 0.496, 0.502, 0.408])
CHARGE = 2.9428  # Ah


@pytest.mark.parametrize(("current", "printed"), [(3.5, 20), (0.001, 70000)])
def test_textbook_battery_rating(current, printed):
    # Kuphaldt, Lessons in Electric Circuits Vol. I, ch. 11 "Battery ratings": 70 Ah, exact
    assert steady(current, 70 * 3600).time[-1] / 3600 == pytest.approx(printed, rel=1e-9)


def test_hours_energy_and_mean_voltage_of_the_replayed_test():
    # the same file: 117.71 h, 3.695 Wh, mean 1.2555 V; 1 % as thirteen points
    run = steady(0.025, CHARGE * 3600)
    assert run.time[-1] / 3600 == pytest.approx(117.71, abs=0.005)
    volts = curve(CELL_USED, CELL_REST) - 0.025 * curve(CELL_USED, CELL_OHMS)
    energy = trapezoid(volts, run.charge)
    assert energy / 3600 == pytest.approx(3.695, rel=0.01)
    assert energy / run.charge[-1] == pytest.approx(1.2555, rel=0.01)


def test_peukert_between_two_published_points():
    # k = 1.112 by hand from the two Keithley capacities, arithmetic 0.001
    drains, charges = np.array([0.025, 0.15]), np.array([2.9428, 2.4082]) * 3600
    # between the points the interpolation is Peukert's law itself: I to the power of k times t is constant
    between = np.geomspace(0.025, 0.15, 9)
    constant = between**1.112 * capacity_at(between, drains, charges) / between
    assert constant == pytest.approx(np.full(9, constant[0]), rel=1e-3)


def test_an_equation_of_shepherds_kind_has_the_shape_of_our_curve():
    """Fitted by others to the whole measurement, it stays near the interpolation between thirteen points of it."""
    # E0, K, Q, A, B fitted to the data of E91 at 25 mA down to 0.9 V; 4.92 mV rms there
    start, slope, charge, swing, rate = 1.3591, 0.02724, 3.3573, 0.20356, 3.2821
    shares = np.linspace(0.02, 0.93, 90)
    taken = shares * CHARGE
    volts = start - slope * charge / (charge - taken) * taken + swing * np.exp(-rate * taken)
    off = curve(CELL_USED, LOADED, shares) - volts
    assert np.sqrt(np.mean(off**2)) < 0.010
    assert np.abs(off).max() < 0.025


# ---- other ways, laws and ends


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
    assert curve(USED, REST, USED) == pytest.approx(REST, rel=1e-12)
    assert (np.diff(curve(USED, REST)) <= 0).all()
    step = curve([0, 0.4, 0.41, 1], [3.0, 3.0, 2.0, 2.0])
    assert (step.min(), step.max()) == (pytest.approx(2.0), pytest.approx(3.0))


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
    less, more = (steady(each, capacity_at(each, DRAINS, CAPACITIES)) for each in (low, high))
    assert more.time[-1] <= less.time[-1] * (1 + 1e-12)
    assert more.charge[-1] <= less.charge[-1] * (1 + 1e-12)
    assert less.charge[-1] <= CAPACITIES[0] * (1 + 1e-9)
    assert less.time[-1] == pytest.approx(capacity_at(low, DRAINS, CAPACITIES) / low, rel=1e-9)


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
    ],
)
def test_where_the_mathematics_has_no_answer(call, said):
    with pytest.raises(RangeError, match=said):
        call()
