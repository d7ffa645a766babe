"""Speed and accuracy of the diode's closed form; run by hand: python -m tests.benchmarks.bench_diode.

A million operating points over the whole domain, and one point; the least time of several counts. The accuracy is
measured against 60 digits.
"""

from __future__ import annotations

import sys
import timeit

import mpmath
import numpy as np

from sigcalc.physics import diode

COUNT, SAMPLE = 1_000_000, 2000
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


def main() -> None:
    """Measure and print."""
    mpmath.mp.dps = 60
    points, sample = domain(COUNT, seed=1), domain(SAMPLE, seed=2)
    million = min(timeit.repeat(lambda: diode.loop_current(*points), number=1, repeat=20))
    one = min(timeit.repeat(lambda: diode.loop_current(9.0, 470.0, 5e-22, 0.042, 3.6), number=1000, repeat=5)) / 1000
    forward, reverse = [], []
    for current, supply, *rest in zip(diode.loop_current(*sample), *sample, strict=True):
        reference = exact(supply, *rest)
        error = abs(mpmath.mpf(float(current)) - reference)
        if supply > 0 and FIRST <= reference <= LAST:
            forward.append(float(error / reference))
        elif supply <= 0:
            reverse.append(float(error / rest[1]))
    sys.stdout.write(
        f"a million points {million * 1e3:.0f} ms, one point {one * 1e6:.0f} us\n"
        f"worst relative error {max(forward):.1e} of {len(forward)} forward currents from 1 pA to 10 A, "
        f"worst error in reverse {max(reverse):.1e} of the saturation current\n"
    )


if __name__ == "__main__":
    main()
