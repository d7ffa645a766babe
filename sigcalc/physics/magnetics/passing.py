"""A magnet that passes a reed: how it lies to the track, and the stretches in which it keeps the reed closed.

Lengths in m, flux densities in T. A position is that of the magnet's centre along the track, less the reed's.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Field = Callable[[Array, NDArray[np.int64]], Array]
"""Flux density along the reed for positions and the numbers of the rows they belong to, both flat arrays."""

UPRIGHT, LENGTHWISE, CROSSWISE = "upright", "lengthwise", "crosswise"
ORIENTATIONS = (UPRIGHT, LENGTHWISE, CROSSWISE)

# Along which direction of the track (0 along it, 1 across, 2 up) a magnet's x, y and z lie; z is the magnetised axis.
# Its x lies level in every orientation.
DIRECTIONS = {UPRIGHT: (1, 0, 2), LENGTHWISE: (1, 2, 0), CROSSWISE: (0, 2, 1)}

_PARTS = np.linspace(0.0, 1.0, 9)
_ROUNDS = 6  # of division by 8, and one straight line: a 4e-6th of a grid's step, squared
_LAST_ROUNDS = 3
_PEAK_ROUNDS = 5  # a peak is flat: its height is right to the square of that


def positions(reach: Array, extents: Array, nearest: Array, count: int = 49) -> Array:
    """Positions that lie close where the field changes fast: rising, a row for each case.

    Parameters
    ----------
    reach : (rows,) array
        How far they go to either side.
    extents : (rows, n) array
        Half extents, of magnet and sensor, at whose ends the field changes fast; the middle is always among them.
    nearest : (rows,) array
        The scale of that change: the gap.
    count : int
        Positions around each such place.
    """
    places = np.concatenate([-extents, np.zeros_like(reach)[:, None], extents], axis=1)[:, :, None]
    last = np.arcsinh(2 * reach / nearest)
    steps = nearest[:, None] * np.sinh(last[:, None] * np.linspace(-1.0, 1.0, count))
    spread = (places + steps[:, None, :]).reshape(len(reach), -1)
    return np.sort(np.clip(spread, -reach[:, None], reach[:, None]), axis=1)


def peaks(field: Field, grid: Array) -> Array:
    """The greatest flux density, by amount, of each row of a grid of positions."""
    _, rows, values = _with_turns(field, grid)
    most = np.zeros(len(grid))
    np.maximum.at(most, rows, np.abs(values))
    return most


def closed_stretches(
    field: Field, grid: Array, pull_in: Array, release: Array
) -> tuple[NDArray[np.int64], Array, Array]:
    """Where a reed is closed while the magnet comes from the grid's start and leaves at its end.

    It closes where the amount of the flux density rises to `pull_in` and opens where it falls below `release`; between
    the two it stays as it was. It starts open, and the grid must end where the flux density is below the release.

    Parameters
    ----------
    field : callable
        The flux density along the reed.
    grid : (rows, n) array
        Rising positions, fine enough that between neighbours the field turns once at most.
    pull_in, release : (rows,) array
        Of the reed of each row, T.

    Returns
    -------
    three flat arrays: row, position of closing, position of opening, in order
    """
    at, rows, values = _with_turns(field, grid)
    amount = np.abs(values)
    event = np.where(amount >= pull_in[rows], 1, np.where(amount < release[rows], -1, 0))
    event[np.flatnonzero(np.diff(rows, prepend=-1))] = -1
    last = np.maximum.accumulate(np.where(event != 0, np.arange(len(event)), 0))
    change = np.diff(event[last], prepend=-1)
    closing, opening = np.flatnonzero(change > 0), np.flatnonzero(change < 0)
    opening = opening[rows[opening] == rows[opening - 1]]
    row = rows[closing]

    def crossing(index: NDArray[np.int64], level: Array) -> Array:
        return _crossing(lambda x, r: np.abs(field(x, r)), at[index - 1], at[index], rows[index], level[rows[index]])

    return row, crossing(closing, pull_in), crossing(opening, release)


def _with_turns(field: Field, grid: Array) -> tuple[Array, NDArray[np.int64], Array]:
    """The grid's positions, rows and values with its extremes and zeros added, flat, in order within each row."""
    rows = np.broadcast_to(np.arange(len(grid))[:, None], grid.shape)
    values = field(grid.ravel(), rows.ravel()).reshape(grid.shape)
    step = np.diff(values, axis=1)
    # equal neighbours turn as well: a peak may lie right between them
    row, index = np.nonzero((step[:, 1:] * step[:, :-1] <= 0) & (step[:, 1:] != step[:, :-1]))
    top = _extreme(field, grid[row, index], grid[row, index + 2], row, np.sign(step[row, index]))
    zero_row, zero = np.nonzero(values[:, 1:] * values[:, :-1] < 0)
    null = _crossing(field, grid[zero_row, zero], grid[zero_row, zero + 1], zero_row, np.zeros(len(zero)))
    at = np.concatenate([grid.ravel(), top, null])
    belongs = np.concatenate([rows.ravel(), row, zero_row])
    heights = np.concatenate([values.ravel(), field(top, row), np.zeros(len(null))])
    order = np.lexsort((at, belongs))
    return at[order], belongs[order], heights[order]


