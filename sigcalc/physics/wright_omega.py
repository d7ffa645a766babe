"""The one equation behind a diode with a resistance, solved for whole arrays at once.

With junction voltage and supply counted in emission voltages (`exponent` u and
`drive` v), the current counted in saturation currents (x) and the resistance
counted in emission voltage over saturation current (`slope` a), the loop reads

    u + a x = v        with  x = exp(u) - 1.

Its answer is the Wright omega function, u = ln(omega(z)) - ln(a) with
z = v + a + ln(a): the logarithmic form of the Lambert W of T. C. Banwell and
A. Jayakumar, Electronics Letters 36(4), 291-292 (2000), doi 10.1049/el:20000301.
Taking the logarithm keeps every intermediate figure small, so nothing overflows.

The way there, for y = ln(omega(z)), which obeys y + exp(y) = z:

1. a first guess from the least of three curves that all lie above y: y = z
   (far left), the tangent (z - 1)/2 at z = 1, and ln(z) (far right), lowered
   by 0.14 so that it errs as much to one side as to the other (under 0.18);
2. one Householder step of third order (A. S. Householder, The Numerical
   Treatment of a Single Nonlinear Equation, 1970), error then under 1e-5.
   So far single precision is enough, and twice as fast;
3. one correction in double precision on the loop equation itself rather than
   on y, so that currents far below the saturation current suffer no
   cancellation. It is the inverse power series of the Newton step, taken to
   the third order, for the factor by which exp(u) is still off; what is left
   is the fourth power of the error before.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

BLOCK = 16384
"""Elements handled at once: the buffers of one block fit in a core's cache, which whole arrays of a million do not."""

_ONE = np.float32(1.0)
_HALF = np.float32(0.5)
_SIXTH = np.float32(1.0 / 6.0)
_LOWERED = np.float32(0.14)
_FAR_LEFT = np.float32(-60.0)  # exp of this no longer counts beside 1, and is not yet subnormal (which would be slow)
_LEAST_SLOPE = 1e-300  # stands in for no resistance at all, whose logarithm would be infinite; lost beside any other
_NEAR_ZERO = 1e-3


class Workspace:
    """Buffers for one block of up to `most` elements; `drive` and `slope` are for the caller to fill."""

    def __init__(self, most: int):
        # Rows a power of two apart would get in each other's way in the cache: hence the eight more.
        self._double, self._single = np.empty((7, most + 8)), np.empty((5, most + 8), np.float32)
        self.fit(most)

    def fit(self, size: int) -> None:
        """Make the buffers as long as the block that comes next."""
        self.size = size
        self.drive, self.slope, *self.double = self._double[:, :size]
        self.single = tuple(self._single[:, :size])


def log_omega(z: NDArray[np.float32], y, p, s, t) -> None:
    """Put ln(omega(z)) into `y`, good to 1e-5 or single rounding; `p`, `s` and `t` are scratch."""
    np.maximum(z, _ONE, out=y)
    np.log(y, out=y)
    np.minimum(y, z, out=y)
    np.subtract(z, _ONE, out=p)
    np.multiply(p, _HALF, out=p)
    np.minimum(y, p, out=y)
    np.subtract(y, _LOWERED, out=y)

    np.maximum(y, _FAR_LEFT, out=p)
    np.exp(p, out=p)
    np.subtract(z, y, out=t)
    np.subtract(t, p, out=t)
    np.add(p, _ONE, out=s)
    np.divide(t, s, out=t)  # the Newton step t
    np.divide(p, s, out=p)
    np.multiply(p, t, out=p)  # c = t exp(y) / (1 + exp(y))
    # The guess grows by t (1 + c/2) / (1 + c (1 + t/6)).
    np.multiply(t, _SIXTH, out=s)
    np.add(s, _ONE, out=s)
    np.multiply(s, p, out=s)
    np.add(s, _ONE, out=s)
    np.multiply(p, _HALF, out=p)
    np.add(p, _ONE, out=p)
    np.multiply(t, p, out=t)
    np.divide(t, s, out=t)
    np.add(y, t, out=y)


def current_ratio(drive: NDArray, slope: NDArray, out: NDArray, workspace: Workspace) -> None:
    """Put x = exp(u) - 1 into `out`, where u + slope x = drive, for one block of doubles.

    The slope is zero or positive. An answer beyond the range of doubles comes out as infinity or
    not-a-number, for the caller to refuse.
    """
    exponent, log_slope, t, i, h = workspace.double
    z, y, *scratch = workspace.single
    np.add(slope, _LEAST_SLOPE, out=log_slope)
    np.log(log_slope, out=log_slope)
    np.add(drive, slope, out=t)
    np.add(t, log_slope, out=t)
    np.copyto(z, t, casting="same_kind")
    log_omega(z, y, *scratch)
    np.copyto(exponent, y)
    np.subtract(exponent, log_slope, out=exponent)
    np.add(slope, 1.0, out=i)
    _straighten_near_zero(drive, i, exponent, t, h)

    np.expm1(exponent, out=out)
    product = log_slope  # its place is free now
    np.multiply(slope, out, out=product)
    np.subtract(drive, exponent, out=t)
    np.subtract(t, product, out=t)
    np.add(product, i, out=i)
    np.reciprocal(i, out=i)
    np.multiply(t, i, out=t)  # the Newton step t, and i = 1 / (1 + slope exp(u))
    # exp(u) grows by the fraction t (1 + i t (1/2 + t (i/2 - 1/3)))
    np.multiply(i, 0.5, out=h)
    np.subtract(h, 1.0 / 3.0, out=h)
    np.multiply(h, t, out=h)
    np.add(h, 0.5, out=h)
    np.multiply(h, i, out=h)
    np.multiply(h, t, out=h)
    np.add(h, 1.0, out=h)
    np.multiply(h, t, out=h)
    np.add(out, 1.0, out=i)
    np.multiply(i, h, out=i)
    np.add(out, i, out=out)


def _straighten_near_zero(drive, total_slope, exponent, size, reach) -> None:
    """Near zero exponent start from the tangent there, which keeps a vanishing current exact, and zero at zero."""
    np.abs(drive, out=size)
    np.multiply(total_slope, _NEAR_ZERO, out=reach)
    near = size < reach
    if near.any():
        np.copyto(exponent, drive / total_slope, where=near)
