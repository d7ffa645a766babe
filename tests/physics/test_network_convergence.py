"""Newton's method on a feeder network: it cannot fail where it is proved not to, and is guarded where it could."""

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sigcalc.physics.network import constant_loads, lamp_loads, resistor_loads
from sigcalc.physics.network_newton import Network
from sigcalc.physics.network_tree import Sections

SUPPLY, INSIDE = 12.0, 0.2


def sections(rng, nodes, ohms):
    start = (rng.random(nodes) * np.arange(1, nodes + 1)).astype(int)
    return Sections(start, np.arange(1, nodes + 1), ohms)


def led(rng, count):
    return 10 ** rng.uniform(-28, -12, count), rng.uniform(0.03, 0.1, count), rng.uniform(0, 20, count)


def convex_network(seed):
    """Lamps behind resistors, lamps of constant drop, coils and constant loads on weak wires: no limit anywhere."""
    rng = np.random.default_rng(seed)
    nodes = 40
    at = rng.integers(0, nodes + 1, 30)
    loads = [
        lamp_loads(at, 10 ** rng.uniform(-1, 3, 30), [led(rng, 30)]),
        lamp_loads(at, 10 ** rng.uniform(0, 3, 30), [led(rng, 30), led(rng, 30)], drop=rng.choice([0.0, 1.0], 30)),
        resistor_loads(at, 10 ** rng.uniform(1, 4, 30)),
        constant_loads(at, 10 ** rng.uniform(-9, -6, 30)),
    ]
    return Network([(sections(rng, nodes, 10 ** rng.uniform(-2, 2, nodes)), loads)], loops=False)


def bent_network(seed):
    """Drivers at and about their limits on wires so weak that many drop out."""
    rng = np.random.default_rng(seed)
    nodes = 40
    at = rng.integers(0, nodes + 1, 60)
    limit = np.where(rng.random(60) < 0.8, 10 ** rng.uniform(-3, -1, 60), np.inf)
    loads = [lamp_loads(at, 10 ** rng.uniform(-1, 2, 60), [led(rng, 60)], limit=limit)]
    return Network([(sections(rng, nodes, 10 ** rng.uniform(-1, 2, nodes)), loads)], loops=False)


def drops(network, count):
    """The drops after each of so many steps."""
    network.settle(SUPPLY, INSIDE)  # sets the source's resistance
    return [drop for drop, _ in itertools.islice(network.steps(SUPPLY), count)]


def potential(network, drop):
    """The convex function: half the heat in the wires, and the integral of i dV of every lamp, in closed form."""
    (lamps,) = network.groups
    ((saturation, emission, series),) = lamps.leds
    volts = SUPPLY - drop[network.node]
    current, ohms = np.maximum(network.answer(volts)[0], 0.0), lamps.resistance + series
    needed = emission * np.log1p(current / saturation) + ohms * current  # at the limit less than there is
    below = needed * current - emission * ((current + saturation) * np.log1p(current / saturation) - current)
    below -= ohms * current**2 / 2
    return network._nodal.work(drop, drop) / 2 + float((below + current * (volts - needed)).sum())


@settings(max_examples=40)
@given(st.integers(0, 2**32 - 1))
def test_without_limits_every_voltage_falls_steadily_onto_the_answer(seed):
    """The monotone Newton theorem: convex loads, and an inverse without negative entries."""
    found = drops(convex_network(seed), 12)
    for before, after in itertools.pairwise(found):
        assert (after >= before - 1e-12 * SUPPLY).all()
    assert found[-1] == pytest.approx(found[-2], abs=1e-12 * SUPPLY)


@settings(max_examples=40)
@given(st.integers(0, 2**32 - 1))
def test_the_inverse_has_no_negative_entries(seed):
    network = convex_network(seed)
    drop, _ = network.settle(SUPPLY, INSIDE)
    slope = network._drawn(network.answer(SUPPLY - drop[network.node])[1])
    columns = [network._nodal.correction(slope, unit) for unit in np.eye(slope.size)]
    assert np.min(columns) >= 0.0


@pytest.mark.parametrize("seed", range(30))
def test_with_limits_the_convex_function_falls_at_every_step(seed):
    network = bent_network(seed)
    heights = [potential(network, drop) for drop in drops(network, 8)]
    for before, after in itertools.pairwise(heights):
        assert after <= before + 1e-12 * abs(heights[0])


def test_cut_steps_are_needed_and_made():
    """There are networks whose whole steps rise: the guard is no idle ornament."""
    cut = 0
    for seed in range(40):
        network = bent_network(seed)
        network.settle(SUPPLY, INSIDE)
        drop = network._newton(SUPPLY, np.full(network.node.size, SUPPLY))
        for _ in range(6):
            move = network._newton(SUPPLY, SUPPLY - drop[network.node]) - drop
            share = network._safe_share(SUPPLY, drop, move)
            assert 0.0 < share <= 1.0
            cut += share < 1.0
            drop = drop + share * move
    assert cut


@settings(max_examples=40)
@given(st.integers(0, 2**32 - 1))
def test_few_steps_are_enough_even_for_bent_loads(seed):
    _, steps = bent_network(seed).settle(SUPPLY, INSIDE)
    assert steps <= 30


def test_bare_lamps_without_any_resistance_of_their_own():
    # each Newton step from the full supply would gain only one emission voltage; the start takes the wire along
    network = Network(
        [
            (
                Sections(np.zeros(9, int), np.arange(1, 10), np.full(9, 0.5)),
                [lamp_loads(np.arange(1, 10), 0.0, [(1e-20, 0.05, 0.0)])],
            )
        ],
        loops=False,
    )
    drop, steps = network.settle(9.0, 0.1)
    assert steps <= 10
    current = network.answer(9.0 - drop[network.node])[0]
    assert drop[1:] == pytest.approx(current * 0.5 + current.sum() * 0.1, rel=1e-9)
