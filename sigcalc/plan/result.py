"""What a study of a plan gives: figures with bands, parts, steps and readings, all of it plain data on request."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, fields, is_dataclass
from functools import cached_property
from typing import Any

from ..design.bench.circuit import BenchCircuit
from ..design.bench.reading import base_name
from ..design.caution import Caution, work_cautions
from ..design.findings import STOP, Finding, worst
from ..design.lamp.drawer import Combination
from ..design.pair.two_lead_pair import PairPoint, TwoLeadPair
from ..design.power.run_time import RunTime
from ..design.tolerance import Band
from ..design.train.passing_train import PassingTrain
from ..errors import SigcalcError
from ..parts.meter import Meter
from ..units import say
from ..units.record import Shown
from .model import PlanFields
from .spreadsheet import csv_text

COUNTED = "evenings"
"""The unit of a number that is counted, not measured; of it only the whole ones count."""


def say_figure(value: float, unit: str) -> str:
    """A figure as people say it; what is counted has no prefix and no digits after the point."""
    if unit != COUNTED:
        return say(value, unit)
    whole = math.floor(value)
    return f"{whole} {unit[:-1] if whole == 1 else unit}"


def sentence(refusal: Exception) -> str:
    """A refusal's words with a capital and a full stop, for a finding."""
    said = str(refusal)
    return f"{said[:1].upper()}{said[1:]}."


def plain_data(held: Any) -> Any:
    """A record, or a tuple or mapping of records, as plain JSON data; a number with a unit as {"value":, "unit":}."""
    if hasattr(held, "to_dict"):
        return held.to_dict()
    if is_dataclass(held):
        return {each.name: _with_unit(getattr(held, each.name), each.metadata.get("unit")) for each in fields(held)}
    if isinstance(held, dict):
        return {key: plain_data(each) for key, each in held.items()}
    return [plain_data(each) for each in held] if isinstance(held, tuple | list) else held


def _with_unit(value: Any, unit: str | None) -> Any:
    return plain_data(value) if unit is None else {"value": value if math.isfinite(value) else None, "unit": unit}


def in_unit(unit: str) -> Any:
    """A record's field that holds an SI number in this unit."""
    return field(metadata={"unit": unit})


@dataclass(frozen=True)
class Figure(Band):
    """A figure in SI with its least and most, what it is in words, and on which tolerances its band depends."""

    label: str = ""
    depends_on: str = ""

    @classmethod
    def of(cls, label: str, band: Band, depends_on: str = "") -> Figure:
        """The figure with a band that is known."""
        return cls(*band, band.unit, label, depends_on)

    @property
    def text(self) -> str:
        """Nominal value with its band, as people say it; one value where all are said with the same digits."""
        least, nominal, most = (say_figure(each, self.unit) for each in self)
        return nominal if nominal == least == most else f"{nominal} ({least} to {most})"

    def to_dict(self) -> dict[str, Any]:
        """Plain data, each value with its unit."""
        values = {name: _with_unit(getattr(self, name), self.unit) for name in ("least", "nominal", "most")}
        return {"label": self.label, **values, "depends_on": self.depends_on}


@dataclass(frozen=True)
class PartLine:
    """One line of the parts list."""

    count: int
    part: str
    detail: str
    bands: tuple[str, ...] = ()
    note: str = ""


@dataclass(frozen=True)
class Reading:
    """What the meter should show at one point with the signal set for `lamp` ("" where it does not matter).

    `expected` is infinite where the meter's range is exceeded; `shown` is the band as the display says it.
    """

    name: str
    where: str
    setting: str
    expected: Figure
    shown: str
    lamp: str = ""

    @property
    def base(self) -> str:
        """The name without the position of the signal."""
        return base_name(self.name, self.lamp)


@dataclass(frozen=True)
class BenchTest:
    """The finished signal before a meter: readings in the order in which to take them, and the cautions for it.

    `before` are the readings of loose resistors; `notes` says what was left out or taken for granted, `assumptions`
    what the bands depend on.
    """

    circuit: BenchCircuit
    meter: Meter
    before: tuple[Reading, ...]
    readings: tuple[Reading, ...]
    cautions: tuple[Caution, ...]
    notes: tuple[str, ...]
    assumptions: tuple[str, ...]

    def to_dict(self) -> dict[str, Any]:
        """Plain data; a figure beyond the meter's range is null."""
        own = ("before", "readings", "cautions", "notes", "assumptions")
        return {"meter": self.meter.name} | {name: plain_data(getattr(self, name)) for name in own}


