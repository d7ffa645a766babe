"""What the switch or relay of a bench circuit joins in each position, faults included."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from .circuit import HELD, LAMPS
from .state import Bench, Coil

PLUS, MINUS, NOTHING = 1, -1, 0
_BROKEN = 1e9  # ohm: a coil beyond it carries no current that would pull
_MEANT = {"red": (PLUS, MINUS), "green": (MINUS, PLUS)}


class Position(NamedTuple):
    """One position of the signal: the rail each lead is on, its contact in ohm, and what feeds the coil.

    `fed` says whether the coil is fed, less `opposing` in V of the supply, and `moved` whether the relay has pulled in.
    """

    rail_a: Any
    rail_b: Any
    contact_a: Any
    contact_b: Any
    coil_conductance: Any
    opposing: Any
    fed: Any
    moved: Any


def position(bench: Bench, lamp: str) -> Position:
    """What is joined while the signal is set for "red" or "green"."""
    if bench.coil is None:
        moved = np.full(np.shape(bench.supply), lamp != LAMPS[0])
        return _joined(bench, LAMPS[0], moved, np.zeros_like(moved), 0.0, 0.0)
    fed, kept = _fed(bench, lamp)
    conductance = np.where(fed, 1.0 / bench.coil.resistance, 0.0)
    moved = fed & _pulls_in(bench, bench.coil, conductance, kept) | (bench.coil.armature == "pulled in")
    resting = next(each for each in LAMPS if each != bench.coil.fed_lamp)
    return _joined(bench, resting, moved, fed, conductance, kept)


def _fed(bench: Bench, lamp: str) -> tuple[NDArray[np.bool_], Any]:
    """Whether the coil is fed, and what its feed then keeps of the supply. A timer holds red, as a train sets it."""
    trigger = bench.trigger
    if trigger is None:
        return np.full(np.shape(bench.supply), lamp == bench.coil.fed_lamp), 0.0
    closes = trigger.reed == "closed" or (trigger.reed == "sound" and trigger.magnet_reaches)
    never_ends = np.isinf(trigger.timing.seconds(bench.supply))
    holds = ((lamp == HELD) & closes) | (trigger.reed == "closed") | (never_ends & closes)
    alive = trigger.works & (bench.supply > trigger.keeps) & (not bench.alternating)
    return (holds if bench.coil.fed_lamp == HELD else ~holds) & alive, trigger.keeps


def _pulls_in(bench: Bench, coil: Coil, conductance: Any, kept: Any) -> NDArray[np.bool_]:
    """Whether the coil's voltage reaches what it pulls in at; the lamps' milliamperes on the source are left out."""
    if bench.alternating or coil.armature != "free":
        return np.zeros(np.shape(bench.supply), bool)
    load = bench.source_resistance * conductance
    sound = coil.resistance < _BROKEN
    return sound & (np.abs(np.abs(bench.supply) - kept) / (1.0 + load) >= coil.pull_in)


def _joined(bench: Bench, direct: str, moved: Any, fed: Any, conductance: Any, kept: Any) -> Position:
    """The rails and contacts, with the direct throw for one lamp and the crossed throw for the other."""
    crossed = next(each for each in LAMPS if each != direct)
    rails, contact = [], {}
    for place, lead in enumerate("ab"):
        over = moved & (lead not in bench.held)
        rails.append(np.where(over, _over_the_x(bench.crossing, crossed)[place], _MEANT[direct][place]))
        contact[lead] = over
    first = np.where(contact["a"], getattr(bench, f"contact_{crossed}"), getattr(bench, f"contact_{direct}"))
    return Position(*rails, first, bench.second_contact, conductance, kept, fed, moved)


def _over_the_x(crossing: str, lamp: str) -> tuple[int, int]:
    """The rails of leads A and B on the crossed throw, which is meant to light `lamp`."""
    meant = _MEANT[lamp]
    if crossing == "straight":
        return meant[::-1]
    if crossing == "single throw":
        return NOTHING, NOTHING
    missing = {"plus jumper missing": PLUS, "minus jumper missing": MINUS}.get(crossing)
    return tuple(NOTHING if rail == missing else rail for rail in meant)
