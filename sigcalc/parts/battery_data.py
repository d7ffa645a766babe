"""How batteries run down: the published discharge curves and capacities, read into one record for each battery.

A curve gives voltage at rest and internal resistance of one cell against the share used
(`data/discharge_curves.csv`). A capacity test says what was got at one drain down to one
end voltage, and by how much another sample may differ (`data/discharge_capacity.csv`).
The share used 1 is the end of the curve: where a test ended before it, its capacity is
scaled up, so that the same test run here ends at the published charge again.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np

from ..physics.discharge import SHARES, at_place, curve, first_below
from ..units import Charge, Current, Ratio, Voltage, kind_of, record, say
from .table import Figure, Figures, read_figures


@record
class Discharge:
    """What a battery does while it is used up, from published points.

    `used` is the grid of shares, with the `rest_voltage` of the whole battery and
    `resistance_growth`, the internal resistance against that of the fresh battery, at each.
    `capacity`, with its least and most, belongs to the rising `drain`: the charge down to
    the end of the curve. `capacity` is the geometric middle of the band. `loss_per_year`
    is what storage takes. `from_memory` names the figures that were not looked up.
    """

    name: str
    cells: int
    rechargeable: bool
    used: Ratio
    rest_voltage: Voltage
    resistance_growth: Any
    drain: Current
    capacity_min: Charge
    capacity: Charge
    capacity_max: Charge
    loss_per_year: Ratio
    loss_per_year_min: Ratio
    loss_per_year_max: Ratio
    from_memory: tuple[str, ...] = ()
    __arrays__ = True

    def kept(self, years: float) -> tuple[float, float, float]:
        """The share of the capacity left after storage: least, nominal, most; each year takes its part of the rest."""
        si = self.si
        return tuple((1.0 - each) ** years for each in (si.loss_per_year_max, si.loss_per_year, si.loss_per_year_min))


@dataclass(frozen=True)
class CapacityPoint:
    """One published test: drain in A, end voltage of a cell in V (None: not stated), charge in Ah, and its spread."""

    drain: float
    cut_off: float | None
    charge: float
    spread: float
    figure: Figure


@cache
def capacity_points(cell: str) -> tuple[CapacityPoint, ...]:
    """The published capacities of a kind of cell, in the order of the file."""
    tests = read_figures("discharge_capacity.csv").values()
    return tuple(_point(rows) for rows in tests if rows["cell"].value == cell)


@cache
def curve_points(name: str) -> dict[str, tuple[tuple[float, Figure], ...]]:
    """The published points of a curve: "rest_voltage" and "resistance", each with the share used it belongs to.

    A row's quantity is such as "rest_voltage at 20 %".
    """
    points: dict[str, list[tuple[float, Figure]]] = defaultdict(list)
    for quantity, figure in read_figures("discharge_curves.csv")[name].items():
        what, _, used = quantity.partition(" at ")
        points[what].append((kind_of(Ratio).read(used, "used"), figure))
    return {quantity: tuple(each) for quantity, each in points.items()}


def discharge_of(name: str, figures: Figures, fresh_voltage: float, internal_resistance: float) -> Discharge:
    """A battery's record: the curve and capacities that its `figures` name, for its fresh figures in V and ohm."""
    cells = int(figures["cells"].value)
    points = curve_points(figures["discharge_curve"].value)
    shares, volts = _columns(points["rest_voltage"])
    # the first point is the battery's own: how fresh they are is what differs most between batteries
    rest = curve(shares, np.append(fresh_voltage, cells * volts[1:]))
    growth = curve(*_columns(points["resistance"]))
    growth = growth / growth[0]
    tests = capacity_points(figures["discharge_capacity"].value)
    drain, least, most = _band(tests, cells, rest, internal_resistance * growth)
    losses = ("loss_per_year", "loss_per_year_min", "loss_per_year_max")
    return Discharge.of(
        name=name,
        cells=cells,
        rechargeable=figures["rechargeable"].value == "yes",
        used=SHARES,
        rest_voltage=rest,
        resistance_growth=growth,
        drain=drain,
        capacity_min=least,
        capacity=np.sqrt(least * most),
        capacity_max=most,
        **{key: kind_of(Ratio).read(figures[key].text, key) for key in losses},
        from_memory=tuple(_recalled(figures, points, tests)),
    )


def _point(rows: Figures) -> CapacityPoint:
    return CapacityPoint(
        drain=kind_of(Current).read(rows["drain"].text, "drain"),
        cut_off=kind_of(Voltage).read(rows["cut_off"].text, "cut_off") if "cut_off" in rows else None,
        charge=kind_of(Charge).read(rows["capacity"].text, "capacity"),
        spread=kind_of(Ratio).read(rows["spread"].text, "spread"),
        figure=rows["capacity"],
    )


def _columns(points: tuple[tuple[float, Figure], ...]) -> tuple[np.ndarray, np.ndarray]:
    """Shares and values of a curve's points, in V, in ohm, or against the first point where no unit is given."""
    return np.array([used for used, _ in points]), np.array([float(figure.value) for _, figure in points])


def _band(
    tests: tuple[CapacityPoint, ...], cells: int, rest: np.ndarray, resistance: np.ndarray
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Drains in A with the least and most charge in Ah down to the end of the curve.

    A battery never gives more at a higher drain. Where samples of different makes say so,
    the band is widened until it holds them all and still falls.
    """
    edges: dict[float, list[tuple[float, float]]] = defaultdict(list)
    for test in tests:
        charge = test.charge / _share_reached(test, cells, rest, resistance)
        edges[test.drain].append((charge / (1 + test.spread), charge * (1 + test.spread)))
    drains = sorted(edges)
    least = np.array([min(low for low, _ in edges[each]) for each in drains])
    most = np.array([max(high for _, high in edges[each]) for each in drains])
    return np.array(drains), np.minimum.accumulate(least), np.maximum.accumulate(most[::-1])[::-1]


def _share_reached(test: CapacityPoint, cells: int, rest: np.ndarray, resistance: np.ndarray) -> float:
    """The share of the curve that is used when the test's end voltage is reached; 1 where none is stated."""
    if test.cut_off is None:
        return 1.0
    place, _ = first_below(rest - resistance * test.drain, cells * test.cut_off)
    return float(at_place(place, SHARES))


def _recalled(
    figures: Figures, points: dict[str, tuple[tuple[float, Figure], ...]], tests: tuple[CapacityPoint, ...]
) -> Iterator[str]:
    """What of a battery's figures was written down from memory, in words."""
    if any(figures[key].from_memory for key in figures if key.startswith(("fresh", "internal"))):
        yield "part of the fresh voltage and internal resistance"
    if any(figure.from_memory for each in points.values() for _, figure in each):
        yield "the shape of the discharge curve"
    drains = sorted({test.drain for test in tests if test.figure.from_memory})
    if drains:
        yield f"the capacity at {', '.join(say(each, 'A') for each in drains)}"
    if any(figures[key].from_memory for key in figures if key.startswith("loss")):
        yield "part of the loss in storage"
