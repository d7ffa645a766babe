"""The CIE 1931 standard observer: its three colour-matching functions, of which the second is V(lambda)."""

from __future__ import annotations

from functools import cache
from importlib.resources import files

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..domain import within

SHORTEST, LONGEST = 360e-9, 830e-9  # of the standard's table, m


@cache
def table() -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Wavelengths in metres, shape (471,), and the colour-matching functions, shape (471, 3)."""
    with files(__package__).joinpath("cie_1931_observer.csv").open(encoding="utf-8") as file:
        rows = np.loadtxt(file, delimiter=",")
    for array in rows, rows.base:
        if array is not None:
            array.setflags(write=False)
    return rows[:, 0] * 1e-9, rows[:, 1:]


def response(wavelength: ArrayLike) -> NDArray[np.float64]:
    """The three colour-matching functions at a wavelength in metres; shape of `wavelength` plus a last axis of 3.

    Linear between the 1 nm values, as ISO/CIE 23539 has it for V(lambda) (from memory).

    Raises
    ------
    RangeError
        Outside 360 to 830 nm: the table ends there, and so does the eye.
    """
    wavelength = within(
        "wavelength", wavelength, SHORTEST, LONGEST, "m", "give visible light in metres, for example 525e-9"
    )
    wavelengths, functions = table()
    place = np.clip((wavelength - wavelengths[0]) * 1e9, 0, len(wavelengths) - 1)
    below = np.minimum(place.astype(int), len(wavelengths) - 2)
    share = (place - below)[..., np.newaxis]
    return (1 - share) * functions[below] + share * functions[below + 1]
