"""How a signal's share of light is said, and how a feeder's wire is named."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

import numpy as np

from ..design.feeder import SEEN, UNSEEN
from ..parts.board import FeederSection
from ..parts.board_state import BoardState, lit_led
from ..parts.led import LIT_FROM
from ..parts.wire import Wire
from ..units import Area, kind_of, say
from .phrases import current_words

FULL, DIM, CLEARLY_DIM, FAINT, DARK = "full light", "a little dim", "clearly dim", "faint", "dark"
GRADES = (FULL, DIM, CLEARLY_DIM, FAINT, DARK)

# common practice, no source: with a fifth of its light a lamp no longer passes for one that is meant to be lit
_FAINT_BELOW = 0.2
_GAUGE = re.compile(r"\d{1,2} AWG")


def brightness_word(share: float, current: float) -> str:
    """What a lamp with that share of its light looks like beside a full one; `current` in A, for one that is dark."""
    if current <= LIT_FROM:
        return DARK
    limits = ((UNSEEN, FULL), (SEEN, DIM), (_FAINT_BELOW, CLEARLY_DIM))
    return next((word for least, word in limits if share >= least), FAINT)


def words_of(state: BoardState) -> list[str]:
    """The word for every signal of a board, in its order."""
    return [brightness_word(*pair) for pair in zip(state.share, state.si.current, strict=True)]


def share_words(share: float) -> str:
    """A share of light in whole per cent; nothing is rounded to nought or to all."""
    if 0.0 < share < 0.01:
        return "under 1 %"
    return f"{min(round(100 * share), 99) if share < 0.995 else 100} %"


def wire_words(wire: Any) -> str:
    """A wire in short: its gauge where it has one, else its cross-section or its name."""
    if isinstance(wire, Wire):
        wire = wire.name
    if isinstance(wire, str):
        gauge = _GAUGE.match(wire)
        return gauge[0] if gauge else wire.replace("mm2", "mm²")
    return f"{wire} AWG" if isinstance(wire, int) else say(kind_of(Area).read(wire, "wire"), "m2")


def section_words(section: FeederSection, current: float) -> str:
    """A section's wire and length, and the current in A that it carries."""
    return f"{wire_words(section.wire)}, {section.si.length:.3g} m, {current_words(abs(current))}"


def summary(state: BoardState) -> str:
    """Who shows how much of its light, the brightest first."""
    words, said = np.array(words_of(state)), []
    for word in GRADES:
        places = np.flatnonzero(words == word)
        if places.size:
            said.append(f"{word.capitalize()}: {_listed(state, places, word)}.")
    return " ".join(said)


def _listed(state: BoardState, places: Sequence[int], word: str) -> str:
    names = [
        f"{state.board.signals[place].name} {lit_led(state.board.signals[place], state.showing).colour}"
        for place in places
    ]
    if word == DARK:
        return ", ".join(names)
    return ", ".join(f"{name} {share_words(state.share[place])}" for name, place in zip(names, places, strict=True))