@dataclass(frozen=True)
class Step:
    """One step at the bench, with its caution where it can hurt."""

    text: str
    caution: str = ""


@dataclass(frozen=True)
class Cut:
    """One piece to cut and strip; lengths in m."""

    what: str
    colour: str
    wire: str
    length: float = in_unit("m")
    strip: float = in_unit("m")


@dataclass
class Told:
    """What is said of one side of a plan: figures, findings, and what was taken for granted; each answer adds to it."""

    figures: dict[str, Figure] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)
    assumptions: list[str] = field(default_factory=list)

    def figure(self, key: str, label: str, band: Band, depends_on: str) -> None:
        """Add a figure."""
        self.figures[key] = Figure.of(label, band, depends_on)

    def ask(self, topic: str, question: Callable[[], Iterable[Finding]], risk: str = "", remedy: str = "") -> None:
        """Add the findings of an answer; a refusal is a finding as well."""
        try:
            self.findings += question()
        except SigcalcError as refusal:
            self.findings.append(Finding(STOP, topic, sentence(refusal), remedy, risk))


@dataclass
class EveningStudy(Told):
    """Figures and findings for the evening; `run` is the battery's, None where there is none."""

    run: RunTime | None = None


@dataclass
class TriggerStudy(Told):
    """What the passing train needs: figures, findings, parts, where they go, and steps of their own.

    `passing` is the train on one timeline, None where no relay is named or the pot cannot be set.
    """

    parts: tuple[PartLine, ...] = ()
    positions: tuple[tuple[str, str], ...] = ()
    steps: tuple[Step, ...] = ()
    passing: PassingTrain | None = None


@dataclass(frozen=True, repr=False)
class Study(Shown):
    """Everything the library has to say about one plan.

    `no_bench_test` is the sentence why there is no `bench_test`; "" where there is one. `test_of` works the readings
    out for a signal's name: that takes as long as all else, so `bench_test` asks it when it is first read. `made_of`
    holds what is two resistors, by place: "shared", "red" or "green".
    """

    plan: PlanFields
    pair: TwoLeadPair
    points: dict[str, PairPoint]
    figures: dict[str, Figure]
    findings: tuple[Finding, ...]
    parts: tuple[PartLine, ...]
    cuts: tuple[Cut, ...]
    drills: tuple[tuple[str, str], ...]
    steps: tuple[Step, ...]
    test_of: Callable[[str], BenchTest] | None = field(compare=False)
    assumptions: tuple[str, ...]
    evening: EveningStudy | None = None
    trigger: TriggerStudy | None = None
    no_bench_test: str = ""
    made_of: dict[str, Combination] = field(default_factory=dict)

    def __repr__(self) -> str:
        return (
            f"Study of {self.plan.name}: {self.grade}, {len(self.findings)} findings, {len(self.parts)} kinds of parts"
        )

    @cached_property
    def bench_test(self) -> BenchTest | None:
        """The finished signal before a meter; None where `no_bench_test` says why not."""
        return None if self.test_of is None else self.test_of(self.plan.name)

    @property
    def grade(self) -> str:
        """The gravest grade among the findings."""
        return worst(self.findings)

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """What to heed at the bench, with this supply, and with the train."""
        return work_cautions(self.plan.supply.record(), train=self.trigger is not None)

    def to_dict(self) -> dict[str, Any]:
        """The study as plain JSON data; each figure is a value with its unit."""
        own = ("grade", "figures", "findings", "parts", "cuts", "steps", "assumptions", "cautions")
        data = {"name": self.plan.name} | {name: plain_data(getattr(self, name)) for name in own}
        data["drills"] = [{"hole": hole, "drill": drill} for hole, drill in self.drills]
        data["bench_test"] = plain_data(self.bench_test)
        if self.trigger is not None:
            places = [{"part": part, "place": place} for part, place in self.trigger.positions]
            data["hands_off"] = {"positions": places, "steps": plain_data(self.trigger.steps)}
        return data

    def parts_csv(self) -> str:
        """The parts list as comma-separated text for a spreadsheet."""
        heads = ("count", "part", "detail", "colour bands", "note")
        return csv_text(
            heads, [(each.count, each.part, each.detail, " ".join(each.bands), each.note) for each in self.parts]
        )
