"""Parts tables: data files with one figure a row, and the mapping from a part's name to its record."""

from __future__ import annotations

import csv
import difflib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache, cached_property
from importlib.resources import files
from typing import Any, Generic, TypeVar

from ..errors import RangeError, UnitError, UnknownNameError
from ..units.reading import quoted
from ..units.record import Shown

Part = TypeVar("Part")
_LONGEST = 100  # of a name that is looked for among the known ones
_NAMED = 4  # so many parts in one line
_YES_NO = {"yes": True, "no": False}
TYPICAL = "typical, not guaranteed"
OLD_NAME = "old_name"  # the row with the name a part had before, which is still understood


@dataclass(frozen=True)
class Figure:
    """One row of a table: a figure with its unit, its source and a note."""

    value: str
    unit: str
    source: str
    note: str

    @property
    def text(self) -> str:
        """Value and unit as the door for units reads them."""
        return f"{self.value} {self.unit}".strip()

    @property
    def from_memory(self) -> bool:
        """Whether the source row says that the figure was written down from memory."""
        return self.source.startswith("from memory")


Figures = dict[str, Figure]


@cache
def read_figures(name: str) -> dict[str, Figures]:
    """The rows of the data file `name` (columns part, quantity, value, unit, source, note), grouped by part."""
    parts: dict[str, Figures] = {}
    with files(__package__).joinpath("data", name).open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            figure = Figure(row["value"], row["unit"], row["source"], row["note"])
            parts.setdefault(row["part"], {})[row["quantity"]] = figure
    return parts


class PartsTable(Shown, Mapping[str, Part], Generic[Part]):
    """A mapping from plain lower-case names to records; the file is read when it is first needed.

    `what` names the kind of part in error messages, `make` turns a name and its
    figures into the record. `figures(name)` gives the rows with their sources.
    A part is also found by the name it had before (`today`), but only listed by its name of today.
    """

    def __init__(self, what: str, file: str, make: Callable[[str, Figures], Part]):
        self._what, self._file, self._make = what, file, make
        self._made: dict[str, Part] = {}  # each when it is first asked for: of some the curves are fitted

    @property
    def _figures(self) -> dict[str, Figures]:
        return read_figures(self._file)

    @cached_property
    def _renamed(self) -> dict[str, str]:
        return {rows[OLD_NAME].value: name for name, rows in self._figures.items() if OLD_NAME in rows}

    def today(self, name: str) -> str:
        """The name of a part as the table lists it, from that name or the one it had before."""
        known = self._renamed.get(name, name) if isinstance(name, str) else name
        return need_name(known, self._what, self._figures)

    def __getitem__(self, name: str) -> Part:
        name = self.today(name)
        if name not in self._made:
            self._made[name] = self._make(name, self._figures[name])
        return self._made[name]

    def __contains__(self, name: object) -> bool:
        return isinstance(name, str) and (name in self._figures or name in self._renamed)

    def get(self, name: str, default: Any = None) -> Any:
        """The record, or `default` where there is none of that name."""
        return self[name] if name in self else default  # noqa: SIM401 it is this function

    def __iter__(self) -> Iterator[str]:
        return iter(self._figures)

    def __len__(self) -> int:
        return len(self._figures)

    def __repr__(self) -> str:
        names = ", ".join(map(repr, list(self)[:_NAMED]))
        return f"{len(self)} parts of the kind {self._what}: {names}{', …' if len(self) > _NAMED else ''}"

    def figures(self, name: str) -> Figures:
        """The rows behind a part: quantity to value, unit, source and note."""
        return self._figures[self.today(name)]


def need_name(name: Any, what: str, known: Any) -> str:
    """The name, or UnknownNameError with the nearest known ones where it is none of them."""
    if not isinstance(name, str) or name not in known:
        raise UnknownNameError(unknown(what, name, known))
    return name


def from_rows(record: Any, *left_out: str) -> Callable[[str, Figures], Any]:
    """What makes a record of a part's rows, each quantity the field of that name, but for those that are left out."""
    noted, left_out = ({"note": TYPICAL} if "note" in record.__names__ else {}), (*left_out, OLD_NAME)

    def make(name: str, figures: Figures, **further: Any) -> Any:
        read = {key: _YES_NO.get(each.value, each.text) for key, each in figures.items() if key not in left_out}
        return record(name=name, **noted | read | further)

    return make


def as_part(given: Any, kind: type, table: PartsTable | None = None, advice: str = "") -> Any:
    """The part itself, or the one of that name in the table; UnknownNameError or UnitError for anything else."""
    if table is not None and isinstance(given, str):
        return table[given]
    if not isinstance(given, kind):
        name, article = kind.__name__, "an" if kind.__name__[0] in "AEIOU" else "a"
        need = f"{article} {name}{'' if table is None else ' or its name'}"
        advice = advice or f'try "{next(iter(table))}"'
        raise UnitError(argument=name.lower(), need=need, given=quoted(given), advice=advice)
    return given


def need_rising(part: Any, *names: str, advice: str = "see its data sheet") -> None:
    """RangeError unless a part's figures of these names, those that it has, are above zero and rise in this order."""
    there = {name: value for name in names if (value := getattr(part.si, name)) is not None}
    values = list(there.values())
    if values != sorted(values) or not all(value > 0 for value in values[:1]):
        nothing = part.__kinds__[names[0]].say(0.0)
        need = f"more than {nothing}" if len(names) == 1 else "figures above zero in rising order"
        given = ", ".join(part.__kinds__[name].say(value) for name, value in there.items())
        raise RangeError(
            argument=" to ".join(dict.fromkeys((names[0], names[-1]))), need=need, given=given, advice=advice
        )


def unknown(what: str, name: object, known: Any) -> str:
    """The sentence for a name that is in no table, with the nearest names that do."""
    names = {str(each).lower(): str(each) for each in known}
    said = name[:_LONGEST] if isinstance(name, str) else quoted(name)
    close = difflib.get_close_matches(said.lower(), names, n=3, cutoff=0.4)
    near = [names[each] for each in close] or list(names.values())[:6]
    return f"{what} {quoted(name)} is not known; use one of: {', '.join(repr(each) for each in near)}"
