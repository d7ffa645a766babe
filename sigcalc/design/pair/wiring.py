"""Turning the current round: what the signals show in each position of a switch or relay, also on the way between two.

Current from wire A to wire B lights red, the other way round green. Everything is found from which points are joined,
never from the name of a wiring. A lamp lights where its two wires are on different poles of a source.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from ...errors import DesignError
from ...parts.contacts import ContactRating, Join, MapTable, SwitchingDevice, contact_ratings, switching_devices
from ...parts.table import PartsTable, need_name
from ...physics.contacts import levels
from ...units import Current, SupplyVoltage, record, say, with_units
from ..findings import DAMAGE, FINE, LOOK, STOP, Finding

RED, GREEN, DARK, SHORT = "red", "green", "dark", "short circuit"
BREAK_FIRST, MAKE_FIRST = "break before make", "make before break"
RESISTOR_FIRST = "With the resistor between supply and switch a short circuit only puts the supply across the resistor."
SPLIT_SUPPLY = "a split supply (two equal battery packs in series, or one supply made for it; never two adapters)"


@dataclass(frozen=True)
class Wiring:
    """Devices, sources and signals, and the jumpers between them.

    Attributes
    ----------
    devices: pairs of a label and the device; a terminal of it is written "label terminal"
    sources: pairs of points, the plus and the minus pole of each source
    signals: name, wire A and wire B of each two-lead signal; current from A to B lights red
    jumpers: pairs of points joined by wire
    """

    name: str
    devices: tuple[tuple[str, SwitchingDevice], ...]
    sources: tuple[Join, ...]
    signals: tuple[tuple[str, str, str], ...]
    jumpers: tuple[Join, ...]
    says: str = ""

    def __post_init__(self) -> None:
        if not (self.devices and self.sources and self.signals):
            need = "needs at least one device, one source and one signal; add what is missing"
            raise DesignError(f"wiring {self.name!r} {need}")
        for point in itertools.chain.from_iterable(self.jumpers):
            need_name(point, f"point of the wiring {self.name!r}", self.points)

    @cached_property
    def poles(self) -> tuple[str, ...]:
        """The poles of all sources."""
        return tuple(dict.fromkeys(itertools.chain.from_iterable(self.sources)))

    @cached_property
    def points(self) -> tuple[str, ...]:
        """Every point a wire can be joined to: poles, leads, terminals."""
        leads = (lead for _, *leads in self.signals for lead in leads)
        terminals = (f"{label} {terminal}" for label, device in self.devices for terminal in device.terminals)
        return tuple(dict.fromkeys((*self.poles, *leads, *terminals)))

    @cached_property
    def contacts(self) -> tuple[tuple[str, ...], ...]:
        """For each moving contact of all devices its own terminal and then those it can touch."""
        return tuple(tuple(f"{label} {t}" for t in pole) for label, device in self.devices for pole in device.poles)

    def closed(self, positions: Iterable[str]) -> tuple[Join, ...]:
        """What the contacts join with the devices in `positions`, one name for each device in order."""
        pairs = zip(self.devices, positions, strict=True)
        return tuple((f"{label} {a}", f"{label} {b}") for (label, device), name in pairs for a, b in device.joins(name))

    def in_words(self, positions: Iterable[str]) -> str:
        """A state in words: "switch up", or "switch 1 up, switch 2 down"."""
        return ", ".join(f"{label} {name}" for (label, _), name in zip(self.devices, positions, strict=True))

    def groups(self, closed: Iterable[Join]) -> dict[Any, Any]:
        """The same value for points that wire and the closed contacts join."""
        return levels(self.points, (*self.jumpers, *closed))[0]


def _wiring(name: str, entry: dict[str, Any]) -> Wiring:
    return Wiring(
        name,
        devices=tuple((label, switching_devices[device]) for label, device in entry["devices"].items()),
        sources=tuple(map(tuple, entry["sources"])),
        signals=tuple((signal, *leads) for signal, leads in entry["signals"].items()),
        jumpers=tuple(map(tuple, entry["jumpers"])),
        says=entry["says"],
    )


wirings: PartsTable[Wiring] = MapTable("wiring", "wiring", _wiring)


def as_wiring(wiring: str | Wiring) -> Wiring:
    """A wiring itself, or the one of that name in `wirings`; raises UnknownNameError for another name."""
    return wiring if isinstance(wiring, Wiring) else wirings[wiring]


@dataclass(frozen=True)
class Shown:
    """What every signal of a wiring shows in one position.

    Attributes
    ----------
    position: the position in words
    signals: the signals' names
    lamps: for each signal "red", "green", "dark" or "short circuit" (a source is shorted: then for all of them)
    leads: for each signal the source poles its wires A and B are on, "" where a wire is on none
    """

    position: str
    signals: tuple[str, ...]
    lamps: tuple[str, ...]
    leads: tuple[tuple[str, str], ...]

    @property
    def short(self) -> bool:
        """Whether a source is shorted, or two are joined against each other."""
        return SHORT in self.lamps

    @property
    def sentence(self) -> str:
        """What is seen, in words."""
        if self.short:
            return f"With {self.position}: short circuit, the supply's poles are joined."
        said = []
        for name, lamp, leads in zip(self.signals, self.lamps, self.leads, strict=True):
            where = " and ".join(f"wire {lead} on {pole or 'no pole'}" for lead, pole in zip("AB", leads, strict=True))
            name = f"{name} " if len(self.signals) > 1 else ""
            said.append(f"{name}{lamp}{' lights' if lamp != DARK else ''} ({where})")
        return f"With {self.position}: {'; '.join(said)}."


def show(wiring: Wiring, closed: Iterable[Join], position: str) -> Shown:
    """What the signals show while the contacts join the pairs `closed`; `position` names the state.

    Raises DesignError where two signals meet in a wire that is on no pole: what lamps in series show is not followed.
    """
    closed = tuple(closed)
    at, short = levels(wiring.points, (*wiring.jumpers, *closed), wiring.sources)
    groups = wiring.groups(closed)
    fed = {at[pole][0] for pole in wiring.poles}
    loose = [part for _, a, b in wiring.signals for part in {at[a][0], at[b][0]} - fed]
    if len(set(loose)) < len(loose):
        raise DesignError(
            f"wiring {wiring.name!r} has two signals in series with {position}; join each of their wires to a pole"
        )

    def lamp(a: str, b: str) -> str:
        (part, high), (other, low) = at[a], at[b]
        return SHORT if short else DARK if part != other or high == low else RED if high > low else GREEN

    def poles_at(lead: str) -> str:
        return " and ".join(pole for pole in wiring.poles if groups[pole] == groups[lead])

    return Shown(
        position,
        signals=tuple(name for name, *_ in wiring.signals),
        lamps=tuple(lamp(a, b) for _, a, b in wiring.signals),
        leads=tuple((poles_at(a), poles_at(b)) for _, a, b in wiring.signals),
    )


def current_ways(wiring: Wiring, closed: Iterable[Join], shown: Shown) -> list[tuple[str, ...]]:
    """The points that the current passes in a wiring of one signal: to its lit lamp and from there back to a pole.

    Of a short circuit it is the one way from plus to minus; where no current flows there is none.
    """
    joins, (_, *leads) = (*wiring.jumpers, *closed), wiring.signals[0]
    if shown.short:
        return [way for source in wiring.sources if (way := _way(joins, *source))][:1]
    if shown.lamps[0] == DARK:
        return []
    (first, start), (last, end) = list(zip(leads, shown.leads[0], strict=True))[:: 1 if shown.lamps[0] == RED else -1]
    return [_way(joins, start, first), _way(joins, last, end)]


def _way(joins: Iterable[Join], start: str, end: str) -> tuple[str, ...]:
    """The points from one to another over as few joins as can be; () where they are not joined."""
    both = [pair for join in joins for pair in (join, join[::-1])]
    ways, seen = [(start,)], {start}
    for way in ways:
        if way[-1] == end:
            return way
        for one, other in both:
            if one == way[-1] and other not in seen:
                seen.add(other)
                ways.append((*way, other))
    return ()


@dataclass(frozen=True)
class Reversing:
    """What a wiring shows in each of its positions; `states` has for each the devices' positions and what is shown."""

    wiring: Wiring
    states: dict[tuple[str, ...], Shown]

    @property
    def shorts(self) -> tuple[str, ...]:
        """The positions that short a supply."""
        return tuple(each.position for each in self.states.values() if each.short)

    @property
    def reverses(self) -> bool:
        """Whether every signal shows red in one position and green in another."""
        seen = [set(lamps) for lamps in zip(*(each.lamps for each in self.states.values()), strict=True)]
        return all({RED, GREEN} <= each for each in seen)

    @property
    def independent(self) -> bool:
        """Whether each signal can be set without the others: every combination of colours, and no short circuit."""
        every = itertools.product((RED, GREEN), repeat=len(self.wiring.signals))
        return set(every) <= {each.lamps for each in self.states.values()} and not self.shorts

    @property
    def sentence(self) -> str:
        """What the wiring does, in words."""
        does = "turns the current round" if self.reverses else "never turns the current round"
        count = len(self.shorts)
        warning = f"; {count} of its {len(self.states)} positions short the supply" if count else ""
        return f"The wiring {self.wiring.name!r} {does}{warning}."

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The verdict on turning the current round, with its remedy."""
        found = []
        if self.shorts:
            reason = f"{len(self.shorts)} of {len(self.states)} positions short the supply, the first is "
            remedy = "Use a coupled switch that cannot reach them, or fit a fuse and open all switches first."
            if len(self.wiring.devices) == 1:
                remedy = "Cross both jumpers of the switch: a straight one joins plus to minus."
            grade = LOOK if self.reverses else STOP
            found.append(Finding(grade, "reversing", f"{reason}{self.shorts[0]}.", remedy))
        if not self.reverses:
            remedy = f"Use two coupled changeover contacts with crossed jumpers, or {SPLIT_SUPPLY}."
            found.append(Finding(STOP, "reversing", self.sentence, remedy))
        return tuple(found) or (Finding(FINE, "reversing", self.sentence),)

    @property
    def sharing(self) -> tuple[Finding, ...]:
        """The verdict on several signals that share wires or a switch: whether each can be set without the others."""
        name, topic = self.wiring.name, "shared return"
        if self.independent:
            return (Finding(FINE, topic, f"{name}: each signal obeys its own switch, whatever the others do."),)
        reason = "the signals cannot be set one without the other."
        if self.shorts:
            reason = f"the supply is shorted with {' and with '.join(self.shorts)}."
        own = "Give each signal two wires of its own, or a supply of its own, or use"
        return (Finding(STOP, topic, f"{name}: {reason}", f"{own} {SPLIT_SUPPLY}, its middle as return."),)


def reversing(wiring: str | Wiring) -> Reversing:
    """Work out every position of a wiring, given by its name in `wirings` or as a `Wiring`.

    Raises UnknownNameError for a name that is in no table.
    """
    wiring = as_wiring(wiring)
    every = itertools.product(*(device.positions for _, device in wiring.devices))
    return Reversing(wiring, {each: show(wiring, wiring.closed(each), wiring.in_words(each)) for each in every})


@dataclass(frozen=True)
class Change:
    """Everything that can be seen while the contacts of one device travel from one position to another."""

    wiring: Wiring
    start: str
    end: str
    manner: str
    states: tuple[Shown, ...]

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The verdict on changing over, with its remedy."""
        said = f"From {self.start} to {self.end}, {self.manner}: {len(self.states)} states are possible,"
        shorts, remedy = sum(each.short for each in self.states), "Use contacts that break before they make."
        if not shorts:
            dark = sum(set(each.lamps) == {DARK} for each in self.states)
            return (Finding(FINE, "changing over", f"{said} none of them a short circuit, {dark} dark."),)
        # a split supply shorts from pole to pole, past a resistor in one of its wires
        if len(self.wiring.sources) == 1:
            remedy += f" {RESISTOR_FIRST}"
        return (Finding(STOP, "changing over", f"{said} {shorts} of them a short circuit.", remedy),)


