"""Magnets and what they do to a reed: field on and off the axis, material, test coil, and the passing magnet.

`cylinder` and `bar` hold the fields of disc and bar magnets, `material` the remanence against temperature, `coil` that
of a reed's test coil, `passing` the stretches in which a passing magnet keeps a reed closed.
"""

from .bar import bar_field, bar_potential
from .coil import long_coil_field
from .cylinder import axial_field, cylinder_field, cylinder_potential
from .material import REFERENCE_TEMPERATURE, remanence_at
from .passing import (
    CROSSWISE,
    DIRECTIONS,
    LENGTHWISE,
    ORIENTATIONS,
    UPRIGHT,
    closed_stretches,
    last_above,
    peaks,
    positions,
)

__all__ = [
    "CROSSWISE",
    "DIRECTIONS",
    "LENGTHWISE",
    "ORIENTATIONS",
    "REFERENCE_TEMPERATURE",
    "UPRIGHT",
    "axial_field",
    "bar_field",
    "bar_potential",
    "closed_stretches",
    "cylinder_field",
    "cylinder_potential",
    "last_above",
    "long_coil_field",
    "peaks",
    "positions",
    "remanence_at",
]
