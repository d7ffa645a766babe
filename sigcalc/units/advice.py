"""What to say when a sum with quantities goes wrong in a cell: one sentence instead of pint's own words."""

from __future__ import annotations

import sys
from types import TracebackType

import pint

from ..errors import SigcalcError

_LIKE = "only like can be added to, taken from, compared with or converted to like; check the units in this line"


def advice(error: BaseException, traceback: TracebackType | None = None) -> str | None:
    """The sentence for a refusal by the library or a mistake in a sum with quantities; None for any other error.

    `traceback` tells whether an error of Python's own, such as that of dividing by a text, arose in such a sum.
    """
    if isinstance(error, SigcalcError):
        return str(error)
    if isinstance(error, pint.OffsetUnitCalculusError):
        return 'Temperatures in degC cannot be added or multiplied; give the warmer one as it is, such as Q("27 degC")'
    if isinstance(error, pint.DimensionalityError):
        return _mismatch(str(error.units1), str(error.units2))
    # pint to 0.25 raises it in its own code, from 0.26 on leaves it to Python, which names the types
    if isinstance(error, TypeError | ValueError) and (_is_in_pint(traceback) or "'Quantity'" in str(error)):
        if "str" in str(error) or "sequence" in str(error):
            return 'A quantity and a text cannot be put into one sum; make the text a quantity, such as Q("470 ohm")'
        return 'A quantity and a plain number cannot be compared; give the number its unit, such as Q("3 V")'
    return None


def _mismatch(one: str, other: str) -> str:
    names = [_symbol(each) for each in (one, other)]
    if "" in names:
        unit = "".join(names) or "V"
        return f'{unit} and a plain number do not fit together; give the number its unit, such as Q("3 {unit}")'
    return f"{names[0]} and {names[1]} do not fit together: {_LIKE}"


def _symbol(unit: str) -> str:
    return "" if unit == "dimensionless" else f"{pint.application_registry.get().Unit(unit):~P}"


def _is_in_pint(traceback: TracebackType | None) -> bool:
    """Whether the error arose in the code of quantities, called from the reader's own line."""
    while traceback is not None and traceback.tb_next is not None:
        traceback = traceback.tb_next
    home = "" if traceback is None else traceback.tb_frame.f_globals.get("__name__", "")
    return home.partition(".")[0] == pint.__name__ and home in sys.modules
