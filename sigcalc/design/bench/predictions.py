"""What would each fault look and read like? The catalogue of a circuit over many samples, and which look all the same.

Whatever is measured, a blob of solder across one LED, one across the other and bare wires that touch at the mast hole
remain alike where the pair has no resistors of its own: each puts some tenths of an ohm across both lamps. Look there.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from ...errors import UnitError
from ...parts.meter import OHMS, WATCH, Meter, as_meter
from ...parts.table import need_name
from ...units.plain import need_made, need_plain, need_whole
from ...units.reading import quoted
from .circuit import LAMPS, BenchCircuit, Draws, Floats, drawn, need_seed, nominal, sound
from .expected import ReadingBand
from .fault import Fault, changed, faults_of
from .reading import BenchReadings, MeasuringPoint, measuring_points, what_shows
from .visual_check import SEEN, seen_shares

DRAWS, SEED = 2000, 20260720
MOST_DRAWS = 5000
"""Of every fault: with two at once these fill 400 MB."""
_TOGETHER = 4100  # samples solved at once, so that their arrays stay in the processor's cache
_ALIKE = 0.95
"""Share of the samples of two faults that must agree for them to count as one class. Common practice, no source."""
_SEEN_ALIKE = 0.05
_SCALE = {OHMS: 1.0, WATCH: 1.0}  # ohm, s: below it the scale is even, above it logarithmic
_RARE = 0.05  # a look that fewer samples give is not listed


@dataclass(frozen=True)
class Predictions:
    """Readings and looks of every fault over the same samples of parts.

    Attributes
    ----------
    faults, points: what the first axis of each array means, and the points by name
    values: by point's name, SI readings of shape (faults, samples); infinite where the meter shows OL
    seen: shares with which each of `visual_check.SEEN` is said, shape (faults, 2 positions, 6, samples)
    """

    circuit: BenchCircuit
    meter: Meter
    faults: tuple[Fault, ...]
    points: dict[str, MeasuringPoint]
    values: dict[str, Floats]
    seen: Floats


def predict(
    circuit: BenchCircuit, meter: Meter, pairs: bool = True, draws: int = DRAWS, seed: int = SEED, printed: bool = False
) -> Predictions:
    """The predictions over random samples; kept, so that asking again costs nothing.

    With `printed` those of one sample more, with every part as printed and faults of middling gravity; it is worked out
    together with the others. Raises UnitError or RangeError for `pairs`, `draws` or `seed` that are none.
    """
    need_plain(bool, pairs, "pairs")
    draws = need_whole(draws, "draws", 1, MOST_DRAWS, DRAWS)
    return _kept(circuit, meter, bool(pairs), draws, need_seed(seed))[0 if printed else 1]


@lru_cache(maxsize=12)
def _kept(circuit: BenchCircuit, meter: Meter, pairs: bool, draws: int, seed: int) -> tuple[Predictions, Predictions]:
    printed, random = nominal(), drawn(draws, seed)
    both = {name: np.concatenate((printed[name], random[name])) for name in printed}
    found = predictions_over(circuit, meter, faults_of(circuit, pairs), both)
    return _of_samples(found, slice(None, 1)), _of_samples(found, slice(1, None))


def _of_samples(found: Predictions, samples: slice) -> Predictions:
    values = {name: each[:, samples].copy() for name, each in found.values.items()}
    return replace(found, values=values, seen=found.seen[..., samples].copy())


def predictions_over(circuit: BenchCircuit, meter: Meter, faults: tuple[Fault, ...], draws: Draws) -> Predictions:
    """The predictions of some faults over given samples; several faults are solved at once."""
    points, usual, whole = measuring_points(circuit), usual_currents(circuit, meter), sound(circuit, draws)
    samples = len(whole["supply"])
    values = {name: np.empty((len(faults), samples)) for name in points}
    seen = np.empty((len(faults), len(LAMPS), len(SEEN), samples))
    changes = [changed(whole, circuit, fault, draws) for fault in faults]
    for lamp in (*LAMPS, ""):
        asked = [point for point in points.values() if point.position == lamp]
        first, known = [], {}
        for place, change in enumerate(changes):
            first.append(known.setdefault(_print(what_shows(circuit, whole | change, change, lamp)), place))
        for group in _groups(known.values(), changes, samples):
            readings = BenchReadings(
                circuit, whole | _stacked(whole, [changes[each] for each in group], samples), meter
            )
            if lamp:
                found, light = readings.powered(lamp, asked)
                seen[group, LAMPS.index(lamp)] = np.moveaxis(seen_shares(*light, usual), 0, -2)
            else:
                found = readings.unpowered(asked)
            for name, value in found.items():
                values[name][group] = value
        values |= {point.name: values[point.name][first] for point in asked}
        if lamp:
            seen[:, LAMPS.index(lamp)] = seen[first, LAMPS.index(lamp)]
    return Predictions(circuit, meter, faults, points, values, seen)


def _print(shows: dict[str, Any]) -> tuple[tuple[str, Any], ...]:
    """Something to tell contents by: the same for faults that show alike."""
    return tuple((name, np.asarray(each, float).tobytes()) for name, each in sorted(shows.items()))


def _groups(places: Iterable[int], changes: list[dict[str, Any]], samples: int) -> list[list[int]]:
    """Faults to be solved at once; an alternating supply has moments of its own."""
    steady = [place for place in places if not changes[place].get("alternating")]
    many = max(_TOGETHER // samples, 1)
    together = [steady[first : first + many] for first in range(0, len(steady), many)]
    return [*together, *([place] for place in places if place not in steady)]


def _stacked(whole: dict[str, Any], changes: list[dict[str, Any]], samples: int) -> dict[str, Floats]:
    """What any of some faults changes, shape (faults, samples)."""
    return {
        name: np.stack([np.broadcast_to(each.get(name, whole[name]), samples) for each in changes])
        for name in dict.fromkeys(name for each in changes for name in each)
    }


@lru_cache(maxsize=64)
def usual_currents(circuit: BenchCircuit, meter: Meter) -> tuple[float, float]:
    """The currents in A of both lamps of a sound circuit with every part as printed, each lit in its turn."""
    readings = BenchReadings(circuit, sound(circuit, nominal()), meter)
    return tuple(float(readings.light(lamp)[place][0]) for place, lamp in enumerate(LAMPS))


def scaled(point: MeasuringPoint, value: Any) -> Any:
    """A reading on its own scale: even for volts and amperes, by ratios for ohms and seconds; OL stays infinite."""
    if point.setting in _SCALE:
        return np.log1p(np.maximum(value, 0.0) / _SCALE[point.setting])
    return value


def doubt(meter: Meter, point: MeasuringPoint, value: Any) -> Any:
    """The standard uncertainty of a reading in SI, on the point's own scale."""
    unsure = meter.uncertainty(point.setting, value)
    return unsure / (np.maximum(value, 0.0) + _SCALE[point.setting]) if point.setting in _SCALE else unsure


