"""How few contacts can turn the current round: a trial of every wiring there is, with wire alone.

The points are the supply's poles, the two leads A and B, and the terminals of the
contacts. Wire can join points into groups in any way: every partition of the points is
one wiring, so unused terminals, jumpers between any points and joints that lead to
contacts only are all included. A wiring reverses when, with no short circuit at that
moment, some state of the contacts lights red (A above B) and another green.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from ...errors import DesignError, UnknownNameError
from ...parts.contacts import SPLIT_SUPPLY, SUPPLIES
from ...parts.table import unknown
from ...physics.contacts import MOST_POINTS, joined, set_partitions
from ...units import with_units
from ...units.reading import quoted
from ..findings import FINE, LOOK, STOP, Finding

CONTACTS = {
    "single-throw": (("a", "b"), ((), ((0, 1),))),
    "changeover": (("common", "rest", "worked"), (((0, 1),), ((0, 2),))),
}
"""Terminals of each contact and, for each of its states, the terminals joined."""

_LEADS = ("A", "B")


@dataclass(frozen=True)
class WiringSearch:
    """What a trial of every wiring found.

    Attributes
    ----------
    supply, contact, count: what was tried
    ganged: whether all contacts move together
    wirings: how many wirings there are, all of them tried
    states: how many states of the contacts each was tried in
    lighting: wirings that light a lamp in some state without a short circuit
    switching: wirings that light in some state and are dark in another, never short, and do not reverse
    reversing: wirings that reverse
    safe: those that reverse and short the supply in no state
    kinds: how many the reversing wirings are when those count as one that differ only in how contacts and
        their equal terminals are numbered
    example: the groups of joined points of one that reverses (a safe one where there is one), else empty
    """

    supply: str
    contact: str
    count: int
    ganged: bool
    wirings: int
    states: int
    lighting: int
    switching: int
    reversing: int
    safe: int
    kinds: int
    example: tuple[tuple[str, ...], ...]

    @property
    def sentence(self) -> str:
        """The result in words."""
        plural = "" if self.count == 1 else "s"
        ganged = " moving together" if self.ganged and self.count > 1 else ""
        tried = (
            f"{self.count} {self.contact} contact{plural}{ganged} on a {self.supply} supply can be wired in "
            f"{_spaced(self.wirings)} ways"
        )
        if not self.reversing:
            return f"{tried}: {_spaced(self.switching)} switch a lamp on and off, none turns the current round."
        kinds = "all of one kind" if self.kinds == 1 else f"of {self.kinds} kinds"
        safe = {0: "every one of them has", self.reversing: "none of them has"}
        shorts = safe.get(self.safe, f"{self.reversing - self.safe} of them have")
        turn = f"{_spaced(self.reversing)} turn the current round, {kinds}"
        return f"{tried}: {turn}; {shorts} states that short the supply."


def _spaced(count: int) -> str:
    return f"{count:,}".replace(",", " ")


@with_units
def search_wirings(supply: str, contact: str, count: int, ganged: bool = False) -> WiringSearch:
    """Try every way of wiring `count` contacts.

    Parameters
    ----------
    supply: "two-terminal" (+ and -) or "split" (+, 0 and -)
    contact: "single-throw" or "changeover"
    count: number of contacts; poles, leads and terminals may be 12 points together, which takes about two seconds
    ganged: all contacts move together, like the poles of one switch

    Raises UnknownNameError for a supply or contact of another kind, DesignError for a count that cannot be tried,
    UnitError for a `ganged` that is neither True nor False.
    """
    for what, name, known in (("supply", supply, SUPPLIES), ("contact", contact, CONTACTS)):
        if not isinstance(name, str) or name not in known:
            raise UnknownNameError(unknown(what, name, known))
    most = (MOST_POINTS - len(SUPPLIES[supply]) - len(_LEADS)) // len(CONTACTS[contact][0])
    if isinstance(count, bool) or not isinstance(count, int) or not 0 <= count <= most:
        raise DesignError(
            f"count needs a whole number of contacts from 0 to {most}, but {quoted(count)} came; try fewer contacts"
        )
    return _search(supply, contact, count, bool(ganged))


@lru_cache(maxsize=32)
def _search(supply: str, contact: str, count: int, ganged: bool) -> WiringSearch:
    groups = set_partitions(len(_points(supply, contact, count)))
    seen = _try(groups, supply, contact, count, ganged)
    reversing = seen["red"] & seen["green"]
    safe = reversing & ~seen["short"]
    switching = (seen["red"] | seen["green"]) & seen["dark"] & ~seen["short"] & ~reversing
    found = np.flatnonzero(safe if safe.any() else reversing)
    return WiringSearch(
        supply,
        contact,
        count,
        ganged,
        wirings=groups.shape[1],
        states=len(CONTACTS[contact][1]) ** (min(count, 1) if ganged else count),
        lighting=int((seen["red"] | seen["green"]).sum()),
        switching=int(switching.sum()),
        reversing=int(reversing.sum()),
        safe=int(safe.sum()),
        kinds=_kinds(groups[:, reversing], supply, contact, count, ganged),
        example=_named_groups(groups[:, found[0]], _points(supply, contact, count)) if len(found) else (),
    )


def fewest_contacts(supply: str, contact: str, ganged: bool = False) -> tuple[WiringSearch, ...]:
    """The searches with 0, 1, 2 ... contacts up to the first number that reverses.

    Raises UnknownNameError as `search_wirings` does, DesignError where no number that can be tried reverses.
    """
    searches = []
    while not (searches and searches[-1].reversing):
        searches.append(search_wirings(supply, contact, len(searches), ganged))
    return tuple(searches)


def _points(supply: str, contact: str, count: int) -> tuple[str, ...]:
    terminals = (f"{number} {terminal}" for number in range(1, count + 1) for terminal in CONTACTS[contact][0])
    return (*SUPPLIES[supply], *_LEADS, *terminals)


def _try(groups: np.ndarray, supply: str, contact: str, count: int, ganged: bool) -> dict[str, np.ndarray]:
    """For each wiring whether any state of the contacts shows red, green or dark, and whether any shorts the supply."""
    seen = {what: np.zeros(groups.shape[1], dtype=bool) for what in ("red", "green", "dark", "short")}
    poles = len(SUPPLIES[supply])
    for closed in _closings(groups, poles + len(_LEADS), contact, count, ganged):
        red, green, short = _shows(closed, poles)
        seen["short"] |= short
        seen["red"] |= red & ~short
        seen["green"] |= green & ~short
        seen["dark"] |= ~(red | green | short)
    return seen


def _closings(groups: np.ndarray, first: int, contact: str, count: int, ganged: bool) -> Iterator[np.ndarray]:
    """The groups in every state of `count` contacts, whose terminals are the points from `first` on."""
    if not count:
        yield groups
        return
    terminals, positions = CONTACTS[contact]
    together = count if ganged else 1
    for joins in positions:
        after = groups
        for (a, b), contact_number in itertools.product(joins, range(together)):
            base = first + contact_number * len(terminals)
            after = joined(after, base + a, base + b)
        yield from _closings(after, first + together * len(terminals), contact, count - together, ganged)


def _shows(groups: np.ndarray, poles: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Red, green and short circuit for each wiring; the poles are the first points, highest potential first."""
    a, b = groups[poles], groups[poles + 1]
    red, green, short = np.zeros((3, len(a)), dtype=bool)
    for high, low in itertools.combinations(groups[:poles], 2):
        short |= high == low
        red |= (a == high) & (b == low)
        green |= (b == high) & (a == low)
    return red, green, short


