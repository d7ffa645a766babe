"""Signals added one after the other to one source: what they draw together, and what the weakest lamp keeps."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from ...errors import RangeError, UnitError
from ...parts.source import Source
from ...units import Current, Length, Q, Ratio, Temperature, record, with_units
from ...units.reading import quoted
from ..power.load import Load
from .board import chain_board, star_board
from .board_state import MOST, corner_states_of, most_drawn, worsts_of

_LAYOUTS = {"chain": chain_board, "star": star_board}
_MOST = 10_000


@record
class Adding:
    """For each number of signals, the least share of its light any lamp keeps, and the most they draw.

    Shape (counts,) each; both with every tolerance at its worst, whatever the signals show.
    """

    __arrays__ = True
    count: np.ndarray
    share: Ratio
    current: Current


@with_units(scalar=True)
def add_signals(
    source: Source,
    load: Load,
    wire: Any,
    run: Length,
    counts: Sequence[int],
    layout: str = "chain",
    trunk: Length = "0 m",
    temperature: Temperature = "20 degC",
) -> Adding:
    """Equal signals on one source, as many at a time as `counts` says; other arguments as for `most_signals`.

    Raises RangeError for a count that is no whole number from 1 to 10 000, UnitError for an unknown layout.
    """
    if not isinstance(layout, str) or layout not in _LAYOUTS:
        raise UnitError(f"layout needs to be one of {', '.join(map(repr, _LAYOUTS))}, but {quoted(layout)} came")
    try:
        numbers = np.atleast_1d(np.asarray([] if hasattr(counts, "units") else counts))
    except ValueError:  # lists of different lengths in one
        numbers = np.array([])
    if numbers.dtype.kind not in "iu" or numbers.ndim != 1 or not ((numbers >= 1) & (numbers <= _MOST)).all():
        raise RangeError(f"counts needs whole numbers from 1 to {_MOST}, but {quoted(counts)} came; try [1, 2, 5, 10]")
    way = wire, Q(run, "m"), Q(trunk, "m"), Q(temperature, "K")
    boards = [_LAYOUTS[layout]("trial", source, load, int(number), *way) for number in numbers]
    share = np.array([each.weakest[0] for each in worsts_of(boards)])
    current = np.array([most_drawn(each) for each in corner_states_of(boards, (MOST,))])
    return Adding.of(count=numbers, share=share, current=current)