def classes(
    predictions: Predictions,
    points: Sequence[str],
    positions: Sequence[int] = (0, 1),
    among: Sequence[int] | None = None,
) -> tuple[int, ...]:
    """For each fault the number of its class: faults that nothing chosen can tell apart share one.

    Two faults are alike where, sample by sample, what they predict lies within the meter's limit of each other in
    nearly all samples, OL against OL, and what is seen does not differ. `points` are names of measuring points,
    `positions` the positions in which the signal is looked at, `among` the places of the faults, if not all.
    """
    places = np.arange(len(predictions.faults)) if among is None else np.asarray(among, int)
    first, second = (places[each] for each in np.triu_indices(len(places), 1))
    if len(positions):
        looks = predictions.seen[:, list(positions)].mean(axis=-1)
        alike = (np.abs(looks[first] - looks[second]) < _SEEN_ALIKE).all(axis=(1, 2))
        first, second = first[alike], second[alike]
    for name in points:
        alike = _alike(predictions, name, first, second)
        first, second = first[alike], second[alike]
    alike = coo_array((np.ones(len(first)), (first, second)), shape=(len(predictions.faults),) * 2)
    groups = connected_components(alike, directed=False)[1]
    return tuple(int(groups[place]) for place in places)


def _alike(predictions: Predictions, name: str, first: Any, second: Any) -> NDArray[np.bool_]:
    """Which of some pairs of faults one point cannot tell apart."""
    values, point = predictions.values[name], predictions.points[name]
    over = np.isinf(values)
    finite = np.where(over, 0.0, values)
    answer = np.empty(len(first), bool)
    for number, (one, other) in enumerate(zip(first, second, strict=True)):
        larger = np.maximum(np.abs(finite[one]), np.abs(finite[other]))
        near = np.abs(finite[one] - finite[other]) <= predictions.meter.limit(point.setting, larger)
        answer[number] = np.mean((over[one] == over[other]) & near) >= _ALIKE
    return answer


