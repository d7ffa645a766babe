"""Every fault circuit against ngspice: five signals, both positions, a meter at three places in turn.

The netlist is drawn from the wiring: switch contacts, jumpers of the X and wires one by one, as a builder would find
them, and not from the rails that the library reduces them to. Relays stand as the library says they do. Each circuit
has points of its own and shares only the ground. The supply that alternates is taken at its peak. An open joint counts
as a gigaohm on both sides here: beside contacts of milliohms, ngspice has no digits left for a teraohm.
"""

import itertools
from typing import NamedTuple

import numpy as np
import pytest

from sigcalc.design.bench import circuit as bench_circuit
from sigcalc.design.bench import fault as bench_fault
from sigcalc.design.bench import reading as bench_reading
from sigcalc.design.bench.circuit import LAMPS, nominal
from sigcalc.design.bench.fault import faults_of, faulty
from sigcalc.design.bench.reading import PLACES, position, power
from sigcalc.parts.meter import Meter, meters
from tests.design.bench.circuits import NAMES, circuits
from tests.ngspice import operating_point

THERMAL = 1.380649e-23 * 300.15 / 1.602176634e-19  # kT/q at ngspice's 27 °C
METER, SHUNT = 10e6, 1.0
HAND = Meter.of(
    name="ngspice", note="", **(vars(meters["hand meter"].si) | {"input_resistance": METER, "shunt_resistance": SHUNT})
)
OPEN = 1e9
OPTIONS = ".options gmin=1e-15 reltol=1e-5 abstol=1e-12 vntol=1e-6 temp=27 tnom=27 itl1=2000 itl6=200"
DIRECT = {"red": ("plus", "minus"), "green": ("minus", "plus")}
BETWEEN = {
    "supply": ("p", "0"),
    "limit": ("p", "q"),
    "lead a": ("a", "0"),
    "lead b": ("b", "0"),
    "plus to a": ("p", "a"),
    "plus to b": ("p", "b"),
    "pair": ("fa", "fb"),
    "lamps": ("la", "lb"),
    "red resistor": ("la", "xred"),
    "green resistor": ("lb", "xgreen"),
}


class Built(NamedTuple):
    """One circuit to solve, with its meter."""

    name: str
    circuit: object
    bench: dict
    where: object
    lamp: str
    place: str


@pytest.fixture(scope="module", autouse=True)
def _opens():
    with pytest.MonkeyPatch.context() as patch:
        for module in (bench_circuit, bench_fault, bench_reading):
            patch.setattr(module, "OPEN", OPEN)
        yield


@pytest.fixture(scope="module")
def built(_opens):
    """Every fault of every signal with its parts as printed, both positions; the meter goes round the places."""
    found = []
    for name in NAMES:
        circuit = circuits()[name]
        turn = itertools.cycle([each for each in PLACES if "resistor" not in each or circuit.extra(each.split()[0])])
        for fault, lamp in itertools.product(faults_of(circuit, pairs=False), LAMPS):
            bench = faulty(circuit, fault, nominal())
            if bench["alternating"]:
                bench |= {"supply": np.sqrt(2) * bench["supply"], "alternating": 0}
            where = position(circuit, bench, lamp)
            found += [Built(f"{name}: {fault.name}", circuit, bench, where, lamp, next(turn)) for _ in range(3)]
    return found


def number(value):
    return repr(float(np.ravel(value)[0]))


def switch(one, tag):
    """Two poles with two throws; the direct throw goes straight to the rails, the other one over the X."""
    bench, where = one.bench, one.where
    direct = LAMPS[0] if one.circuit.relay is None else next(each for each in LAMPS if each != one.circuit.fed_lamp)
    crossed = next(each for each in LAMPS if each != direct)
    over = bool(np.ravel(where.moved)[0])
    rail = {"plus": f"q{tag}", "minus": "0"}
    lines = []
    for lead, side in zip("ab", DIRECT[direct], strict=True):
        far = over and not bench[f"stuck {lead}"]
        first = bench[f"contact {crossed if far else direct}"] if lead == "a" else bench["second contact"]
        throws = ("far", "near") if far else ("near", "far")
        lines.append(f"Rc{lead}{tag} {lead}{tag} {throws[0]}{lead}{tag} {number(first)}")
        lines.append(f"Ro{lead}{tag} {lead}{tag} {throws[1]}{lead}{tag} {OPEN!r}")
        lines.append(f"Vn{lead}{tag} near{lead}{tag} {rail[side]} 0")
    # a jumper from each near throw to the other pole's far throw; named by the rail that it carries
    for lead, other in ("ab", "ba"):
        jumper = bench[f"{DIRECT[direct]['ab'.index(lead)]} jumper"]
        to = lead if jumper < 0 else other
        line = f"j{lead}{tag} near{lead}{tag} far{to}{tag}"
        lines.append(f"V{line} 0" if jumper else f"R{line} {OPEN!r}")
    return lines


def is_holding(one):
    """Whether the driver is said to hold its current: ngspice gets that state, and has to confirm it."""
    if not one.circuit.driver or not np.isfinite(one.bench["held"]) or one.bench["supply"] < 0:
        return False
    drop = power(one.circuit, one.bench, one.lamp, ["limit"]).values["limit"]
    return bool(drop > one.bench["held"] * one.bench["limit"])