def _kinds(groups: np.ndarray, supply: str, contact: str, count: int, ganged: bool) -> int:
    """How many wirings are left when those count as one that differ only in how contacts and terminals are numbered."""
    if not groups.size:
        return 0
    fixed = list(range(len(SUPPLIES[supply]) + len(_LEADS)))
    place = len(groups) ** np.arange(len(groups))
    codes = [_code(groups[[*fixed, *order]], place) for order in _renumberings(contact, count, ganged, len(fixed))]
    return len(np.unique(np.min(codes, axis=0)))


def _code(groups: np.ndarray, place: np.ndarray) -> np.ndarray:
    """One whole number for each wiring, the same only for the same groups: each point counts as its group's first."""
    firsts = np.argmax(groups[:, None] == groups, axis=1)
    return place @ firsts


def _renumberings(contact: str, count: int, ganged: bool, first: int) -> Iterator[list[int]]:
    """Orders of the terminals that change nothing but names.

    The two ends of a single-throw contact are alike, and so are the two throws of a
    changeover contact, all at once where the contacts move together.
    """
    size = len(CONTACTS[contact][0])
    turned = [1, 0] if size == 2 else [0, 2, 1]
    turns = itertools.product((list(range(size)), turned), repeat=count)
    if ganged and contact == "changeover":
        turns = ([own] * count for own in (list(range(size)), turned))
    for order, own in itertools.product(itertools.permutations(range(count)), list(turns)):
        yield [first + number * size + terminal for number, turn in zip(order, own, strict=True) for terminal in turn]


def _named_groups(groups: np.ndarray, points: tuple[str, ...]) -> tuple[tuple[str, ...], ...]:
    """The groups of two or more points, by name."""
    named = (
        tuple(point for point, of in zip(points, groups, strict=True) if of == group) for group in np.unique(groups)
    )
    return tuple(group for group in named if len(group) > 1)


def findings(result: WiringSearch) -> tuple[Finding, ...]:
    """The verdict on a number of contacts, with its remedy."""
    if not result.reversing:
        remedy = f"Take four single-throw contacts, two changeover contacts moving together, or {SPLIT_SUPPLY}."
        return (Finding(STOP, "reversing", result.sentence, remedy),)
    if not result.safe:
        remedy = "Couple the contacts, or open all of them before closing any."
        return (Finding(LOOK, "reversing", result.sentence, remedy),)
    return (Finding(FINE, "reversing", result.sentence),)