@dataclass(frozen=True)
class FaultView:
    """One fault (or two at once), what the eye sees and what the meter reads.

    `seen` has for each position what is likeliest seen; `looks` what is seen set for red and set for green together,
    with the share of the samples that show it. The `readings` span the samples, the meter's error left out; their
    nominal is for a fault of middling gravity.
    """

    fault: Fault
    seen: dict[str, str]
    looks: dict[tuple[str, str], float]
    readings: dict[str, ReadingBand]

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
    drawn = predict(need_made(circuit, "circuit", BenchCircuit), meter, pairs, draws, seed)
    printed = predict(circuit, meter, pairs, draws, seed, printed=True)
    return tuple(_view(drawn, printed, place) for place in range(len(drawn.faults)))


def _view(drawn: Predictions, printed: Predictions, place: int) -> FaultView:
    shares = drawn.seen[place].mean(axis=-1)
    return FaultView(
        fault=drawn.faults[place],
        seen={lamp: SEEN[int(np.argmax(shares[number]))] for number, lamp in enumerate(LAMPS)},
        looks=_looks(drawn.seen[place]),
        readings={
            name: ReadingBand(
                point, drawn.meter, float(values.min()), float(printed.values[name][place, 0]), float(values.max())
            )
            for name, point in drawn.points.items()
            for values in (drawn.values[name][place],)
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
    known = measuring_points(need_made(circuit, "circuit", BenchCircuit))
    if points is not None and not isinstance(points, list | tuple):
        raise UnitError(argument="points", need="a list of names", given=quoted(points), advice='write ["pair, red"]')
    chosen = [need_name(name, "measuring point", known) for name in (known if points is None else points)]
    drawn = predict(circuit, as_meter(meter), pairs, draws, seed)
    groups: dict[int, list[str]] = {}
    for fault, group in zip(drawn.faults, classes(drawn, list(dict.fromkeys(chosen))), strict=True):
        groups.setdefault(group, []).append(fault.name)
    return tuple(tuple(each) for each in groups.values() if len(each) > 1)


def if_it_reads(view: FaultView, sound: FaultView) -> tuple[str, ...]:
    """The points at which a fault reads outside the sound signal's band, in the order in which to measure them.

    No sample of the fault lies in the sound band, widened by the meter's error.
    """
    widened = {name: reading.widened for name, reading in sound.readings.items()}
    return tuple(
        name
        for name, reading in view.readings.items()
        if reading.least > widened[name][1] or reading.most < widened[name][0]
    )


@dataclass(frozen=True)
class FirstSign:
    """What one point reads, and the faults that show there for the first time, the commonest first."""

    point: MeasuringPoint
    text: str
    faults: tuple[str, ...]


def first_signs(views: tuple[FaultView, ...]) -> tuple[FirstSign, ...]:
    """For each fault the first point, in the order in which to measure, that is sure to be outside the sound band.

    Faults that read alike there are listed together, and the signs in the order of the points. `views` are those of
    `fault_views`, the sound signal first. A fault that is missing from the answer is certain to show in no reading.
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
    """Views in rising order of one reading, apart where their bands are, the meter's error counted."""
    groups: list[list[FaultView]] = []
    top = -math.inf
    for view in views:
        if not groups or view.readings[name].least > top:
            groups.append([])
            top = -math.inf
        groups[-1].append(view)
        top = max(top, view.readings[name].widened[1])
    return groups


def _sign(views: list[FaultView], name: str) -> FirstSign:
    readings = [view.readings[name] for view in views]
    band = replace(readings[0], least=min(each.least for each in readings), most=max(each.most for each in readings))
    ordered = sorted(views, key=lambda each: -each.fault.weight)
    return FirstSign(band.point, band.text, tuple(each.fault.name for each in ordered))
