"""Light-emitting diodes (and plain diodes): what a builder buys, with its limits and its spread."""

from __future__ import annotations

import dataclasses
from typing import Any

from ..errors import DesignError, RangeError, UnitError
from ..physics import photometry
from ..units import (
    Current,
    LuminousIntensity,
    Power,
    ReverseVoltage,
    Temperature,
    ThermalResistance,
    Voltage,
    Wavelength,
    kind_of,
    record,
    say,
    with_units,
)
from .led_model import ConstantDrop, Exponential

LIT_FROM = 10e-6
"""A lamp counts as lit above this current, in A."""

USUAL_LIGHT = (1 / 3, 3.0)
"""Least and most light of a bought part as shares of the typical, where its sheet says nothing: together 9 : 1, a bit
more than what the order codes of one type span (HLMP-1301 sheet of Broadcom: from 3.4 to 27.6 mcd at 10 mA)."""


@record
class Led:
    """A light-emitting diode.

    `model` answers for voltage and current of the typical part; a bought part's drop may
    lie up to `drop_below` lower or `drop_above` higher at every current. Where they are not
    given, the part is your own: how far its drop may lie off a fitted curve (see
    `Exponential.drop_doubt`), and 0 V where nothing was fitted. `intensity`, `intensity_min` and `intensity_max`
    are the typical, least and most luminous intensity on the axis at `intensity_current`; where the
    last two are not given, `USUAL_LIGHT` stands for them. `wavelength` is the dominant one, by which
    the eye names the hue. `max_current` holds in air up to `derate_from`; from there it falls in a
    straight line to nothing at `zero_at`. What stands here for an LED without a data sheet is from
    memory, and cautious.
    """

    name: str
    colour: str
    model: ConstantDrop | Exponential
    max_current: Current
    max_reverse_voltage: ReverseVoltage = "5 V"
    drop_below: Voltage | None = None
    drop_above: Voltage | None = None
    intensity: LuminousIntensity | None = None
    intensity_min: LuminousIntensity | None = None
    intensity_current: Current | None = None
    wavelength: Wavelength | None = None
    max_power: Power | None = None
    max_junction_temperature: Temperature | None = None
    thermal_resistance: ThermalResistance | None = None
    derate_from: Temperature = "50 degC"
    zero_at: Temperature = "100 degC"
    note: str = ""
    intensity_max: LuminousIntensity | None = None

    def __post_init__(self) -> None:
        if not self.si.zero_at > self.si.derate_from:
            raise RangeError(
                f"zero_at of {self.name} needs to be above derate_from, {say(self.si.derate_from, 'K')}, "
                f"but {say(self.si.zero_at, 'K')} came; see the part's data sheet"
            )
        if not isinstance(self.model, ConstantDrop | Exponential):
            raise UnitError(
                f"model needs a ConstantDrop or an Exponential, but {type(self.model).__name__} came; "
                'write for example model=ConstantDrop("2 V")'
            )
        for name in ("max_current", "max_reverse_voltage"):
            if not getattr(self.si, name) > 0:
                raise RangeError(f"{name} of {self.name} needs to be above zero; see the part's data sheet")
        self._check_drops()
        if (self.intensity is None) != (self.intensity_current is None):
            raise UnitError(f"intensity of {self.name} needs intensity_current beside it, and the other way round")
        if self.intensity_current is not None and not self.si.intensity_current > 0:
            raise RangeError(f"intensity_current of {self.name} needs to be above zero; see the part's data sheet")
        least, most = self.light_shares
        if not 0 < least <= 1 <= most:
            raise RangeError(
                f"intensity_min, intensity and intensity_max of {self.name} need to be above zero and in rising order, "
                f"but the shares of the typical light are {least:.3g} and {most:.3g}; see the part's data sheet"
            )

    def _check_drops(self) -> None:
        fitted = isinstance(self.model, Exponential) and self.model.fit is not None
        for name in ("drop_below", "drop_above"):
            if getattr(self.si, name) is None:
                setattr(self.si, name, self.model.drop_doubt(self.si.max_current) if fitted else 0.0)
            if getattr(self.si, name) < 0:
                raise RangeError(f"{name} of {self.name} needs to be 0 V or more: it says how far the drop may differ")
        if isinstance(self.model, ConstantDrop) and not self.si.drop_below < self.model.si.forward_voltage:
            raise RangeError(
                f"drop_below of {self.name} needs to be less than its drop of "
                f"{say(self.model.si.forward_voltage, 'V')}, but {say(self.si.drop_below, 'V')} came: nothing would be "
                "left; give how far a bought part may lie below"
            )

    def max_current_in(self, ambient: float) -> float:
        """The most current in A that it may carry in air of so many K; 0 where it is too hot for any."""
        si = self.si
        share = (si.zero_at - ambient) / (si.zero_at - si.derate_from)
        return si.max_current * min(max(share, 0.0), 1.0)

    def in_air(self, ambient: float) -> Led:
        """The same LED, named and rated for air of so many K. Raises DesignError where it may carry nothing."""
        most = self.max_current_in(ambient)
        if most == self.si.max_current:
            return self
        if most == 0:
            raise DesignError(
                f"air at {say(ambient, 'K')} leaves the {self.name} no current at all; "
                f"put it where it is cooler than {say(self.si.zero_at, 'K')}"
            )
        name = f"{self.name} in air at {say(ambient, 'K')}"
        return dataclasses.replace(self, name=name, max_current=kind_of(Current).quantity(most))

    def voltage(self, current: Any, temperature: Any = None) -> Any:
        """The forward voltage at a current; `temperature` is the junction's (the model's own if not given)."""
        return self.model.voltage(current, temperature)

    def current(self, voltage: Any, temperature: Any = None) -> Any:
        """The current at a voltage straight across the LED (negative: in reverse, breakdown not modelled).

        Raises RangeError below -20 V, and DesignError at or above the drop of a ConstantDrop.
        """
        return self.model.current(voltage, temperature)

    @with_units
    def light(self, current: Current) -> LuminousIntensity:
        """Typical luminous intensity on the axis at a current, taken as proportional to the current.

        Raises UnitError where the part has no intensity. Source of the straight line: measured
        light against current, correlation 0.999 (see `physics.photometry.intensity_at`).
        """
        return self.light_si(current)

    def light_si(self, current: Any) -> Any:
        """The same in candela for a current in A."""
        if self.intensity is None:
            raise UnitError(
                f"{self.name} has no luminous intensity; give intensity and intensity_current to compare light"
            )
        return photometry.intensity_at(current, self.si.intensity, self.si.intensity_current)

    @property
    def light_shares(self) -> tuple[float, float]:
        """The least and the most light of a bought part at the same current, as shares of the typical."""
        ends = (self.si.intensity_min, self.si.intensity_max)
        pairs = zip(ends, USUAL_LIGHT, strict=True)
        return tuple(usual if end is None or not self.si.intensity else end / self.si.intensity for end, usual in pairs)

    def __str__(self) -> str:
        return f"{self.name} ({self.colour}, up to {say(self.si.max_current, 'A')})"
