"""Speed and growth of a feeder tree's solution; run by hand: python -m tests.benchmarks.bench_feeder.

Signals, each an LED of its own figures behind a resistor or a driver, on random trees and on one chain, up to the
thousand that a board may have; compared with ngspice's time for the same tree where it is installed.
"""

from __future__ import annotations

import shutil
import sys
import tempfile
import time
from pathlib import Path

import numpy as np

from sigcalc.physics.feeder import Feeder, FeederPoint, Loads, lamp_loads, solve_feeders
from tests.ngspice import operating_point

COUNTS = (10, 100, 1_000)
THERMAL_VOLTAGE = 0.025864925786328755  # k/q times 300.15 K
IDEALITY = 1.9


def tree(count: int, chain: bool, seed: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Sections to one node for each signal; their resistance shrinks with the number, so that all of them light."""
    random = np.random.default_rng(seed)
    end = np.arange(1, count + 1)
    start = end - 1 if chain else (random.random(count) * end).astype(int)
    return start, end, random.uniform(0.1, 1.0, count) * 10 / count


def lamps(count: int, driven: bool, chain: bool, seed: int) -> list[Loads]:
    """One LED at every node, behind a resistor; with `driven` every second one behind a driver of 10 mA.

    On a chain, where all currents add up, each draws the less the more there are.
    """
    random = np.random.default_rng(seed)
    led = (10 ** random.uniform(-24, -18, count), IDEALITY * THERMAL_VOLTAGE, random.uniform(1.0, 10.0, count))
    limit = np.where(np.arange(count) % 2, 0.01, np.inf) if driven else np.inf
    ohms = random.uniform(330.0, 1000.0, count) * (count / 100 if chain else 1)
    return [lamp_loads(np.arange(1, count + 1), ohms, [led], limit=limit)]


def least_time(count: int, chain: bool, driven: bool, rounds: int) -> tuple[float, FeederPoint]:
    """The least time in s of several solutions, everything from the arrays on included, and the solution."""
    (above, _, ohms), loads, least = tree(count, chain, 1), lamps(count, driven, chain, 2), np.inf
    feeder = Feeder(12.0, np.append(-1, above), np.append(0.01, ohms), loads)
    for _ in range(rounds):
        start = time.perf_counter()
        (point,) = solve_feeders([feeder])
        least = min(least, time.perf_counter() - start)
    return least, point


def netlist(count: int) -> str:
    """The random tree with a resistor and an LED at every node, for ngspice."""
    (loads,) = lamps(count, False, False, 2)
    ((saturation, _, series),) = loads.leds
    lines = ["tree", ".options temp=27 tnom=27 reltol=1e-4", "Vs s 0 12", "Rs s n0 0.01"]
    for k, (start, end, ohms) in enumerate(zip(*tree(count, False, 1), strict=True)):
        lines += [
            f"Rw{k} n{start} n{end} {float(ohms)!r}",
            f"Rd{k} n{end} a{k} {float(loads.resistance[k])!r}",
            f"D{k} a{k} 0 M{k}",
            f".model M{k} D(IS={float(saturation[k])!r} N={IDEALITY} RS={float(series[k])!r})",
        ]
    return "\n".join([*lines, ".op", ".end", ""])


def ngspice_time(text: str, node: str) -> tuple[float, float]:
    """Time in s of one run for the operating point, its answer's reading included, and the voltage of a node."""
    with tempfile.TemporaryDirectory() as folder:
        start = time.perf_counter()
        volts = operating_point(text, Path(folder))[f"v({node})"]
        return time.perf_counter() - start, volts


def main() -> None:
    """Measure and print."""
    write = sys.stdout.write
    for name, chain, driven in (
        ("random tree, resistors", False, False),
        ("random tree, half drivers", False, True),
        ("one chain, resistors", True, False),
    ):
        write(f"{name}\n")
        before = None
        for count in COUNTS:
            least, point = least_time(count, chain, driven, 7)
            growth = "" if before is None else f"   {least / before:5.1f} times the time for 10 times as many"
            each = least / count / (point.steps + 1) * 1e6  # the start is a step as well
            steps = f"{point.steps} steps, {each:5.2f} us a signal and step, residual {point.residual:.1e} V"
            write(f"  {count:7} signals {least * 1e3:9.2f} ms, {steps}{growth}\n")
            before = least
    if shutil.which("ngspice") is None:
        write("ngspice is not installed: not compared\n")
        return
    least, point = least_time(count, False, False, 3)
    taken, volts = ngspice_time(netlist(count), f"n{count}")
    gap = abs(volts - float(point.node_voltage[count]))
    write(f"ngspice {count:7} signals {taken:7.2f} s, {taken / least:.0f} times as long; {gap:.1e} V apart\n")


if __name__ == "__main__":
    main()
