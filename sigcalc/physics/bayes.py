"""Weighing explanations by what was measured: likelihoods from random samples, and what a further look would tell.

Each explanation is given as samples of what it lets one expect. How likely a reading is under it is the density of
its samples at the reading, each sample smoothed by the meter's uncertainty and, since the samples are finite in number,
by a part of their own spread: B. W. Silverman, Density Estimation for Statistics and Data Analysis (1986), with samples
drawn towards their mean so that the smoothing does not widen them: M. West, Journal of the Royal Statistical Society B
55(2), 409 (1993); both from memory. What a look is expected to tell is the mutual information of C. E. Shannon.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..errors import RangeError

Floats = NDArray[np.float64]
_BLOCKS = 8
_FEWEST = 3  # samples of a block that agree with what was seen; fewer have no spread


class Kernels(NamedTuple):
    """How near each explanation's samples are to a reading.

    Attributes
    ----------
    log_density: of each sample at the reading, per unit of each reading, shape (explanations, samples); minus infinity
        where a sample is not usable
    distance: of the nearest sample of each explanation, squared, in standard deviations, shape (explanations,)
    """

    log_density: Floats
    distance: Floats


def kernels(samples: ArrayLike, usable: ArrayLike, reading: ArrayLike, noise: ArrayLike) -> Kernels:
    """The density of every sample at a reading.

    Parameters
    ----------
    samples : array_like, shape (explanations, samples, readings)
        Sorted so that neighbours are alike, where a cause may be slight or grave: the spread is taken block by block.
    usable : array_like of bool, shape (explanations, samples)
        False where a sample is at odds with the reading outright.
    reading, noise : array_like, shape (readings,)
        What was measured, and its standard uncertainty, above zero.
    """
    drawn, allowed = np.asarray(samples, float), np.asarray(usable, bool)
    read, unsure = np.asarray(reading, float), np.asarray(noise, float)
    explanations, count, readings = drawn.shape
    if readings == 0:
        return Kernels(np.where(allowed, 0.0, -np.inf), np.where(allowed.any(axis=1), 0.0, np.inf))
    density, square = np.full((explanations, count), -np.inf), np.full((explanations, count), np.inf)
    for block in np.array_split(np.arange(count), min(_BLOCKS, count)):
        mine = slice(block[0], block[-1] + 1)
        density[:, mine], square[:, mine] = _block(drawn[:, mine], allowed[:, mine], read, unsure)
    return Kernels(density, square.min(axis=1))


def _block(samples: Floats, usable: NDArray[np.bool_], reading: Floats, noise: Floats) -> tuple[Floats, Floats]:
    """Logarithm of the density and squared distance, for one block of samples."""
    scaled = np.where(usable[..., None], (samples - reading) / noise, 0.0)
    number = usable.sum(axis=1)
    many = np.maximum(number, 1)[:, None]
    mean = scaled.sum(axis=1) / many
    away = np.where(usable[..., None], scaled - mean[:, None, :], 0.0)
    spread = away.swapaxes(1, 2) @ away / many[..., None]
    width = _width(spread, number)[:, None, None]
    kernel = width**2 * spread + np.eye(len(noise))
    root = np.linalg.cholesky(kernel)
    centres = mean[:, None, :] + np.sqrt(1.0 - width**2) * away
    whitened = centres @ np.linalg.inv(root).swapaxes(1, 2)
    log_volume = np.log(np.diagonal(root, axis1=1, axis2=2)).sum(axis=1) + np.log(noise * np.sqrt(2 * np.pi)).sum()
    square = (whitened**2).sum(axis=2)
    counts = usable & (number >= _FEWEST)[:, None]
    return np.where(counts, -0.5 * square - log_volume[:, None], -np.inf), np.where(counts, square, np.inf)


def _width(spread: Floats, number: Any) -> Floats:
    """Silverman's width of the smoothing, as a share of the spread, for as many directions as rise above the noise."""
    own = np.linalg.eigvalsh(spread)
    directions = (own / (own + 1.0)).sum(axis=1)
    shape = directions + 4.0
    return np.minimum((4.0 / (directions + 2.0) / np.maximum(number, 1)) ** (1.0 / shape), 1.0)


def shares_of_bins(values: ArrayLike, weights: ArrayLike, bins: int) -> Floats:
    """How each explanation's weight falls on equal bins of a reading, shape (explanations, bins + 1).

    `values` and `weights` have shape (explanations, samples); values that are not finite share the last bin. Bins
    span the finite values that have weight.
    """
    drawn, heavy = np.asarray(values, float), np.asarray(weights, float)
    finite = np.isfinite(drawn)
    counted = drawn[finite & (heavy > 0)]
    low, high = (counted.min(), counted.max()) if counted.size else (0.0, 1.0)
    scale = bins / (high - low) if high > low else 0.0
    place = np.where(finite, np.clip((np.where(finite, drawn, low) - low) * scale, 0, bins - 1), bins).astype(int)
    rows = np.arange(len(drawn))[:, None] * (bins + 1)
    flat = np.bincount((rows + place).ravel(), heavy.ravel(), len(drawn) * (bins + 1))
    return flat.reshape(len(drawn), bins + 1)


def information(shares: ArrayLike) -> float:
    """Mutual information in bits between row and column of a table of joint shares; zeros are welcome."""
    table = np.asarray(shares, float)
    total = table.sum()
    if not total > 0:
        raise RangeError("shares must have some weight; give a table with a sum above zero.")
    joint = table / total
    there = joint > 0
    rows, columns = (np.broadcast_to(joint.sum(axis=axis, keepdims=True), joint.shape)[there] for axis in (1, 0))
    # as logarithms: the product of two small shares may leave the range of numbers
    return float((joint[there] * (np.log2(joint[there]) - np.log2(rows) - np.log2(columns))).sum())
