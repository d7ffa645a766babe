"""What tolerances make of a result: its least, nominal and most value, or many random sets of parts.

The one mechanism for it. A figure that is not known exactly is a `Band`; `over_corners` takes a formula to all ends of
the bands it is given, `over_draws` to many random values within them.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from ..parts.source import Source
from ..units import say_band


@dataclass(frozen=True)
class Band:
    """A figure's least, nominal and most value in SI (floats or arrays of one shape), and its unit ("" for a ratio)."""

    least: Any
    nominal: Any
    most: Any
    unit: str = ""

    @classmethod
    def exactly(cls, value: Any, unit: str = "") -> Band:
        """A figure without a tolerance."""
        return cls(value, value, value, unit)

    @classmethod
    def within(cls, nominal: Any, tolerance: float, unit: str = "") -> Band:
        """A figure with a tolerance, as a fraction of it, to both sides."""
        return cls(nominal * (1 - tolerance), nominal, nominal * (1 + tolerance), unit)

    def __iter__(self) -> Iterator[Any]:
        return iter((self.least, self.nominal, self.most))

    def __str__(self) -> str:
        return say_band(self.least, self.nominal, self.most, self.unit)


Bands = Band | tuple[Band, ...]
"""One band, or several that go to their ends together: a battery's voltage and its internal resistance."""


def over_corners(formula: Callable[..., Any], *, unit: str = "", **bands: Bands) -> Any:
    """The band of what a formula gives over all combinations of the ends of its arguments' bands, and the nominal.

    Parameters
    ----------
    formula: called once, by keyword, with an array for each band: shape (corners, ...), the nominal case first; a
        tuple of bands gives a tuple of arrays. It answers with an array of that shape, or a mapping of such arrays
    unit: of the answer

    Returns a Band, or a dict of them. Where the answer is not monotone between two ends of an argument, what lies
    between them is not looked at, except at the nominal.
    """
    corners = 1 + 2 ** len(bands)
    answer = formula(**at_corners(**bands))
    if isinstance(answer, Mapping):
        return {key: _spanned(each, corners, unit) for key, each in answer.items()}
    return _spanned(answer, corners, unit)


def at_corners(**bands: Bands) -> dict[str, Any]:
    """The nominal case and all combinations of the ends of the bands: what `over_corners` hands to its formula.

    For each name an array of shape (corners, ...), the nominal first; a tuple of them for a tuple of bands. For what
    needs every corner itself, such as a curve with its shaded band.
    """
    places = np.array([(1,) * len(bands), *itertools.product((0, 2), repeat=len(bands))])
    deep = max((_depth(each) for each in bands.values()), default=0)
    return {name: _at(band, places[:, number], deep) for number, (name, band) in enumerate(bands.items())}


def source_bands(source: Source) -> tuple[Band, Band]:
    """A battery's or adapter's open voltage and internal resistance, to go to their ends together.

    `least` is the end for the least current: the least voltage with the most resistance.
    """
    volts, ohms = zip(*source.corners, strict=True)
    return Band(*volts, "V"), Band(*ohms, "ohm")


def over_draws(
    formula: Callable[..., Any], seed: int, draws: int, *, peaked: tuple[str, ...] = (), **bands: Bands
) -> Any:
    """What a formula gives for many random sets of its arguments, each drawn within its band.

    Every value of a band is as likely as the next; of a band named in `peaked` the nominal is likeliest, less and less
    so in a straight line to the ends. The bands of a tuple are drawn together. The formula is called once, by keyword,
    with arrays of shape (draws,); the same `seed` (of numpy's default generator) gives the same sets.
    """
    random = np.random.default_rng(seed)
    drawn = {}
    for name, band in bands.items():
        place = random.triangular(-1, 0, 1, draws) if name in peaked else random.uniform(-1, 1, draws)
        several = isinstance(band, tuple)
        drawn[name] = tuple(_between(each, place) for each in band) if several else _between(band, place)
    return formula(**drawn)


def _depth(band: Bands) -> int:
    """How many dimensions the values of a band have: 0 for floats."""
    return max(map(_depth, band)) if isinstance(band, tuple) else max(np.ndim(each) for each in band)


def _at(band: Bands, places: np.ndarray, deep: int) -> Any:
    """The band's values at these places of (least, nominal, most): shape (places, ...) with `deep` dimensions more."""
    if isinstance(band, tuple):
        return tuple(_at(each, places, deep) for each in band)
    values = np.stack(np.broadcast_arrays(*(np.asarray(each, float) for each in band)))[places]
    return values.reshape(len(places), *(1,) * (deep + 1 - values.ndim), *values.shape[1:])


def _spanned(answer: Any, corners: int, unit: str) -> Band:
    answer = np.asarray(answer, float)
    if answer.shape[:1] != (corners,):
        answer = np.broadcast_to(answer, (corners, *answer.shape))
    least, nominal, most = answer.min(axis=0), answer[0], answer.max(axis=0)
    return Band(*(each if each.ndim else float(each) for each in (least, nominal, most)), unit)


def _between(band: Band, place: np.ndarray) -> np.ndarray:
    """The value at a place from -1 (least) over 0 (nominal) to +1 (most)."""
    return band.nominal + np.where(place < 0, band.nominal - band.least, band.most - band.nominal) * place
