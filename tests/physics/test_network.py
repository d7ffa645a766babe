"""A feeder network: published feeders, cases with an answer in closed form, and the laws every answer obeys."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sigcalc.physics import copper, diode
from sigcalc.physics.network import (
    chain_voltages,
    constant_loads,
    lamp_loads,
    path_resistance,
    resistor_loads,
    solve_network,
)
from sigcalc.physics.network_loads import Loads

RED = (5e-22, 0.042, 3.6)
GREEN = (1e-28, 0.05, 20.0)


def chain(resistances):
    """Sections of a chain of so many ohms each, from node 0 on."""
    return np.arange(len(resistances)), np.arange(1, len(resistances) + 1), np.asarray(resistances, float)


def law_error(point, sections, loads, supply, source_resistance):
    """The most by which an answer breaks Kirchhoff's laws, Ohm's law and the loads' own curves, relative."""
    start, end, ohms = (np.asarray(each) for each in sections)
    volts, node = point.node_voltage, np.concatenate([each.node for each in loads])
    balance = np.bincount(node, point.load_current, volts.size)
    np.add.at(balance, start, point.section_current)
    np.add.at(balance, end, -point.section_current)
    balance[0] -= point.supply_current
    own = np.concatenate([each.answer(volts[each.node])[0] for each in loads])
    current = max(abs(point.supply_current), np.abs(point.section_current).max(initial=0.0), 1e-12)
    errors = [
        np.abs(balance).max() / current,
        np.abs(volts[start] - volts[end] - ohms * point.section_current).max(initial=0.0) / supply,
        np.abs(own - point.load_current).max(initial=0.0) / current,
    ]
    if not point.limited:
        errors.append(abs(supply - source_resistance * point.supply_current - volts[0]) / supply)
    return max(errors)


# ---- published


# V. K. Mehta and Rohit Mehta, Principles of Power System, Ex 13.1 p. 313 (companion notebook, FOSSEE/Python-Textbook-
# Companions @d34b2ae): 300 V, 0.02 ohm per km of loop, loads 100, 150, 200, 50 A at 500, 1000, 1600, 2000 m;
# printed 295, 291, 288, 287.6 V, and exact.
TEXTBOOK = ([0.01, 0.01, 0.012, 0.008], [100.0, 150.0, 200.0, 50.0], [295.0, 291.0, 288.0, 287.6])


def test_textbook_feeder():
    ohms, amperes, printed = TEXTBOOK
    assert chain_voltages(300.0, ohms, amperes) == pytest.approx(printed, abs=1e-9)


def test_textbook_feeder_as_a_network():
    ohms, amperes, printed = TEXTBOOK
    point = solve_network(300.0, chain(ohms), [constant_loads([1, 2, 3, 4], amperes)])
    assert point.node_voltage[1:] == pytest.approx(printed, abs=1e-9)
    assert point.section_current == pytest.approx([500.0, 400.0, 250.0, 50.0], abs=1e-9)


def test_short_at_the_end_of_a_long_wire():
    # T. R. Kuphaldt, Lessons In Electric Circuits I, ch. 12, "Specific resistance" (@12a44f4): 2300 ft of 4107 cmil at
    # 10.09 ohm cmil/ft: 5.651 ohm a wire, 11.301 ohm the loop, 20.352 A at 230 V; within 0.05 %
    mil, foot = 25.4e-6, 0.3048
    area, rho = np.pi / 4 * 4107 * mil**2, 10.09 * np.pi / 4 * mil**2 / foot
    wire = copper.wire_resistance(area, 2300 * foot, resistivity=rho)
    assert wire == pytest.approx(5.651, rel=5e-4)
    assert 2 * wire == pytest.approx(11.301, rel=5e-4)
    point = solve_network(230.0, chain([2 * wire]), [resistor_loads([1], [1e-3])])
    assert point.supply_current == pytest.approx(20.352, rel=5e-4)


# ---- answers in closed form


