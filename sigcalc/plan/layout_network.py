"""What is wrong with a layout's feeder as a whole: names said twice, places that nothing feeds, loops; all of it."""

from __future__ import annotations

import dataclasses
from collections import Counter
from typing import Any

from ..design.board.board import SUPPLY
from ..errors import Fault, SigcalcError
from ..units.reading import quoted

_CALLED = {"signals": "signal", "feeders": "run"}


def in_words(fault: Fault | str, given: dict[str, Any]) -> Fault | str:
    """A fault of an entry of a layout's lists, with the entry's own name in place of its number."""
    if isinstance(fault, str) or len(fault.place) < 2 or fault.place[0] not in _CALLED or fault.owner:
        return fault
    what, number, *rest = fault.place
    return dataclasses.replace(
        fault, place=tuple(rest), owner=_owner(what, dict(_entries(given[what])).get(number), number)
    )


def beside(signal: Any, fault: Fault | str) -> Fault:
    """A fault of the plan's file that a signal names."""
    where = f"{_owner('signals', signal, 0)}, plan {signal['plan']}"
    if isinstance(fault, str):
        return Fault((), SigcalcError(fault), where)
    return dataclasses.replace(fault, owner=where)


def _owner(what: str, entry: Any, number: int) -> str:
    name = _text(entry, "name")
    return f"{_CALLED[what]} {quoted(name)}" if name else f"{_CALLED[what]} no. {number + 1}"


def network_faults(given: dict[str, Any]) -> list[Fault]:
    """The faults of a layout's data, be they read or raw; what has no names yet is left to its own faults."""
    feeders, signals = (_entries(given.get(each)) for each in ("feeders", "signals"))
    none = not signals and isinstance(given.get("signals", ()), list | tuple)
    found = [Fault(("signals",), SigcalcError("a layout needs at least one signal"))] if none else []
    for what, entries in (("feeders", feeders), ("signals", signals)):
        counts = Counter(_text(each, "name") for _, each in entries)
        found += [
            _fault(what, number, "name", f"{quoted(name)} is there already; give each its own name")
            for number, name in _again(entries)
            if counts[name] > 1
        ]
    joined, loops = _joined(feeders)
    found += loops
    reached = joined.get(SUPPLY, SUPPLY)
    for number, each in signals:
        at = _text(each, "at")
        if at and at != SUPPLY and joined.get(at) is None:
            said = f"no run goes to {quoted(at)}; the places are {_places(joined)}"
            found.append(_fault("signals", number, "at", said))
    lost = {place for place, root in joined.items() if root != reached}
    for number, each in feeders:
        start = _text(each, "start")
        if start in lost:
            said = f"nothing joins {quoted(start)} to {quoted(SUPPLY)}; add that run"
            found.append(_fault("feeders", number, "start", said))
    return found


def _fault(what: str, number: int, field: str, sentence: str) -> Fault:
    return Fault((what, number, field), SigcalcError(sentence))


def _entries(given: Any) -> list[tuple[int, Any]]:
    return list(enumerate(given)) if isinstance(given, list | tuple) else []


def _text(entry: Any, name: str) -> str:
    """A name in an entry, be that data or a section; empty where there is none to read."""
    value = entry.get(name) if isinstance(entry, dict) else getattr(entry, name, None)
    return value.strip() if isinstance(value, str) else ""


def _again(entries: list[tuple[int, Any]]) -> list[tuple[int, str]]:
    """Every entry whose name an earlier one has."""
    seen: set[str] = set()
    found = []
    for number, each in entries:
        name = _text(each, "name")
        if name and name in seen:
            found.append((number, name))
        seen.add(name)
    return found


def _joined(feeders: list[tuple[int, Any]]) -> tuple[dict[str, str], list[Fault]]:
    """For each place the one that speaks for all that are joined to it, and a fault for each run too many."""
    leader: dict[str, str] = {}

    def lead(place: str) -> str:
        while leader[place] != place:
            leader[place] = place = leader[leader[place]]
        return place

    faults = []
    for number, each in feeders:
        start, end = (_text(each, side) for side in ("start", "end"))
        if not start or not end:
            continue
        for place in (start, end):
            leader.setdefault(place, place)
        if start == end:
            said = f"it ends where it starts, at {quoted(end)}; give two places"
            faults.append(_fault("feeders", number, "end", said))
        elif lead(start) == lead(end):
            said = f"from {quoted(start)} to {quoted(end)} it closes a loop; leave one run out"
            faults.append(Fault(("feeders", number), SigcalcError(said)))
        else:
            leader[lead(end)] = lead(start)
    return {place: lead(place) for place in leader}, faults


def _places(joined: dict[str, str]) -> str:
    places = [place for place in (SUPPLY, *joined) if place]
    shown = ", ".join(quoted(each) for each in dict.fromkeys(places[:8]))
    return shown if len(places) <= 8 else f"{shown} and more"
