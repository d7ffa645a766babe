"""The magnet's material: how the remanence changes with temperature."""

from __future__ import annotations

from numpy.typing import ArrayLike

from ..domain import together, within
from .limits import Floats

REFERENCE_TEMPERATURE = 293.15  # K; makers give the remanence at 20 degC


def remanence_at(
    temperature: ArrayLike,
    remanence: ArrayLike,
    coefficient: ArrayLike,
    reference_temperature: ArrayLike = REFERENCE_TEMPERATURE,
) -> Floats:
    """Remanence (T) at a temperature: Br * (1 + alpha * (T - T0)), the straight line of makers' tables.

    The change is reversible as long as the material stays above the knee of its demagnetisation curve. The knee is not
    modelled: a magnet that is too hot for its grade and shape stays weaker for good, and no figure here shows it.

    Parameters
    ----------
    temperature : array_like
        Of the magnet, K, 200 to 450.
    remanence : array_like
        At the reference temperature, T, 0 to 3.
    coefficient : array_like
        Of the remanence, 1/K, -0.005 to 0.005; sintered NdFeB has -0.0012.
    reference_temperature : array_like
        K, 200 to 450; 20 degC unless given.

    Raises
    ------
    RangeError
        Outside these ranges.
    """
    remedy = "add 273.15 to degrees Celsius"
    temperature, remanence, coefficient, reference = together(
        temperature=within("temperature", temperature, 200, 450, "K", remedy),
        remanence=within("remanence", remanence, 0, 3, "T", "give it in tesla; sintered NdFeB has 1.2 to 1.5"),
        coefficient=within("coefficient", coefficient, -0.005, 0.005, "1/K", "NdFeB has -0.0012"),
        reference_temperature=within("reference_temperature", reference_temperature, 200, 450, "K", remedy),
    )
    return remanence * (1 + coefficient * (temperature - reference))
