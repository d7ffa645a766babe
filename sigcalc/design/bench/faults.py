"""What would each fault look and read like? The catalogue of a circuit, fault by fault, and which look all the same.

Whatever is measured, a blob of solder across one LED, one across the other and bare wires that touch at the mast hole
remain alike where the pair has no resistors of its own: each puts some tenths of an ohm across both lamps. Look there.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from ...errors import UnitError, UnknownNameError
from ...parts.meter import as_meter
from ...parts.table import unknown
from ...units.reading import quoted
from .circuit import LAMPS, BenchCircuit, as_bench_circuit
from .fault import Fault
from .indistinguishable import classes
from .measuring_point import MeasuringPoint, measuring_points
from .predictions import DRAWS, SEED, Predictions, nominal_predictions, predict
from .reading_band import ReadingBand
from .visual_check import SEEN

_RARE = 0.05  # a look that fewer samples give is not named


@dataclass(frozen=True)
class FaultReading(ReadingBand):
    """What a meter reads at one point with a fault in the circuit, in SI; infinite for OL.

    `least` and `most` span the samples, the meter's error left out; `nominal` is for parts as printed and a fault of
    middling gravity.
    """

    @property
    def text(self) -> str:
        """The band as it is read off the display."""
        return self.meter.shown_band(self.point.setting, self.least, self.most)


@dataclass(frozen=True)
class FaultView:
    """One fault (or two at once), what the eye sees and what the meter reads.

    `seen` has for each position what is likeliest seen; `may_be_seen` all that more than one in twenty samples shows.
    `looks` has what is seen set for red and set for green together, with the share of the samples that show it.
    """

    fault: Fault
    seen: dict[str, str]
    may_be_seen: dict[str, tuple[str, ...]]
    looks: dict[tuple[str, str], float]
    readings: dict[str, FaultReading]

    @property
    def sentence(self) -> str:
        """The fault and its look, in words."""
        looks = ", ".join(f"set for {lamp}: {self.seen[lamp]}" for lamp in LAMPS)
        return f"{self.fault.name} ({looks}). {self.fault.cause}"


def fault_views(
    circuit: BenchCircuit, meter: Any = "hand meter", pairs: bool = False, draws: int = DRAWS, seed: int = SEED
) -> tuple[FaultView, ...]:
    """Every fault of the catalogue that the circuit can have, "nothing wrong" first.

    Parameters
    ----------
    meter: a Meter, or its name in `meters`
    pairs: whether two of the commonest at once are shown as well
    draws, seed: how many samples, and which

    Raises UnitError or UnknownNameError for a circuit or meter that is none.
    """
    meter = as_meter(meter)
    drawn = predict(as_bench_circuit(circuit), meter, pairs, draws, seed)
    printed = nominal_predictions(circuit, meter, pairs, draws, seed)
    return tuple(_view(drawn, printed, place) for place in range(len(drawn.faults)))


def _view(drawn: Predictions, printed: Predictions, place: int) -> FaultView:
    shares = drawn.seen[place].mean(axis=-1)
    return FaultView(
        fault=drawn.faults[place],
        seen={lamp: SEEN[int(np.argmax(shares[number]))] for number, lamp in enumerate(LAMPS)},
        may_be_seen={
            lamp: tuple(each for each, share in zip(SEEN, shares[number], strict=True) if share > _RARE)
            for number, lamp in enumerate(LAMPS)
        },
        looks=_looks(drawn.seen[place]),
        readings={
            name: FaultReading(
                point,
                drawn.meter,
                least=float(drawn.values[name][place].min()),
                nominal=float(printed.values[name][place, 0]),
                most=float(drawn.values[name][place].max()),
            )
            for name, point in drawn.points.items()
        },
    )


def _looks(shares: np.ndarray) -> dict[tuple[str, str], float]:
    """How often two looks, one in each position, are seen of the same sample; the rare ones are left out."""
    both = np.einsum("is,js->ij", *shares) / shares.shape[-1]
    return {
        (first, second): float(both[i, j])
        for i, first in enumerate(SEEN)
        for j, second in enumerate(SEEN)
        if both[i, j] > _RARE
    }


def look_alikes(
    circuit: BenchCircuit,
    points: Any = None,
    meter: Any = "hand meter",
    pairs: bool = False,
    draws: int = DRAWS,
    seed: int = SEED,
) -> tuple[tuple[str, ...], ...]:
    """Groups of two and more faults that neither the eye nor any of the chosen points can tell apart.

    Parameters
    ----------
    points: names of measuring points; all of them, if not given

    Raises UnknownNameError for a point that the circuit does not have.
    """
    known = measuring_points(as_bench_circuit(circuit))
    if points is not None and not isinstance(points, list | tuple):
        raise UnitError(f'points needs a list of names, but {quoted(points)} came; write for example ["pair, red"]')
    chosen = list(known) if points is None else list(points)
    for name in chosen:
        if not isinstance(name, str) or name not in known:
            raise UnknownNameError(unknown("measuring point", name, known))
    drawn = predict(circuit, as_meter(meter), pairs, draws, seed)
    groups: dict[int, list[str]] = {}
    for fault, group in zip(drawn.faults, classes(drawn, list(dict.fromkeys(chosen))), strict=True):
        groups.setdefault(group, []).append(fault.name)
    return tuple(tuple(each) for each in groups.values() if len(each) > 1)


def if_it_reads(view: FaultView, sound: FaultView) -> tuple[str, ...]:
    """The points at which a fault reads outside the sound signal's band, in the order in which to measure them."""
    return tuple(name for name, reading in view.readings.items() if _outside(reading, sound.readings[name]))


