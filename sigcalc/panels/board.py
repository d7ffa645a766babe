"""Many signals on one adapter: Quillhaven's signals added one at a time, until the last one dims."""

from __future__ import annotations

from collections.abc import Sequence

from ..design.board import feeder, relay_reach
from ..design.board.along_layout import WIRINGS, board_along, pair_length
from ..design.board.board import Board
from ..design.board.board_study import BoardStudy, SignalPoint
from ..design.board.feeder import study_board
from ..design.findings import FINE, LOOK, Finding, gravest_first
from ..design.lamp.drive import brightness_word
from ..errors import RangeError
from ..lessons import quillhaven
from ..parts.source import Battery
from ..views.board import board_picture
from ..views.board_lamps import board_lamps
from ..views.board_words import share_words
from .base import Panel
from .control import Control, NumberControl, choice
from .scene import Scene

GAUGES = {f"{gauge} AWG": gauge for gauge in (30, 28, 26, 24, 22, 20)}
SOURCE, MAKE, LIMIT = "source", "each signal", "what limits the current"
WIRING, GAUGE, LENGTH = "wired as", "wire", "layout length"
SIGNALS, SHOW, VIEW = "signals connected", "they show", "view"
WIRES, LAMPS = "wires", "lamps only"
COLOURS = ("red", "green")


def power_controls(make: str = quillhaven.RELAY) -> list[Control]:
    """What feeds the signals, what each of them is, and what limits its current."""
    return [
        choice(SOURCE, list(quillhaven.SOURCES.items())),
        choice(MAKE, list(quillhaven.MAKES), make),
        choice(LIMIT, list(quillhaven.DRIVES)),
    ]


def wire_controls(gauge: int = 30, wiring: str = WIRINGS[0]) -> list[Control]:
    """How the signals are wired, and with what."""
    return [
        choice(WIRING, list(WIRINGS), wiring, narrow=True),
        choice(GAUGE, list(GAUGES.items()), gauge, narrow=True),
        NumberControl(LENGTH, "m", 2, 60, quillhaven.LENGTH, step=1),
    ]


def worth_saying(found: Sequence[Finding]) -> tuple[Finding, ...]:
    """What to look at again, the gravest first; where there is nothing, that all is fine."""
    return gravest_first(each for each in found if each.grade != FINE) or tuple(found)


class BoardPanel(Panel):
    """Signals of Quillhaven on one source, with the controls for power and wires."""

    height = "38em"

    def board(self, count: int = len(quillhaven.PLACES), wire: int | None = None) -> Board:
        """The first so many signals, wired as the controls say."""
        source = self[SOURCE].value
        load = quillhaven.load(source, self[MAKE].value, self[LIMIT].value)
        places = quillhaven.places(self.text(LENGTH), count)
        gauge = self[GAUGE].value if wire is None else wire
        return board_along("Quillhaven", source, load, places, self[WIRING].value, gauge)


class SignalsOneByOne(BoardPanel):
    """Signals added one at a time, until the last one dims."""

    def __init__(self) -> None:
        controls = [
            *power_controls(),
            *wire_controls(),
            NumberControl(SIGNALS, "", 1, len(quillhaven.PLACES), 1, step=1),
            choice(SHOW, list(COLOURS), narrow=True),
            choice(VIEW, [WIRES, LAMPS], narrow=True),
        ]
        super().__init__(controls, "Signals on one source, added one at a time")

    def draw(self) -> Scene:
        """The board with its signals, the weakest of them, and what the last one added took away."""
        count, showing = self._count(), self[SHOW].value
        study = study_board(self.board(count))
        before = study_board(self.board(count - 1)) if count > 1 else None
        waiting, view = list(quillhaven.PLACES)[count:], board_picture if self[VIEW].value == WIRES else board_lamps
        picture = view(study.state(showing), size=self.size, waiting=waiting)
        sentence = f"{_how_wired(study.board)} {_weakest_words(study, before, showing)}"
        found = [*relay_reach.findings(relay_reach.relay_reach(study)), *feeder.findings(study)]
        if isinstance(study.board.source, Battery):
            reason = "This holds for a fresh battery, and says nothing of how long it lasts."
            found.append(Finding(LOOK, "battery", reason, "Work out the run time; a battery is for few signals."))
        return Scene((picture,), sentence, worth_saying(found))

    def _count(self) -> int:
        value = float(self.text(SIGNALS))
        if value != int(value):
            raise RangeError(f"{SIGNALS} needs a whole number, but {value:g} came; type {round(value)}")
        return int(value)


def _how_wired(board: Board) -> str:
    many = f"{len(board.signals)} signals" if len(board.signals) > 1 else "One signal"
    return f"{many} on {pair_length(board).m_as('m'):.3g} m of twin wire."


def _weakest_words(study: BoardStudy, before: BoardStudy | None, showing: str) -> str:
    """The weakest lamp of what is shown, and what the weakest had before the last signal came."""
    point = _weakest(study, showing)
    look = brightness_word(point.share, point.si.current)
    said = f"The weakest, {point.name}, has {share_words(point.share)} of its light: {look}."
    if share_words(point.share) == share_words(1.0):
        said = "Every lamp has all of its light."
    if before is None:
        return said
    return f"{said} With one signal less the weakest had {share_words(_weakest(before, showing).share)}."


def _weakest(study: BoardStudy, showing: str) -> SignalPoint:
    return min(study.signals(showing), key=lambda each: each.share)
