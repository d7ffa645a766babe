"""What the meter should read on a plan's signal, and what to look at where it reads something else."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from dataclasses import dataclass

from ..design.bench.circuit import LAMPS
from ..design.bench.diagnosis import diagnose
from ..design.bench.expected import ExpectedReading, ExpectedReadings, expected_readings
from ..design.bench.predictions import FaultView, FirstSign, fault_views, first_signs
from ..design.bench.reading import MeasuringPoint
from ..parts.meter import OHMS, Meter, meters
from ..units import say
from .bench_signal import BenchSignal
from .circuit import Circuit
from .result import BenchTest, Figure, Reading

_DRAWS = 400  # samples of each fault: enough for a sheet, on which no probability stands
_OFTEN = 0.2  # a look that a smaller share of a fault's samples shows is left out of the page
_GLARING = 2.5  # times the usual current: eye, finger or nose notice; common practice, no source
BEFORE = f"{OHMS}, before soldering"


@dataclass(frozen=True)
class WrongLook:
    """What is seen in both positions where it is not right, the faults that look so, and what to measure first."""

    seen: dict[str, str]
    faults: tuple[str, ...]
    measure: MeasuringPoint | None


@dataclass(frozen=True)
class FaultTable:
    """From what is seen or read to what to look at.

    Attributes
    ----------
    right: what a sound signal shows, by position
    looks: what else may be seen, the commonest first; a fault stands at every look that is not rare with it
    glaring: faults with which far too much current flows
    signs: by the name of a measuring point, what else it may read and which faults show there first
    hidden: faults that no reading shows for certain
    remedies: what to do about each fault, by its name
    """

    right: dict[str, str]
    looks: tuple[WrongLook, ...]
    glaring: tuple[str, ...]
    signs: dict[str, tuple[FirstSign, ...]]
    hidden: tuple[str, ...]
    remedies: dict[str, str]


def bench_test(circuit: Circuit, signal: BenchSignal, bands: dict[str, Figure]) -> BenchTest:
    """The readings of a plan's signal; `bands` are those of its resistors as bought."""
    meter = meters[circuit.plan.bench.meter]
    expected = expected_readings(signal.circuit, meter)
    return BenchTest(
        circuit=signal.circuit,
        meter=meter,
        before=tuple(_loose(band, meter) for band in bands.values()),
        readings=tuple(map(_reading, expected.readings)),
        cautions=expected.cautions,
        notes=signal.notes,
        assumptions=_assumptions(expected, meter),
    )


def _loose(band: Figure, meter: Meter) -> Reading:
    """A resistor's reading before it is soldered in, with the meter's own error."""
    least, most = (end + sign * float(meter.limit(OHMS, end)) for end, sign in ((band.least, -1), (band.most, +1)))
    widened = dataclasses.replace(band, least=max(least, 0.0), most=most)
    where, shown = f"across the {band.label}, nothing else joined to it", meter.shown_band(OHMS, widened.least, most)
    return Reading(band.label, where, BEFORE, widened, shown)


def _reading(each: ExpectedReading) -> Reading:
    point = each.point
    depends_on = "parts' tolerances and the meter's error"
    band = Figure(each.least, each.nominal, each.most, each.unit, point.name, depends_on)
    return Reading(point.name, point.where, point.setting, band, each.text, point.position)


def _assumptions(expected: ExpectedReadings, meter: Meter) -> tuple[str, ...]:
    across = say(meter.si.input_resistance, "ohm")
    return (*expected.assumptions, f"Readings count the {across} that the {meter.name} puts across the circuit.")


def fault_table(test: BenchTest) -> FaultTable:
    """What else may be seen and read on a plan's signal, and what to look at then; takes some tenths of a second."""
    views = fault_views(test.circuit, test.meter, draws=_DRAWS)
    signs = first_signs(views)
    named = {fault for sign in signs for fault in sign.faults}
    return FaultTable(
        right=views[0].seen,
        looks=_wrong_looks(test, views),
        glaring=tuple(view.fault.name for view in views[1:] if _glares(view, views[0])),
        signs={name: tuple(each for each in signs if each.point.name == name) for name in views[0].readings},
        hidden=tuple(view.fault.name for view in views[1:] if view.fault.name not in named),
        remedies={view.fault.name: view.fault.remedy for view in views[1:]},
    )


def _wrong_looks(test: BenchTest, views: Sequence[FaultView]) -> tuple[WrongLook, ...]:
    """Faults by their looks, leaving out the one that is right; the commonest look first."""
    groups: dict[tuple[str, str], list[FaultView]] = {}
    right = tuple(views[0].seen[lamp] for lamp in LAMPS)
    for view in views[1:]:
        for look, share in view.looks.items():
            if look != right and share >= _OFTEN:
                groups.setdefault(look, []).append(view)

    def common(look: tuple[str, str]) -> float:
        return sum(each.fault.weight * each.looks[look] for each in groups[look])

    return tuple(_wrong_look(test, look, groups[look]) for look in sorted(groups, key=common, reverse=True))


def _glares(view: FaultView, sound: FaultView) -> bool:
    """Whether far more current than usual flows: the lit lamp glares, or with both dark something gets hot."""
    usual = {lamp: abs(sound.readings[f"current, {lamp}"].nominal) for lamp in LAMPS}
    for lamp in LAMPS:
        lit = [each for each in LAMPS if each in view.seen[lamp]] or LAMPS
        if abs(view.readings[f"current, {lamp}"].nominal) > _GLARING * max(usual[each] for each in lit):
            return True
    return False


def _wrong_look(test: BenchTest, look: tuple[str, str], group: list[FaultView]) -> WrongLook:
    seen = dict(zip(LAMPS, look, strict=True))
    told = diagnose(test.circuit, seen, meter=test.meter, pairs=False, draws=_DRAWS)
    faults = tuple(each.fault.name for each in sorted(group, key=lambda each: -each.fault.weight * each.looks[look]))
    return WrongLook(seen, faults, told.next[0].point if told.next else None)
