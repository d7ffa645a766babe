"""The scenes of a talk on a reader's own layout, and those of one of its signals."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from ..design.board.board import CHAIN, MIXED, STAR, SUPPLY
from ..errors import DesignError
from ..parts.fuse import area_of
from ..plan.layout import Layout
from . import quillhaven
from .own_plan_talk import SCENES, Own
from .own_talk import Setting, Settings, Wall
from .scene import KitLine

_MOST = len(quillhaven.PLACES)


@dataclass
class OwnLayout:
    """A reader's layout for the panels: its way from the supply to each place, and how most of its signals are made."""

    layout: Layout
    signal: Own
    wall: Wall
    far: Mapping[str, float] = field(init=False)

    def __post_init__(self) -> None:
        far, left = {SUPPLY: 0.0}, list(self.layout.feeders)
        while left:  # a layout's runs all lead to its supply
            reached = [each for each in left if each.start in far or each.end in far]
            for each in reached:
                start, end = (each.start, each.end) if each.start in far else (each.end, each.start)
                far[end] = far[start] + each.length.m_as("m")
            left = [each for each in left if each not in reached]
        self.far = far

    @property
    def wired(self) -> str:
        """As a chain, a star, or both mixed."""
        starts = Counter(each.start for each in self.layout.feeders)
        if set(starts) == {SUPPLY}:
            return STAR
        return CHAIN if max(starts.values()) == 1 else MIXED

    def power(self, panel: str) -> Settings:
        """What feeds the signals, what each of them is, and what limits its current."""
        plans = [self.layout.plan_of(each) for each in self.layout.signals]
        relays = [each.relay or "sensitive" for each in plans if each.wiring.reversing == "relay"]
        driven = [each for each in plans if each.drive.kind != "resistor"]
        if len(relays) not in (0, len(plans)) or len(driven) not in (0, len(plans)):
            self.wall.note("The panels' signals are all made in one way, as most of your signals are.")
        self.wall.note(
            f"The panels' signals are those of an invented layout, at {quillhaven.CURRENT} each, on your supply."
        )
        by_relay = quillhaven.SENSITIVE if all("sensitive" in each for each in relays) else quillhaven.RELAY
        return {
            "source": self.wall.source(panel, self.layout.supply.record(), self.layout.supply.name, quillhaven.SOURCES),
            "each signal": by_relay if 2 * len(relays) > len(plans) else quillhaven.HAND,
            "what limits the current": quillhaven.DRIVES[2 * len(driven) > len(plans)],
        }

    def wire(self, panel: str) -> Settings:
        """The thinnest wire of the runs, how they are joined, and how long the layout is."""
        thinnest = min(self.layout.feeders, key=lambda each: area_of(each.wire))
        area = area_of(thinnest.wire)
        off = {each: abs(math.log(area_of(each) / area)) for each in quillhaven.GAUGES}
        label = min(off, key=off.__getitem__)
        if off[label] > 0.02:
            self.wall.note(f"{label} stands in for your thinnest wire, {thinnest.wire}.")
        elif len({each.wire for each in self.layout.feeders}) > 1:
            self.wall.note(f"The panels have one wire for all runs: your thinnest, {label}.")
        return {"wire": label, "wired as": self.wired, **self.length(panel)}

    def length(self, panel: str) -> Settings:
        """From the supply to the farthest place."""
        return {"layout length": self.wall.slider(panel, "layout length", max(self.far.values()), "m")}


def _one_by_one(own: OwnLayout) -> Setting:
    panel, count = "signals one by one", min(len(own.layout.signals), _MOST)
    if count < 2:
        raise DesignError("your layout has one signal")
    if count < len(own.layout.signals):
        own.wall.note(f"“{panel}” goes up to {_MOST} signals; you have {len(own.layout.signals)}.")
    start = own.power(panel) | own.wire(panel) | {"signals connected": 1}
    return start, {"signals connected": count}, {"count": str(count)}


def _how_many(own: OwnLayout) -> Setting:
    panel = "how many signals"
    power, wired = own.power(panel), own.wired
    if wired == MIXED:
        own.wall.note(f"“{panel}” takes your layout for a {CHAIN}.")
        wired = CHAIN
    apart = sum(each.length.m_as("m") for each in own.layout.feeders) / len(own.layout.signals)
    start = power | {
        "wire": own.wire("signals one by one")["wire"],
        "wired as": wired,
        "signal to signal": own.wall.slider(panel, "signal to signal", round(apart, 1), "m"),
        "light wanted": own.wall.slider(panel, "light wanted", 100 * own.layout.share, "%"),
    }
    return start, {}, {"source": str(power["source"])}


def _which_wire(own: OwnLayout) -> Setting:
    panel = "which gauge"
    share = own.wall.slider(panel, "light wanted", 100 * own.layout.share, "%")
    start = own.power(panel) | own.length(panel) | {"wired as": own.wired, "light wanted": share}
    return start, {}, {"share": f"{share:g}\u00a0%"}


def _short(own: OwnLayout) -> Setting:
    panel = "short circuit"
    start = own.power(panel) | own.wire(panel)
    start |= {"fuse at the source": own.layout.fuse or "none", "short circuit at": "nowhere"}
    return start, {"short circuit at": list(quillhaven.PLACES)[-1]}, {}


def _of_the_signal(name: str) -> Callable[[OwnLayout], Setting | None]:
    settings = next(each for named, _, each in SCENES if named == name)
    return lambda own: settings(own.signal)


LAYOUT_SCENES: tuple[tuple[str, int, Callable[[OwnLayout], Setting | None]], ...] = (
    ("Why a resistor", 6, _of_the_signal("Why a resistor")),
    ("Which lamp lights", 5, _of_the_signal("Which lamp lights")),
    ("Turned round by a switch", 7, _of_the_signal("Turned round by a switch")),
    ("Turned round by a relay", 7, _of_the_signal("Turned round by a relay")),
    ("One signal more", 0, _one_by_one),
    ("How many signals", 2, _how_many),
    ("Which wire", 3, _which_wire),
    ("Something bridges the wires", 1, _short),
    ("Find the fault", 4, _of_the_signal("Find the fault")),
)


def own_layout(layout: Layout, wall: Wall) -> OwnLayout:
    """The layout with the first of its signals that would light; DesignError where none would."""
    for number, each in enumerate(layout.signals, start=1):
        kept = list(wall.notes)
        try:
            return OwnLayout(layout, Own(layout.plan_of(each), wall), wall)
        except DesignError:
            wall.notes[:] = kept
            if number == len(layout.signals):
                raise
    raise DesignError("the layout has no signal")


def bench_of(layout: Layout) -> dict[str, KitLine]:
    """What the speaker needs to show a layout's wires."""
    thinnest = min(layout.feeders, key=lambda each: area_of(each.wire)).wire
    items = [f"twin wire on its reel: {thinnest}", *([] if layout.fuse is None else [f"fuse: {layout.fuse}"])]
    return {each: KitLine(item=each, once=1) for each in items}
