"""What somebody types into a box that names its unit: a number alone counts, and so does a decimal comma.

The library's own text ("9 V") is stricter: a comma is refused there, and a unit asked for.
"""

from __future__ import annotations

import re

from ..errors import UnitError
from .quantity import Q, unit
from .reading import ALIKE, quoted, read

_COMMA = re.compile(r"([+-]?)([0-9]*),([0-9]+)(?![0-9.,])")
_BEFORE_THOUSANDS = re.compile(r"[1-9][0-9]{0,2}")


def with_point(text: str) -> str:
    """The text with a point for its decimal comma; unchanged where the comma may as well stand between thousands.

    "4,7 V" becomes "4.7 V", "0,500" becomes "0.500"; "1,500" may be either and stays.
    """
    plain = text.translate(ALIKE).strip()
    found = _COMMA.match(plain)
    if found is None or (len(found[3]) == 3 and _BEFORE_THOUSANDS.fullmatch(found[2])):
        return text
    return f"{found[1]}{found[2]}.{found[3]}{plain[found.end() :]}"


def typed(text: str, symbol: str, wanted: str, example: str) -> float:
    """The number that was typed, in the unit `symbol` that stands beside the box; "" for a plain number.

    Raises UnitError where it cannot be read, or has a unit that is none of `wanted` ("a current"); the sentence says
    what to type, such as `example`.
    """
    pointed = with_point(text)
    number, given = read(pointed, example)
    if given in ("", symbol):
        return number
    quantity, own = Q(pointed), unit(symbol)
    if not quantity.is_compatible_with(own):
        raise UnitError(f'{quoted(text.strip())} is not {wanted}; type for example "{example}"')
    return float(quantity.m_as(own))