def test_chain_broadcasts():
    supplies, amperes = np.array([9.0, 12.0]), np.full((3, 1, 4), 0.02)
    found = chain_voltages(supplies, [0.5, 0.5, 0.5, 0.5], amperes)
    assert found.shape == (3, 2, 4)
    assert found[0, 1] == pytest.approx(12.0 - 0.5 * 0.02 * np.array([4, 7, 9, 10]), abs=1e-12)


@pytest.mark.parametrize("leds", [[RED], [RED, RED], [RED, GREEN]], ids=["one", "two", "unequal"])
def test_one_load_is_a_loop(leds):
    point = solve_network(9.0, chain([2.0, 3.0]), [lamp_loads([2], 330.0, leds)], source_resistance=1.5)
    assert point.load_current[0] == pytest.approx(diode.string_current(9.0, 336.5, leds), rel=1e-12)
    assert point.node_voltage == pytest.approx(9.0 - point.supply_current * np.array([1.5, 3.5, 6.5]), rel=1e-14)


def test_no_wire_resistance_gives_every_lamp_the_same():
    point = solve_network(9.0, chain(np.zeros(5)), [lamp_loads([0, 1, 2, 3, 4, 5], 470.0, [RED])])
    assert np.ptp(point.load_current) == 0.0
    assert point.load_current[0] == pytest.approx(diode.loop_current(9.0, 470.0, *RED), rel=1e-12)
    assert point.section_current == pytest.approx(point.load_current[0] * np.array([5, 4, 3, 2, 1]), rel=1e-14)


@pytest.mark.parametrize("least", [1e-3, 1e-7, 1e-10, 1e-15, 1e-75, 1e-300])
def test_hardly_any_resistance_loses_no_digits(least):
    loads = [lamp_loads([1, 2, 3], 100.0, [RED])]
    point = solve_network(9.0, chain([1.0, least, 2.0]), loads, source_resistance=least)
    none = solve_network(9.0, chain([1.0, 0.0, 2.0]), loads)
    assert point.load_current == pytest.approx(none.load_current, rel=1e-12 + 0.1 * least)
    assert law_error(point, chain([1.0, least, 2.0]), loads, 9.0, least) < 1e-13


def test_sections_may_be_given_in_either_direction():
    ohms = np.array([1.0, 2.0, 3.0])
    there = solve_network(9.0, ([0, 1, 1], [1, 2, 3], ohms), [lamp_loads([1, 2, 3], 100.0, [RED])])
    back = solve_network(9.0, ([1, 1, 3], [0, 2, 1], ohms), [lamp_loads([1, 2, 3], 100.0, [RED])])
    assert back.node_voltage == pytest.approx(there.node_voltage, rel=1e-14)
    assert back.section_current == pytest.approx(there.section_current * [-1, 1, -1], rel=1e-14)


def test_a_limit_holds_and_a_drop_blocks():
    loads = [lamp_loads([1, 1], 100.0, [RED], limit=[0.005, np.inf]), lamp_loads([1, 1], 50.0, drop=[2.0, 9.5])]
    point = solve_network(9.0, chain([1.0]), loads)
    volts = point.node_voltage[1]
    expected = [0.005, diode.loop_current(volts, 100.0, *RED), (volts - 2.0) / 50.0, 0.0]
    assert point.load_current == pytest.approx(expected, rel=1e-12)


def test_one_lamp_of_constant_drop_behind_a_wire():
    point = solve_network(9.0, chain([30.0]), [lamp_loads([1], 470.0, drop=2.0)])
    assert point.load_current[0] == pytest.approx(7.0 / 500.0, rel=1e-13)


def test_no_section_and_no_load():
    point = solve_network(9.0, ([], [], []), [lamp_loads([], 470.0, [RED])], source_resistance=1.0)
    assert point.node_voltage == 9.0
    assert point.supply_current == 0.0


def test_no_supply_leaves_everything_dark():
    point = solve_network(0.0, chain([1.0]), [lamp_loads([1], 470.0, [RED]), resistor_loads([1], 100.0)])
    assert not point.load_current.any()
    assert not point.node_voltage.any()


