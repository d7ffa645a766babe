"""How many signals one source takes, and which wire keeps the last one bright enough."""

from __future__ import annotations

from ..design.board import feeder, feeder_gauge, relay_reach
from ..design.board import most_signals as most
from ..design.board.adding_signals import add_signals
from ..design.board.along_layout import pair_length
from ..design.board.board_study import BoardStudy
from ..design.board.feeder import WIRE_CURRENT, study_board
from ..design.board.feeder_gauge import USUAL_GAUGES, gauge_for
from ..design.board.gauge_shares import gauge_shares
from ..design.board.most_signals import LAYOUTS, most_signals
from ..design.findings import FINE, Finding
from ..lessons import quillhaven
from ..units import say
from ..views.board_words import wire_words
from ..views.gauge_bars import gauge_bars
from ..views.most_signals import MostSignalsChart
from .base import Panel
from .board import GAUGE, GAUGES, LIMIT, MAKE, SOURCE, WIRING, BoardPanel, power_controls, wire_controls
from .control import NumberControl, choice
from .scene import Scene

RUN, SHARE, DERATING = "signal to signal", "light to keep", "adapter loaded to"


class HowManySignals(Panel):
    """Equal signals on one source: the most of them, and what sets the end."""

    height = "34em"

    def __init__(self) -> None:
        self.chart = MostSignalsChart()
        controls = [
            *power_controls(),
            NumberControl(DERATING, "%", 20, 100, 80, step=5),
            choice(WIRING, list(LAYOUTS), narrow=True),
            choice(GAUGE, list(GAUGES.items()), 26, narrow=True),
            NumberControl(RUN, "m", 0.2, 10, 1.5, step=0.1),
            NumberControl(SHARE, "%", 20, 99, 80, step=1),
        ]
        super().__init__(controls, "How many signals does one source take?")

    def draw(self) -> Scene:
        """The curve, the most signals, and the rule of thumb with what it supposes."""
        source = self[SOURCE].value
        load = quillhaven.load(source, self[MAKE].value, self[LIMIT].value)
        way = {"wire": self[GAUGE].value, "run": self.text(RUN), "layout": self[WIRING].value}
        result = most_signals(source, load, share=self.text(SHARE), derating=self.text(DERATING), **way)
        adding = add_signals(source, load, counts=_counts(result.count), **way)
        picture = self.chart.picture(result, adding, self.size)
        return Scene((picture,), picture.sentence, (*_on_board(study_board(result.board)), *most.findings(result)[1:]))


def _counts(count: int) -> list[int]:
    """A few numbers of signals up to twice as many, the most that are allowed and one more among them."""
    end = max(8, 2 * count)
    return sorted({1, max(count // 2, 1), count, count + 1, (count + end) // 2, end})


class WhichGauge(BoardPanel):
    """The thinnest wire that keeps the last signal within a share of its light."""

    height = "38em"

    def __init__(self) -> None:
        kept = [each for each in wire_controls() if each.name != GAUGE]
        controls = [*power_controls(), *kept, NumberControl(SHARE, "%", 20, 99, 90, step=1)]
        super().__init__(controls, "Which wire keeps the last signal bright?")

    def draw(self) -> Scene:
        """What each gauge leaves, the one that is enough, and how much of it the wiring takes."""
        board, share = self.board(wire=USUAL_GAUGES[0]), self.text(SHARE)
        chosen = gauge_for(board, share=share)
        shares = {each.gauge: each.share for each in chosen.tried}
        shares |= gauge_shares(board, [gauge for gauge in USUAL_GAUGES if gauge not in shares])
        picture = gauge_bars(shares, share, self.size)
        metres = pair_length(board).m_as("m")
        sentence = (
            f"Wired as {self[WIRING].value}, {metres:.3g} m of twin wire, {wire_words(chosen.gauge)}: the weakest, "
            f"{chosen.weakest}, keeps {say(chosen.share, '')} of its light at worst."
        )
        return Scene((picture,), sentence, (*_relays(study_board(chosen.board)), *feeder_gauge.findings(chosen)))


def _relays(study: BoardStudy) -> tuple[Finding, ...]:
    """Where the relays give up before the lamps are too dim; nothing where they all pull in."""
    found = relay_reach.findings(relay_reach.relay_reach(study))
    return tuple(each for each in found if each.grade != FINE)


def _on_board(study: BoardStudy) -> tuple[Finding, ...]:
    """What gives up before the lamps are too dim: relays that stay off, and wire that does not bear its current."""
    found = [each for each in feeder.findings(study) if each.topic == WIRE_CURRENT]
    return (*_relays(study), *found)
