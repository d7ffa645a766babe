"""Switches and relays as contact maps, and what their contacts may carry.

The maps are in `data/contact_maps.toml`, the ratings in `data/contact_ratings.csv`.
"""

from __future__ import annotations

import itertools
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache, cached_property
from importlib.resources import files
from typing import Any

from ..physics.contacts import levels
from ..units import Current, Voltage, record
from .table import Figures, PartsTable, need_name

Join = tuple[str, str]
"""Two points that are joined: by a contact, or by a wire."""


@dataclass(frozen=True)
class SwitchingDevice:
    """A switch or relay: its terminals and, for each named position, which terminals are joined in it."""

    name: str
    terminals: tuple[str, ...]
    positions: Mapping[str, tuple[Join, ...]]

    def __post_init__(self) -> None:
        for terminal in itertools.chain.from_iterable(itertools.chain.from_iterable(self.positions.values())):
            need_name(terminal, f"terminal of the {self.name}", self.terminals)

    def joins(self, position: str) -> tuple[Join, ...]:
        """What is joined in the position of that name."""
        return self.positions[need_name(position, f"position of the {self.name}", self.positions)]

    @cached_property
    def poles(self) -> tuple[tuple[str, ...], ...]:
        """For each moving contact its own terminal and then those it can touch: all that are ever joined."""
        groups, _ = levels(self.terminals, itertools.chain.from_iterable(self.positions.values()))
        poles = [tuple(t for t in self.terminals if groups[t] == group) for group in dict.fromkeys(groups.values())]
        return tuple(pole for pole in poles if len(pole) > 1)


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
    common_practice: bool = False


class MapTable(PartsTable):
    """A parts table that reads one section of the contact maps."""

    def __init__(self, what: str, section: str, make: Callable[[str, Any], Any]):
        super().__init__(what, "contact_maps.toml", make)
        self._section = section

    @property
    def _figures(self) -> dict[str, Any]:
        return _contact_maps()[self._section]


@cache
def _contact_maps() -> dict[str, Any]:
    return tomllib.loads(files(__package__).joinpath("data", "contact_maps.toml").read_text(encoding="utf-8"))


def _device(name: str, entry: dict[str, Any]) -> SwitchingDevice:
    positions = {each: tuple(map(tuple, joins)) for each, joins in entry["positions"].items()}
    return SwitchingDevice(name, tuple(entry["terminals"]), positions)


def _rating(name: str, figures: Figures) -> ContactRating:
    current = figures["least current"]
    return ContactRating(
        name,
        least_current=current.text,
        least_voltage=figures["least voltage"].text,
        most_current=figures["most current"].text,
        common_practice=current.source.startswith("common practice"),
    )


switching_devices: PartsTable[SwitchingDevice] = MapTable("switching device", "device", _device)
contact_ratings: PartsTable[ContactRating] = PartsTable("contact", "contact_ratings.csv", _rating)
