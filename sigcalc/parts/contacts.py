"""Switching devices as contact maps, wirings made of them, and what their contacts may carry.

The maps stand in `data/contact_maps.toml`, the ratings in `data/contact_ratings.csv`.
"""

from __future__ import annotations

import itertools
import tomllib
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cache, cached_property
from importlib.resources import files
from typing import Any

from ..errors import DesignError, UnknownNameError
from ..physics.contacts import connected
from ..units import Current, Voltage, record
from .table import Figures, PartsTable, unknown

Join = tuple[str, str]
"""Two points that are joined: by a contact, or by a wire."""


SPLIT_SUPPLY = "a split supply (two equal battery packs in series, or one supply made for it; never two adapters)"
SUPPLIES = {"two-terminal": ("+", "-"), "split": ("+", "0", "-")}
"""The poles of each kind of supply, from the highest potential to the lowest, a source between each and the next."""


@dataclass(frozen=True)
class Position:
    """A named position of a switching device, and the terminals joined in it."""

    name: str
    joins: tuple[Join, ...]


@dataclass(frozen=True)
class SwitchingDevice:
    """A switch or relay: its terminals and, for each named position, what is joined."""

    name: str
    terminals: tuple[str, ...]
    positions: tuple[Position, ...]

    def __post_init__(self) -> None:
        for terminal in itertools.chain.from_iterable(join for each in self.positions for join in each.joins):
            if terminal not in self.terminals:
                raise UnknownNameError(unknown(f"terminal of the {self.name}", terminal, self.terminals))

    def position(self, name: str) -> Position:
        """The position of that name."""
        for each in self.positions:
            if each.name == name:
                return each
        raise UnknownNameError(unknown(f"position of the {self.name}", name, [each.name for each in self.positions]))

    @cached_property
    def poles(self) -> tuple[frozenset[str], ...]:
        """The terminals that belong to one moving contact: those that are ever joined to each other."""
        place = {terminal: index for index, terminal in enumerate(self.terminals)}
        pairs = [[place[a], place[b]] for each in self.positions for a, b in each.joins]
        groups = connected(len(place), pairs)
        poles = (frozenset(t for t in self.terminals if groups[place[t]] == group) for group in range(max(groups) + 1))
        return tuple(pole for pole in poles if len(pole) > 1)


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
            raise DesignError(
                f"wiring {self.name!r} needs at least one device, one source and one signal; add what is missing"
            )
        for point in itertools.chain.from_iterable(self.jumpers):
            if point not in self.points:
                raise UnknownNameError(unknown(f"point of the wiring {self.name!r}", point, self.points))

    @cached_property
    def terminals(self) -> tuple[str, ...]:
        """The terminals of all devices, each with its device's label before it."""
        return tuple(f"{label} {terminal}" for label, device in self.devices for terminal in device.terminals)

    @cached_property
    def poles(self) -> tuple[str, ...]:
        """The poles of all sources."""
        return tuple(dict.fromkeys(itertools.chain.from_iterable(self.sources)))

    @cached_property
    def points(self) -> tuple[str, ...]:
        """Every point a wire can be joined to: poles, leads, terminals."""
        leads = (lead for _, *leads in self.signals for lead in leads)
        return tuple(dict.fromkeys((*self.poles, *leads, *self.terminals)))

    def closed(self, positions: Iterable[str]) -> tuple[Join, ...]:
        """What the contacts join when the devices stand in `positions`, one name for each device in order."""
        pairs = zip(self.devices, positions, strict=True)
        return tuple(labelled(label, join) for (label, device), name in pairs for join in device.position(name).joins)


def labelled(label: str, join: Join) -> Join:
    """A join between terminals with the device's label before each."""
    return f"{label} {join[0]}", f"{label} {join[1]}"


@record
class ContactRating:
    """What a contact needs to stay clean and what it may carry.

    Below the least current and voltage the arc is too weak to burn off the film that
    forms on base-metal contacts, and the contact may fail to conduct.
    """

    name: str
    least_current: Current
    least_voltage: Voltage
    most_current: Current
    source: str = ""
    common_practice: bool = False


class _MapTable(PartsTable):
    """A parts table that reads one section of the contact maps."""

    def __init__(self, what: str, section: str, make: Callable[[str, Any], Any]):
        super().__init__(what, "contact_maps.toml", make)
        self._section = section

    @cached_property
    def _figures(self) -> dict[str, Any]:
        return _contact_maps()[self._section]


@cache
def _contact_maps() -> dict[str, Any]:
    return tomllib.loads(files(__package__).joinpath("data", "contact_maps.toml").read_text(encoding="utf-8"))


def _joins(pairs: list[list[str]]) -> tuple[Join, ...]:
    return tuple((first, second) for first, second in pairs)


def _device(name: str, entry: dict[str, Any]) -> SwitchingDevice:
    positions = tuple(Position(each, _joins(joins)) for each, joins in entry["positions"].items())
    return SwitchingDevice(name, tuple(entry["terminals"]), positions)


def _wiring(name: str, entry: dict[str, Any]) -> Wiring:
    return Wiring(
        name,
        devices=tuple((label, switching_devices[device]) for label, device in entry["devices"].items()),
        sources=_joins(entry["sources"]),
        signals=tuple((signal, first, second) for signal, (first, second) in entry["signals"].items()),
        jumpers=_joins(entry["jumpers"]),
        says=entry["says"],
    )


def _rating(name: str, figures: Figures) -> ContactRating:
    current = figures["least current"]
    return ContactRating(
        name,
        least_current=current.text,
        least_voltage=figures["least voltage"].text,
        most_current=figures["most current"].text,
        source=current.source,
        common_practice=current.source.startswith("common practice"),
    )


switching_devices: PartsTable[SwitchingDevice] = _MapTable("switching device", "device", _device)
wirings: PartsTable[Wiring] = _MapTable("wiring", "wiring", _wiring)
contact_ratings: PartsTable[ContactRating] = PartsTable("contact", "contact_ratings.csv", _rating)
