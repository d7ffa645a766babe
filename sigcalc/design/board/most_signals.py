"""How many signals one source takes before its rating is reached, or the last one dims."""

from __future__ import annotations

from typing import Any

from ...errors import DesignError, RangeError, UnitError
from ...parts.source import Adapter, Source
from ...units import Current, Length, Q, Ratio, SupplyVoltage, Temperature, record, say, with_units
from ...units.reading import quoted
from ..findings import FINE, LOOK, Finding
from ..power.load import Load
from .board import Board, chain_board, star_board
from .board_state import (
    MOST,
    USUAL_DERATING,
    USUAL_SHARE,
    corner_states,
    corner_states_of,
    most_drawn,
    worst_of,
    worsts_of,
)

LAYOUTS = {"chain": chain_board, "star": star_board}
"""How the signals hang on the source: one behind the other, or each on a run of its own from a board."""
BY_ADAPTER, BY_LIGHT, BY_COUNT = "adapter", "light", "count"

# common practice, no source: what builders tell each other of one 9 V adapter
RULE_OF_THUMB = 5
MOST_SIGNALS = 10_000
"""No larger board is tried."""
_AT_ONCE = 8  # boards of so many numbers are solved together
_ROUNDING = 1e-9  # of the allowed current: signals that draw just as much are not one too many for their last digit


