"""Turning the current round: what each position of a switch or relay shows, also on the way between two.

Current from wire A to wire B lights red, the other way round green. Everything is
found from which points are joined, never from the name of a wiring.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import singledispatch

from ...errors import DesignError, UnknownNameError
from ...parts.contacts import SPLIT_SUPPLY, Join, Wiring, labelled, wirings
from ...parts.table import unknown
from ..findings import FINE, LOOK, STOP, Finding
from .wiring import DARK, GREEN, RED, SHORT, Shown, in_words, read_position, show, show_all

BREAK_FIRST, MAKE_FIRST, OPEN_FIRST = "break before make", "make before break", "all open first"
MANNERS = (BREAK_FIRST, MAKE_FIRST, OPEN_FIRST)
RESISTOR_FIRST = "With the resistor between supply and switch a short circuit only puts the supply across the resistor."
_MOST_MOVING = 6  # moving contacts; each may be in three states


@dataclass(frozen=True)
class Reversing:
    """What a wiring shows in each of its positions."""

    wiring: Wiring
    states: tuple[Shown, ...]

    def lamp_in(self, position: str | Mapping[str, str]) -> str:
        """What lights in that position: "red", "green", "dark" or "short circuit".

        With several signals the lamps are named one after the other: "red, green".
        """
        lamps = self.shown(position).lamps
        return SHORT if SHORT in lamps else ", ".join(lamps)

    def shown(self, position: str | Mapping[str, str]) -> Shown:
        """The whole answer for one position, given as "up", "switch up" or {"switch": "up"}."""
        words = in_words(self.wiring, read_position(self.wiring, position))
        return next(each for each in self.states if each.position == words)

    @property
    def reverses(self) -> bool:
        """Whether every signal shows red in one position and green in another."""
        seen = [set(lamps) for lamps in zip(*(each.lamps for each in self.states), strict=True)]
        return all({RED, GREEN} <= each for each in seen)

    @property
    def sentence(self) -> str:
        """What the wiring does, in words."""
        shorts = sum(each.short for each in self.states)
        does = "turns the current round" if self.reverses else "never turns the current round"
        warning = f"; {shorts} of its {len(self.states)} positions short the supply" if shorts else ""
        return f"The wiring {self.wiring.name!r} {does}{warning}."


def reversing(wiring: str | Wiring) -> Reversing:
    """Work out every position of a wiring, given by its name in `wirings` or as a `Wiring`.

    Raises UnknownNameError for a name that is in no table, DesignError for more than
    4096 combinations of positions.
    """
    wiring = _wiring(wiring)
    return Reversing(wiring, show_all(wiring))


def _wiring(wiring: str | Wiring) -> Wiring:
    return wiring if isinstance(wiring, Wiring) else wirings[wiring]


@dataclass(frozen=True)
class Change:
    """Everything that can be seen while the contacts travel from one position to another, both ends included."""

    wiring: Wiring
    start: str
    end: str
    manner: str
    states: tuple[Shown, ...]

    @property
    def short(self) -> bool:
        """Whether any state on the way shorts the supply."""
        return any(each.short for each in self.states)

    @property
    def sentence(self) -> str:
        """What happens on the way, in words."""
        start = f"From {self.start} to {self.end}, {self.manner}: {len(self.states)} states are possible, "
        if shorts := sum(each.short for each in self.states):
            return start + f"{shorts} of them a short circuit."
        dark = sum(set(each.lamps) == {DARK} for each in self.states)
        return start + f"none of them a short circuit, {dark} dark."


def change(
    wiring: str | Wiring,
    start: str | Mapping[str, str],
    end: str | Mapping[str, str],
    manner: str = BREAK_FIRST,
) -> Change:
    """Every state the moving contacts can pass through between two positions.

    No two contacts move at quite the same moment, so each is taken to be at its old
    place, in between, or at its new place, in every combination.

    Parameters
    ----------
    manner: "break before make" (in between a moving contact touches nothing), "make before break" (it touches
        old and new place at once), or "all open first" (no contact closes before all have opened, as a careful
        hand does with single switches)

    Raises UnknownNameError for an unknown wiring, position or manner; DesignError where more than six contacts move.
    """
    wiring = _wiring(wiring)
    if manner not in MANNERS:
        raise UnknownNameError(unknown("manner", manner, MANNERS))
    first, last = read_position(wiring, start), read_position(wiring, end)
    still, moving = _travel(wiring, first, last)
    if len(moving) > _MOST_MOVING:
        raise DesignError(
            f"{len(moving)} contacts move at once, at most {_MOST_MOVING} are tried; change fewer devices"
        )
    states = {}
    for stages in _stages(len(moving), manner):
        steps = [contact[stage] for contact, stage in zip(moving, stages, strict=True)]
        closed = frozenset(itertools.chain(still, *(joins for _, joins in steps)))
        words = ", ".join(words for words, _ in steps) or in_words(wiring, first)
        states.setdefault(closed, show(wiring, sorted(closed), words))
    return Change(wiring, in_words(wiring, first), in_words(wiring, last), manner, tuple(states.values()))


_Stage = tuple[str, frozenset[Join]]


def _travel(
    wiring: Wiring, first: tuple[str, ...], last: tuple[str, ...]
) -> tuple[list[Join], list[dict[str, _Stage]]]:
    """The joins that stay, and for each moving contact its words and joins at each stage of its way."""
    still: list[Join] = []
    moving = []
    for (label, device), old_name, new_name in zip(wiring.devices, first, last, strict=True):
        for number, pole in enumerate(device.poles, 1):
            old, new = (
                frozenset(labelled(label, join) for join in device.position(name).joins if join[0] in pole)
                for name in (old_name, new_name)
            )
            contact = f"{label} contact {number}" if len(device.poles) > 1 else label
            if old == new:
                still.extend(old)
            else:
                moving.append(
                    {
                        "old": (f"{contact} still {old_name}", old),
                        "open": (f"{contact} touching nothing", old & new),
                        "both": (f"{contact} touching both sides", old | new),
                        "new": (f"{contact} already {new_name}", new),
                    }
                )
    return still, moving


def _stages(contacts: int, manner: str) -> Iterator[tuple[str, ...]]:
    if manner == OPEN_FIRST:
        return itertools.chain(
            itertools.product(("old", "open"), repeat=contacts), itertools.product(("open", "new"), repeat=contacts)
        )
    between = "open" if manner == BREAK_FIRST else "both"
    return itertools.product(("old", between, "new"), repeat=contacts)


@singledispatch
def findings(result: object) -> tuple[Finding, ...]:
    """The verdicts on a `Reversing` or a `Change`, each with reason and remedy."""
    raise DesignError(f"result needs an answer of this file, such as reversing(...), but {type(result).__name__} came")


@findings.register
def _(result: Reversing) -> tuple[Finding, ...]:
    found = []
    if shorts := [each.position for each in result.states if each.short]:
        grade = LOOK if result.reverses else STOP
        reason = f"{len(shorts)} of {len(result.states)} positions short the supply, the first is {shorts[0]}."
        remedy = (
            "Cross both jumpers of the switch: a straight one joins plus to minus."
            if len(result.wiring.devices) == 1
            else "Use a coupled switch that cannot reach these positions, or fit a fuse and open all switches first."
        )
        found.append(Finding(grade, "reversing", reason, remedy))
    if not result.reverses:
        remedy = f"Use two coupled changeover contacts with crossed jumpers, or {SPLIT_SUPPLY}."
        found.append(Finding(STOP, "reversing", result.sentence, remedy))
    return tuple(found) or (Finding(FINE, "reversing", result.sentence),)


@findings.register
def _(result: Change) -> tuple[Finding, ...]:
    if not result.short:
        return (Finding(FINE, "changing over", result.sentence),)
    remedy = "Use contacts that break before they make; with single switches open all of them first."
    if len(result.wiring.sources) == 1:  # a split supply shorts from pole to pole, past a resistor in one of its wires
        remedy += f" {RESISTOR_FIRST}"
    return (Finding(STOP, "changing over", result.sentence, remedy),)