def _extreme(field: Field, low: Array, high: Array, rows: NDArray[np.int64], sign: Array) -> Array:
    """Where the field, times the sign, is greatest between `low` and `high`."""
    for _ in range(_PEAK_ROUNDS):
        at, values = _sample(field, low, high, rows)
        best = np.clip(np.argmax(values * sign[:, None], axis=1), 1, len(_PARTS) - 2)
        each = np.arange(len(best))
        low, high = at[each, best - 1], at[each, best + 1]
    return (low + high) / 2


def _crossing(field: Field, low: Array, high: Array, rows: NDArray[np.int64], level: Array) -> Array:
    """Where the field passes a level between `low` and `high`, at which it lies on different sides."""
    each = np.arange(len(low))
    for _ in range(_ROUNDS):
        at, values = _sample(field, low, high, rows)
        above = values >= level[:, None]
        above[:, -1] = ~above[:, 0]  # by its last digit a value may fall to the other side when it is worked out again
        first = np.argmax(above != above[:, :1], axis=1)
        low, high = at[each, first - 1], at[each, first]
    start, end = (values[each, place] - level for place in (first - 1, first))
    return low - start * (high - low) / np.where(end == start, 1.0, end - start)


def _sample(field: Field, low: Array, high: Array, rows: NDArray[np.int64]) -> tuple[Array, Array]:
    """Nine positions from `low` to `high`, both included, and the field there."""
    at = low[:, None] + (high - low)[:, None] * _PARTS
    at[:, -1] = high
    return at, field(at.ravel(), np.repeat(rows, len(_PARTS))).reshape(at.shape)


def last_above(function: Callable[[Array], Array], grid: Array, levels: Array) -> Array:
    """The last place on a rising grid where a function is at or above each level, refined between neighbours.

    NaN where it never is. At the grid's end the function must be below all levels.
    """
    above = function(grid) >= levels[:, None]
    found = above.any(axis=1)
    places = np.full(len(levels), np.nan)
    if not found.any():
        return places
    last = len(grid) - 1 - np.argmax(above[found, ::-1], axis=1)
    low, high, level = grid[last], grid[last + 1], levels[found]
    each = np.arange(len(last))
    for _ in range(_LAST_ROUNDS):
        at = low[:, None] + (high - low)[:, None] * _PARTS
        values = function(at.ravel()).reshape(at.shape) - level[:, None]
        above = values >= 0
        above[:, 0], above[:, -1] = True, False
        last = len(_PARTS) - 1 - np.argmax(above[:, ::-1], axis=1)
        low, high, over, under = at[each, last], at[each, last + 1], values[each, last], -values[each, last + 1]
    places[found] = low + (high - low) * np.clip(over / (over + under), 0.0, 1.0)
    return places
