"""Two models of an LED's voltage against current: a constant drop, and the exponential with series resistance."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np

from ..errors import DesignError, RangeError, SigcalcError, UnitError
from ..physics import diode
from ..units import (
    Count,
    Current,
    Resistance,
    Temperature,
    TemperatureCoefficient,
    Voltage,
    kind_of,
    record,
    say,
    with_units,
)
from ..units.reading import quoted
from .fit import METER_ERROR, Fit, fit_points

# the drop of a measured red AlInGaP lamp at 10 mA (github erg0dic/pnjunction, 264 to 371 K, straight line)
_MEASURED_COEFFICIENT = "-1.72 mV/K"
_COEFFICIENT_CURRENT = 10e-3
_LEAST_SATURATION, _MOST_SATURATION = 1e-50, 1e-3  # A; an ultraviolet LED in the cold, a large germanium diode
_DIM, _DOUBT_STEPS = 1e-3, 20  # A; currents at which the fit's doubts are looked at
Triple = tuple[Any, Any, Any]
"""Saturation current in A, emission voltage (ideality times kT/q) in V, series resistance in ohm."""
LEAST_VOLTAGE = -20.0
"""In V: below it breakdown in reverse is so near, for any LED, that the models give no figure."""


class _Model:
    """What both models answer to: `voltage_si` and `current_si` in SI, and the same at the door for units."""

    @with_units
    def voltage(self, current: Current, temperature: Temperature | None = None) -> Voltage:
        """The forward voltage at a current; `temperature` is the junction's (the model's own if not given)."""
        return self.voltage_si(current, temperature)

    @with_units
    def current(self, voltage: Voltage, temperature: Temperature | None = None) -> Current:
        """The current at a voltage across the part (negative: in reverse, breakdown not modelled).

        Raises RangeError below -20 V, where the lack of breakdown would make any figure worthless.
        """
        if np.any(np.less(voltage, LEAST_VOLTAGE)):
            raise RangeError(
                f"voltage needs to be {say(LEAST_VOLTAGE, 'V')} or more, but {say(np.min(voltage), 'V')} came: "
                "breakdown in reverse is not modelled; keep an LED's reverse voltage within its rating, often 5 V"
            )
        return self.current_si(voltage, temperature)


@record
class ConstantDrop(_Model):
    """The rule-of-thumb model: the drop is the same at every current, and below it nothing flows.

    `forward_voltage` is that drop. Good for choosing a resistor on a supply well above
    the drop; silent about what happens without a resistor, near the drop, or when warm.
    """

    forward_voltage: Voltage

    def __post_init__(self) -> None:
        if not self.si.forward_voltage > 0:
            raise RangeError(
                f"forward_voltage needs to be above 0 V, but {say(self.si.forward_voltage, 'V')} came; "
                'give for example "2 V"'
            )

    def voltage_si(self, current: Any, temperature: Any = None, shift: Any = 0.0) -> Any:  # noqa: ARG002 as Exponential has it
        """The drop in V at a current in A (any forward current: the drop is constant)."""
        return self.si.forward_voltage + shift + 0.0 * np.asarray(current)

    def current_si(self, voltage: Any, temperature: Any = None, shift: Any = 0.0) -> Any:  # noqa: ARG002 as Exponential has it
        """0 A below the drop; at or above it the model has no answer and DesignError is raised."""
        drop = self.si.forward_voltage + shift
        if np.any(np.asarray(voltage) >= drop):
            raise DesignError(
                f"voltage {say(np.max(voltage), 'V')} is at or above the constant drop of {say(np.max(drop), 'V')}: "
                "this model then gives no current; put a resistance in the circuit, or use an Exponential model"
            )
        return 0.0 * np.asarray(voltage, float)


@record
class Exponential(_Model):
    """The junction model V = n (kT/q) ln(1 + I/Is) + I Rs of one LED or diode.

    `saturation_current`, `ideality` and `series_resistance` hold at `temperature`. At
    another temperature the saturation current is rescaled by an effective energy gap,
    chosen so that the drop at 10 mA changes by `temperature_coefficient`, as measured;
    left fixed, the computed drop would rise with temperature, while a real one falls.
    Reverse breakdown is not in the model. `fit` says where fitted parameters come from.
    """

    saturation_current: Current
    ideality: Count
    series_resistance: Resistance
    temperature: Temperature = "27 degC"
    temperature_coefficient: TemperatureCoefficient = _MEASURED_COEFFICIENT
    fit: Fit | None = None

    def __post_init__(self) -> None:
        if not _LEAST_SATURATION <= self.si.saturation_current <= _MOST_SATURATION:
            raise RangeError(
                f"saturation_current needs to lie from 1e-50 A to 1 mA, but {self.si.saturation_current:g} A came; "
                'a red LED has about "1e-21 A"'
            )
        if not 0.5 <= self.si.ideality <= 8:
            raise RangeError(
                f"ideality needs to lie from 0.5 to 8, but {self.si.ideality:g} came; an LED has about 1.5 to 3"
            )
        if self._reference_voltage > -LEAST_VOLTAGE:
            raise RangeError(
                f"saturation_current {self.si.saturation_current:g} A with ideality {self.si.ideality:g} would need "
                f"{say(self._reference_voltage, 'V')} for 10 mA, which no LED does; check both"
            )

    @classmethod
    def fitted(
        cls,
        points: Sequence[Any],
        temperature: Any = "27 degC",
        colour: str | None = None,
        temperature_coefficient: Any = None,
    ) -> Exponential:
        """The model through measured or data-sheet points.

        Parameters
        ----------
        points: pairs (voltage, current), each as text or quantity, in any order; one data-sheet line is one point
        temperature: of the junction when the points were taken
        colour: "red", "green", ... picks the assumed ideality and series resistance where fewer than three points
            leave them open; the assumed ones are named with their spread in `.fit.assumed`
        temperature_coefficient: of the drop at 10 mA; the colour's typical one if not given

        Raises RangeError or UnitError for points that no LED shows (falling voltage, zero current).
        """
        kelvin = kind_of(Temperature).read(temperature, "temperature", scalar=True)
        solved, fit, usual = fit_points(*_read_points(points), diode.thermal_voltage(kelvin), colour)
        if not _LEAST_SATURATION <= solved.saturation_current <= _MOST_SATURATION:
            raise RangeError(
                f"points: the nearest curve has a saturation current of {solved.saturation_current:.0e} A, which no "
                "LED has; check that each voltage belongs to its current and that both have the right unit"
            )
        made = cls.__new__(cls)
        made.__init__(
            kind_of(Current).quantity(solved.saturation_current),
            solved.ideality,
            kind_of(Resistance).quantity(solved.series_resistance),
            temperature,
            usual if temperature_coefficient is None else temperature_coefficient,
            fit,
        )
        return made

    def triple(self, temperature: Any = None, shift: Any = 0.0) -> Triple:
        """Saturation current, emission voltage and series resistance in SI at a junction temperature in K.

        `shift` raises the drop of the part by so many volts at every current.
        """
        si, reference = self.si, self.si.temperature
        kelvin = reference if temperature is None else temperature
        emission = si.ideality * diode.thermal_voltage(kelvin)
        saturation = si.saturation_current
        if temperature is not None:
            gap = diode.effective_energy_gap(self._reference_voltage, si.temperature_coefficient, reference)
            saturation = diode.saturation_current_at(kelvin, saturation, si.ideality, gap, reference)
        return saturation * np.exp(-np.asarray(shift) / emission), emission, si.series_resistance

    @property
    def _reference_voltage(self) -> float:
        emission = self.si.ideality * diode.thermal_voltage(self.si.temperature)
        return emission * math.log(_COEFFICIENT_CURRENT / self.si.saturation_current)

    def drop_doubt(self, most_current: float) -> float:
        """How far in V the drop of the very part may lie off its fitted curve.

        Two standard deviations of the fit where it is worst, from 1 mA (at which a lamp is dim) to a current in A, and
        the meter's error; half the drop at 1 mA at the most: no lamp of a colour differs by more.
        """
        current = np.geomspace(min(_DIM, most_current), most_current, _DOUBT_STEPS)
        saturation, emission, _ = self.triple()
        thermal = emission / self.si.ideality
        slopes = np.stack([np.full_like(current, -emission), thermal * np.log(current / saturation), current])
        variance = np.einsum("ip,ij,jp->p", slopes, self.fit.covariance, slopes)
        doubt = math.hypot(2 * math.sqrt(max(variance.max(), 0.0)), METER_ERROR)
        return min(doubt, float(self.voltage_si(_DIM)) / 2)

    def voltage_si(self, current: Any, temperature: Any = None, shift: Any = 0.0) -> Any:
        """The drop in V at a current in A."""
        return diode.exponential_voltage(current, *self.triple(temperature, shift))

    def current_si(self, voltage: Any, temperature: Any = None, shift: Any = 0.0) -> Any:
        """The current in A at a voltage in V across the part."""
        return diode.exponential_current(voltage, *self.triple(temperature, shift))


def _read_points(points: Any) -> tuple[np.ndarray, np.ndarray]:
    pairs = list(points) if isinstance(points, Sequence | Iterator) and not isinstance(points, str | bytes) else []
    if not pairs:
        raise UnitError(
            'points needs pairs of voltage and current, such as [("1.9 V", "5 mA"), ("2.0 V", "20 mA")], '
            f"but {quoted(points)} came"
        )
    for pair in pairs:
        if isinstance(pair, str | bytes) or not isinstance(pair, Sequence) or len(pair) != 2:
            raise UnitError(
                f'points needs pairs of voltage and current, such as ("2.0 V", "20 mA"), but {quoted(pair)} came'
            )
    try:
        voltages = [kind_of(Voltage).read(pair[0], "voltage", scalar=True) for pair in pairs]
        currents = [kind_of(Current).read(pair[1], "current", scalar=True) for pair in pairs]
    except SigcalcError as refusal:
        raise type(refusal)(f"points: {refusal}") from None
    return np.array(voltages), np.array(currents)
