"""Feeder trees: published feeders, cases in closed form, the laws every answer obeys, and other programs' answers."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import fsolve

from sigcalc.errors import RangeError
from sigcalc.physics import copper, diode
from sigcalc.physics.feeder import Feeder, chain_voltages, lamp_loads, solve_feeders
from tests.ngspice import operating_point

RED = (5e-22, 0.042, 3.6)
GREEN = (1e-28, 0.05, 20.0)
THERMAL_VOLTAGE = 0.025864925786328755  # k/q times 300.15 K
OPTIONS = ".options gmin=1e-15 reltol=1e-7 abstol=1e-14 vntol=1e-10 temp=27 tnom=27 itl1=2000"


def chain(supply, ohms, loads, inside=0.0, limit=np.inf):
    """A chain of sections of so many ohms each."""
    return Feeder(supply, np.arange(-1, len(ohms)), np.append(inside, ohms), loads, limit)


def solved(*feeder, **more):
    (point,) = solve_feeders([chain(*feeder, **more)])
    return point


def constant(node, current):
    """Loads of constant current, down to a millivolt."""
    return lamp_loads(node, 1e-3 / np.asarray(current), limit=current)


def law_error(point, feeder):
    """The most by which an answer breaks Kirchhoff's laws, Ohm's law and the loads' own curves, relative."""
    volts, above, ohms = point.node_voltage, feeder.above, feeder.ohms
    node = np.concatenate([each.node for each in feeder.loads])
    balance = point.through - np.bincount(node, point.load_current, volts.size)
    np.subtract.at(balance, above[1:], point.through[1:])
    own = np.concatenate([each.answer(volts[each.node])[0] for each in feeder.loads])
    current = max(np.abs(point.through).max(), 1e-12)
    fed = np.append(volts[0] + ohms[0] * point.through[0] if point.limited else feeder.supply, volts[above[1:]])
    errors = [
        np.abs(balance).max() / current,
        np.abs(fed - volts - ohms * point.through).max() / feeder.supply,
        np.abs(own - point.load_current).max(initial=0.0) / current,
    ]
    return max(errors)


# ---- published


# V. K. Mehta and Rohit Mehta, Principles of Power System, Ex 13.1 p. 313 (companion notebook, FOSSEE/Python-Textbook-
# Companions @d34b2ae): 300 V, 0.02 ohm per km of loop, loads 100, 150, 200, 50 A at 500, 1000, 1600, 2000 m;
# printed 295, 291, 288, 287.6 V, and exact.
def test_textbook_feeder():
    ohms, amperes, printed = [0.01, 0.01, 0.012, 0.008], [100.0, 150.0, 200.0, 50.0], [295.0, 291.0, 288.0, 287.6]
    assert chain_voltages(300.0, ohms, amperes) == pytest.approx(printed, abs=1e-9)
    point = solved(300.0, ohms, [constant([1, 2, 3, 4], amperes)])
    assert point.node_voltage[1:] == pytest.approx(printed, abs=1e-9)
    assert point.through[1:] == pytest.approx([500.0, 400.0, 250.0, 50.0], abs=1e-9)


def test_short_at_the_end_of_a_long_wire():
    # T. R. Kuphaldt, Lessons In Electric Circuits I, ch. 12, "Specific resistance" (@12a44f4): 2300 ft of 4107 cmil at
    # 10.09 ohm cmil/ft: 5.651 ohm a wire, 11.301 ohm the loop, 20.352 A at 230 V; within 0.05 %
    mil, foot = 25.4e-6, 0.3048
    area, rho = np.pi / 4 * 4107 * mil**2, 10.09 * np.pi / 4 * mil**2 / foot
    wire = copper.wire_resistance(area, 2300 * foot, resistivity=rho)
    assert solved(230.0, [2 * wire], [lamp_loads([1], 1e-3)]).supply_current == pytest.approx(20.352, rel=5e-4)


