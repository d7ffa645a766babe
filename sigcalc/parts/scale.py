"""Scales of model railways, and speeds in scale."""

from __future__ import annotations

import re
from typing import Annotated, Any

from ..errors import RangeError, UnitError, UnknownNameError
from ..units import Count, Q, QuantityKind, Speed, record, with_units
from ..units.plain import is_number
from ..units.reading import quoted
from .table import Figures, PartsTable

ModelSpeed = Annotated[Any, QuantityKind("model speed", "m/s", 1e-3, 10.0, "0.3 m/s")]
"""What a model is taken to run at: 1 mm/s is slower than any locomotive creeps, 10 m/s faster than any runs."""

_FOOT = 0.3048  # m, exact
_RATIO = re.compile(r"1\s*[:/]\s*([0-9]{1,4}(?:\.[0-9]{1,6})?)|([0-9]{1,4}(?:\.[0-9]{1,6})?)")
_MOST = 1000.0

AMBIGUOUS = {"O": (48, 45, 43.5), "0": (48, 45, 43.5)}
"""Names that stand for several ratios, and those ratios: O has 1:48 in the United States, 1:45 in NEM 010 and 1:43.5 in
Britain (the latter two from memory)."""


@record
class Scale:
    """A scale: how many times larger the prototype is."""

    name: str
    ratio: Count


def _scale(name: str, figures: Figures) -> Scale:
    if "ratio" in figures:
        return Scale(name, figures["ratio"].value)
    return Scale(name, _FOOT / Q(figures["model of a foot"].text).to("m").magnitude)


class _Scales(PartsTable[Scale]):
    """The table of scales, which says what to type for a name that stands for several ratios."""

    def __getitem__(self, name: str) -> Scale:
        if isinstance(name, str) and name.strip().upper() in AMBIGUOUS:
            us, nem, british = AMBIGUOUS[name.strip().upper()]
            raise UnknownNameError(
                f'scale {quoted(name)} stands for several ratios; type scale="1:{us}" (United States), '
                f'scale="1:{nem}" (NEM 010) or scale="1:{british}" (Britain)'
            )
        return super().__getitem__(name)


scales: PartsTable[Scale] = _Scales("scale", "scales.csv", _scale)
"""Scales by name: "HO", "N"."""


def scale_ratio(scale: Any) -> float:
    """How many times larger the prototype is.

    scale: a name in `scales`, a `Scale`, a number (48) or a text ("1:48", "1/48")

    Raises UnknownNameError for a name in no table and for a plain "O", which may be 48, 45 or 43.5; UnitError for
    what is no scale; RangeError outside 1 to 1000.
    """
    if isinstance(scale, Scale):
        return scale.si.ratio
    if isinstance(scale, str):
        match = _RATIO.fullmatch(scale.strip())
        if match and scale.strip() not in AMBIGUOUS:
            return _in_range(float(match[1] or match[2]), scale)
        if re.fullmatch(r"[0-9\s:/.,]+", scale) and scale.strip() not in AMBIGUOUS:
            raise UnitError(f'scale {quoted(scale)} cannot be read; type for example scale="1:48" or scale="1:43.5"')
        return scales[scale].si.ratio
    if not is_number(scale):
        raise UnitError(argument="scale", need="a name or a ratio", given=quoted(scale), example="1:48")
    return _in_range(scale, scale)


def _in_range(ratio: float, given: Any) -> float:
    if not 1 <= ratio <= _MOST:
        need = f"a ratio from 1 to {_MOST:g}, prototype over model"
        raise RangeError(argument="scale", need=need, given=quoted(given), example="1:48")
    return float(ratio)


@with_units
def scale_speed(speed: Speed, scale: str | float | Scale) -> Speed:
    """The model's speed for a speed of the prototype: speed over ratio (arrays of speeds allowed).

    Parameters
    ----------
    speed: of the prototype, such as "100 km/h"
    scale: a name in `scales`, a ratio (48, "1:48") or a `Scale`

    Raises UnitError or RangeError for a bad speed, and as `scale_ratio` for the scale.
    """
    return speed / scale_ratio(scale)


@with_units
def prototype_speed(speed: Speed, scale: str | float | Scale) -> Speed:
    """The prototype's speed for a speed of the model, `scale_speed` the other way round."""
    return speed * scale_ratio(scale)
