"""Copper wire: American wire gauge, cross-section, resistance.

Gauges are whole numbers; 0, -1, -2 and -3 stand for 1/0, 2/0, 3/0 and 4/0.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from .domain import together, whole, within

Floats = np.float64 | NDArray[np.float64]

# Annealed copper at 20 degC (IEC 60028): the standard's 100 % conductivity, 58 MS/m. Pure copper in physics books is
# 2.7 % lower (1.678e-8 ohm m); give such a constant explicitly where a book's figure is to be met.
RESISTIVITY = 1.7241e-8  # ohm m
TEMPERATURE_COEFFICIENT = 0.00393  # 1/K, referred to 20 degC
REFERENCE_TEMPERATURE = 293.15  # K

THICKEST, THINNEST = -3, 56  # the gauges of ASTM B258
_UNIT, _BASE, _STEPS, _UNIT_GAUGE = 0.127e-3, 92, 39, 36  # 36 AWG is 5 mil; 39 steps on, 92 times as thick


def gauge_diameter(gauge: ArrayLike) -> Floats:
    """Bare diameter (m) of a solid wire of American wire gauge: 0.127 mm * 92**((36 - n) / 39), ASTM B258.

    Raises
    ------
    RangeError
        Outside -3 (4/0) to 56. Between the whole numbers the formula holds as well.
    """
    gauge = within("gauge", gauge, THICKEST, THINNEST, "AWG", "give a gauge from -3, which is 4/0, to 56")
    return (_UNIT * _BASE ** ((_UNIT_GAUGE - gauge) / _STEPS))[()]


def gauge_area(gauge: ArrayLike) -> Floats:
    """Cross-section (m2) of a solid wire of American wire gauge.

    Raises
    ------
    RangeError
        Outside -3 (4/0) to 56.
    """
    return np.pi / 4 * gauge_diameter(gauge) ** 2


def nearest_gauge(area: ArrayLike) -> np.int64 | NDArray[np.int64]:
    """The gauge whose cross-section is nearest to `area` (m2) by ratio; -3 stands for 4/0.

    Raises
    ------
    RangeError
        If the area lies more than half a gauge outside 4/0 to 56 AWG.
    """
    half = _BASE ** (1 / _STEPS)  # half a gauge in diameter, squared
    low, high = gauge_area(THINNEST) / half, gauge_area(THICKEST) * half
    area = within("area", area, low, high, "m2", "give the copper's cross-section in square metres")
    steps = np.log(np.sqrt(4 / np.pi * area) / _UNIT) / np.log(_BASE) * _STEPS
    return np.clip(np.rint(_UNIT_GAUGE - steps), THICKEST, THINNEST).astype(np.int64)[()]


def stranded_area(strands: ArrayLike, strand_diameter: ArrayLike) -> Floats:
    """Cross-section (m2) of a stranded conductor: that of one strand times their number.

    The lay (the strands' twist) makes each strand 1 to 3 % longer than the wire; this is left out (common practice).

    Raises
    ------
    RangeError
        Outside 1 to 100000 strands (whole numbers) of 1 um to 0.1 m.
    """
    strands = whole("strands", strands, 1, 100_000, "strands", "count the strands of the conductor")
    diameter = within("strand_diameter", strand_diameter, 1e-6, 0.1, "m", "give the bare strand's diameter in metres")
    strands, diameter = together(strands=strands, strand_diameter=diameter)
    return np.pi / 4 * strands * diameter**2


def wire_resistance(
    area: ArrayLike,
    length: ArrayLike,
    temperature: ArrayLike = REFERENCE_TEMPERATURE,
    resistivity: ArrayLike = RESISTIVITY,
    temperature_coefficient: ArrayLike = TEMPERATURE_COEFFICIENT,
) -> Floats:
    """Resistance (ohm) of a conductor: rho * length / area * (1 + alpha * (T - 293.15 K)).

    Parameters
    ----------
    area : array_like
        Cross-section of the copper, m2, 1e-12 to 0.1.
    length : array_like
        Of the conductor, m, 0 to 1e6: there and back is twice the distance.
    temperature : array_like
        Of the wire, K, 200 to 450: further off the straight line no longer holds.
    resistivity, temperature_coefficient : array_like
        At 20 degC, ohm m (1e-9 to 1e-5) and 1/K (0 to 0.01); annealed copper by IEC 60028 unless given.

    Raises
    ------
    RangeError
        Outside these ranges.
    """
    area, length, temperature, resistivity, coefficient = together(
        area=within("area", area, 1e-12, 0.1, "m2", "give the copper's cross-section in square metres"),
        length=within("length", length, 0, 1e6, "m", "give the conductor's length in metres, there and back"),
        temperature=within("temperature", temperature, 200, 450, "K", "add 273.15 to degrees Celsius"),
        resistivity=within("resistivity", resistivity, 1e-9, 1e-5, "ohm m", "copper has 1.7241e-8"),
        temperature_coefficient=within(
            "temperature_coefficient", temperature_coefficient, 0, 0.01, "1/K", "copper has 0.00393"
        ),
    )
    return resistivity * length / area * (1 + coefficient * (temperature - REFERENCE_TEMPERATURE))
