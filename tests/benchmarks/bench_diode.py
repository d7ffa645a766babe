"""Speed and accuracy of the diode's closed form; run by hand: python -m tests.benchmarks.bench_diode.

A million operating points over the whole domain, beside np.exp and scipy's wrightomega on a million values in the same
run; the least time of each counts. The accuracy is measured against 60 digits.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable

import mpmath
import numpy as np
from scipy.special import wrightomega

from sigcalc.physics import diode
from sigcalc.physics.branches import branch_currents

COUNT = 1_000_000
ROUNDS, SERIES = 10, 5
SAMPLE = 2000
FIRST, LAST = 1e-12, 10.0  # amperes between which a relative accuracy is promised


def domain(count: int, seed: int) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Supply, resistance, saturation current and emission voltage over the whole domain."""
    random = np.random.default_rng(seed)
    return (
        random.uniform(-20.0, 60.0, count),
        10.0 ** random.uniform(-3.0, 7.0, count),
        10.0 ** random.uniform(-34.0, -6.0, count),
        random.uniform(0.02, 0.15, count),
    )


def least_times(tasks: dict[str, Callable[[], object]], rounds: int, series: int = 1) -> dict[str, float]:
    """The least time of each task in s: each runs several times in a row, and all of that several times over."""
    least = dict.fromkeys(tasks, np.inf)
    for _ in range(series):
        for name, task in tasks.items():
            for _ in range(rounds):
                start = time.perf_counter()
                task()
                least[name] = min(least[name], time.perf_counter() - start)
    return least


def exact(supply: float, ohms: float, saturation: float, emission: float) -> mpmath.mpf:
    """The current with 60 digits: Newton's method on y + exp(y) = z, with exp(y) = (I + Is) R / nVt."""
    v, r, least, n = (mpmath.mpf(float(each)) for each in (supply, ohms, saturation, emission))
    slope = least * r / n
    z = v / n + slope + mpmath.log(slope)
    y = mpmath.log(z) if z > 1 else z
    for _ in range(200):
        step = (z - y - mpmath.exp(y)) / (1 + mpmath.exp(y))
        y += step
        if abs(step) < mpmath.mpf(10) ** -50:
            return least * (mpmath.exp(y) / slope - 1)
    raise AssertionError("the reference did not settle")


def worst_errors(count: int) -> tuple[float, int, float]:
    """Worst relative error of the promised forward currents, their number, and the worst error in reverse in Is."""
    points = domain(count, seed=2)
    found = diode.loop_current(*points)
    forward, reverse = [], []
    for current, supply, *rest in zip(found, *points, strict=True):
        reference = exact(supply, *rest)
        error = abs(mpmath.mpf(float(current)) - reference)
        if supply > 0 and FIRST <= reference <= LAST:
            forward.append(float(error / reference))
        elif supply <= 0:
            reverse.append(float(error / rest[1]))
    return max(forward), len(forward), max(reverse)


def main() -> None:
    """Measure and print."""
    mpmath.mp.dps = 60
    points = domain(COUNT, seed=1)
    values = np.random.default_rng(0).uniform(-20.0, 20.0, COUNT)
    supply, ohms, saturation, emission = points
    red, green = (5e-22, 0.042, 3.6), (1e-28, 0.05, 20.0)
    times = least_times(
        {
            "np.exp": lambda: np.exp(values),
            "wrightomega": lambda: wrightomega(values),
            "loop_current": lambda: diode.loop_current(*points),
        },
        ROUNDS,
        SERIES,
    )
    slow = least_times(
        {
            "string_current, two unequal LEDs": lambda: diode.string_current(
                supply, ohms, [(saturation, emission, 0.0), red]
            ),
            "branch_currents, a pair": lambda: branch_currents(supply, ohms, [(+1, 0.0, [red]), (-1, 0.0, [green])]),
        },
        1,
    )
    few = {"loop_current, one point": lambda: [diode.loop_current(9.0, 470.0, *red) for _ in range(1000)]}
    lines = [f"{name:34}{seconds * 1e3:9.2f} ms a million" for name, seconds in (times | slow).items()]
    lines += [f"{name:34}{seconds * 1e3:9.2f} us" for name, seconds in least_times(few, 5).items()]
    own = times["loop_current"]
    lines += [
        f"loop_current / np.exp             {own / times['np.exp']:9.1f}",
        f"loop_current / wrightomega        {own / times['wrightomega']:9.2f}",
    ]
    forward, promised, reverse = worst_errors(SAMPLE)
    lines += [
        f"worst relative error              {forward:9.1e}   (of {promised} forward currents from 1 pA to 10 A)",
        f"worst error in reverse, in Is     {reverse:9.1e}",
    ]
    sys.stdout.write("\n".join(lines) + "\n")


if __name__ == "__main__":
    main()
