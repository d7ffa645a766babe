"""How many signals one source feeds before its rating is reached or the last one dims, and ways of wiring compared."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import cache, lru_cache
from typing import Any

import numpy as np

from ...errors import DesignError, RangeError, UnitError
from ...parts.source import Adapter, Source
from ...units import Current, Length, Q, Ratio, record, say, with_units
from ...units.reading import quoted
from ..findings import FINE, LOOK, Finding
from ..power.load import Load
from .board import CHAIN, HUB, MOST_SIGNALS, STAR, WIRINGS, Board, as_board, board_along, chain_board, star_board
from .state import (
    MOST,
    USUAL_DERATING,
    USUAL_SHARE,
    LeastShare,
    corner_states,
    corner_states_of,
    most_drawn,
    worst_of,
    worsts_of,
)

LAYOUTS = {CHAIN: chain_board, STAR: star_board}
"""How the signals are joined to the source: one behind the other, or each with a run of its own."""
BY_ADAPTER, BY_LIGHT, BY_COUNT = "adapter", "light", "count"

# common practice, no source: what builders tell each other of one 9 V adapter
RULE_OF_THUMB = 5
_AT_ONCE = 8  # boards of so many numbers are solved together
_ROUNDING = 1e-9  # of the allowed current: signals that draw just as much are not one too many for their last digit


@record
class MostSignals:
    """The most equal signals on one source, and what one more would do.

    `limited_by` is "adapter" (its derated rating), "light" (the last lamp's share) or "count" (no end was found).
    `current` is the most they draw, `allowed` what the derated adapter gives (None for a battery), `each` what one
    alone draws at the most. `share` is the least share of light any lamp has left at any corner; `next_current` and
    `next_share` are those of one signal more.
    """

    count: int
    limited_by: str
    current: Current
    allowed: Current | None
    each: Current
    share: Ratio
    wanted: Ratio
    next_current: Current
    next_share: Ratio
    derating: Ratio
    board: Board

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The number with what limits it, and the rule of thumb with the adapter that it supposes."""
        si, source = self.si, self.board.source
        reasons = {
            BY_ADAPTER: f"One more would draw up to {say(si.next_current, 'A', 4)}, beyond the "
            f"{say(si.allowed or 0.0, 'A')} that is {say(self.derating, '')} of the adapter's rating.",
            BY_LIGHT: f"With one more the weakest lamp would have {say(self.next_share, '', 4)} of its light, "
            f"less than the {say(self.wanted, '')} asked for.",
            BY_COUNT: "No end was found.",
        }
        many, have, whose = "One signal", "has", "its"
        if self.count > 1:
            many, have, whose = f"{self.count} signals", "have", "their"
        said = f"{many}, drawing up to {say(si.current, 'A')}, {have} {say(self.share, '')} of {whose} light or more."
        grade = FINE if self.count >= RULE_OF_THUMB else LOOK
        found = Finding(grade, "most signals", f"{said} {reasons[self.limited_by]}")
        if not isinstance(source, Adapter):
            said = f"This holds for a fresh battery, and says nothing of how long it gives {say(si.current, 'A')}."
            return found, Finding(LOOK, "battery", said, "Work out the run time; a battery is for few signals.")
        supposed, rated = RULE_OF_THUMB * si.each / self.derating, source.si.max_current
        said = (
            f"The rule of about {RULE_OF_THUMB} signals to an adapter (common practice, no source) supposes an adapter "
            f"of about {say(supposed, 'A', 2)}: {RULE_OF_THUMB} times {say(si.each, 'A')} at {say(self.derating, '')} "
            f"of its rating. This one is rated {say(rated, 'A')}."
        )
        fits = " Here the rule fits." if 0.8 <= supposed / rated <= 1.25 else ""
        return found, Finding(FINE, "rule of thumb", said + fits)


@with_units(scalar=True)
def most_signals(
    source: Source,
    load: Load,
    wire: Any,
    run: Length,
    layout: str = CHAIN,
    share: LeastShare = USUAL_SHARE,
    derating: LeastShare = USUAL_DERATING,
) -> MostSignals:
    """The most equal signals that one source feeds, up to 1000.

    Parameters
    ----------
    source: Adapter or Battery; a battery has no rated current, so that the light alone decides
    load: what each signal draws
    wire: a Wire, a name from `wires`, a gauge or a cross-section, the same everywhere
    run: from each signal to the next (chain), or from the terminal strip to each (star)
    layout: "chain" or "star"
    share: of its own full light that every lamp must have, at every corner of the tolerances
    derating: share of the adapter's rated current that may be used, at the corner of most current

    Raises DesignError where not even one signal fits, with the reason.
    """
    trial = _Trial(_way(layout, source, load, wire, run), source, derating, share)
    trial.need_one()
    count = trial.largest()
    more = min(count + 1, MOST_SIGNALS)
    return MostSignals.of(
        count=count,
        limited_by=trial.breach(more) or BY_COUNT,
        current=trial.drawn(count),
        allowed=trial.allowed,
        each=trial.drawn(1),
        share=trial.share(count),
        wanted=share,
        next_current=trial.drawn(more),
        next_share=trial.share(more),
        derating=derating,
        board=trial.board(count),
    )


def _way(layout: Any, source: Source, load: Load, wire: Any, run: float) -> Callable[[int], Board]:
    """What makes the board of a number of signals."""
    if not isinstance(layout, str) or layout not in LAYOUTS:
        raise UnitError(argument="layout", need=f"one of {', '.join(map(repr, LAYOUTS))}", given=quoted(layout))
    given = layout, source, load, wire, run
    try:
        return _boards(*given)
    except TypeError:  # what cannot be hashed is refused where it is read
        return _boards.__wrapped__(*given)


@lru_cache(maxsize=4, typed=True)
def _boards(layout: str, source: Source, load: Load, wire: Any, run: float) -> Callable[[int], Board]:
    """A board keeps what has been solved of it, so another share or derating asks little that is new."""
    return cache(lambda count: LAYOUTS[layout]("trial", source, load, count, wire, Q(run, "m")))


class _Trial:
    """Boards of one, two, ... signals, and whether they are within both limits."""

    def __init__(self, make: Callable[[int], Board], source: Source, derating: float, share: float):
        self.board, self._source, self._share = make, source, share
        self.allowed = derating * source.si.max_current if isinstance(source, Adapter) else None

    def drawn(self, count: int) -> float:
        """The most that so many signals draw, in A."""
        return most_drawn(corner_states(self.board(count), (MOST,)))

    def share(self, count: int) -> float:
        """The least share of light that any of so many has."""
        return worst_of(self.board(count)).weakest[0]

    def breach(self, count: int) -> str:
        """Which limit so many signals break; "" where they break none."""
        if self.allowed is not None and self.drawn(count) > self.allowed * (1 + _ROUNDING):
            return BY_ADAPTER
        return BY_LIGHT if self.share(count) < self._share else ""

    def largest(self) -> int:
        """The largest number within the limits: both only tighten as signals are added."""
        low, high = 1, 2
        while high < MOST_SIGNALS and not self.breach(high):
            low, high = high, min(2 * high, MOST_SIGNALS)
        if not self.breach(high):
            return high
        while high - low > 1:
            middles = list(range(low + 1, high, max((high - low) // _AT_ONCE, 1)))
            boards = [self.board(each) for each in middles]
            corner_states_of(boards, (MOST,))  # solved together: each board keeps its own
            worsts_of(boards)
            low = max([low, *(each for each in middles if not self.breach(each))])
            high = min([high, *(each for each in middles if each > low)])
        return low

    def need_one(self) -> None:
        """DesignError where not even one signal fits."""
        breach = self.breach(1)
        if breach == BY_ADAPTER:
            raise DesignError(
                f"not even one signal fits: it draws up to {say(self.drawn(1), 'A')}, and the {self._source.name} "
                f"adapter gives {say(self.allowed, 'A')} derated; use a larger adapter"
            )
        if breach == BY_LIGHT:
            raise DesignError(
                f"not even one signal has {say(self._share, '')} of its light: the wire leaves it "
                f"{say(self.share(1), '')}; use thicker wire or a shorter run"
            )


@record
class Adding:
    """For each number of signals, the least share of its light any lamp has, and the most they draw.

    Shape (counts,) each; both with every tolerance at its worst, whatever the signals show.
    """

    __arrays__ = True
    count: np.ndarray
    share: Ratio
    current: Current


@with_units(scalar=True)
def add_signals(
    source: Source, load: Load, wire: Any, run: Length, counts: Sequence[int], layout: str = CHAIN
) -> Adding:
    """Equal signals on one source, as many at a time as `counts` says; other arguments as for `most_signals`.

    Raises RangeError for a count that is no whole number from 1 to 1000, UnitError for an unknown layout.
    """
    make = _way(layout, source, load, wire, run)
    if isinstance(counts, str) or not isinstance(counts, Sequence | np.ndarray) or not len(counts):
        raise RangeError(
            argument="counts", need="a list of whole numbers", given=quoted(counts), advice="try [1, 2, 5]"
        )
    boards = [make(number) for number in counts]
    share = np.array([each.weakest[0] for each in worsts_of(boards)])
    current = np.array([most_drawn(each) for each in corner_states_of(boards, (MOST,))])
    return Adding.of(count=np.array([len(each.signals) for each in boards]), share=share, current=current)


@record
class WiringTrial:
    """One way of wiring: the length of twin wire, the least share of light of any lamp, and what a break costs.

    `share` is the least at any corner of the tolerances, of `weakest`. `most_lost` is how many signals go dark where
    the worst single run along the layout breaks or comes loose.
    """

    wiring: str
    length: Length
    share: Ratio
    weakest: str
    most_lost: int
    board: Board


def compare_wirings(source: Source, load: Load, places: Mapping[str, Any], wire: Any = 26) -> tuple[WiringTrial, ...]:
    """The same signals as a chain, a star and mixed; arguments as for `board_along`."""
    boards = [board_along(wiring, source, load, places, wiring, wire) for wiring in WIRINGS]
    trials = []
    for board, worst in zip(boards, worsts_of(boards), strict=True):
        share, place, _ = worst.weakest
        weakest = board.signals[place].name
        trials.append(WiringTrial(board.name, board.pair_length, share, weakest, most_lost(board), board))
    return tuple(trials)


def most_lost(board: Board) -> int:
    """How many signals at the most are behind one section, the lead to the terminal strip left out."""
    behind = as_board(board).tree.beyond(np.bincount(board.signal_nodes, minlength=len(board.nodes)))
    runs = [behind[place] for node, place in board.place.items() if node not in (board.supply_node, HUB)]
    return round(max(runs, default=0))
