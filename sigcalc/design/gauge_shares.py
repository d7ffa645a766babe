"""What every gauge of wire leaves of the weakest lamp's light."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence

import numpy as np

from ..errors import RangeError, UnitError
from ..parts.board import Board, as_board
from ..parts.board_state import corner_states, weakest
from ..parts.fuse import bearable_current
from ..units import Ratio, record
from ..units.reading import quoted


@record
class GaugeShares:
    """For each gauge, in the order given, the least share of its light that any lamp keeps; shape (gauges,).

    `share` is that at the worst corner of all tolerances, whatever the signals show, of
    the signal in `weakest`.
    """

    __arrays__ = True
    gauge: np.ndarray
    share: Ratio
    weakest: tuple[str, ...]


def gauge_shares(board: Board, gauges: Sequence[int]) -> GaugeShares:
    """The board with all its sections wired in each gauge in turn; RangeError for a board without sections."""
    if not as_board(board).sections:
        raise RangeError("board needs at least one section, since a wire is asked for; add the run to the signal")
    if isinstance(gauges, str) or not isinstance(gauges, Sequence) or not gauges:
        raise UnitError(f"gauges needs a list of American wire gauges, but {quoted(gauges)} came; try [30, 26, 22]")
    found = [_worst(_wired(board, gauge)) for gauge in gauges]
    return GaugeShares.of(
        gauge=np.array(gauges), share=np.array([share for share, _ in found]), weakest=tuple(name for _, name in found)
    )


def _wired(board: Board, gauge: int) -> Board:
    bearable_current(gauge)  # refuses what is no gauge
    sections = tuple(dataclasses.replace(each, wire=gauge) for each in board.sections)
    return dataclasses.replace(board, sections=sections)


def _worst(board: Board) -> tuple[float, str]:
    state, place = weakest(corner_states(board))
    return float(state.share[place]), board.signals[place].name
