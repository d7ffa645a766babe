"""A diode or LED as V = n (kT/q) ln(1 + I/Is) + I Rs: alone, with a resistor on a supply, in a string, warm or cold.

The three parameters of one LED come in this order everywhere: saturation
current Is in A, emission voltage n kT/q in V, series resistance Rs in ohm. The
model knows no reverse breakdown: in reverse the current goes to -Is and stays.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike
from scipy.constants import elementary_charge
from scipy.constants import k as boltzmann

from ..errors import RangeError
from .diode_fit import ExponentialFit, fit_exponential
from .diode_loop import (
    GREATEST_CURRENT,
    LEAST_SATURATION_CURRENT,
    Floats,
    argument,
    exponential_current,
    exponential_voltage,
    loop_current,
)
from .diode_string import Triple, string_current, string_voltage
from .domain import together, within

__all__ = [
    "GREATEST_CURRENT",
    "LEAST_SATURATION_CURRENT",
    "ExponentialFit",
    "Triple",
    "effective_energy_gap",
    "exponential_current",
    "exponential_voltage",
    "fit_exponential",
    "loop_current",
    "saturation_current_at",
    "string_current",
    "string_voltage",
    "thermal_voltage",
]

BOLTZMANN_VOLTAGE = boltzmann / elementary_charge
"""k/q in V/K, exact in the SI of 2019."""


def _kelvin(name: str, value: Any) -> Floats:
    return within(name, value, 1.0, 2000.0, "K", "give kelvins, 300.15 for 27 °C")


def thermal_voltage(temperature: ArrayLike) -> Floats:
    """Thermal voltage kT/q in V at a junction temperature in K; broadcasts. Raises RangeError outside 1 to 2000 K."""
    return BOLTZMANN_VOLTAGE * _kelvin("temperature", temperature)


def saturation_current_at(
    temperature: ArrayLike,
    saturation_current: ArrayLike,
    ideality: ArrayLike,
    energy_gap: ArrayLike,
    reference_temperature: ArrayLike,
) -> Floats:
    """Saturation current in A at a junction temperature, from the one at a reference temperature.

    Is (T/T0)^(3/n) exp(Eg/(n k/q) (1/T0 - 1/T)), the rule of SPICE's diode with XTI = 3, worked
    out as a logarithm. Temperatures in K, `energy_gap` in V (electron volts per charge): the true
    gap, or better the one from `effective_energy_gap`; everything broadcasts. Raises RangeError
    for arguments out of range, and for an answer below LEAST_SATURATION_CURRENT (too cold).
    """
    kelvin, saturation, n, gap, reference = together(
        temperature=_kelvin("temperature", temperature),
        saturation_current=argument("saturation_current", saturation_current),
        ideality=within("ideality", ideality, 0.1, 100.0, "", "an LED has about 1.5 to 3"),
        energy_gap=within("energy_gap", energy_gap, 0.0, 20.0, "V", "red light has about 2.0"),
        reference_temperature=_kelvin("reference_temperature", reference_temperature),
    )
    growth = 3.0 * np.log(kelvin / reference) + gap / BOLTZMANN_VOLTAGE * (1.0 / reference - 1.0 / kelvin)
    logarithm = np.log(saturation) + growth / n
    low, high = np.log(LEAST_SATURATION_CURRENT), np.log(GREATEST_CURRENT)
    outside = (logarithm < low) | (logarithm > high)
    if outside.any():
        raise RangeError(
            f"temperature {kelvin[outside].flat[0]:g} K is too far from reference_temperature "
            f"{reference[outside].flat[0]:g} K: the saturation current would leave the range of numbers; "
            "use a temperature nearer to the reference."
        )
    return np.exp(logarithm)[()]


def effective_energy_gap(
    junction_voltage: ArrayLike, temperature_coefficient: ArrayLike, temperature: ArrayLike
) -> Floats:
    """The energy gap in V that gives a junction the wanted change of voltage with temperature.

    With `saturation_current_at`, the voltage V = n (k/q) T ln(I/Is) at a steady current I well above
    Is changes by dV/dT = (V - Eg)/T - 3 k/q. Solved for Eg. It takes the place of the material's gap,
    which alone would miss what contacts and other layers add to the measured change.

    Parameters
    ----------
    junction_voltage : array_like
        V in V, without the drop over the series resistance.
    temperature_coefficient : array_like
        The wanted dV/dT in V/K; negative, about -0.002.
    temperature : array_like
        T in K where both hold.

    Raises RangeError for arguments out of range, or when the gap would be negative.
    """
    volts = within("junction_voltage", junction_voltage, 0.0, 20.0, "V", "a red LED has about 1.8")
    coefficient = within(
        "temperature_coefficient", temperature_coefficient, -0.05, 0.0, "V/K", "give a falling voltage, such as -0.0018"
    )
    kelvin = _kelvin("temperature", temperature)
    volts, coefficient, kelvin = together(
        junction_voltage=volts, temperature_coefficient=coefficient, temperature=kelvin
    )
    gap = volts - kelvin * (coefficient + 3.0 * BOLTZMANN_VOLTAGE)
    if (gap < 0.0).any():
        raise RangeError(
            f"temperature_coefficient {coefficient[gap < 0.0].flat[0]:g} V/K falls too little for a junction voltage "
            f"of {volts[gap < 0.0].flat[0]:g} V: no energy gap gives it; use a more negative one, such as -0.0018."
        )
    return gap[()]
