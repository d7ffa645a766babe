"""Speed and hits of the diagnosis; run by hand from the project's folder: python -m tests.benchmarks.bench_diagnosis.

Speed: the whole catalogue with 2000 draws of each fault, worked out from nothing and ranked by what was seen and two
readings; the aim is less than a second of one processor, single faults alone and with the pairs. Hits: simulated
signals of five circuits with the catalogue's own weights and gravities; one fault with all readings and with two
readings drawn at random, and two faults at once with all readings, every fault equally often. Probabilities are
judged over all signals with all readings, each counted as often as the catalogue says that its fault occurs. A fault
that nothing measured tells from the first one counts as found. `python -m tests.benchmarks.bench_diagnosis 10` takes
ten signals of every fault.
"""

from __future__ import annotations

import itertools
import sys
import time
from collections import Counter
from dataclasses import dataclass, field

import numpy as np

from sigcalc.design.bench.circuit import BenchCircuit
from sigcalc.design.bench.diagnosis import diagnose
from sigcalc.design.bench.fault import AND, Fault, faults_of, weights
from sigcalc.design.bench.predictions import DRAWS
from sigcalc.design.bench.simulated import SimulatedSignal
from tests.design.bench.circuits import circuits

EDGES = (0.0, 0.3, 0.5, 0.7, 0.9, 0.95, 1.0)
SEEDS = 90_000


@dataclass
class Hits:
    """How a number of simulated signals were judged."""

    title: str
    asked: Counter = field(default_factory=Counter)
    found: Counter = field(default_factory=Counter)
    half: Counter = field(default_factory=Counter)
    taken_for: Counter = field(default_factory=Counter)
    trusted: list = field(default_factory=list)
    fits: list = field(default_factory=list)

    def add(self, circuit: BenchCircuit, fault: Fault, seed: int, readings: int | None, weight: float) -> None:
        """Simulate one signal and ask what is wrong with it; `weight` is how common the fault is in the circuit."""
        signal = SimulatedSignal(circuit, fault, seed)
        names = list(signal.points)
        if readings is not None:
            names = list(np.random.default_rng(seed).choice(names, readings, replace=False))
        answer = diagnose(circuit, signal.seen, {name: signal.read(name) for name in names})
        first = answer.suspects[0]
        right = fault.name in first.faults
        self.asked[fault.name] += 1
        self.found[fault.name] += right
        self.half[fault.name] += any(set(fault.name.split(AND)) & set(name.split(AND)) for name in first.faults)
        self.trusted.append((first.probability, right, weight))
        self.fits.append(answer.fits)
        if not right:
            self.taken_for[fault.name, first.faults[0]] += 1

    def lines(self) -> list[str]:
        """The table."""
        count = self.asked.total()
        lines = [f"\n{self.title}: {count} signals, {self.found.total() / count:.1%} found"]
        lines += [f"  {np.mean(self.fits):.1%} explained by the catalogue"]
        if any(AND in name for name in self.asked):
            lines += [f"  {self.half.total() / count:.1%} with at least one of the two"]
        lines += ["  recall per fault"]
        lines += [f"    {name:58}{self.found[name]:4} of {asked}" for name, asked in self.asked.items()]
        lines += ["  taken for another"]
        lines += [f"    {many:3}  {true} for {other}" for (true, other), many in self.taken_for.most_common(15)]
        return lines


def calibration(trusted: list) -> list[str]:
    """How often the first suspect was right, by the probability that it was given, each signal by its weight."""
    lines = ["\nprobability of the first: given, turned out true, share of all signals"]
    chances, right, weight = np.array(trusted).T
    for low, high in itertools.pairwise(EDGES):
        mine = (chances > low) & (chances <= high)
        if mine.any():
            given, came = (np.average(each[mine], weights=weight[mine]) for each in (chances, right))
            lines += [f"  {given:6.1%}  {came:6.1%}  {weight[mine].sum() / weight.sum():6.1%}"]
    return lines


def speed() -> list[str]:
    """The least of three processor times for every circuit, predicted and ranked from nothing, and ranked again."""
    lines = [f"processor time for the whole catalogue with {DRAWS} draws of each fault (aim: under 1 s)"]
    seen, readings = {"red": "none", "green": "green"}, {"pair, red": "11.8 V", "pair, green": "-2.3 V"}
    for name, circuit in circuits().items():
        for pairs in (False, True):
            times = []
            for seed in range(6):  # each seed twice: the second time from what is kept
                start = time.process_time()
                diagnose(circuit, seen, readings, pairs=pairs, seed=seed // 2)
                times.append(time.process_time() - start)
            what = f"{len(faults_of(circuit, pairs)):3} faults{' with pairs' * pairs}"
            lines.append(f"  {name:10} {what:21} {min(times[::2]):6.2f} s, again {min(times[1::2]) * 1e3:5.0f} ms")
    return lines


def main() -> None:
    """Measure and print."""
    many = int(sys.argv[1]) if len(sys.argv) > 1 else 4
    sys.stdout.write("\n".join(speed()) + "\n")
    single = Hits("one fault, all readings"), Hits("one fault, two readings")
    double = Hits("two faults, all readings")
    seeds = itertools.count(SEEDS)
    for circuit in circuits().values():
        faults = faults_of(circuit)
        for (fault, weight), _ in itertools.product(zip(faults, weights(faults), strict=True), range(many)):
            seed = next(seeds)
            if AND in fault.name:
                double.add(circuit, fault, seed, None, weight)
            else:
                single[0].add(circuit, fault, seed, None, weight)
                single[1].add(circuit, fault, seed, 2, weight)
    tables = [line for hits in (*single, double) for line in hits.lines()]
    sys.stdout.write("\n".join(tables + calibration(single[0].trusted + double.trusted)) + "\n")


if __name__ == "__main__":
    main()
