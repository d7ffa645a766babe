"""What may be wrong with a signal: the catalogue of faults, how common each is, and what it does to a circuit."""

from __future__ import annotations

import itertools
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.resources import files
from typing import Any, NamedTuple

import numpy as np

from ...errors import RangeError, UnitError
from ...parts.table import need_name
from ...units.plain import is_number, need_mapping
from ...units.reading import quoted
from ..lamp.drive import DEAD_ABOVE, weakest_of
from .circuit import BRIDGE, HELD_BY, LAMPS, OPEN, SEVERITY, BenchCircuit, Draws, Floats, State, nominal, pot_at, sound
from .reading import power

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
    burns: the lamps that it kills once they are lit, if the supply is strong enough
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
    burns: tuple[str, ...] = ()

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
    entry |= {key: tuple(entry.get(key, ())) for key in ("is_both", "burns")}
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
        need_name(name, "fault", names)
        if not is_number(weight):
            raise UnitError(
                argument=f"the weight of {name!r}",
                need="a number",
                given=quoted(weight),
                advice="the usual ones are 1 to 8",
            )
        if not 0 <= weight <= _MOST_WEIGHT:
            raise RangeError(
                argument=f"the weight of {name!r}",
                need=f"a number from 0 to {_MOST_WEIGHT:g}",
                given=quoted(weight),
                advice="0 leaves it out",
            )
    given = [float(changed.get(each.name, each.weight)) for each in faults]
    if not sum(given) > 0:
        raise RangeError("at least one fault needs a weight above 0; nothing would be left to look for")
    return tuple(weight / sum(given) for weight in given)


def faulty(circuit: BenchCircuit, fault: Fault, draws: Draws) -> State:
    """The circuit with a fault, or two, in it."""
    whole = sound(circuit, draws)
    return whole | changed(whole, circuit, fault, draws)


def changed(whole: State, circuit: BenchCircuit, fault: Fault, draws: Draws) -> State:
    """Of a sound circuit's numbers those that a fault changes; a lamp that it burns is open, as it is found."""
    done = _done(whole, circuit, fault, draws)
    return done | {f"{lamp} joint": OPEN for lamp in burnt(circuit, fault)}


@lru_cache(maxsize=256)
def burnt(circuit: BenchCircuit, fault: Fault) -> tuple[str, ...]:
    """The lamps that get more than they survive when they are lit, with every part as printed."""
    if not fault.burns:
        return ()
    whole = sound(circuit, nominal())
    state = whole | _done(whole, circuit, fault, nominal())
    return tuple(lamp for lamp in fault.burns if _dies(circuit, state, lamp))


def _dies(circuit: BenchCircuit, state: State, lamp: str) -> bool:
    led = weakest_of(circuit.pair.branch(lamp)[0])
    return bool(power(circuit, state, lamp, ()).light[LAMPS.index(lamp)] > DEAD_ABOVE * led.si.max_current)


def _done(whole: State, circuit: BenchCircuit, fault: Fault, draws: Draws) -> State:
    done: State = {}
    for changes, gravity in zip(fault.changes, SEVERITY, strict=False):
        for change in changes:
            done |= _DOES[change["do"]](_Place(whole | done, change, circuit, draws, draws[gravity]))
    return done


class _Place(NamedTuple):
    """One change of the catalogue, the numbers so far, and how grave it is in each sample."""

    state: State
    change: Mapping[str, Any]
    circuit: BenchCircuit
    draws: Draws
    severity: Floats

    @property
    def at(self) -> str:
        """The name of the number that it changes."""
        at = self.change["at"]
        return f"{self.lamp} joint" if at.endswith("lamp") else "short" if at == "mast hole" else at

    @property
    def lamp(self) -> str:
        """The lamp that it is about."""
        return self.change["at"].split()[0]

    def between(self, key: str) -> Floats:
        """From the slight end to the grave end in equal ratios."""
        slight, grave = self.change[key]
        return slight * (grave / slight) ** self.severity

    def now(self) -> Any:
        """The number before the change."""
        return self.state[self.at]


def _at_limit(place: _Place, ohms: Any) -> State:
    """A resistance somewhere; in the place of a driver it holds no current."""
    return {place.at: ohms} | ({"held": np.inf, "beside": HELD_BY} if place.at == "limit" else {})


def _bridge(place: _Place) -> State:
    if place.change["at"].endswith("lamp"):
        return {f"{place.lamp} bridged": 1}
    solder = place.between("ohms") if "ohms" in place.change else BRIDGE
    return _at_limit(place, 1.0 / (1.0 / place.now() + 1.0 / solder))


def _reverse(place: _Place) -> State:
    if len(place.state[f"{place.lamp} leds"]) > 1:  # the LED alone is turned, against its diode: nothing passes
        return {f"{place.lamp} joint": OPEN}
    sign = f"{place.lamp} sign"
    return {sign: -place.state[sign]}


def _alternate(place: _Place) -> State:
    """A plain transformer of the printed voltage, more of it without load."""
    volts = place.circuit.source.nominal_voltage.m_as("V") * place.between("times")
    return {"supply": volts, "alternating": 1, "source": _slope(place, volts)}


def _let_rise(place: _Place) -> State:
    volts = place.now() * place.between("times")
    return {"supply": volts, "source": _slope(place, volts)}


def _slope(place: _Place, volts: Floats) -> Floats:
    """What makes a voltage without load fall to the printed one at the adapter's full load, in ohm."""
    source = place.circuit.source.si
    return np.maximum((volts - source.voltage) / source.max_current, 0.1)


_DOES: dict[str, Callable[[_Place], State]] = {
    "open": lambda place: _at_limit(place, OPEN),
    "bridge": _bridge,
    "add": lambda place: {place.at: place.now() + place.between("ohms")},
    "scale": lambda place: {place.at: place.now() * place.change["by"]},
    "set": lambda place: dict(place.change["to"]),
    "reverse": _reverse,
    # open voltage and resistance of a used battery; the two are used up together
    "run down": lambda place: {
        "supply": place.now() * place.between("share"),
        "source": place.state["source"] * place.between("times"),
    },
    "alternate": _alternate,
    "let rise": _let_rise,
    "turn": lambda place: {"pot": pot_at(place.circuit, place.change["to"], place.draws)},
    "leak": lambda place: {"leak": place.between("share")},
}
