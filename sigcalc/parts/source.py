"""Supplies: batteries and adapters, as open voltage and internal resistance, and how a battery runs down.

A discharge curve gives voltage at rest and internal resistance of one cell against the share used
(`data/discharge_curves.csv`). A capacity test says what was got at one drain down to one
end voltage, and by how much another sample may differ (`data/discharge_capacity.csv`).
The share used 1 is the end of the curve: where a test ended before it, its capacity is
scaled up, so that the same test run here ends at the published charge again.
"""

from __future__ import annotations

from collections import defaultdict
from functools import cache
from typing import Any, NamedTuple

import numpy as np

from ..errors import DesignError, RangeError
from ..physics.discharge import SHARES, at_place, curve, first_below
from ..units import Charge, Current, Ratio, Resistance, SupplyVoltage, Voltage, kind_of, record, say
from .table import Figure, Figures, PartsTable, as_part, from_rows, need_rising, read_figures

_DISCHARGE_ROWS = ("cells", "rechargeable", "discharge_curve", "discharge_capacity")
_LOSSES = ("loss_per_year", "loss_per_year_min", "loss_per_year_max")
_NEXT_TO_NOTHING = 1e-6  # of the charge: storage has emptied the battery, and the formulas take logarithms
_MOST_NO_LOAD = 2.0  # of the rated voltage; an adapter beyond it is no wall adapter