# ---- answers in closed form


def test_chain_broadcasts():
    supplies, amperes = np.array([9.0, 12.0]), np.full((3, 1, 4), 0.02)
    found = chain_voltages(supplies, [0.5, 0.5, 0.5, 0.5], amperes)
    assert found.shape == (3, 2, 4)
    assert found[0, 1] == pytest.approx(12.0 - 0.5 * 0.02 * np.array([4, 7, 9, 10]), abs=1e-12)
    with pytest.raises(RangeError, match=r"load 2 of the chain cannot draw its 0\.2 A: that would leave -11\.21 V"):
        chain_voltages(9.0, [1.0, 100.0], [0.01, 0.2])
    with pytest.raises(RangeError, match="shapes"):
        chain_voltages(9.0, [1.0, 1.0], [0.01, 0.01, 0.01])


@pytest.mark.parametrize("leds", [[RED], [RED, RED], [RED, GREEN]], ids=["one", "two", "unequal"])
def test_one_load_is_a_loop(leds):
    point = solved(9.0, [2.0, 3.0], [lamp_loads([2], 330.0, leds)], 1.5)
    assert point.load_current[0] == pytest.approx(diode.string_current(9.0, 336.5, leds), rel=1e-12)
    assert point.node_voltage == pytest.approx(9.0 - point.supply_current * np.array([1.5, 3.5, 6.5]), rel=1e-14)


@pytest.mark.parametrize("least", [1e-3, 1e-7, 1e-10, 1e-15, 1e-75, 1e-300])
def test_hardly_any_resistance_loses_no_digits(least):
    loads = [lamp_loads([1, 2, 3], 100.0, [RED])]
    feeder = chain(9.0, [1.0, least, 2.0], loads, least)
    (point,) = solve_feeders([feeder])
    none = solved(9.0, [1.0, 0.0, 2.0], loads)
    assert point.load_current == pytest.approx(none.load_current, rel=1e-12 + 0.1 * least)
    assert law_error(point, feeder) < 1e-13


def test_a_limit_holds_and_a_drop_blocks():
    loads = [lamp_loads([1, 1], 100.0, [RED], limit=[0.005, np.inf]), lamp_loads([1, 1], 50.0, drop=[2.0, 9.5])]
    point = solved(9.0, [1.0], loads)
    volts = point.node_voltage[1]
    expected = [0.005, diode.loop_current(volts, 100.0, *RED), (volts - 2.0) / 50.0, 0.0]
    assert point.load_current == pytest.approx(expected, rel=1e-12)


def test_nothing_connected_no_supply_and_a_load_of_hardly_any_resistance_behind_very_much():
    point = solved(9.0, [], [lamp_loads([], 470.0, [RED])], 1.0)
    assert (point.node_voltage, point.supply_current) == (9.0, 0.0)
    dark = solved(0.0, [1.0], [lamp_loads([1], 470.0, [RED]), lamp_loads([1], 100.0)])
    assert not np.concatenate([dark.load_current, dark.node_voltage]).any()
    point = solved(9.0, np.full(9, 1e4), [lamp_loads([9], 1e-3)])
    assert point.node_voltage[9] == pytest.approx(9.0 * 1e-3 / (9e4 + 1e-3), rel=1e-12)


def test_the_nodes_of_a_tree_may_be_numbered_anyhow():
    loads = [lamp_loads([3, 4], 100.0, [RED])]
    orderly = Feeder(9.0, np.array([-1, 0, 1, 2, 2]), np.array([0.1, 1.0, 2.0, 3.0, 4.0]), loads)
    anyhow = Feeder(9.0, np.array([-1, 2, 0, 1, 1]), np.array([0.1, 2.0, 1.0, 3.0, 4.0]), loads)
    one, other = solve_feeders([orderly, anyhow])
    assert one.load_current == pytest.approx(other.load_current, rel=1e-14)


