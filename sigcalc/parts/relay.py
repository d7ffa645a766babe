"""Relays: what the coil draws, and the voltages at which it surely pulls in and lets go."""

from __future__ import annotations

from typing import Any

from ..errors import RangeError, UnitError
from ..units import Current, Ratio, Resistance, SupplyVoltage, record, say
from .table import Figures, PartsTable


@record
class Relay:
    """A relay's coil and contacts.

    `must_operate` and `must_release` are shares of the coil voltage: every sample has
    pulled in at the first, and let go at the second; between them it keeps what it has.
    A `latching` relay needs its coil only for a moment and draws nothing afterwards.
    """

    name: str
    coil_voltage: SupplyVoltage
    coil_resistance: Resistance
    must_operate: Ratio = 0.75
    must_release: Ratio = 0.05
    coil_tolerance: Ratio = 0.1
    poles: int = 2
    latching: bool = False

    def __post_init__(self) -> None:
        si = self.si
        if not (si.coil_voltage > 0 and si.coil_resistance > 0):
            raise RangeError(
                f"coil_voltage and coil_resistance of {self.name} need to be above zero; see its data sheet"
            )
        if not 0 < si.must_release < si.must_operate <= 1:
            raise RangeError(
                f"must_release of {self.name} needs to lie below must_operate, both above 0 and up to 1, but "
                f"{say(si.must_release, '')} and {say(si.must_operate, '')} came; usual are 5 % and 75 %"
            )

    @property
    def operate_voltage(self) -> SupplyVoltage:
        """The voltage at which every sample has pulled in."""
        return self.coil_voltage * self.must_operate

    @property
    def release_voltage(self) -> SupplyVoltage:
        """The voltage at which every sample has let go."""
        return self.coil_voltage * self.must_release

    @property
    def coil_current(self) -> Current:
        """What the coil draws at its own voltage: Ohm's law."""
        return self.coil_voltage / self.coil_resistance


def as_relay(relay: Any) -> Relay:
    """The relay itself, or UnitError where it is none."""
    if not isinstance(relay, Relay):
        raise UnitError(f'relay needs a Relay, but {type(relay).__name__} came; try relays["sensitive DPDT 9 V"]')
    return relay


def _relay(name: str, figures: Figures) -> Relay:
    return Relay(
        name=name,
        **{key: int(figure.value) if key == "poles" else figure.text for key, figure in figures.items()},
    )


relays: PartsTable[Relay] = PartsTable("relay", "relays.csv", _relay)