def change(wiring: str | Wiring, start: str, end: str, manner: str = BREAK_FIRST) -> Change:
    """Every state that the moving contacts of a wiring's one device can pass through between two of its positions.

    No two contacts move at quite the same moment, so each is taken to be at its old place, in between, or at its new
    place, in every combination. `manner` is "break before make" (in between a moving contact touches nothing) or "make
    before break" (it touches old and new place at once).

    Raises UnknownNameError for an unknown wiring, position or manner; DesignError for a wiring of several devices.
    """
    wiring = as_wiring(wiring)
    need_name(manner, "manner", (BREAK_FIRST, MAKE_FIRST))
    if len(wiring.devices) != 1:
        raise DesignError(f"wiring {wiring.name!r} needs one device to be followed on its way; it has several")
    contacts = [
        [frozenset(join for join in wiring.closed([name]) if join[0] in contact) for name in (start, end)]
        for contact in wiring.contacts
    ]
    ways = [(old, old & new if manner == BREAK_FIRST else old | new, new) for old, new in contacts]
    every = dict.fromkeys(frozenset().union(*joins) for joins in itertools.product(*ways))
    states = tuple(show(wiring, sorted(closed), "contacts on the way") for closed in every)
    return Change(wiring, wiring.in_words([start]), wiring.in_words([end]), manner, states)