def test_way_to_each_node():
    ways = path_resistance(([0, 2, 1, 1], [1, 1, 3, 4], [1.0, 2.0, 0.0, 5.0]))
    assert ways == pytest.approx([0.0, 1.0, 3.0, 1.0, 6.0], rel=1e-15)


# ---- rings


def test_a_ring_is_fed_from_both_ends():
    # a load halfway round a ring of 4 ohm sees two ways of 2 ohm each side by side
    sections = ([0, 1, 2, 3], [1, 2, 3, 0], [1.0, 1.0, 1.0, 1.0])
    point = solve_network(9.0, sections, [lamp_loads([2], 100.0, [RED])], loops=True)
    assert point.load_current[0] == pytest.approx(diode.loop_current(9.0, 101.0, *RED), rel=1e-12)
    assert point.section_current == pytest.approx(point.load_current[0] / 2 * np.array([1, 1, -1, -1]), rel=1e-12)


def test_two_wires_side_by_side():
    point = solve_network(9.0, ([0, 0], [1, 1], [3.0, 6.0]), [resistor_loads([1], 100.0)], loops=True)
    assert point.supply_current == pytest.approx(9.0 / 102.0, rel=1e-13)
    assert point.section_current == pytest.approx(9.0 / 102.0 * np.array([2, 1]) / 3, rel=1e-13)


def test_a_net_of_wires_against_a_dense_solution():
    # a square net of 8 x 8 nodes, every section 1 ohm, a resistor at every node
    number = np.arange(64).reshape(8, 8)
    start = np.concatenate([number[:, :-1].ravel(), number[:-1].ravel()])
    end = np.concatenate([number[:, 1:].ravel(), number[1:].ravel()])
    ohms = np.random.default_rng(3).uniform(0.5, 2.0, start.size)
    point = solve_network(9.0, (start, end, ohms), [resistor_loads(np.arange(64), 500.0)], 0.3, loops=True)
    matrix = np.diag(np.full(64, 1 / 500.0))
    for a, b, r in zip(start, end, ohms, strict=True):
        matrix[[a, b], [a, b]] += 1 / r
        matrix[[a, b], [b, a]] -= 1 / r
    matrix[0, 0] += 1 / 0.3
    assert point.node_voltage == pytest.approx(np.linalg.solve(matrix, np.eye(64)[0] * 9.0 / 0.3), rel=1e-12)


# ---- the supply's limit


def test_an_overloaded_supply_holds_its_limit():
    loads = [lamp_loads([1, 2], 20.0, [RED]), lamp_loads([2], 5.0, [RED], limit=0.08)]
    point = solve_network(9.0, chain([1.0, 2.0]), loads, source_resistance=0.1, limit=0.2)
    assert point.limited
    assert point.supply_current == pytest.approx(0.2, rel=1e-12)
    assert point.node_voltage[0] < 9.0 - 0.1 * 0.2
    again = solve_network(point.node_voltage[0], chain([1.0, 2.0]), loads)
    assert again.load_current == pytest.approx(point.load_current, rel=1e-10)


def test_a_limit_that_is_not_reached_changes_nothing():
    loads = [lamp_loads([1], 470.0, [RED])]
    free, held = (solve_network(9.0, chain([1.0]), loads, 0.1, limit) for limit in (np.inf, 0.1))
    assert not held.limited
    assert held.load_current[0] == free.load_current[0]


def test_drivers_share_an_overloaded_supply():
    # ten drivers of 20 mA on 100 mA: the voltage falls until they have dropped out
    point = solve_network(9.0, chain([0.1]), [lamp_loads(np.ones(10, int), 75.0, [RED], limit=0.02)], limit=0.1)
    assert point.load_current == pytest.approx(np.full(10, 0.01), rel=1e-12)


# ---- laws


