"""Drill sizes: fractional inch, number (80 to 1) and metric."""

from __future__ import annotations

from ..errors import DesignError
from ..units import Length, record, say, with_units
from .table import Figures, PartsTable

FRACTIONAL, NUMBER, METRIC = "fractional", "number", "metric"
_ROUNDING = 1e-9  # m; 3.175 mm and 1/8 in are one diameter


@record
class Drill:
    """A twist drill: its name as it is asked for, its kind ("fractional", "number", "metric") and its diameter."""

    name: str
    kind: str
    diameter: Length


def _drill(name: str, figures: Figures) -> Drill:
    kind = NUMBER if name.startswith("no.") else FRACTIONAL if name.endswith("in") else METRIC
    return Drill(name, kind, figures["diameter"].text)


drills: PartsTable[Drill] = PartsTable("drill", "drills.csv", _drill)
"""Drills by name: "1/8 in", "no. 52", "3.2 mm"."""


@with_units(scalar=True)
def next_drill_up(diameter: Length) -> Drill:
    """The smallest drill that is no thinner than `diameter`.

    Raises UnitError or RangeError for a bad diameter, DesignError where even the thickest drill is too thin.
    """
    known = sorted(drills.values(), key=lambda drill: drill.si.diameter)
    found = next((drill for drill in known if drill.si.diameter >= diameter - _ROUNDING), None)
    if found is None:
        raise DesignError(
            f"diameter {say(diameter, 'm', 4)} is more than the thickest drill here, {known[-1].name}; "
            "drill that and file or ream"
        )
    return found
