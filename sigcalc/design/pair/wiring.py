"""What the signals of a wiring show for a given set of closed contacts."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from ...errors import DesignError, UnknownNameError
from ...parts.contacts import Join, Wiring
from ...parts.table import unknown
from ...physics.contacts import connected, lamp_voltages

RED, GREEN, DARK, SHORT = "red", "green", "dark", "short circuit"
_LAMPS = {1: RED, -1: GREEN, 0: DARK, "short": SHORT}
_MOST_STATES = 4096
_SAME = 1e-9


@dataclass(frozen=True)
class Shown:
    """What every signal of a wiring shows in one position.

    Attributes
    ----------
    position: the position in words
    signals: the signals' names
    polarities: for each signal +1 (current from wire A to wire B), -1, 0 (dark) or "short"
    voltages: for each signal the voltage from A to B in multiples of one source's (0 in a short circuit)
    leads: for each signal the source poles its wires A and B are on, "" where a wire is on none
    """

    position: str
    signals: tuple[str, ...]
    polarities: tuple[int | str, ...]
    voltages: tuple[float, ...]
    leads: tuple[tuple[str, str], ...]

    @property
    def short(self) -> bool:
        """Whether a source is shorted, or two are joined against each other."""
        return "short" in self.polarities

    @property
    def lamps(self) -> tuple[str, ...]:
        """For each signal "red", "green", "dark" or "short circuit"."""
        return tuple(_LAMPS[each] for each in self.polarities)

    @property
    def sentence(self) -> str:
        """What is seen, in words."""
        if self.short:
            return f"With {self.position}: short circuit, the supply's poles are joined."
        return f"With {self.position}: " + "; ".join(map(_signal_sentence, *self._columns())) + "."

    def _columns(self) -> tuple[tuple, ...]:
        names = [f"{each} " for each in self.signals] if len(self.signals) > 1 else [""]
        return names, self.lamps, self.voltages, self.leads


def _signal_sentence(name: str, lamp: str, voltage: float, leads: tuple[str, str]) -> str:
    where = " and ".join(f"wire {lead} on {pole or 'no pole'}" for lead, pole in zip("AB", leads, strict=True))
    if lamp == DARK:
        return f"{name}dark ({where})"
    share = "" if abs(abs(voltage) - 1) < _SAME else f" on {abs(voltage):.2g} times the source's voltage"
    return f"{name}{lamp} lights{share} ({where})"


def show(wiring: Wiring, closed: Iterable[Join], position: str) -> Shown:
    """What the signals show while the contacts join the pairs `closed`; `position` names the state."""
    place = {point: index for index, point in enumerate(wiring.points)}
    pairs = [(place[a], place[b]) for a, b in itertools.chain(wiring.jumpers, closed)]
    groups = connected(len(place), np.array(pairs, dtype=int))
    sources = np.array([(place[plus], place[minus]) for plus, minus in wiring.sources])
    lamps = np.array([(place[a], place[b]) for _, a, b in wiring.signals])
    voltages, short = lamp_voltages(groups, sources, lamps)

    def poles_at(lead: str) -> str:
        return " and ".join(pole for pole in wiring.poles if groups[place[pole]] == groups[place[lead]])

    return Shown(
        position,
        signals=tuple(name for name, *_ in wiring.signals),
        polarities=tuple("short" if short else int(np.sign(each)) for each in voltages),
        voltages=tuple(float(each) for each in voltages),
        leads=tuple((poles_at(a), poles_at(b)) for _, a, b in wiring.signals),
    )


def in_words(wiring: Wiring, positions: Iterable[str]) -> str:
    """A state in words: "switch up", or "switch 1 up, switch 2 down"."""
    return ", ".join(f"{label} {name}" for (label, _), name in zip(wiring.devices, positions, strict=True))


def all_positions(wiring: Wiring) -> dict[str, tuple[str, ...]]:
    """Every combination of the devices' positions: its words, and the position of each device."""
    choices = [[each.name for each in device.positions] for _, device in wiring.devices]
    if (number := int(np.prod([len(each) for each in choices], dtype=float))) > _MOST_STATES:
        raise DesignError(
            f"wiring {wiring.name!r} has {number} combinations of positions, at most {_MOST_STATES} are tried; "
            "take fewer devices at once"
        )
    return {in_words(wiring, each): each for each in itertools.product(*choices)}


def show_all(wiring: Wiring) -> tuple[Shown, ...]:
    """What the signals show in every combination of the devices' positions.

    Raises DesignError for more than 4096 combinations.
    """
    return tuple(show(wiring, wiring.closed(each), words) for words, each in all_positions(wiring).items())


def read_position(wiring: Wiring, position: str | Mapping[str, str]) -> tuple[str, ...]:
    """The position of each device, from words ("switch up", or "up" where there is one device) or a mapping.

    Raises UnknownNameError where a device or position of that name does not exist or is missing.
    """
    labels = [label for label, _ in wiring.devices]
    if isinstance(position, Mapping):
        for label in (*position, *labels):
            if label not in labels:
                raise UnknownNameError(unknown("device", label, labels))
            if label not in position:
                raise UnknownNameError(f"position needs every device, but {label!r} is missing; add it")
        return tuple(device.position(position[label]).name for label, device in wiring.devices)
    known = all_positions(wiring)
    if len(labels) == 1:
        known |= {each[0]: each for each in known.values()}
    if not isinstance(position, str) or position not in known:
        raise UnknownNameError(unknown("position", position, known))
    return known[position]
