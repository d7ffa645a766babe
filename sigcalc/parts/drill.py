"""Drill sizes: fractional inch, number (80 to 1) and metric."""

from __future__ import annotations

from collections.abc import Iterable

from ..errors import DesignError, RangeError, UnknownNameError
from ..units import Length, record, say, with_units
from .table import Figures, PartsTable, unknown

FRACTIONAL, NUMBER, METRIC = "fractional", "number", "metric"
KINDS = (FRACTIONAL, NUMBER, METRIC)
_ROUNDING = 1e-9  # m; 3.175 mm and 1/8 in are one diameter


@record
class Drill:
    """A twist drill: its name as it is asked for, its kind and its diameter."""

    name: str
    kind: str
    diameter: Length


def _drill(name: str, figures: Figures) -> Drill:
    kind = NUMBER if name.startswith("no.") else FRACTIONAL if name.endswith("in") else METRIC
    return Drill(name, kind, figures["diameter"].text)


drills: PartsTable[Drill] = PartsTable("drill", "drills.csv", _drill)
"""Drills by name: "1/8 in", "no. 52", "3.2 mm"."""


@with_units(scalar=True)
def next_drill_up(diameter: Length, kinds: str | Iterable[str] = KINDS) -> Drill:
    """The smallest drill of these kinds ("fractional", "number", "metric") that is no thinner than `diameter`.

    Raises UnitError or RangeError for a bad diameter, UnknownNameError for another kind, DesignError where even
    the thickest drill is too thin.
    """
    _need_thickness(diameter)
    known = _of_kinds(kinds)
    for drill in known:
        if drill.si.diameter >= diameter - _ROUNDING:
            return drill
    raise DesignError(
        f"diameter {say(diameter, 'm', 4)} is more than the thickest drill here, {known[-1].name}; "
        "drill that and file or ream, or allow another kind"
    )


@with_units(scalar=True)
def nearest_drill(diameter: Length, kinds: str | Iterable[str] = KINDS) -> Drill:
    """The drill of these kinds whose diameter is nearest; of two equally near the thinner.

    Raises UnitError or RangeError for a bad diameter, UnknownNameError for another kind, DesignError where
    `diameter` lies beyond the thinnest or the thickest drill.
    """
    _need_thickness(diameter)
    known = _of_kinds(kinds)
    if not known[0].si.diameter - _ROUNDING <= diameter <= known[-1].si.diameter + _ROUNDING:
        raise DesignError(
            f"diameter {say(diameter, 'm', 4)} lies beyond the drills here, {known[0].name} to {known[-1].name}; "
            "choose one between them, or allow another kind"
        )
    return min(known, key=lambda drill: round(abs(drill.si.diameter - diameter), 12))


def _need_thickness(diameter: float) -> None:
    if diameter <= 0:
        raise RangeError('diameter needs to be more than nothing, but 0 came; give for example "3.2 mm"')


def _of_kinds(kinds: str | Iterable[str]) -> list[Drill]:
    """All drills of the given kinds, the thinnest first."""
    wanted = [kinds] if isinstance(kinds, str) else list(kinds) if isinstance(kinds, Iterable) else [kinds]
    for kind in wanted:
        if not isinstance(kind, str) or kind not in KINDS:
            raise UnknownNameError(unknown("kind of drill", kind, KINDS))
    if not wanted:
        raise UnknownNameError(f"kinds needs at least one of: {', '.join(KINDS)}; but none came")
    return sorted((each for each in drills.values() if each.kind in wanted), key=lambda drill: drill.si.diameter)
