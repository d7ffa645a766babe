"""What the eye says of a signal: which lamps light, and whether one looks dim; with the doubts that an eye has."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.special import expit

from ...parts.led import LIT_FROM
from ...parts.table import need_name
from ...units.plain import need_mapping
from .circuit import LAMPS

Floats = NDArray[np.float64]
SEEN = ("none", "red", "green", "dim red", "dim green", "both")
"""What may be seen in one position of the signal; "both" whatever their brightness."""
_IN_OTHER_WORDS = {"dark": ("none",), "dim": ("dim red", "dim green"), "lit": ("red", "green")}

DIM_BELOW = 0.25
"""Share of a lamp's usual current below which it is called dim. Common practice, no source."""
_DOUBT = 0.35  # how gradually, in the logarithm of the current; common practice, no source
_LEAST = 1e-12  # A; a lamp with less is dark, whether it has usually any current or none
_SLIP = 0.01  # of looks something else is noted down; common practice, no source


def seen_shares(red: Any, green: Any, usual: tuple[float, float]) -> Floats:
    """With which share each of SEEN is said, for currents in A through the LEDs and their usual currents.

    Returns shape (6, ...), with the sum 1 over the first axis.
    """
    lit, dim = zip(*(_one(current, most) for current, most in zip((red, green), usual, strict=True)), strict=True)
    alone_red, alone_green = lit[0] * (1 - lit[1]), lit[1] * (1 - lit[0])
    shares = np.stack(
        [
            (1 - lit[0]) * (1 - lit[1]),
            alone_red * (1 - dim[0]),
            alone_green * (1 - dim[1]),
            alone_red * dim[0],
            alone_green * dim[1],
            lit[0] * lit[1],
        ]
    )
    return (1 - _SLIP) * shares + _SLIP / len(SEEN)


def _one(current: Any, usual: float) -> tuple[Floats, Floats]:
    """Shares with which a lamp is called lit, and, being lit, dim."""
    amount, dim = (np.log(np.maximum(each, _LEAST)) for each in (current, DIM_BELOW * usual))
    return expit((amount - np.log(LIT_FROM)) / _DOUBT), expit((dim - amount) / _DOUBT)


def read_seen(seen: Mapping[str, str] | None) -> dict[str, tuple[str, ...]]:
    """What was seen in each position, as those of SEEN that it may mean ("dark" is "none", "dim" either lamp).

    Raises UnknownNameError for a position that is neither "red" nor "green", or words that mean nothing.
    """
    read = {}
    for position, said in need_mapping(seen, "seen", '{"red": "dim red"}').items():
        need_name(position, "position", LAMPS)
        need_name(said, f"what was seen while set for {position},", (*SEEN, *_IN_OTHER_WORDS))
        read[position] = _IN_OTHER_WORDS.get(said, (said,))
    return read
