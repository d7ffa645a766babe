"""Copper wire: American wire gauge, cross-section, resistance, and how wide a hole a bundle of wires needs.

Gauges are whole numbers; 0, -1, -2 and -3 are 1/0, 2/0, 3/0 and 4/0. SI units; everything broadcasts.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..errors import RangeError

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

    The standard goes from -3 (4/0) to 56; between the whole numbers the formula holds as well.
    """
    return _UNIT * _BASE ** ((_UNIT_GAUGE - np.asarray(gauge, float)) / _STEPS)


def gauge_area(gauge: ArrayLike) -> Floats:
    """Cross-section (m2) of a solid wire of American wire gauge."""
    return stranded_area(1, gauge_diameter(gauge))


def stranded_area(strands: ArrayLike, strand_diameter: ArrayLike) -> Floats:
    """Cross-section (m2) of a stranded conductor: that of one strand (diameter in m) times their number.

    The lay (the strands' twist) makes each strand 1 to 3 % longer than the wire; this is left out (common practice).
    """
    return np.pi / 4 * np.asarray(strands) * np.asarray(strand_diameter) ** 2


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
        Cross-section of the copper, m2.
    length : array_like
        Of the conductor, m: there and back is twice the distance.
    temperature : array_like
        Of the wire, K; outside 200 to 450 the straight line no longer holds.
    resistivity, temperature_coefficient : array_like
        At 20 degC, ohm m and 1/K; annealed copper by IEC 60028 unless given.
    """
    warmth = 1 + np.asarray(temperature_coefficient) * (np.asarray(temperature) - REFERENCE_TEMPERATURE)
    return np.asarray(resistivity) * np.asarray(length) / np.asarray(area) * warmth


# Least diameter of a hole over that of one wire, for 1 to 20 equal wires. Closed forms and the first four digits of the
# others from the table in Wikipedia, "Circle packing in a circle"; the further digits of 10, 12, 14, 16, 17 and 20 from
# an optimisation of our own, which the tests repeat. Proved least for 1 to 14 and 19; the best known for the others.
_RATIOS = np.array([
    1.0, 2.0, 1 + 2 / np.sqrt(3), 1 + np.sqrt(2), 1 + np.sqrt(2 * (1 + 1 / np.sqrt(5))), 3.0, 3.0,
    1 + 1 / np.sin(np.pi / 7), 1 + np.sqrt(2 * (2 + np.sqrt(2))), 3.8130256314, 1 + 1 / np.sin(np.pi / 9),
    4.0296019302, 2 + np.sqrt(5), 4.3284285549, 1 + np.sqrt(6 + 2 / np.sqrt(5) + 4 * np.sqrt(1 + 2 / np.sqrt(5))),
    4.6154255949, 4.7920337484, 1 + np.sqrt(2) + np.sqrt(6), 1 + np.sqrt(2) + np.sqrt(6), 5.1223207370,
])  # fmt: skip
MOST_WIRES = len(_RATIOS)


def enclosing_ratio(count: ArrayLike) -> Floats:
    """Diameter of the smallest round hole over that of one wire, for `count` equal wires, round and hard.

    Soft insulation gives a little; twisting and pulling in need more room than the bare geometry leaves.
    Raises RangeError if the count is no whole number from 1 to 20: nobody has a ratio for it.
    """
    places = np.asarray(count) - 1
    if not np.isin(places, np.arange(MOST_WIRES)).all():
        need = f"to be a whole number of wires from 1 to {MOST_WIRES}"
        raise RangeError(argument="count", need=need, given=f"{count}", advice="use more holes for more")
    return _RATIOS[places.astype(int)]


def bundle_diameter(count: ArrayLike, wire_diameter: ArrayLike) -> Floats:
    """Diameter (m) of the smallest round hole for `count` equal wires of a diameter (m); errors as above."""
    return enclosing_ratio(count) * np.asarray(wire_diameter)
