"""The layout of a club: one supply, runs of wire and the signals on them; all faults reported at once."""

from __future__ import annotations

import dataclasses
from typing import Annotated, Any, ClassVar, Literal

from pydantic import AfterValidator, Field, PrivateAttr, ValidationError, field_validator, model_validator

from ..design.board.board import SUPPLY
from ..errors import Fault, PlanError, SigcalcError, UnitError
from ..parts.fuse import area_of, fuses
from ..units import Length, Ratio, Temperature, say
from ..units.reading import quoted
from .circuit_fields import DriveSpec, Lamp, Lamps, Supply
from .file import InFile
from .plan import Plan
from .section import Line, NameIn, Section, given, known, optional, plan_error, refusal
from .signal_fields import Evening, Limits, Mast, TriggerSpec, WireSpec, Wiring

MOST_SIGNALS = 200
"""No larger layout is studied: each signal is a plan of its own."""
_LONGEST_PLAN_NAME = 120


def _wish(signal: Any) -> SignalSpec:
    if not isinstance(signal, SignalSpec):
        raise UnitError(argument="signal", need="one of layout.signals", given=quoted(signal))
    return signal


Name = Annotated[Line, AfterValidator(str.strip), Field(min_length=1, max_length=60)]


def is_beside(name: Any) -> bool:
    """Whether it is the name of a plan's file in the same folder."""
    named = isinstance(name, str) and name.endswith(".toml") and len(name) <= _LONGEST_PLAN_NAME
    return named and not any(each in name for each in "/\\:\0")


class FeederSpec(Section):
    """A run of two wires from one place to another; the supply's own place is called "supply"."""

    name: Name = Field(description="name of the run")
    start: Name = Field(description='the place it comes from, such as "supply"')
    end: Name = Field(description="the place it goes to")
    wire: Line = given("24 AWG", "name of a wire in the table, or a gauge", max_length=60)
    length: Length = Field(description="of the run; both wires together are twice as long")
    temperature: Temperature = given("20 degC", "of the wire")

    @field_validator("wire")
    @classmethod
    def _wire_known(cls, wire: str) -> str:
        known(lambda: area_of(wire))
        return wire


class SignalSpec(Section):
    """A signal on the layout: a plan's file beside the layout's, or the plan's own sections here."""

    name: Name = Field(description="name of the signal")
    at: Name = Field(description="its place: the end of a run")
    shows: Literal["red", "green"] = given("red", 'what it shows: "red" or "green"')
    plan: Line | None = optional("file of its plan, beside this one", "east_home.toml", max_length=_LONGEST_PLAN_NAME)
    lamps: Lamps | None = None
    red: Lamp | None = None
    green: Lamp | None = None
    drive: DriveSpec | None = None
    wiring: Wiring | None = None
    mast: Mast | None = None
    wire: WireSpec | None = None
    limits: Limits | None = None
    evening: Evening | None = None
    trigger: TriggerSpec | None = None

    @model_validator(mode="after")
    def _plan_or_sections(self) -> SignalSpec:
        if self.plan is not None and self.sections():
            said = f"it is named, and {', '.join(self.sections())} given; name the file, or write the sections here"
            raise refusal(said, place=("plan",))
        return self

    @field_validator("plan")
    @classmethod
    def _beside(cls, plan: str | None) -> str | None:
        """Only a file of the same folder: a stranger's layout must not lead anywhere else."""
        if plan is not None and not is_beside(plan):
            raise refusal(need="the name of a .toml file beside the layout's, without a folder", given=quoted(plan))
        return plan

    def sections(self) -> dict[str, Any]:
        """The plan's sections that are given here."""
        return {name: value for name, value in self if isinstance(value, Section)}


class LayoutFields(InFile):
    """The fields of a layout; `Layout` (in `layout.py`) adds the file and the study to them."""

    name: Line = given("Quillhaven", "name of the layout", min_length=1, max_length=80)
    scale: Line = given("1:48", "scale of the layout", min_length=1, max_length=12)
    share: Ratio = given("80 %", "share of its own light that every lamp must still have")
    fuse: NameIn[fuses] | None = optional("name of the fuse at the supply, in the table", "500 mA resettable")
    supply: Supply = Supply()
    feeders: tuple[FeederSpec, ...] = given((), "the runs of wire")
    signals: tuple[SignalSpec, ...] = given((), "the signals", max_length=MOST_SIGNALS)
    most_bytes: ClassVar[int] = 500_000
    _plans: dict[str, Plan] = PrivateAttr(default_factory=dict)

    def __init__(self, /, **given: Any):
        faults, more = [], 0
        try:
            super().__init__(**given)
        except ValidationError as error:
            own = plan_error(error, LayoutFields)
            faults, more = list(own.listed), own.more
        else:
            faults = self._plan_faults()
        faults += network_faults(given)
        if faults:
            raise PlanError([in_words(each, given) for each in faults], more)

    def with_changes(self, /, **changes: Any) -> Any:
        """A copy with some fields given anew; it keeps the comments of its file and the plans beside it."""
        changed = super().with_changes(**changes)
        changed._plans = self._plans
        return changed

    @field_validator("share")
    @classmethod
    def _share_above_zero(cls, share: float) -> float:
        if not share > 0:
            raise refusal(need="to be above 0 %", given=say(share, ""), example="80 %")
        return share

    @field_validator("supply")
    @classmethod
    def _rated(cls, supply: Supply) -> Supply:
        if supply.source() is None:
            raise refusal(need="a part of the tables, or voltage and max_current of your own adapter")
        return supply

    def _plan_faults(self) -> list[Fault | str]:
        """The faults of the signals whose sections are here, each with its whole place."""
        found = []
        for number, signal in enumerate(self.signals):
            try:
                self._inline(signal)
            except PlanError as error:
                found += [dataclasses.replace(each, place=("signals", number, *each.place)) for each in error.listed]
        return found

    def _inline(self, signal: SignalSpec) -> Plan:
        return Plan(name=signal.name, scale=self.scale, supply=self.supply, **signal.sections())

    def plan_of(self, signal: SignalSpec) -> Plan:
        """The plan of a signal, on the layout's supply; raises PlanError where its file was not loaded."""
        if _wish(signal).plan is None:
            return self._inline(signal)
        if signal.plan not in self._plans:
            raise PlanError([f"{signal.plan} was not loaded; load the layout from its file, beside that one"])
        return self._plans[signal.plan].with_changes(name=signal.name, scale=self.scale, supply=self.supply)

    def own_supply(self, signal: SignalSpec) -> Supply | None:
        """The supply in a signal's plan file, which the layout's replaces; None where its sections are given here."""
        return self._plans[signal.plan].supply if _wish(signal).plan in self._plans else None


