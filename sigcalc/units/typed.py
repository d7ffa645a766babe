"""What somebody types into a box that names its unit: a number alone counts, and so does a decimal comma.

The library's own text ("9 V") is stricter: a comma is refused there, and a unit asked for.
"""

from __future__ import annotations

import re

from ..errors import UnitError
from .quantity import Q, symbols_like, unit
from .reading import quoted, read

_COMMA = re.compile(r"([+-]?)([0-9]*),([0-9]+)(?![0-9.,])")
_ABOUT = re.compile(r"^(about|roughly|≈|~|=)\s*", re.IGNORECASE)
_SPACED = re.compile(r"^[+-]?[0-9]{1,3}(\s[0-9]{3})+(?![0-9/])")
_BEFORE_THOUSANDS = re.compile(r"[1-9][0-9]{0,2}")


def with_point(text: str) -> str:
    """The text with a point for its decimal comma, without spaces between thousands or a word for "about".

    "4,7 V" becomes "4.7 V", "0,500" becomes "0.500", "~2 200 Ω" becomes "2200 Ω"; "1,500" may be either, so it stays.
    """
    plain = _ABOUT.sub("", text.strip().replace("\u2212", "-"))
    plain = _SPACED.sub(lambda found: re.sub(r"\s", "", found[0]), plain)
    found = _COMMA.match(plain)
    if found is None or (len(found[3]) == 3 and _BEFORE_THOUSANDS.fullmatch(found[2])):
        return plain
    return f"{found[1]}{found[2]}.{found[3]}{plain[found.end() :]}"


def typed(text: str, symbol: str, wanted: str, example: str) -> float:
    """The number that was typed, in the unit `symbol` beside the box; "" for a plain number.

    Raises UnitError where it cannot be read, or has a unit that is none of `wanted` ("a current"); the sentence says
    what to type, such as `example`.
    """
    pointed = with_point(text)
    number, given = read(pointed, example, symbols_like(symbol))
    if given in ("", symbol):
        return number
    quantity, own, advice = Q(pointed), unit(symbol), f'type for example "{example}"'
    if given == "K" and symbol == "ohm":
        advice = f'K alone means kelvin; for kilohms type "{number:g} kohm"'
    elif quantity.is_compatible_with(own):
        return float(quantity.m_as(own))
    said = quoted(text.strip())
    raise UnitError(f"{said} is not {wanted}; {advice}", given=said, advice=advice)


def with_unit(text: str, symbol: str) -> str:
    """The text as the library reads it: with a point for its decimal comma, and with a unit where it has none."""
    pointed = with_point(text)
    try:
        return f"{pointed} {symbol}" if read(pointed)[1] == "" and symbol else pointed
    except UnitError:  # the sentence is for where it is read with its own example
        return text
