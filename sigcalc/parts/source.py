"""Supplies: batteries and adapters, with the open voltage and internal resistance that a bare LED would meet."""

from __future__ import annotations

from ..errors import RangeError
from ..units import Current, Ratio, Resistance, SupplyVoltage, record
from .table import Figures, PartsTable


@record
class Battery:
    """A fresh battery: nominal and open-circuit voltage, and its internal resistance with the spread of the data."""

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

    def __post_init__(self) -> None:
        _ordered(self, "fresh_voltage")
        _ordered(self, "internal_resistance")

    @property
    def corners(self) -> tuple[tuple[float, float], ...]:
        """Open voltage in V and internal resistance in ohm for the least, the nominal and the most current."""
        si = self.si
        return (
            (si.fresh_voltage_min, si.internal_resistance_max),
            (si.fresh_voltage, si.internal_resistance),
            (si.fresh_voltage_max, si.internal_resistance_min),
        )


@record
class Adapter:
    """A regulated wall adapter: its voltage with tolerance, internal resistance, and the most current it is rated for."""

    name: str
    voltage: SupplyVoltage
    tolerance: Ratio
    internal_resistance: Resistance
    max_current: Current
    note: str = ""

    @property
    def nominal_voltage(self) -> SupplyVoltage:
        """The voltage printed on it, as a quantity."""
        return self.voltage

    @property
    def corners(self) -> tuple[tuple[float, float], ...]:
        """Open voltage in V and internal resistance in ohm for the least, the nominal and the most current."""
        si = self.si
        return tuple((si.voltage * (1 + sign * si.tolerance), si.internal_resistance) for sign in (-1, 0, 1))


Source = Battery | Adapter


def _ordered(battery: Battery, name: str) -> None:
    least, nominal, most = (getattr(battery.si, name + end) for end in ("_min", "", "_max"))
    if not 0 < least <= nominal <= most:
        raise RangeError(
            f"{name} of {battery.name} needs {name}_min, {name} and {name}_max in rising order, above zero"
        )


def _battery(name: str, figures: Figures) -> Battery:
    quantities = {key: figure.text for key, figure in figures.items() if key != "chemistry"}
    return Battery(name=name, chemistry=figures["chemistry"].value, note="typical, not guaranteed", **quantities)


def _adapter(name: str, figures: Figures) -> Adapter:
    return Adapter(name=name, note="typical, not guaranteed", **{key: figure.text for key, figure in figures.items()})


batteries: PartsTable[Battery] = PartsTable("battery", "batteries.csv", _battery)
adapters: PartsTable[Adapter] = PartsTable("adapter", "adapters.csv", _adapter)