# ---- the supply's limit


def test_an_overloaded_supply_holds_its_limit():
    loads = [lamp_loads([1, 2], 20.0, [RED]), lamp_loads([2], 5.0, [RED], limit=0.08)]
    point = solved(9.0, [1.0, 2.0], loads, 0.1, 0.2)
    assert point.limited
    assert point.supply_current == pytest.approx(0.2, rel=1e-12)
    assert point.node_voltage[0] < 9.0 - 0.1 * 0.2
    again = solved(point.node_voltage[0], [1.0, 2.0], loads)
    assert again.load_current == pytest.approx(point.load_current, rel=1e-10)


# ---- laws


def led(rng, count):
    return 10 ** rng.uniform(-28, -12, count), rng.uniform(0.03, 0.1, count), rng.uniform(0, 30, count)


@st.composite
def feeders(draw):
    """A random tree with lamps, drivers, resistors, constant drops and constant currents."""
    rng = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    nodes = draw(st.integers(1, 30))
    above = np.append(-1, (rng.random(nodes) * np.arange(1, nodes + 1)).astype(int))
    ohms = 10 ** rng.uniform(-3, 2, nodes) * (rng.random(nodes) > 0.1)
    loads = []
    for kind in rng.integers(0, 4, rng.integers(1, 5)):
        at = rng.integers(0, nodes + 1, rng.integers(1, 12))
        limit = np.where(rng.random(at.size) < 0.5, np.inf, 10 ** rng.uniform(-4, -1, at.size))
        series, drop = 10 ** rng.uniform(0, 4, at.size), rng.choice([0.0, 2.0], at.size)
        if kind < 2:
            loads.append(lamp_loads(at, series, [led(rng, at.size) for _ in range(kind + 1)], limit=limit))
        else:
            loads.append(lamp_loads(at, series, drop=drop) if kind == 2 else constant(at, 1e-3 * limit.clip(0, 1e-2)))
    inside = rng.choice([0.0, 10 ** rng.uniform(-2, 1)])
    return Feeder(rng.uniform(3.0, 24.0), above, np.append(inside, ohms), loads)


@given(feeders())
def test_every_law_holds(feeder):
    (point,) = solve_feeders([feeder])
    assert law_error(point, feeder) < 1e-12
    assert point.residual <= 1e-12 * feeder.supply
    taken = point.load_current @ point.node_voltage[np.concatenate([each.node for each in feeder.loads])]
    lost = point.through**2 @ feeder.ohms
    assert feeder.supply * point.supply_current == pytest.approx(taken + lost, rel=1e-12, abs=1e-25)


@given(feeders(), st.floats(1.0, 3.0))
def test_more_wire_resistance_never_more_current(feeder, factor):
    thinner = feeder.ohms.copy()
    thinner[-1] *= factor  # nothing is further out than the last node
    less, more, last = solve_feeders(
        [feeder, feeder._replace(ohms=feeder.ohms * factor), feeder._replace(ohms=thinner)]
    )
    assert more.supply_current <= less.supply_current * (1 + 1e-12)
    behind = np.concatenate([each.node for each in feeder.loads]) == feeder.above.size - 1
    assert (last.load_current[behind] <= less.load_current[behind] * (1 + 1e-11)).all()


@settings(max_examples=40)
@given(feeders(), st.floats(1e-4, 1.0))
def test_a_limit_is_kept_and_the_laws_with_it(feeder, share):
    feeder = feeder._replace(loads=[*feeder.loads, lamp_loads([0], 100.0)])
    limit = share * solve_feeders([feeder])[0].supply_current
    (held,) = solve_feeders([feeder._replace(limit=limit)])
    assert held.supply_current <= limit * (1 + 1e-9)
    assert law_error(held, feeder) < 1e-9