@st.composite
def networks(draw, loops=False):
    """Supply, sections, loads, source's resistance of a random tree, or of one with sections to spare."""
    rng = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    nodes = draw(st.integers(1, 30))
    start = (rng.random(nodes) * np.arange(1, nodes + 1)).astype(int)
    end = np.arange(1, nodes + 1)
    if loops:
        start, end = np.append(start, rng.integers(0, nodes + 1, 3)), np.append(end, rng.integers(0, nodes + 1, 3))
    ohms = 10 ** rng.uniform(-3, 2, start.size) * (rng.random(start.size) > (0 if loops else 0.1))

    def places():
        return rng.integers(0, nodes + 1, rng.integers(1, 12))

    def led(count):
        return 10 ** rng.uniform(-28, -12, count), rng.uniform(0.03, 0.1, count), rng.uniform(0, 30, count)

    loads = []
    for kind in rng.integers(0, 4, rng.integers(1, 5)):
        at = places()
        limit = np.where(rng.random(at.size) < 0.5, np.inf, 10 ** rng.uniform(-4, -1, at.size))
        if kind < 2:
            leds = [led(at.size) for _ in range(kind + 1)]
            loads.append(lamp_loads(at, 10 ** rng.uniform(0, 4, at.size), leds, limit=limit))
        elif kind == 2:
            loads.append(lamp_loads(at, 10 ** rng.uniform(0, 4, at.size), drop=rng.choice([0.0, 2.0], at.size)))
        else:
            loads.append(constant_loads(at, 10 ** rng.uniform(-9, -5, at.size)))
    return rng.uniform(3.0, 24.0), (start, end, ohms), loads, rng.choice([0.0, 10 ** rng.uniform(-2, 1)])


@given(networks())
def test_a_tree_obeys_every_law(network):
    supply, sections, loads, inside = network
    point = solve_network(supply, sections, loads, inside)
    assert law_error(point, sections, loads, supply, inside) < 1e-12
    assert point.residual <= 1e-12 * supply


@given(networks(loops=True))
def test_a_network_with_loops_obeys_every_law(network):
    supply, sections, loads, inside = network
    point = solve_network(supply, sections, loads, inside, loops=True)
    assert law_error(point, sections, loads, supply, inside) < 1e-12
    assert point.residual <= 1e-12 * supply


@given(networks())
def test_energy_balances(network):
    supply, (start, end, ohms), loads, inside = network
    point = solve_network(supply, (start, end, ohms), loads, inside)
    node = np.concatenate([each.node for each in loads])
    taken = point.load_current @ point.node_voltage[node]
    lost = point.section_current**2 @ ohms + inside * point.supply_current**2
    assert supply * point.supply_current == pytest.approx(taken + lost, rel=1e-12, abs=1e-25)


@given(networks(), st.floats(1.0, 3.0))
def test_more_wire_resistance_never_more_current_in_all(network, factor):
    supply, (start, end, ohms), loads, inside = network
    less = solve_network(supply, (start, end, ohms), loads, inside)
    more = solve_network(supply, (start, end, ohms * factor), loads, inside)
    assert more.supply_current <= less.supply_current * (1 + 1e-12)


@given(networks(), st.floats(1.0, 3.0))
def test_one_thinner_section_never_gives_what_hangs_behind_it_more(network, factor):
    supply, (start, end, ohms), loads, inside = network
    last = int(np.argmax(end))  # nothing hangs further out than the last node of the tree
    thinner = ohms.copy()
    thinner[last] *= factor
    less = solve_network(supply, (start, end, ohms), loads, inside)
    more = solve_network(supply, (start, end, thinner), loads, inside)
    node = np.concatenate([each.node for each in loads])
    behind = node == end[last]
    assert (more.load_current[behind] <= less.load_current[behind] * (1 + 1e-11)).all()


@settings(max_examples=40)
@given(networks(), st.floats(1e-4, 1.0))
def test_a_limit_is_kept_and_the_laws_with_it(network, share):
    supply, sections, loads, inside = network
    # loads of constant current would find no voltage left; something has to answer to it
    loads = [*(each for each in loads if isinstance(each, Loads)), resistor_loads([0], 100.0)]
    limit = share * solve_network(supply, sections, loads, inside).supply_current
    held = solve_network(supply, sections, loads, inside, limit)
    assert held.supply_current <= limit * (1 + 1e-9)
    assert law_error(held, sections, loads, supply, inside) < 1e-9