_CALLED = {"signals": "signal", "feeders": "run", "scene": "scene", "kit": "kit line"}


def in_words(fault: Fault | str, given: dict[str, Any]) -> Fault | str:
    """A fault of an entry of a layout's or a talk's lists, with the entry's own name in place of its number."""
    if isinstance(fault, str) or len(fault.place) < 2 or fault.place[0] not in _CALLED or fault.owner:
        return fault
    what, number, *rest = fault.place
    return dataclasses.replace(
        fault, place=tuple(rest), owner=_owner(what, dict(_entries(given[what])).get(number), number)
    )


def beside(signal: Any, fault: Fault | str) -> Fault:
    """A fault of the plan's file that a signal names."""
    where = f"{_owner('signals', signal, 0)}, plan {signal['plan']}"
    if isinstance(fault, str):
        return Fault((), SigcalcError(fault), where)
    return dataclasses.replace(fault, owner=where)


def _owner(what: str, entry: Any, number: int) -> str:
    name = _text(entry, "name")
    return f"{_CALLED[what]} {quoted(name)}" if name else f"{_CALLED[what]} no. {number + 1}"


def network_faults(given: dict[str, Any]) -> list[Fault]:
    """The faults of a layout's data, be they read or raw; what has no names yet is left to its own faults."""
    feeders, signals = (_entries(given.get(each)) for each in ("feeders", "signals"))
    none = not signals and isinstance(given.get("signals", ()), list | tuple)
    found = [Fault(("signals",), SigcalcError("a layout needs at least one signal"))] if none else []
    found += [*same_names(given, "feeders"), *same_names(given, "signals")]
    joined, loops = _joined(feeders)
    found += loops
    for number, each in signals:
        at = _text(each, "at")
        if at and at not in joined:
            said = f"no run goes to {quoted(at)}; the places are {_places(joined)}"
            found.append(_fault("signals", number, "at", said))
    for number, each in feeders:
        start = _text(each, "start")
        if start and SUPPLY not in joined.get(start, {SUPPLY}):
            said = f"nothing joins {quoted(start)} to {quoted(SUPPLY)}; add that run"
            found.append(_fault("feeders", number, "start", said))
    return found


def same_names(given: dict[str, Any], what: str, key: str = "name") -> list[Fault]:
    """A fault for each entry of a list, be it read or raw, whose name another one has already."""
    found, seen = [], set[str]()
    for number, each in _entries(given.get(what)):
        name = _text(each, key)
        if name and name in seen:
            found.append(_fault(what, number, key, f"{quoted(name)} is there already; give each its own name"))
        seen.add(name)
    return found


def _fault(what: str, number: int, field: str, sentence: str) -> Fault:
    return Fault((what, number, field) if field else (what, number), SigcalcError(sentence))


def _entries(given: Any) -> list[tuple[int, Any]]:
    return list(enumerate(given)) if isinstance(given, list | tuple) else []


def _text(entry: Any, name: str) -> str:
    """A name in an entry, be that data or a section; empty where there is none to read."""
    value = entry.get(name) if isinstance(entry, dict) else getattr(entry, name, None)
    return value.strip() if isinstance(value, str) else ""


def _joined(feeders: list[tuple[int, Any]]) -> tuple[dict[str, set[str]], list[Fault]]:
    """For each place all that are joined to it, and a fault for each run too many."""
    joined, faults = {SUPPLY: {SUPPLY}}, []
    for number, each in feeders:
        start, end = (_text(each, side) for side in ("start", "end"))
        if not start or not end:
            continue
        small, large = sorted((joined.setdefault(place, {place}) for place in (start, end)), key=len)
        if start == end:
            said = f"it ends where it starts, at {quoted(end)}; give two places"
            faults.append(_fault("feeders", number, "end", said))
        elif small is large:
            said = f"from {quoted(start)} to {quoted(end)} it closes a loop; leave one run out"
            faults.append(_fault("feeders", number, "", said))
        else:
            large |= small
            joined.update(dict.fromkeys(small, large))
    return joined, faults


def _places(joined: dict[str, set[str]]) -> str:
    shown = ", ".join(quoted(each) for each in list(joined)[:8])
    return shown if len(joined) <= 8 else f"{shown} and more"
