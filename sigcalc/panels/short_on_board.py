"""A short circuit at any place of the board: what every signal shows meanwhile, and what the fuse does."""

from __future__ import annotations

import dataclasses

from ..design.board import feeder, feeder_fuse, feeder_short, fuse_action, relay_reach
from ..design.board.along_layout import MIXED
from ..design.board.board import Board
from ..design.board.board_state import BoardState
from ..design.board.feeder import study_board
from ..design.board.feeder_short import ShortCircuit, short_at
from ..design.findings import FINE, Finding, gravest_first
from ..design.lamp.drive import DARK, FULL, GRADES
from ..lessons import quillhaven
from ..parts.fuse import fuses
from ..units import say
from ..views.board import board_picture
from ..views.board_words import words_of
from .board import BoardPanel, power_controls, wire_controls, worth_saying
from .control import choice
from .scene import Scene

FUSE, SHORT = "fuse at the source", "short circuit at"
NO_FUSE, NOWHERE = "none", "nowhere"
# of the checks of a fuse those that do not hang on where the short lies
_ALWAYS = ("load", "thinnest wire")
_SHOWN = {FULL: "in full light"} | {word: word for word in GRADES if word != FULL}


class ShortPanel(BoardPanel):
    """All signals, a short circuit between the two wires somewhere, with a fuse at the source or without."""

    height = "45em"

    def __init__(self) -> None:
        controls = [
            *power_controls(quillhaven.SENSITIVE),
            *wire_controls(24, MIXED),
            choice(FUSE, [NO_FUSE, *fuses]),
            choice(SHORT, [NOWHERE, *quillhaven.PLACES], "north junction"),
        ]
        super().__init__(controls, "A short circuit somewhere on the board")

    def draw(self) -> Scene:
        """The board while the short lies there, and what the fuse does about it."""
        board = self._fused()
        if self[SHORT].value == NOWHERE:
            study = study_board(board)
            picture = board_picture(study.state(), size=self.size)
            sentence = f"Without a short circuit: {_light_words(study.state())}."
            found = [*relay_reach.findings(relay_reach.relay_reach(study)), *feeder.findings(study)]
            found += [] if board.fuse is None else _against(_check(board))
            return Scene((picture,), sentence, worth_saying(found))
        short = short_at(board, self[SHORT].value)
        state = short.held or short.free
        picture = board_picture(state, short.node, self.size)
        return Scene((picture,), _short_words(short, state), _findings(short))

    def _fused(self) -> Board:
        fuse = self[FUSE].value
        return self.board() if fuse == NO_FUSE else dataclasses.replace(self.board(), fuse=fuses[fuse])


def _findings(short: ShortCircuit) -> tuple[Finding, ...]:
    """Source and wires without a fuse; with one what it does, and what else speaks against it."""
    found = [each for each in feeder_short.findings(short) if each.topic != "other signals"]
    fuse = short.board.fuse
    if fuse is None:
        return worth_saying(found)
    check, action = _check(short.board), fuse_action.fuse_action(short.board, short.node)
    remedy = feeder_fuse.instead(check) if action.outcome == fuse_action.NEVER else ""
    return gravest_first([*fuse_action.findings(action, remedy), *_against(check)])


def _check(board: Board) -> feeder_fuse.FuseCheck:
    return feeder_fuse.check_fuse(dataclasses.replace(board, fuse=None), board.fuse)


def _against(check: feeder_fuse.FuseCheck) -> list[Finding]:
    """What speaks against a fuse wherever the short lies."""
    return [each for each in feeder_fuse.findings(check) if each.topic in _ALWAYS and each.grade != FINE]


def _short_words(short: ShortCircuit, state: BoardState) -> str:
    """What flows, and what every signal shows until something ends it."""
    draws, left = say(short.free.si.supply_current, "A"), _light_words(state)
    before = " before the fuse acts" if short.board.fuse is not None else ""
    if not state.limited:
        return f"With a short circuit at {short.node} the board draws {draws}, which leaves {left}{before}."
    rated = say(short.board.source.si.max_current, "A")
    return (
        f"With a short circuit at {short.node} the board would draw {draws} if the adapter could give it. Held at the "
        f"{rated} it is rated for, that leaves {left}{before}."
    )


def _light_words(state: BoardState) -> str:
    """How many signals show how much light, the first along the layout first."""
    words = words_of(state)
    if set(words) == {DARK}:
        return "every signal dark"
    counted = [f"{words.count(word)} {_SHOWN[word]}" for word in dict.fromkeys(words)]
    counted[0] = counted[0].replace(" ", " signals " if words.count(words[0]) > 1 else " signal ", 1)
    return counted[0] if len(counted) == 1 else f"{', '.join(counted[:-1])} and {counted[-1]}"