def limit(one, tag):
    bench = one.bench
    if is_holding(one):
        return [f"Id{tag} p{tag} q{tag} {number(bench['held'])}", f"Rd{tag} p{tag} q{tag} {number(bench['beside'])}"]
    blocks = np.isfinite(bench["held"]) and bench["supply"] < 0
    return [f"Rd{tag} p{tag} q{tag} {OPEN!r}" if blocks else f"Rd{tag} p{tag} q{tag} {number(bench['limit'])}"]


def wire_or(name, ends, ohms):
    return f"R{name} {ends} {number(ohms)}" if np.ravel(ohms)[0] > 0 else f"V{name} {ends} 0"


def branch(bench, lamp, tag):
    near, far = ("la", "lb") if lamp == "red" else ("lb", "la")
    inner, core = f"x{lamp}{tag}", f"y{lamp}{tag}"
    lines = [
        wire_or(f"x{lamp}{tag}", f"{near}{tag} {inner}", bench[f"{lamp} resistor"]),
        wire_or(f"y{lamp}{tag}", f"{inner} {core}", bench[f"{lamp} joint"]),
    ]
    if bench[f"{lamp} bridged"]:
        return [*lines, f"Rb{lamp}{tag} {core} {far}{tag} 0.2"]
    saturation, emission, series = (float(np.ravel(each)[0]) for each in bench[f"{lamp} leds"][0])
    meant = 1 if lamp == "red" else -1
    ends = (core, f"{far}{tag}") if bench[f"{lamp} sign"] == meant else (f"{far}{tag}", core)
    return [
        *lines,
        f"D{lamp}{tag} {ends[0]} {ends[1]} M{lamp}{tag}",
        f".model M{lamp}{tag} D(IS={saturation!r} N={emission / THERMAL!r} RS={series!r} TNOM=27)",
    ]


def netlist(tagged):
    lines = ["bench", OPTIONS]
    for tag, one in tagged:
        bench = one.bench
        shunt = SHUNT if one.place == "current" else 0.0
        feet = ("fa", "fb") if bench["swapped"] > 0 else ("fb", "fa")
        lines += [
            f"Vs{tag} s{tag} 0 {number(bench['supply'])}",
            f"Rs{tag} s{tag} p{tag} {number(bench['source'])}",
            *limit(one, tag),
            *switch(one, tag),
            f"Rwa{tag} a{tag} {feet[0]}{tag} {number(bench['wire'] + shunt)}",
            f"Rwb{tag} b{tag} {feet[1]}{tag} {number(bench['wire'])}",
            f"Rsh{tag} fa{tag} fb{tag} {number(bench['short'])}",
            f"Rma{tag} fa{tag} la{tag} {number(bench['mast'] / 2)}",
            f"Rmb{tag} fb{tag} lb{tag} {number(bench['mast'] / 2)}",
            *branch(bench, "red", tag),
            *branch(bench, "green", tag),
        ]
        if np.all(one.where.fed):
            lines += [
                f"Rk{tag} p{tag} k{tag} {number(bench['coil'])}",
                f"Vk{tag} k{tag} 0 {number(bench.get('keeps', 0.0))}",
            ]
        if one.place in BETWEEN:
            ends = ("0" if each == "0" else f"{each}{tag}" for each in BETWEEN[one.place])
            lines.append(f"Rmeter{tag} {' '.join(ends)} {METER!r}")
    return "\n".join([*lines, ".op", ".end", ""])


@pytest.fixture(scope="module")
def spice(built, tmp_path_factory):
    """What ngspice says, in runs of a hundred circuits: one run of all takes thirty times as long."""
    tagged, folder, found = list(enumerate(built)), tmp_path_factory.mktemp("ngspice"), {}
    for first in range(0, len(tagged), 100):
        found |= operating_point(netlist(tagged[first : first + 100]), folder)
    return found


def measured(spice, one, tag):
    if one.place == "current":
        foot = "fa" if one.bench["swapped"] > 0 else "fb"
        return (spice[f"v(a{tag})"] - spice[f"v({foot}{tag})"]) / float(one.bench["wire"] + SHUNT)
    first, second = (0.0 if each == "0" else spice[f"v({each}{tag})"] for each in BETWEEN[one.place])
    return first - second


def test_every_fault_of_every_signal_agrees(built, spice):
    assert len({one.name for one in built}) == len(built) / 6 >= 160
    assert {one.place for one in built} == set(PLACES)
    wrong = []
    for tag, one in enumerate(built):
        reference = measured(spice, one, tag)
        found = float(np.ravel(power(one.circuit, one.bench, one.lamp, [one.place], HAND).values[one.place])[0])
        if found != pytest.approx(reference, rel=5e-5, abs=2e-9 if one.place == "current" else 2e-6):
            wrong.append(f"{one.name}, set for {one.lamp}, {one.place}: {found!r}, ngspice {reference!r}")
    assert wrong == []


def test_drivers_are_in_the_state_in_which_ngspice_had_them(built, spice):
    seen = set()
    for tag, one in enumerate(built):
        if one.circuit.driver and np.isfinite(one.bench["held"]):
            drop = spice[f"v(p{tag})"] - spice[f"v(q{tag})"]
            assert (drop > one.bench["held"] * one.bench["limit"]) == is_holding(one)
            seen.add(is_holding(one))
    assert seen == {True, False}
