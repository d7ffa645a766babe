"""What every gauge of wire leaves of the weakest lamp's light."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence

from ...errors import RangeError, UnitError
from ...parts.fuse import bearable_current
from ...units.reading import quoted
from .board import Board, as_board
from .board_state import worsts_of


def gauge_shares(board: Board, gauges: Sequence[int]) -> dict[int, float]:
    """The least share of its light that any lamp keeps, with all sections wired in each gauge in turn.

    It is that with every tolerance at its worst, whatever the signals show.
    Raises RangeError for a board without sections, UnitError or RangeError for what is no gauge.
    """
    if not as_board(board).sections:
        raise RangeError("board needs at least one section, since a wire is asked for; add the run to the signal")
    if isinstance(gauges, str) or not isinstance(gauges, Sequence):
        raise UnitError(f"gauges needs a list of American wire gauges, but {quoted(gauges)} came; try [30, 26, 22]")
    worsts = worsts_of([_wired(board, gauge) for gauge in gauges])
    return {gauge: worst.weakest[0] for gauge, worst in zip(gauges, worsts, strict=True)}


def _wired(board: Board, gauge: int) -> Board:
    bearable_current(gauge)  # refuses what is no gauge
    sections = tuple(dataclasses.replace(each, wire=gauge) for each in board.sections)
    return dataclasses.replace(board, sections=sections)