def _outside(reading: FaultReading, sound: FaultReading) -> bool:
    """Whether no sample of the fault lies in the sound band, widened by the meter's error."""
    return reading.least > _widened(sound, sound.most, +1) or reading.most < _widened(sound, sound.least, -1)


def _widened(reading: FaultReading, value: float, sign: float) -> float:
    """A value with the meter's error added or taken off."""
    return value + sign * float(reading.meter.limit(reading.point.setting, value)) if math.isfinite(value) else value


@dataclass(frozen=True)
class FirstSign:
    """What one point reads, and the faults that show there for the first time, the commonest first."""

    point: MeasuringPoint
    text: str
    faults: tuple[str, ...]


def first_signs(views: tuple[FaultView, ...]) -> tuple[FirstSign, ...]:
    """For each fault the first point, in the order in which to measure, that is surely outside the sound band with it.

    Faults that read alike there stand together, and the signs in the order of the points. `views` are those of
    `fault_views`, the sound signal first. A fault that is missing from the answer is surely shown by no reading.
    """
    firsts: dict[str, list[FaultView]] = {}
    for view in views[1:]:
        for name in if_it_reads(view, views[0])[:1]:
            firsts.setdefault(name, []).append(view)
    return tuple(
        _sign(group, name)
        for name in views[0].readings
        for group in _reading_alike(sorted(firsts.get(name, []), key=lambda each: each.readings[name].least), name)
    )


def _reading_alike(views: list[FaultView], name: str) -> list[list[FaultView]]:
    """Views in rising order of one reading, apart where their bands are."""
    groups: list[list[FaultView]] = []
    for view in views:
        if groups and not _above(view.readings[name].least, [each.readings[name] for each in groups[-1]]):
            groups[-1].append(view)
        else:
            groups.append([view])
    return groups


def _above(value: float, readings: list[FaultReading]) -> bool:
    """Whether a reading is above all of some bands, the meter's error counted."""
    most = max(each.most for each in readings)
    return value > _widened(readings[0], most, +1)


def _sign(views: list[FaultView], name: str) -> FirstSign:
    readings = [view.readings[name] for view in views]
    band = replace(readings[0], least=min(each.least for each in readings), most=max(each.most for each in readings))
    ordered = sorted(views, key=lambda each: -each.fault.weight)
    return FirstSign(band.point, band.text, tuple(each.fault.name for each in ordered))


def view_of(views: tuple[FaultView, ...], name: str) -> FaultView:
    """The view of the fault of that name; UnknownNameError where there is none."""
    for each in views:
        if each.fault.name == name:
            return each
    raise UnknownNameError(unknown("fault", quoted(name), [each.fault.name for each in views]))