@record
class ContactLoad:
    """A signal's current and supply set against what a contact needs and may carry."""

    rating: ContactRating
    current: Current
    voltage: SupplyVoltage

    @property
    def sentence(self) -> str:
        """Load and rating, in words."""
        least = f"{say(self.rating.si.least_current, 'A')} at {say(self.rating.si.least_voltage, 'V')}"
        memory = " (common practice, no source)" if self.rating.common_practice else ""
        return (
            f"The {self.rating.name} needs {least}{memory}; its limit is {say(self.rating.si.most_current, 'A')}. The "
            f"signal gives it {say(self.si.current, 'A')} at {say(self.si.voltage, 'V')}."
        )

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The verdict on a contact's load, with its remedy."""
        if self.si.current > self.rating.si.most_current:
            return (Finding(STOP, "contacts", self.sentence, "Use a contact with a higher rating.", DAMAGE),)
        if self.si.current < self.rating.si.least_current or abs(self.si.voltage) < self.rating.si.least_voltage:
            film = "a film may keep the heavier contact from conducting."
            remedy = f"Use a signal relay or a switch with gold contacts: {film}"
            return (Finding(LOOK, "contacts", self.sentence, remedy),)
        return (Finding(FINE, "contacts", self.sentence),)


@with_units(scalar=True)
def contact_load(contact: str | ContactRating, current: Current, voltage: SupplyVoltage) -> ContactLoad:
    """Set a signal's current and supply voltage against a contact's rating (a name in `contact_ratings` or a record).

    Raises UnknownNameError for a contact in no table, UnitError or RangeError for a bad current or voltage.
    """
    rating = contact if isinstance(contact, ContactRating) else contact_ratings[contact]
    return ContactLoad.of(rating=rating, current=current, voltage=voltage)