@record
class Discharge:
    """What a battery does while it is used up, from published points.

    `used` is the grid of shares, with the `rest_voltage` of the whole battery and
    `resistance_growth`, the internal resistance against that of the fresh battery, at each.
    `capacity`, with its least and most, belongs to the rising `drain`: the charge down to
    the end of the curve. `capacity` is the geometric middle of the band. `loss_per_year`
    is the share lost in storage. `from_memory` names the figures that were not looked up.
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
        """The share of the capacity left after storage: least, nominal, most; each year loses its part of the rest."""
        si = self.si
        return tuple((1.0 - each) ** years for each in (si.loss_per_year_max, si.loss_per_year, si.loss_per_year_min))


@record
class Battery:
    """A fresh battery: nominal and open-circuit voltage, and its internal resistance with the spread of the data.

    `discharge` says how it runs down; without it no run time can be worked out.
    `capacity` is the charge printed on your own battery, at a light drain: it scales the
    published capacities, whose spread stays. `form` is "rectangular" (PP3), "pack" or "coin cell".
    """

    name: str
    chemistry: str
    nominal_voltage: SupplyVoltage
    fresh_voltage: SupplyVoltage
    fresh_voltage_min: SupplyVoltage
    fresh_voltage_max: SupplyVoltage
    internal_resistance: Resistance
    internal_resistance_min: Resistance
    internal_resistance_max: Resistance
    note: str = ""
    discharge: Discharge | None = None
    capacity: Charge | None = None
    form: str = ""

    def __post_init__(self) -> None:
        turn = "turn the battery round, and reverse the current with polarity=-1"
        need_rising(self, "fresh_voltage_min", "fresh_voltage", "fresh_voltage_max", advice=turn)
        need_rising(self, "internal_resistance_min", "internal_resistance", "internal_resistance_max")
        need_rising(self, "capacity", advice='give what is printed on it, such as "500 mAh"')

    @property
    def corners(self) -> tuple[tuple[float, float], ...]:
        """Open voltage in V and internal resistance in ohm for the least, the nominal and the most current."""
        si = self.si
        return (
            (si.fresh_voltage_min, si.internal_resistance_max),
            (si.fresh_voltage, si.internal_resistance),
            (si.fresh_voltage_max, si.internal_resistance_min),
        )

    def capacity_band(self, years: float = 0.0) -> tuple[np.ndarray, np.ndarray]:
        """Published drains in A, and least, nominal and most capacity in C at each (three rows), after storage.

        Raises DesignError for a battery without discharge data.
        """
        if self.discharge is None:
            raise DesignError(
                f"{self.name} has no discharge data, so nothing is known about how long it lasts; "
                'start from one of the table, such as batteries["9 V alkaline"], and change its figures'
            )
        si, kept = self.discharge.si, np.maximum(self.discharge.kept(years), _NEXT_TO_NOTHING)
        charge = np.stack([si.capacity_min, si.capacity, si.capacity_max])
        scale = 1.0 if self.si.capacity is None else self.si.capacity / si.capacity[0]
        return si.drain, charge * scale * 3600.0 * kept[:, None]


@record
class Adapter:
    """A wall adapter: its voltage with tolerance, internal resistance, and the most current it is rated for.

    A regulated adapter holds its voltage. An unregulated one gives `voltage` only at
    `max_current` and more below it, up to `no_load_voltage` with nothing connected;
    then `internal_resistance` is the slope between the two. `ripple` is the swing from
    peak to valley at full load, as a share of `voltage`; it falls with the load.
    `tolerance` of an unregulated adapter is that of the mains.
    """

    name: str
    voltage: SupplyVoltage
    tolerance: Ratio
    internal_resistance: Resistance
    max_current: Current
    note: str = ""
    no_load_voltage: SupplyVoltage | None = None
    no_load_voltage_min: SupplyVoltage | None = None
    no_load_voltage_max: SupplyVoltage | None = None
    ripple: Ratio = 0.0

    def __post_init__(self) -> None:
        volts, levels = self.si.voltage, self._no_load
        need_rising(self, "voltage", advice="turn the plug round, and reverse the current with polarity=-1")
        need_rising(self, "max_current", advice="it is printed on the adapter")
        if any(each is not None for each in levels) and not (
            None not in levels and volts <= levels[0] <= levels[1] <= levels[2] <= _MOST_NO_LOAD * volts
        ):
            raise RangeError(
                f"no_load_voltage_min, no_load_voltage and no_load_voltage_max of {self.name} need to be in rising "
                f"order, from {say(volts, 'V')} to twice that; measure it with nothing connected"
            )

    @property
    def _no_load(self) -> tuple[float | None, ...]:
        return self.si.no_load_voltage_min, self.si.no_load_voltage, self.si.no_load_voltage_max

    @property
    def regulated(self) -> bool:
        """Whether it holds its voltage whatever the load is."""
        return self.no_load_voltage is None

    @property
    def nominal_voltage(self) -> SupplyVoltage:
        """The voltage printed on it, as a quantity."""
        return self.voltage

    @property
    def corners(self) -> tuple[tuple[float, float], ...]:
        """Open voltage in V and internal resistance in ohm for the least, the nominal and the most current."""
        si = self.si
        levels = (si.voltage,) * 3 if self.regulated else self._no_load
        mains = (1 - si.tolerance, 1.0, 1 + si.tolerance)
        return tuple((volts * factor, si.internal_resistance) for volts, factor in zip(levels, mains, strict=True))


Source = Battery | Adapter


def as_battery(battery: Any) -> Battery:
    """The battery itself, or UnitError where it is none."""
    return as_part(battery, Battery, advice='try batteries["9 V alkaline"]')


def as_adapter(adapter: Any) -> Adapter:
    """The adapter itself, or UnitError where it is none."""
    return as_part(adapter, Adapter, advice='try adapters["12 V regulated"]')


class CapacityPoint(NamedTuple):
    """One published test: drain in A, end voltage of a cell in V (None: not stated), charge in Ah, and its spread."""

    drain: float
    cut_off: float | None
    charge: float
    spread: float
    figure: Figure


@cache
def capacity_points(cell: str) -> tuple[CapacityPoint, ...]:
    """The published capacities of a kind of cell, in the order of the file."""
    kinds, points = {"drain": Current, "cut_off": Voltage, "capacity": Charge, "spread": Ratio}, []
    for rows in read_figures("discharge_capacity.csv").values():
        if rows["cell"].value == cell:
            read = [kind_of(kind).read(rows[key].text, key) if key in rows else None for key, kind in kinds.items()]
            points.append(CapacityPoint(*read, rows["capacity"]))
    return tuple(points)


@cache
def _curve_points(name: str) -> dict[str, list[tuple[float, Figure]]]:
    """The published points of a curve: "rest_voltage" and "resistance", each with the share used it belongs to.

    A row's quantity is such as "rest_voltage at 20 %".
    """
    points: dict[str, list[tuple[float, Figure]]] = defaultdict(list)
    for quantity, figure in read_figures("discharge_curves.csv")[name].items():
        what, _, used = quantity.partition(" at ")
        points[what].append((kind_of(Ratio).read(used, "used"), figure))
    return points


def _discharge(name: str, figures: Figures, fresh_voltage: float, internal_resistance: float) -> Discharge:
    """A battery's record: the curve and capacities that its `figures` name, for its fresh figures in V and ohm."""
    cells, points = int(figures["cells"].value), _curve_points(figures["discharge_curve"].value)
    (shares, volts), (at, ohms) = (
        np.array([(used, float(figure.value)) for used, figure in points[what]]).T
        for what in ("rest_voltage", "resistance")
    )
    # the first point is the battery's own: how fresh they are is what differs most between batteries
    rest = curve(shares, np.append(fresh_voltage, cells * volts[1:]))
    growth = curve(at, ohms / ohms[0])  # against the fresh battery's, whatever the unit
    tests = capacity_points(figures["discharge_capacity"].value)
    drain, least, most = _band(tests, cells, rest, internal_resistance * growth)
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
        **{key: kind_of(Ratio).read(figures[key].text, key) for key in _LOSSES},
        from_memory=_recalled(figures, [figure for rows in points.values() for _, figure in rows], tests),
    )


