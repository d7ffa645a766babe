"""How a talk is made of a reader's own plan or layout: its words, what panels can show, and the minutes shared out."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files
from typing import Any

from ..errors import DesignError, SigcalcError
from ..plan.file import read_toml
from ..plan.result import PartLine
from ..units import say
from .scene import KitLine, Scene

LEAST_MINUTES, MOST_MINUTES = 1.5, 120
_LONGEST_NOTE, _LONGEST_ITEM, _LONGEST_NAME = 300, 120, 24
_NEAR = 0.1
"""Up to such a difference one supply may stand in for another, and a slider's end for what lies beyond."""
_ALIKE = 0.02  # what differs by no more is called the same
REACH: dict[str, dict[str, tuple[float, float]]] = {
    "why a resistor": {"resistor": (47, 10_000)},
    "which resistor": {"supply": (1, 24), "wanted current": (0.5, 30)},
    "which lamp lights": {"supply": (0, 24), "resistor": (100, 10_000)},
    "equally bright": {"supply": (0, 24), "resistor": (100, 10_000), "extra in one branch": (0, 5000)},
    "adapter voltage": {"wanted current": (1, 25)},
    "passing train": {
        "on-time": (2, 20),
        "gap": (2, 20),
        "speed of the model": (0.05, 1.5),
        "length of the train": (200, 3000),
        "reed beyond the signal": (0, 300),
    },
    "signals one by one": {"layout length": (2, 60)},
    "which gauge": {"layout length": (2, 60), "light wanted": (20, 99)},
    "how many signals": {"signal to signal": (0.2, 10), "light wanted": (20, 99)},
    "short circuit": {"layout length": (2, 60)},
}
"""From where to where the panels' sliders go (a test compares them; the panels are on a floor above)."""
Settings = dict[str, Any]
Setting = tuple[Settings, Settings, dict[str, str]]
"""What the panel says at first, what the answer changes, and what is filled into the question."""


@cache
def words() -> Mapping[str, dict[str, Any]]:
    """The words of the scenes, by the scene's name."""
    text = files(__package__).joinpath("own_talk.toml").read_text(encoding="utf-8")
    return {each["name"]: each for each in read_toml(text, len(text))["scene"]}


@dataclass
class Wall:
    """What the panels can show of somebody's parts; `notes` say where it is not the same."""

    notes: list[str] = field(default_factory=list)

    def note(self, said: str) -> None:
        """Say it once."""
        said = cut(said, _LONGEST_NOTE)
        if said not in self.notes:
            self.notes.append(said)

    def slider(self, panel: str, control: str, value: float, unit: str) -> float:
        """What the slider is set to: a value a little beyond its end is shown as that end."""
        least, most = REACH[panel][control]
        value = float(f"{value:.4g}")
        shown = min(max(value, least), most)
        wish, end = (say(each, "ohm") if unit == "ohm" else f"{each:g} {unit}" for each in (value, shown))
        if abs(shown - value) > _NEAR * abs(value):
            raise DesignError(f"your {control} is {wish}, and the panel's slider ends at {end}")
        if shown != value:
            self.note(f"“{panel}”: your {control} of {wish} is shown as {end}.")
        return int(shown) if shown == int(shown) else shown  # as a person writes it in a file

    def offer(self, panel: str, control: str, value: float, offers: Mapping[str, float], said: str) -> str:
        """The option nearest to a value, of those that a list has; `said` is the value in words."""
        found = min(offers, key=lambda each: abs(offers[each] - value))
        if abs(offers[found] - value) > _ALIKE * abs(value):
            self.note(f"“{panel}”: {control} is shown as “{found}”; yours is {said}.")
        return found

    def source(self, panel: str, own: Any, name: str, offers: Mapping[str, Any]) -> str:
        """The option for a battery or an adapter: the same one, or one of nearly the same voltage without a load."""
        alike = {label: each for label, each in offers.items() if type(each) is type(own)}
        same = [label for label, each in alike.items() if each == own]
        if same:
            return same[0]
        open_voltage = own.corners[1][0]
        off = {label: abs(each.corners[1][0] / open_voltage - 1) for label, each in alike.items()}
        found = min(off, key=off.__getitem__, default="")
        if not found or off[found] > _NEAR:
            raise DesignError(f"the panel has no source like your {name}")
        if alike[found].name != own.name or off[found] > _ALIKE:
            self.note(f"“{panel}”: “{found}” stands in for your {name}.")
        return found


Ranked = list[tuple[int, Scene]]


def scenes_of(made: Iterable[tuple[str, int, Callable[[Any], Setting | None]]], own: Any, wall: Wall) -> Ranked:
    """The scenes that the panels can show, each with its rank; of the others a note says why not."""
    found = []
    for name, rank, settings in made:
        before = len(wall.notes)
        try:
            setting = settings(own)
        except SigcalcError as reason:
            del wall.notes[before:]  # what was shown otherwise in a scene that there is not
            wall.note(f"“{name}” is left out: {str(reason).removesuffix('.')}.")
            continue
        if setting is None:
            continue
        start, answer, filled = setting
        told = words()[name]
        short = {key: cut(each, _LONGEST_NAME) for key, each in filled.items()}
        asked = {
            "question": told["question"].format_map(short),
            "choices": [each.format_map(short) for each in told["choices"]],
        }
        found.append((rank, Scene(**told | asked | {"minutes": 1, "start": start, "answer": answer})))
    return found


def share_out(ranked: Ranked, minutes: float, wall: Wall) -> tuple[Scene, ...]:
    """The most important scenes, as many as there is time for, and the minutes shared out among them by halves."""
    places = sorted(range(len(ranked)), key=lambda each: ranked[each][0])
    kept = places[: max(1, int(minutes / LEAST_MINUTES))]
    dropped = [ranked[each][1].name for each in sorted(places[len(kept) :])]
    if dropped:
        wall.note(f"In {minutes:g} minutes there is no time for: {', '.join(dropped)}.")
    halves = int(2 * minutes)
    share, over = divmod(halves, len(kept))
    lasts = {place: (share + (rank < over)) / 2 for rank, place in enumerate(kept)}
    lasts[kept[0]] += minutes - halves / 2
    return tuple(ranked[each][1].with_changes(minutes=lasts[each]) for each in sorted(kept))


def kit_of(parts: Iterable[PartLine]) -> dict[str, KitLine]:
    """The parts by their names, for every seat and for the speaker."""
    counts: dict[str, int] = {}
    for line in parts:
        item = cut(f"{line.part}: {line.detail}", _LONGEST_ITEM)
        counts[item] = counts.get(item, 0) + line.count
    return {item: KitLine(item=item, each=count, once=count) for item, count in counts.items()}


BENCH = {each: KitLine(item=each, once=1) for each in ("meter", "eye protection")}
"""What every demonstration needs beside the parts."""


def cut(text: str, most: int) -> str:
    """The text, cut short where it is longer."""
    return text if len(text) <= most else text[: most - 1] + "…"