@settings(max_examples=20)
@given(st.lists(feeders(), min_size=2, max_size=6))
def test_feeders_that_are_solved_together_do_not_know_of_each_other(many):
    for feeder, point in zip(many, solve_feeders(many), strict=True):
        (alone,) = solve_feeders([feeder])
        assert point.node_voltage == pytest.approx(alone.node_voltage, abs=1e-12 * feeder.supply)


@settings(max_examples=40)
@given(st.integers(0, 2**32 - 1))
def test_few_steps_are_enough_even_where_drivers_are_at_their_limits(seed):
    rng = np.random.default_rng(seed)
    above, ohms = np.append(-1, (rng.random(40) * np.arange(1, 41)).astype(int)), 10 ** rng.uniform(-1, 2, 41)
    at, limit = rng.integers(0, 41, 60), 10 ** rng.uniform(-4, -1, 60)
    loads = [lamp_loads(at, 10 ** rng.uniform(-1, 3, 60), [led(rng, 60)], limit=limit)]
    (point,) = solve_feeders([Feeder(12.0, above, ohms, loads)])
    assert point.steps <= 30


def test_bare_lamps_without_any_resistance_of_their_own():
    # each Newton step from the full supply would gain only one emission voltage; the start takes the wire along
    lamps = lamp_loads(np.arange(1, 10), 0.0, [(1e-20, 0.05, 0.0)])
    (point,) = solve_feeders([Feeder(9.0, np.append(-1, np.zeros(9, int)), np.append(0.1, np.full(9, 0.5)), [lamps])])
    assert point.steps <= 10
    current = point.load_current
    assert 9.0 - point.node_voltage[1:] == pytest.approx(current * 0.5 + current.sum() * 0.1, rel=1e-9)


def test_what_has_no_answer_is_refused(monkeypatch):
    with pytest.raises(RangeError, match="beyond any number"):
        solved(60.0, [], [lamp_loads([0], 0.0, [(1e-30, 0.02, 0.0)])])
    monkeypatch.setattr("sigcalc.physics.feeder._MOST_STEPS", 1)
    with pytest.raises(RangeError, match="powers of ten"):
        solved(9.0, [1.0, 1.0], [lamp_loads([1, 2], 1.0, [RED])])


# ---- other programs


@pytest.mark.parametrize("seed", range(20))
def test_small_feeders_against_a_general_solver(seed):
    """Kirchhoff's current law at every node, solved by fsolve (MINPACK hybrid) on the plain equations."""
    rng = np.random.default_rng(seed)
    nodes = 4
    start = (rng.random(nodes) * np.arange(1, nodes + 1)).astype(int)
    end, ohms, inside = np.arange(1, nodes + 1), rng.uniform(1.0, 40.0, nodes), rng.uniform(0.1, 5.0)
    lamp = (10 ** rng.uniform(-22, -16, nodes), 0.05, 5.0)
    shunt, series = rng.uniform(200.0, 2000.0, nodes), rng.uniform(50.0, 500.0, nodes)

    def excess(volts):
        balance = np.zeros(nodes + 1)
        flow = (volts[start] - volts[end]) / ohms
        np.add.at(balance, start, -flow)
        np.add.at(balance, end, flow)
        balance[0] += (12.0 - volts[0]) / inside
        balance[1:] -= volts[1:] / shunt + diode.loop_current(volts[1:], series, *lamp) + 0.001
        return balance

    reference, _, found, _ = fsolve(excess, np.full(nodes + 1, 10.0), xtol=1e-13, full_output=True)
    assert found == 1 or np.abs(excess(reference)).max() < 1e-12
    loads = [lamp_loads(end, series, [lamp]), lamp_loads(end, shunt), constant(end, np.full(nodes, 0.001))]
    (point,) = solve_feeders([Feeder(12.0, np.append(-1, start), np.append(inside, ohms), loads)])
    assert point.node_voltage == pytest.approx(reference, rel=1e-9)