def _band(
    tests: tuple[CapacityPoint, ...], cells: int, rest: np.ndarray, resistance: np.ndarray
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Drains in A with the least and most charge in Ah down to the end of the curve.

    A battery never gives more at a higher drain. Where samples of different makes say so,
    the band is widened until it holds them all and still falls.
    """
    edges: dict[float, list[tuple[float, float]]] = defaultdict(list)
    for test in tests:
        reached = 1.0  # of the curve, when the test's end voltage is reached
        if test.cut_off is not None:
            place, _ = first_below(rest - resistance * test.drain, cells * test.cut_off)
            reached = float(at_place(place, SHARES))
        edges[test.drain].append((test.charge / reached / (1 + test.spread), test.charge / reached * (1 + test.spread)))
    drains = sorted(edges)
    least = np.array([min(low for low, _ in edges[each]) for each in drains])
    most = np.array([max(high for _, high in edges[each]) for each in drains])
    return np.array(drains), np.minimum.accumulate(least), np.maximum.accumulate(most[::-1])[::-1]


def _recalled(figures: Figures, shape: list[Figure], tests: tuple[CapacityPoint, ...]) -> tuple[str, ...]:
    """What of a battery's figures was written down from memory, in words."""
    drains = sorted({test.drain for test in tests if test.figure.from_memory})
    fresh = [figure for key, figure in figures.items() if key.startswith(("fresh", "internal"))]
    words = {
        "part of the fresh voltage and internal resistance": fresh,
        "the shape of the discharge curve": shape,
        f"the capacity at {', '.join(say(each, 'A') for each in drains)}": [test.figure for test in tests],
        "part of the loss in storage": [figures[key] for key in _LOSSES],
    }
    return tuple(said for said, rows in words.items() if any(figure.from_memory for figure in rows))


def _battery(name: str, figures: Figures) -> Battery:
    volts = kind_of(SupplyVoltage).read(figures["fresh_voltage"].text, "fresh_voltage")
    ohms = kind_of(Resistance).read(figures["internal_resistance"].text, "internal_resistance")
    make = from_rows(Battery, *_DISCHARGE_ROWS, *_LOSSES)
    return make(name, figures, discharge=_discharge(name, figures, volts, ohms))


batteries: PartsTable[Battery] = PartsTable("battery", "batteries.csv", _battery)
adapters: PartsTable[Adapter] = PartsTable("adapter", "adapters.csv", from_rows(Adapter))