@record
class MostSignals:
    """The most equal signals on one source, and what one more would do.

    `limited_by` is "adapter" (its derated rating), "light" (the last lamp's share) or
    "count" (no end was found). `current` is the most they draw, `allowed` what the
    derated adapter gives (None for a battery), `each` what one alone draws at the most.
    `share` is the least share of light any lamp has left at any corner; `next_current`
    and `next_share` are those of one signal more.
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
    supply_voltage: SupplyVoltage
    derating: Ratio
    board: Board


@with_units(scalar=True)
def most_signals(
    source: Source,
    load: Load,
    wire: Any,
    run: Length,
    layout: str = "chain",
    trunk: Length = "0 m",
    temperature: Temperature = "20 degC",
    share: Ratio = USUAL_SHARE,
    derating: Ratio = USUAL_DERATING,
) -> MostSignals:
    """The most equal signals that one source takes.

    Parameters
    ----------
    source: Adapter or Battery; a battery has no rated current, so that the light alone decides
    load: what each signal draws
    wire: a Wire, a name from `wires`, a gauge or a cross-section, the same everywhere
    run: from each signal to the next (chain), or from the board to each (star)
    layout: "chain" or "star"
    trunk: from the source to the first signal, or to the board
    share: of its own full light that every lamp shall keep, at every corner of the tolerances
    derating: share of the adapter's rated current that may be used, at the corner of most current

    Raises DesignError where not even one signal fits, with the reason.
    """
    trial = _Trial(
        source, load, (wire, Q(run, "m"), Q(trunk, "m"), Q(temperature, "K")), _layout(layout), derating, share
    )
    if trial.breach(1):
        raise DesignError(trial.too_much())
    count = trial.largest()
    return MostSignals.of(
        count=count,
        limited_by=BY_COUNT if count >= MOST_SIGNALS else trial.breach(count + 1),
        current=trial.drawn(count),
        allowed=trial.allowed,
        each=trial.drawn(1),
        share=trial.share(count),
        wanted=share,
        next_current=trial.drawn(count + 1),
        next_share=trial.share(count + 1),
        supply_voltage=source.corners[1][0],
        derating=derating,
        board=trial.board(count),
    )


def _layout(layout: Any) -> Any:
    if not isinstance(layout, str) or layout not in LAYOUTS:
        raise UnitError(f"layout needs to be one of {', '.join(map(repr, LAYOUTS))}, but {quoted(layout)} came")
    return LAYOUTS[layout]


class _Trial:
    """Boards of one, two, ... signals, and whether they are within both limits."""

    def __init__(self, source: Source, load: Load, way: tuple[Any, ...], make: Any, derating: float, share: float):
        if not 0 < share <= 1 or not 0 < derating <= 1:
            raise RangeError('share and derating need to be above 0 and up to 1; give for example share="80 %"')
        self._source, self._load, self._way, self._make, self._share = source, load, way, make, share
        self._boards: dict[int, Board] = {}
        self.allowed = derating * source.si.max_current if isinstance(source, Adapter) else None

    def board(self, count: int) -> Board:
        """The board of so many signals, which keeps what has been solved of it."""
        if count not in self._boards:
            wire, run, trunk, temperature = self._way
            self._boards[count] = self._make("trial", self._source, self._load, count, wire, run, trunk, temperature)
        return self._boards[count]

    def drawn(self, count: int) -> float:
        """The most that so many signals draw, in A."""
        return most_drawn(corner_states(self.board(count), (MOST,)))

    def share(self, count: int) -> float:
        """The least share of light that any of so many keeps."""
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
            low, high = high, 2 * high
        if high >= MOST_SIGNALS and not self.breach(MOST_SIGNALS):
            return MOST_SIGNALS
        high = min(high, MOST_SIGNALS)
        while high - low > 1:
            middles = list(range(low + 1, high, max((high - low) // _AT_ONCE, 1)))
            boards = [self.board(each) for each in middles]
            corner_states_of(boards, (MOST,))  # solved together: each board keeps its own
            worsts_of(boards)
            within = [each for each in middles if not self.breach(each)]
            low = max([low, *within])
            high = min([high, *(each for each in middles if each > low)])
        return low

    def too_much(self) -> str:
        """Why not even one signal fits."""
        if self.allowed is not None and self.drawn(1) > self.allowed:
            return (
                f"not even one signal fits: it draws up to {say(self.drawn(1), 'A')}, and the {self._source.name} "
                f"adapter gives {say(self.allowed, 'A')} derated; use a larger adapter"
            )
        return (
            f"not even one signal keeps {say(self._share, '')} of its light: the wire leaves it "
            f"{say(self.share(1), '')}; use thicker wire or a shorter run"
        )


def findings(result: MostSignals) -> list[Finding]:
    """The number with what limits it, and the rule of thumb with the adapter that it supposes."""
    if not isinstance(result, MostSignals):
        raise UnitError(f"result needs what most_signals gives, but {type(result).__name__} came")
    si, source = result.si, result.board.source
    reasons = {
        BY_ADAPTER: f"One more would draw up to {say(si.next_current, 'A')}, beyond the "
        f"{say(si.allowed or 0.0, 'A')} that is {say(result.derating, '')} of the adapter's rating.",
        BY_LIGHT: f"With one more the weakest lamp would keep {say(result.next_share, '', 4)} of its light, "
        f"less than the {say(result.wanted, '')} asked for.",
        BY_COUNT: "No end was found.",
    }
    many, keep, whose = "One signal", "keeps", "its"
    if result.count > 1:
        many, keep, whose = f"{result.count} signals", "keep", "their"
    found = [
        Finding(
            FINE if result.count >= RULE_OF_THUMB else LOOK,
            "most signals",
            f"{many}, drawing up to {say(si.current, 'A')}, {keep} {say(result.share, '')} of {whose} light or more. "
            + reasons[result.limited_by],
        )
    ]
    return [*found, _rule_of_thumb(result, source) if isinstance(source, Adapter) else _fresh(result)]


def _fresh(result: MostSignals) -> Finding:
    reason = f"This holds for a fresh battery, and says nothing of how long it gives {say(result.si.current, 'A')}."
    return Finding(LOOK, "battery", reason, "Work out the run time; a battery is for few signals.")


def _rule_of_thumb(result: MostSignals, source: Adapter) -> Finding:
    supposed = RULE_OF_THUMB * result.si.each / result.derating
    each, derated = say(result.si.each, "A"), say(result.derating, "")
    reason = (
        f"The rule of about {RULE_OF_THUMB} signals to an adapter (common practice, no source) supposes an adapter of "
        f"about {say(supposed, 'A', 2)}: {RULE_OF_THUMB} times {each} at {derated} of its rating. "
        f"This one is rated {say(source.si.max_current, 'A')}."
    )
    close = 0.8 <= supposed / source.si.max_current <= 1.25
    return Finding(FINE, "rule of thumb", reason if not close else reason + " Here the rule fits.")
