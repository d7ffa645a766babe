"""What is wrong with a layout's feeder as a whole: names said twice, places that nothing feeds, loops; all of it."""

from __future__ import annotations

from collections import Counter
from typing import Any

from ..design.board.board import SUPPLY
from ..units.reading import quoted


def network_faults(given: dict[str, Any]) -> list[str]:
    """The faults of a layout's data, be they read or raw; what has no names yet is left to its own faults."""
    feeders, signals = (_entries(given.get(each)) for each in ("feeders", "signals"))
    none = not signals and isinstance(given.get("signals", ()), list | tuple)
    found = ["signals: a layout needs one signal at the least"] if none else []
    for what, entries in (("feeders", feeders), ("signals", signals)):
        counts = Counter(_text(each, "name") for _, each in entries)
        found += [
            f"{what}.{number}.name: {quoted(name)} is there already; give each its own name"
            for number, name in _again(entries)
            if counts[name] > 1
        ]
    joined, loops = _joined(feeders)
    found += loops
    reached = joined.get(SUPPLY, SUPPLY)
    for number, each in signals:
        at = _text(each, "at")
        if at and at != SUPPLY and joined.get(at) is None:
            found.append(f"signals.{number}.at: no section goes to {quoted(at)}; the places are {_places(joined)}")
    lost = {place for place, root in joined.items() if root != reached}
    for number, each in feeders:
        start = _text(each, "start")
        if start in lost:
            found.append(f"feeders.{number}.start: nothing joins {quoted(start)} to {quoted(SUPPLY)}; add that section")
    return found


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


def _joined(feeders: list[tuple[int, Any]]) -> tuple[dict[str, str], list[str]]:
    """For each place the one that stands for all that are joined to it, and a fault for each section too many."""
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
            faults.append(f"feeders.{number}.end: it ends where it starts, at {quoted(end)}; give two places")
        elif lead(start) == lead(end):
            faults.append(
                f"feeders.{number}: from {quoted(start)} to {quoted(end)} it closes a loop; leave one section out"
            )
        else:
            leader[lead(end)] = lead(start)
    return {place: lead(place) for place in leader}, faults


def _places(joined: dict[str, str]) -> str:
    places = [place for place in (SUPPLY, *joined) if place]
    shown = ", ".join(quoted(each) for each in dict.fromkeys(places[:8]))
    return shown if len(places) <= 8 else f"{shown} and more"
