"""How a signal's share of light is said, and how a feeder's wire is named."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

import numpy as np

from ..design.board.board import FeederSection
from ..design.board.board_state import BoardState, lit_led
from ..design.lamp.drive import DARK, FULL, GRADES, brightness_word
from ..parts.led import LIT_FROM
from ..parts.source import Adapter
from ..parts.wire import Wire
from ..units import Area, kind_of, say
from .phrases import current_words, voltage_words

_LISTED = 16  # more names than that are no summary
_GAUGE = re.compile(r"\d{1,2} AWG")


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
    """Who shows how much of its light, the brightest first; of very many signals how many."""
    words, said = np.array(words_of(state)), []
    for word in GRADES:
        places = np.flatnonzero(words == word)
        if places.size:
            who = _listed(state, places, word) if len(words) <= _LISTED else _counted(places)
            said.append(f"{word.capitalize()}: {who}.")
    return " ".join(said)


def _counted(places: Sequence[int]) -> str:
    return f"{len(places)} signals" if len(places) > 1 else "one signal"


def _listed(state: BoardState, places: Sequence[int], word: str) -> str:
    names = [
        f"{state.board.signals[place].name} {lit_led(state.board.signals[place], state.showing).colour}"
        for place in places
    ]
    if word == DARK:
        return ", ".join(names)
    return ", ".join(f"{name} {share_words(state.share[place])}" for name, place in zip(names, places, strict=True))


def weakest_seen(state: BoardState) -> int | None:
    """The lit signal with the least share of its light, where that is seen."""
    lit = np.flatnonzero(state.si.current > LIT_FROM)
    if not lit.size:
        return None
    place = int(lit[np.argmin(state.share[lit])])
    return place if brightness_word(float(state.share[place]), float(state.si.current[place])) != FULL else None


def gives_words(state: BoardState) -> str:
    """What the source gives, and which part of its rating that is."""
    source, current = state.board.source, state.si.supply_current
    gives = f"gives {current_words(current)}"
    if not isinstance(source, Adapter):
        return gives
    rated = source.si.max_current
    if state.limited:
        return f"gives all of its {say(rated, 'A')}"
    part = current / rated
    return f"{gives} of its {say(rated, 'A')}" + (f", {part:.3g} times" if part > 1 else f" ({share_words(part)})")


def board_sentence(state: BoardState, short: str | None = None) -> str:
    """The source, a short circuit where there is one, and who shows how much light."""
    at = f" A short circuit lies across {short}." if short is not None else ""
    gives = f"{state.board.source.name} {gives_words(state)} at {voltage_words(state.si.supply_voltage)}."
    return f"{gives}{at} {summary(state)}"