class Case:
    """One random feeder, with the lines that ngspice reads for it."""

    def __init__(self, rng, number):
        self.number, self.nodes = number, int(rng.integers(5, 30))
        self.supply, self.inside = rng.uniform(5.0, 24.0), 10 ** rng.uniform(-2, 0.5)
        self.start = (rng.random(self.nodes) * np.arange(1, self.nodes + 1)).astype(int)
        self.ohms = 10 ** rng.uniform(-2, 1.5, self.nodes)
        count = int(rng.integers(5, 40))
        self.at, self.series = rng.integers(0, self.nodes + 1, count), 10 ** rng.uniform(0.5, 3.5, count)
        self.leds = [
            (10 ** rng.uniform(-26, -14, count), rng.uniform(1.2, 2.6, count), rng.uniform(0.5, 20.0, count))
            for _ in range(int(rng.integers(1, 3)))
        ]
        self.coil_at, self.coil = rng.integers(0, self.nodes + 1, 3), rng.uniform(100.0, 2000.0, 3)
        self.steady_at, self.steady = rng.integers(0, self.nodes + 1, 2), rng.uniform(1e-5, 1e-3, 2)

    def feeder(self):
        leds = [(saturation, ideality * THERMAL_VOLTAGE, ohms) for saturation, ideality, ohms in self.leds]
        loads = [
            lamp_loads(self.at, self.series, leds),
            lamp_loads(self.coil_at, self.coil),
            constant(self.steady_at, self.steady),
        ]
        return Feeder(self.supply, np.append(-1, self.start), np.append(self.inside, self.ohms), loads)

    def lines(self):
        own = self.number

        def node(k):
            return f"c{own}n{int(k)}"

        yield f"V{own} c{own}s 0 {float(self.supply)!r}"
        yield f"Rs{own} c{own}s {node(0)} {float(self.inside)!r}"
        for k, (start, ohms) in enumerate(zip(self.start, self.ohms, strict=True)):
            yield f"Rw{own}x{k} {node(start)} {node(k + 1)} {float(ohms)!r}"
        for k, (at, ohms) in enumerate(zip(self.at, self.series, strict=True)):
            yield f"Rd{own}x{k} {node(at)} c{own}a{k}x0 {float(ohms)!r}"
            for place, one in enumerate(self.leds):
                cathode = "0" if place == len(self.leds) - 1 else f"c{own}a{k}x{place + 1}"
                yield f"D{own}x{k}x{place} c{own}a{k}x{place} {cathode} M{own}x{k}x{place}"
                saturation, ideality, series = (float(each[k]) for each in one)
                yield f".model M{own}x{k}x{place} D(IS={saturation!r} N={ideality!r} RS={series!r} TNOM=27)"
        for k, (at, ohms) in enumerate(zip(self.coil_at, self.coil, strict=True)):
            yield f"Rc{own}x{k} {node(at)} 0 {float(ohms)!r}"
        for k, (at, amperes) in enumerate(zip(self.steady_at, self.steady, strict=True)):
            yield f"Ic{own}x{k} {node(at)} 0 {float(amperes)!r}"


def test_sixty_random_feeders_agree_with_ngspice(tmp_path):
    """One run of ngspice over all, which share nothing but the ground."""
    rng = np.random.default_rng(20261125)
    cases = [Case(rng, number) for number in range(60)]
    lines = ["feeders", OPTIONS, *(line for case in cases for line in case.lines()), ".op", ".end", ""]
    spice = operating_point("\n".join(lines), tmp_path)
    for case, point in zip(cases, solve_feeders([case.feeder() for case in cases]), strict=True):
        reference = [spice[f"v(c{case.number}n{k})"] for k in range(case.nodes + 1)]
        assert point.node_voltage == pytest.approx(reference, rel=1e-6, abs=1e-7)
        assert point.supply_current == pytest.approx(-spice[f"i(v{case.number})"], rel=1e-6)
