"""What ends a battery's run: a voltage at its terminals, a current of the lamp, or a share of the starting light."""

from __future__ import annotations

from typing import Any

import numpy as np

from ...errors import RangeError, UnitError
from ...units import Current, Q, Voltage, kind_of, say
from ...units.reading import quoted

_MOST_SHARE = 1e15  # a whole number beyond is no share and may not fit a float


def read_until(until: Any, is_load: bool) -> tuple[str, float]:
    """The unit of what ends the run, "V", "A" or "" for a share of the light, and its SI value.

    `is_load` says whether there is a lamp, without which only a voltage can end it. Raises UnitError or RangeError,
    naming `until`.
    """
    if isinstance(until, str) or hasattr(until, "dimensionality"):
        value = _quantity(until)
        for kind in (Voltage, Current):
            if value.check(kind_of(kind).pint_unit.dimensionality):
                unit, limit = kind_of(kind).unit, kind_of(kind).read(until, "until", scalar=True)
                break
        else:
            unit, limit = "", _share(value.m_as("") if value.dimensionless else until, until)
    else:
        unit, limit = "", _share(until, until)
    if unit != "V" and not is_load:
        raise UnitError(
            f"until needs a voltage where the load is a steady current, but {quoted(until)} came: its current "
            'stays and it gives no light; write until="5.4 V", or give a Load'
        )
    if not limit > 0 or (unit == "" and not limit < 1):
        need = "between 0 and 1" if unit == "" else "above zero"
        raise RangeError(f"until needs to be {need}, but {quoted(until)} came; half the starting light is until=0.5")
    return unit, limit


def _quantity(until: Any) -> Any:
    try:
        return Q(until)
    except UnitError as refusal:
        raise UnitError(f"until: {refusal}") from None


def _share(value: Any, until: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float | np.number) or abs(value) > _MOST_SHARE:
        raise UnitError(
            f"until needs a voltage, a current, or a bare share of the starting light, but {quoted(until)} came; "
            'write for example until="5.4 V" or until=0.5'
        )
    return float(value)


def until_in_words(unit: str, limit: float) -> str:
    """The end as the rest of a sentence."""
    return {
        "V": f"the battery shows {say(limit, 'V')}",
        "A": f"the lamp's current has fallen to {say(limit, 'A')}",
        "": f"{say(limit, '')} of the starting light is left",
    }[unit]
