"""The catalogue of what may be wrong with a signal: each fault with its changes, cause, remedy and how common it is."""

from __future__ import annotations

import itertools
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from ...errors import RangeError, UnitError, UnknownNameError
from ...parts.table import unknown
from ...units.plain import is_number, need_mapping
from ...units.reading import quoted
from .circuit import BenchCircuit

_MOST_WEIGHT = 1e12
NOTHING_WRONG = "nothing wrong"
AND = " + "
"""Between the names of two faults at once."""


@dataclass(frozen=True)
class Fault:
    """One fault, or two at once.

    Attributes
    ----------
    name: as it is said; two faults at once are joined by " + "
    changes: what each fault does to the circuit, one tuple a fault
    weight: how common it is beside the others (common practice, no source, unless you changed it)
    cause, remedy: the likely cause, and what to do
    needs: what a circuit must have for it to be possible; "" for any
    pairs: whether it is looked for together with a second one
    is_both: the names of two faults that come to the same where no diode lies in series with the LEDs; () for most
    """

    name: str
    changes: tuple[tuple[Mapping[str, Any], ...], ...]
    weight: float
    cause: str
    remedy: str
    needs: str = ""
    pairs: bool = False
    is_both: tuple[str, ...] = ()

    def __hash__(self) -> int:
        return hash(self.name)

    @property
    def parts(self) -> frozenset[str]:
        """The parts of the circuit that it touches."""
        return frozenset(change["at"] for changes in self.changes for change in changes)


@cache
def catalogue() -> dict[str, Fault]:
    """Every single fault of `data/faults.toml` by its name, "nothing wrong" first."""
    text = files("sigcalc.parts").joinpath("data", "faults.toml").read_text(encoding="utf-8")
    return {entry["name"]: _fault(entry) for entry in tomllib.loads(text)["fault"]}


def _fault(entry: dict[str, Any]) -> Fault:
    changes = tuple(entry.pop("changes"))
    entry["is_both"] = tuple(entry.pop("is_both", ()))
    return Fault(changes=(changes,) if changes else (), **entry)


def faults_of(circuit: BenchCircuit, pairs: bool = True) -> tuple[Fault, ...]:
    """The faults that a circuit can have: "nothing wrong", the single ones, and with `pairs` two of the commonest."""
    single = [each for each in catalogue().values() if not each.needs or each.needs in circuit.features]
    if not pairs:
        return tuple(single)
    total = sum(each.weight for each in single[1:])
    named = {frozenset(each.is_both) for each in single if each.is_both and circuit.pair.series_diode is None}
    common = [
        (one, other)
        for one, other in itertools.combinations((each for each in single if each.pairs), 2)
        if not one.parts & other.parts and {one.name, other.name} not in named
    ]
    return (*single, *(_both(one, other, total) for one, other in common))


def _both(one: Fault, other: Fault, total: float) -> Fault:
    """Two faults at once, as common as two that know nothing of each other."""
    return Fault(
        name=one.name + AND + other.name,
        changes=(*one.changes, *other.changes),
        weight=one.weight * other.weight / total,
        cause=f"{one.cause} {other.cause}",
        remedy=f"{one.remedy} {other.remedy}",
    )


def weights(faults: tuple[Fault, ...], changed: Mapping[str, float] | None = None) -> tuple[float, ...]:
    """How common each fault is, as shares of all; `changed` gives other weights to some, by name.

    Raises UnknownNameError for a fault that is not among them, UnitError for a weight that is no number and
    RangeError for a negative one, or where no weight is left.
    """
    changed = need_mapping(changed, "priors", '{"short across both lamps": 2}')
    names = [each.name for each in faults]
    for name, weight in changed.items():
        if not isinstance(name, str) or name not in names:
            raise UnknownNameError(unknown("fault", name, names))
        if not is_number(weight):
            raise UnitError(
                f"the weight of {name!r} needs a number, but {quoted(weight)} came; the usual ones are 1 to 8"
            )
        if not 0 <= weight <= _MOST_WEIGHT:
            raise RangeError(
                f"the weight of {name!r} needs to be from 0 to {_MOST_WEIGHT:g}, but {quoted(weight)} came; "
                "0 leaves it out"
            )
    given = [float(changed.get(each.name, each.weight)) for each in faults]
    if not sum(given) > 0:
        raise RangeError("at least one fault needs a weight above 0; nothing would be left to look for")
    return tuple(weight / sum(given) for weight in given)
