"""What feeds a relay's coil: the timer's own output, or a transistor behind it, with what it keeps for itself."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from ..units import Voltage, kind_of
from .table import Figures, read_figures
from .timer import Timer

Corners = tuple[float, float, float]
_TRANSISTOR = "transistor"


class TimerOutput(NamedTuple):
    """Least, usual and most in V: `keeps` while it feeds the coil, `leaves` across a coil that it does not feed.

    `from_plus`: the coil lies from plus to the output, which is low while it feeds; else from the output to minus.
    """

    from_plus: bool
    keeps: Corners
    leaves: Corners


def timer_output(timer: Timer, fed_lamp: str) -> TimerOutput:
    """The output of a timer that holds red, with a coil that is fed while `fed_lamp` is called for.

    Fed for red, the coil lies from the output to minus, as the output is high during the hold; fed for green from plus
    to the output, which is low at all other times. A timer whose output bears no coil has a transistor behind it,
    which stands in the coil's lead to minus.
    """
    outputs = _outputs()
    if not timer.bears_coil:
        rows = outputs[_TRANSISTOR]
        return TimerOutput(True, _corners(rows, "low"), _corners(rows, "left"))
    from_plus = fed_lamp == "green"
    rows = outputs.get(timer.name)
    if rows is not None:
        return TimerOutput(from_plus, _corners(rows, "low" if from_plus else "high"), _corners(rows, "left"))
    # of an own timer the data sheet's worst case alone is known
    keeps = timer.si.low_drop if from_plus else timer.si.high_drop
    most = 0.0 if keeps is None else float(keeps)
    return TimerOutput(from_plus, (0.0, most, most), _corners(outputs[_TRANSISTOR], "left"))


@cache
def _outputs() -> dict[str, Figures]:
    return read_figures("timer_outputs.csv")


def _corners(rows: Figures, name: str) -> Corners:
    read = kind_of(Voltage).read
    return tuple(read(rows[key].text, key) for key in (f"{name}_min", name, f"{name}_max"))
