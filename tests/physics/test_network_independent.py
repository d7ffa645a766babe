"""Feeder networks against other programs: scipy's general solver on small ones, ngspice on random trees and rings."""

import numpy as np
import pytest
from scipy.optimize import fsolve

from sigcalc.physics import diode
from sigcalc.physics.network import constant_loads, lamp_loads, resistor_loads, solve_network
from tests.ngspice import operating_point

THERMAL_VOLTAGE = 0.025864925786328755  # k/q times 300.15 K
OPTIONS = ".options gmin=1e-15 reltol=1e-7 abstol=1e-14 vntol=1e-10 temp=27 tnom=27 itl1=2000"


# ---- scipy


@pytest.mark.parametrize("seed", range(20))
def test_small_networks_against_a_general_solver(seed):
    """Kirchhoff's current law at every node, solved by fsolve (MINPACK hybrid) on the plain equations."""
    rng = np.random.default_rng(seed)
    nodes = 4
    start = (rng.random(nodes) * np.arange(1, nodes + 1)).astype(int)
    end, ohms, inside = np.arange(1, nodes + 1), rng.uniform(1.0, 40.0, nodes), rng.uniform(0.1, 5.0)
    led = (10 ** rng.uniform(-22, -16, nodes), 0.05, 5.0)
    shunt, series = rng.uniform(200.0, 2000.0, nodes), rng.uniform(50.0, 500.0, nodes)

    def excess(volts):
        balance = np.zeros(nodes + 1)
        flow = (volts[start] - volts[end]) / ohms
        np.add.at(balance, start, -flow)
        np.add.at(balance, end, flow)
        balance[0] += (12.0 - volts[0]) / inside
        balance[1:] -= volts[1:] / shunt + diode.loop_current(volts[1:], series, *led) + 0.001
        return balance

    reference, _, solved, _ = fsolve(excess, np.full(nodes + 1, 10.0), xtol=1e-13, full_output=True)
    assert solved == 1 or np.abs(excess(reference)).max() < 1e-12
    loads = [lamp_loads(end, series, [led]), resistor_loads(end, shunt), constant_loads(end, np.full(nodes, 0.001))]
    point = solve_network(12.0, (start, end, ohms), loads, inside)
    assert point.node_voltage == pytest.approx(reference, rel=1e-9)


# ---- ngspice


class Case:
    """One random feeder, with the lines that ngspice reads for it."""

    def __init__(self, rng, number, rings):
        self.number, self.nodes = number, int(rng.integers(5, 30))
        self.supply, self.inside = rng.uniform(5.0, 24.0), 10 ** rng.uniform(-2, 0.5)
        self.start = (rng.random(self.nodes) * np.arange(1, self.nodes + 1)).astype(int)
        self.end = np.arange(1, self.nodes + 1)
        if rings:
            self.start = np.append(self.start, rng.integers(0, self.nodes + 1, 3))
            self.end = np.append(self.end, (self.start[-3:] + rng.integers(1, self.nodes, 3)) % (self.nodes + 1))
        self.ohms, self.rings = 10 ** rng.uniform(-2, 1.5, self.start.size), rings
        count = int(rng.integers(5, 40))
        self.at, self.series = rng.integers(0, self.nodes + 1, count), 10 ** rng.uniform(0.5, 3.5, count)
        self.leds = [
            (10 ** rng.uniform(-26, -14, count), rng.uniform(1.2, 2.6, count), rng.uniform(0.5, 20.0, count))
            for _ in range(int(rng.integers(1, 3)))
        ]
        self.coil_at, self.coil = rng.integers(0, self.nodes + 1, 3), rng.uniform(100.0, 2000.0, 3)
        self.steady_at, self.steady = rng.integers(0, self.nodes + 1, 2), rng.uniform(1e-5, 1e-3, 2)

    def solve(self):
        leds = [(saturation, ideality * THERMAL_VOLTAGE, ohms) for saturation, ideality, ohms in self.leds]
        loads = [
            lamp_loads(self.at, self.series, leds),
            resistor_loads(self.coil_at, self.coil),
            constant_loads(self.steady_at, self.steady),
        ]
        sections = (self.start, self.end, self.ohms)
        return solve_network(self.supply, sections, loads, self.inside, loops=self.rings)

    def lines(self):
        own = self.number

        def node(k):
            return f"c{own}n{int(k)}"

        yield f"V{own} c{own}s 0 {float(self.supply)!r}"
        yield f"Rs{own} c{own}s {node(0)} {float(self.inside)!r}"
        for k, (start, end, ohms) in enumerate(zip(self.start, self.end, self.ohms, strict=True)):
            yield f"Rw{own}x{k} {node(start)} {node(end)} {float(ohms)!r}"
        for k, (at, ohms) in enumerate(zip(self.at, self.series, strict=True)):
            yield f"Rd{own}x{k} {node(at)} c{own}a{k}x0 {float(ohms)!r}"
            for place, led in enumerate(self.leds):
                cathode = "0" if place == len(self.leds) - 1 else f"c{own}a{k}x{place + 1}"
                yield f"D{own}x{k}x{place} c{own}a{k}x{place} {cathode} M{own}x{k}x{place}"
                saturation, ideality, series = (float(each[k]) for each in led)
                yield f".model M{own}x{k}x{place} D(IS={saturation!r} N={ideality!r} RS={series!r} TNOM=27)"
        for k, (at, ohms) in enumerate(zip(self.coil_at, self.coil, strict=True)):
            yield f"Rc{own}x{k} {node(at)} 0 {float(ohms)!r}"
        for k, (at, amperes) in enumerate(zip(self.steady_at, self.steady, strict=True)):
            yield f"Ic{own}x{k} {node(at)} 0 {float(amperes)!r}"


@pytest.fixture(scope="module")
def cases():
    rng = np.random.default_rng(20261125)
    return [Case(rng, number, rings=number % 4 == 3) for number in range(60)]


@pytest.fixture(scope="module")
def spice(cases, tmp_path_factory):
    """Every figure of one ngspice run over all cases, which share nothing but the ground."""
    lines = ["feeders", OPTIONS, *(line for case in cases for line in case.lines()), ".op", ".end", ""]
    return operating_point("\n".join(lines), tmp_path_factory.mktemp("ngspice"))


def test_sixty_random_feeders_agree(cases, spice):
    for case in cases:
        point = case.solve()
        reference = [spice[f"v(c{case.number}n{k})"] for k in range(case.nodes + 1)]
        assert point.node_voltage == pytest.approx(reference, rel=1e-6, abs=1e-7)
        assert point.supply_current == pytest.approx(-spice[f"i(v{case.number})"], rel=1e-6)
    assert sum(case.rings for case in cases) == 15
