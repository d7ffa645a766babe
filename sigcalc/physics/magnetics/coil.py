"""The test coil of a reed switch: from ampere-turns to flux density."""

from __future__ import annotations

from numpy.typing import ArrayLike
from scipy.constants import mu_0

from ..domain import together, within
from .limits import Floats


def long_coil_field(ampere_turns: ArrayLike, length: ArrayLike) -> Floats:
    """Flux density (T) inside a long air coil: mu0 * N * I / length.

    Holds for a coil more than about five times as long as it is wide (dextermag.com, questions on sensors). It is not
    what a reed needs of a magnet, which is several times as much: `BRIDGE` in `parts.reed`.

    Parameters
    ----------
    ampere_turns : array_like
        Current times turns, A, 0 to 1e6.
    length : array_like
        Of the winding, m, 1e-4 to 100.

    Raises
    ------
    RangeError
        Outside these ranges.
    """
    ampere_turns, length = together(
        ampere_turns=within("ampere_turns", ampere_turns, 0, 1e6, "A", "give the current in amperes times the turns"),
        length=within("length", length, 1e-4, 100, "m", "give the length of the winding in metres"),
    )
    return mu_0 * ampere_turns / length
