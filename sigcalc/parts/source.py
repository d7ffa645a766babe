"""Supplies: batteries and adapters, as open voltage and internal resistance, and how a battery runs down."""

from __future__ import annotations

from typing import Any

import numpy as np

from ..errors import DesignError, RangeError, UnitError
from ..units import Charge, Current, Ratio, Resistance, SupplyVoltage, kind_of, record, say
from .battery_data import Discharge, discharge_of
from .table import Figures, PartsTable

_DISCHARGE_ROWS = ("cells", "rechargeable", "discharge_curve", "discharge_capacity")
_NEXT_TO_NOTHING = 1e-6  # of the charge: storage has emptied the battery, and the formulas take logarithms
_MOST_NO_LOAD = 2.0  # of the rated voltage; an adapter beyond it is no wall adapter


@record
class Battery:
    """A fresh battery: nominal and open-circuit voltage, and its internal resistance with the spread of the data.

    `discharge` says how it runs down; without it no run time can be worked out.
    `capacity` is the charge printed on your own battery, at a light drain: it scales the
    published capacities, whose spread stays. `form` is "block", "pack" or "coin cell".
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
        if self.si.fresh_voltage < 0:
            raise RangeError(
                f"fresh_voltage of {self.name} needs to be above 0 V, but {say(self.si.fresh_voltage, 'V')} came: "
                "the battery is in the wrong way round; turn it, and turn the current round with polarity=-1"
            )
        _ordered(self, "fresh_voltage")
        _ordered(self, "internal_resistance")
        if self.capacity is not None and not self.si.capacity > 0:
            raise RangeError(
                f"capacity of {self.name} needs to be above 0 Ah, but {say(self.si.capacity, 'Ah')} came: an empty "
                'battery gives nothing; give what is printed on it, such as "500 mAh"'
            )

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
                f"{self.name} has no discharge data, so that nothing can be said about how long it lasts; "
                'take one of the table, such as batteries["9 V alkaline"], and change its figures'
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
        si = self.si
        if not si.voltage > 0:
            raise RangeError(
                f"voltage of {self.name} needs to be above 0 V, but {say(si.voltage, 'V')} came: "
                "turn the plug round, and turn the current round with polarity=-1"
            )
        if not si.max_current > 0:
            raise RangeError(f"max_current of {self.name} needs to be above 0 A; it is printed on the adapter")
        levels = (si.no_load_voltage_min, si.no_load_voltage, si.no_load_voltage_max)
        if any(each is not None for each in levels) and not (
            None not in levels and si.voltage <= levels[0] <= levels[1] <= levels[2] <= _MOST_NO_LOAD * si.voltage
        ):
            raise RangeError(
                f"no_load_voltage of {self.name} needs no_load_voltage_min, no_load_voltage and no_load_voltage_max in "
                f"rising order, from {say(si.voltage, 'V')} to twice that; measure it with nothing connected"
            )

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
        levels = (si.voltage,) * 3
        if not self.regulated:
            levels = (si.no_load_voltage_min, si.no_load_voltage, si.no_load_voltage_max)
        mains = (1 - si.tolerance, 1.0, 1 + si.tolerance)
        return tuple((volts * factor, si.internal_resistance) for volts, factor in zip(levels, mains, strict=True))


Source = Battery | Adapter


def as_battery(battery: Any) -> Battery:
    """The battery itself, or UnitError where it is none."""
    if not isinstance(battery, Battery):
        raise UnitError(f'battery needs a Battery, but {type(battery).__name__} came; try batteries["9 V alkaline"]')
    return battery


def as_adapter(adapter: Any) -> Adapter:
    """The adapter itself, or UnitError where it is none."""
    if not isinstance(adapter, Adapter):
        raise UnitError(f'adapter needs an Adapter, but {type(adapter).__name__} came; try adapters["12 V regulated"]')
    return adapter


def _ordered(battery: Battery, name: str) -> None:
    least, nominal, most = (getattr(battery.si, name + end) for end in ("_min", "", "_max"))
    if not 0 < least <= nominal <= most:
        raise RangeError(
            f"{name} of {battery.name} needs {name}_min, {name} and {name}_max in rising order, above zero"
        )


def _battery(name: str, figures: Figures) -> Battery:
    left_out = ("chemistry", "form", *_DISCHARGE_ROWS)
    quantities = {
        key: figure.text for key, figure in figures.items() if key not in left_out and not key.startswith("loss")
    }
    volts, ohms = (
        kind_of(kind).read(quantities[key], key)
        for key, kind in (("fresh_voltage", SupplyVoltage), ("internal_resistance", Resistance))
    )
    return Battery(
        name=name,
        chemistry=figures["chemistry"].value,
        form=figures["form"].value,
        note="typical, not guaranteed",
        discharge=discharge_of(name, figures, volts, ohms),
        **quantities,
    )


def _adapter(name: str, figures: Figures) -> Adapter:
    return Adapter(name=name, note="typical, not guaranteed", **{key: figure.text for key, figure in figures.items()})


batteries: PartsTable[Battery] = PartsTable("battery", "batteries.csv", _battery)
adapters: PartsTable[Adapter] = PartsTable("adapter", "adapters.csv", _adapter)
