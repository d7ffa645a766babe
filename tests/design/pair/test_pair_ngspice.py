"""The two-lead pair against ngspice: random circuits of one pair, reversing switch and resistor, all in one run.

Each circuit has nodes of its own and shares only the ground; the switch's closed contacts are wires of no resistance,
in the position of the polarity. Every other circuit has a resistor inside its branches, some have a diode in series
with each LED, some a soldering mistake.
"""

from dataclasses import dataclass

import numpy as np
import pytest

from sigcalc.design.pair.two_lead_pair import TwoLeadPair, solder_fault
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.led import Exponential, Led
from sigcalc.units import Q
from tests.ngspice import operating_point

PAIRS, WITH_DIODES, FAULTY = 260, 40, 40
AGREEMENT = 5e-5
LEAST = 1e-9  # A; below, ngspice's own gmin takes part in the current
OPTIONS = ".options gmin=1e-15 reltol=1e-6 abstol=1e-14 vntol=1e-9 temp=27 tnom=27 itl1=2000 itl6=200"


@dataclass(frozen=True)
class Circuit:
    pair: TwoLeadPair
    supply: float
    shared: float
    polarity: int
    same_way: bool = False


def random_lamp(rng, colour):
    """A made-up lamp: the figures span those of the published red models and far beyond."""
    saturation, ideality, ohms = 10 ** rng.uniform(-26, -13), rng.uniform(1.2, 2.6), 10 ** rng.uniform(-1, 1.3)
    model = Exponential(Q(saturation, "A"), ideality, Q(ohms, "ohm"), "27 degC")
    return Led(colour, colour, model, max_current="30 mA")


def random_circuit(rng, number):
    kind = "diodes" if number >= PAIRS else "faulty" if number >= PAIRS - FAULTY else "sound"
    extras = [Q(10 ** rng.uniform(0, 4.5), "ohm") if number % 2 else Q(0.0, "ohm") for _ in range(2)]
    diode = Exponential("2.52e-9 A", 1.75, "0.57 ohm", "27 degC")  # a common 1N4148 model, from memory
    series = Led("diode", "none", diode, max_current="200 mA") if kind == "diodes" else None
    pair = TwoLeadPair(random_lamp(rng, "red"), random_lamp(rng, "green"), *extras, series)
    supply, shared = rng.uniform(1, 24), 10 ** rng.uniform(1, 6)
    return Circuit(pair, supply, shared, int(rng.choice([-1, 1])), kind == "faulty")


def branch_lines(name, anode, cathode, leds, extra):
    lines, node = [], anode
    for place, led in enumerate(leds):
        si, own, following = led.model.si, f"{name}d{place}", f"{name}x{place}"
        figures = f"IS={si.saturation_current!r} N={si.ideality!r} RS={si.series_resistance!r} TNOM=27"
        lines += [f"D{own} {node} {following} M{own}", f".model M{own} D({figures})"]
        node = following
    return [*lines, f"R{name} {node} {cathode} {extra!r}" if extra else f"V{name}w {node} {cathode} 0"]


def netlist(circuits):
    """All circuits; the current from the supply of circuit 7 is that of the source Vs7."""
    lines = ["pairs", OPTIONS]
    for number, circuit in enumerate(circuits):
        plus, feed, a, b = (f"{each}{number}" for each in ("p", "f", "a", "b"))
        to_plus, to_minus = (a, b) if circuit.polarity > 0 else (b, a)
        lines += [
            f"Vs{number} {plus} 0 {circuit.supply!r}",
            f"Rs{number} {plus} {feed} {circuit.shared!r}",
            f"Vc{number}a {feed} {to_plus} 0",
            f"Vc{number}b {to_minus} 0 0",
        ]
        for lamp in ("red", "green"):
            string, extra = circuit.pair.branch(lamp)
            forward = lamp == "red" or circuit.same_way
            lines += branch_lines(f"{lamp[0]}{number}", *((a, b) if forward else (b, a)), string, extra)
    return "\n".join([*lines, ".op", ".end", ""])


@pytest.fixture(scope="module")
def circuits():
    rng = np.random.default_rng(20260719)
    return [random_circuit(rng, number) for number in range(PAIRS + WITH_DIODES)]


@pytest.fixture(scope="module")
def spice(circuits, tmp_path_factory):
    """What ngspice says in one run: each circuit's supply current in A and voltage from A to B in V."""
    figure = operating_point(netlist(circuits), tmp_path_factory.mktemp("ngspice"))
    current = np.array([-figure[f"i(vs{number})"] for number in range(len(circuits))])
    return current, np.array([figure[f"v(a{number})"] - figure[f"v(b{number})"] for number in range(len(circuits))])


def compare(circuits, spice, wanted, ours):
    """The chosen circuits: currents and pair voltages within the agreement, where enough flows; gives how many."""
    chosen = [number for number, circuit in enumerate(circuits) if wanted(circuit) and spice[0][number] >= LEAST]
    current, across = zip(*(ours(circuits[number]) for number in chosen), strict=True)
    assert np.array(current) == pytest.approx(spice[0][chosen], rel=AGREEMENT)
    assert np.array(across) == pytest.approx(np.abs(spice[1][chosen]), rel=AGREEMENT)
    return len(chosen)


def operated(circuit):
    point = circuit.pair.operate(Q(circuit.supply, "V"), ResistorDrive(Q(circuit.shared, "ohm")), circuit.polarity)
    return point.si.current, point.si.reverse_voltage


def mistaken(circuit):
    drive = ResistorDrive(Q(circuit.shared, "ohm"))
    points = solder_fault(Q(circuit.supply, "V"), drive, circuit.pair, "both the same way round")
    point = points[0 if circuit.polarity > 0 else 1].si
    return point.red_current + point.green_current, abs(point.pair_voltage)


def test_two_hundred_pairs_agree(circuits, spice):
    count = compare(circuits, spice, lambda each: not each.same_way and not each.pair.series_diode, operated)
    assert count >= 200  # a few carry less than a nanoampere


def test_pairs_with_a_diode_in_series_agree(circuits, spice):
    assert compare(circuits, spice, lambda each: each.pair.series_diode is not None, operated) >= 30


def test_both_lamps_the_same_way_round_agree(circuits, spice):
    assert compare(circuits, spice, lambda each: each.same_way, mistaken) >= 10
    # turned against both, only leakage flows
    against = [number for number, each in enumerate(circuits) if each.same_way and each.polarity < 0]
    assert spice[0][against].max() < LEAST
