"""Reading a number and a unit out of text, and saying what is wrong with the text otherwise."""

from __future__ import annotations

import itertools
import math
import re
from fractions import Fraction
from functools import lru_cache

from ..errors import UnitError

_PREFIXES = dict(zip("pnµmckMG ", ("pico", "nano", "micro", "milli", "centi", "kilo", "mega", "giga", ""), strict=True))

# prefixes that people use, and with which symbols; their names in the registry
_PREFIXED = {
    "pnµm k": {"V": "volt"},
    "pnµm ": {"A": "ampere", "F": "farad"},
    "µm kMG": {"ohm": "ohm"},
    "nµm k": {"W": "watt"},
    "nµmc k": {"m": "meter"},
    "nµm ": {"s": "second"},
    "µm ": {"H": "henry", "T": "tesla"},
    "m k": {"g": "gram", "Wh": "watt_hour", "J": "joule"},
    "m ": {"cd": "candela", "lm": "lumen", "Ah": "ampere_hour"},
    " kM": {"Hz": "hertz"},
}

# written out, in the singular or with an s
_IN_FULL = "volt millivolt ohm ampere watt milliwatt meter second millisecond minute hour day year"
_NAMED = {
    "percent": ("%",),
    "ampere": ("amp", "amps"),
    "milliampere": ("milliamp", "milliamps"),
    "microampere": ("microamp", "microamps"),
    "kiloohm": ("kilohm", "kilohms"),
    "meter": ("metre", "metres"),
    "inch": ("in", "inch", "inches", '"'),
    "foot": ("ft", "foot", "feet"),
    "thou": ("mil",),
    "minute": ("min",),
    "hour": ("h", "hrs"),
    "day": ("d",),
    "second": ("sec",),
    "kelvin": ("K",),
    "degree_Celsius": ("degC", "°C"),
    "degree_Fahrenheit": ("degF", "°F"),
    "degree": ("deg", "°"),
    "mile/hour": ("mph",),
    "millimeter**2": ("mm2",),
    "meter**2": ("m2",),
    "ampere_turn": ("AT", "At", "ampere-turn", "ampere-turns", "ampere turns"),
}

_QUOTIENTS = "m/s mm/s km/h ohm/m ohm/km ohm/ft K/W V/K mV/K mA/K ppm/K %/K W/sr mW/sr"

ALIKE = str.maketrans(
    {"\u2126": "ohm", "\u03a9": "ohm", "\u03bc": "µ", "\u2212": "-", "\u00a0": " ", "\u202f": " ", "²": "2"}
)
"""Signs that are read as another: of those that look alike (micro, ohm) only one is in the table, and is written."""


def _table() -> dict[str, str]:
    table = {symbol: name for name, symbols in _NAMED.items() for symbol in symbols}
    table |= {name + ending: name for name in _IN_FULL.split() for ending in ("", "s")}
    for prefixes, symbols in _PREFIXED.items():
        for each, (symbol, name) in itertools.product(prefixes, symbols.items()):
            table[each.strip() + symbol] = _PREFIXES[each] + name
    parts = table | {"ppm": "ppm", "sr": "steradian"}
    table |= {each: "/".join(parts[part] for part in each.split("/")) for each in _QUOTIENTS.split()}
    return table | {"u" + symbol[1:]: name for symbol, name in table.items() if symbol.startswith("µ")}


UNITS = _table()
"""Every unit that may be written, and its name in the registry."""

_NUMBER = r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?"
_VALUE = re.compile(rf"({_NUMBER})\s*([^\s0-9+\-.,].*)?")
_FRACTION = re.compile(r"([+-]?)(?:([0-9]{1,6})[\s-]+)?([0-9]{1,6})/([0-9]{1,6})\s*([^\s0-9+\-.,/].*)?")
# IEC 60062: the letter stands for the decimal point
_RKM = re.compile(r"([0-9]{0,6})([LRKkMG])([0-9]{0,6})(?:\s*ohm)?")
# the same with the decimal point written as a point: 2.2k
_KILO = re.compile(r"([0-9]+\.?[0-9]*|\.[0-9]+)\s*([kMG])")
_RKM_POWER = {"L": -3, "R": 0, "K": 3, "k": 3, "M": 6, "G": 9}
# two numbers and what people type between them for a range, with the unit once or twice
_RANGE = re.compile(
    r"([0-9]+(?:\.[0-9]+)?)(?![eE]-)\s*([^\s0-9.…–-]*)\s*(?:\.\.+|…|–|to\s|-)\s*[0-9]+(?:\.[0-9]+)?\s*(\S*)"
)
_LONGEST = 100
# units that people write, which the table does not hold because they would mean something else or are not needed
_MEANT = {"c": "degC", "celsius": "degC", "° c": "degC", "deg c": "degC", "° f": "degF"}


def quoted(text: object) -> str:
    """The text as it was given, cut short, for use inside a sentence."""
    try:
        shown = repr(text) if isinstance(text, str) else str(text)
    except Exception:  # noqa: BLE001 a number of thousands of digits, a list in itself, an object that cannot say itself
        shown = f"something of type {type(text).__name__} that cannot be written"
    shown = " ".join(shown.split()) if "\n" in shown else shown  # an array has lines, a sentence has one
    return shown if len(shown) <= 48 else shown[:44] + "…" + shown[-1]


@lru_cache(maxsize=4096)
def read(text: str, example: str = "9 V", meant: frozenset[str] = frozenset()) -> tuple[float, str]:
    """Number and unit symbol of a text such as "9 V", "4k7", "1/8 in" or "27 °C".

    The symbol is "" where the text is a number alone. Raises UnitError with what
    to type instead, such as `example`: for "9 ma" it is "9 mA", unless that is none of the symbols `meant`.
    """
    plain = text.translate(ALIKE).strip()
    if len(plain) > _LONGEST:
        raise _unreadable(text, f'it is too long for a number and a unit; type for example "{example}"')
    if match := _RKM.fullmatch(plain):
        if match[1] or match[3]:
            return float(f"{match[1] or 0}.{match[3] or 0}e{_RKM_POWER[match[2]]}"), "ohm"
    elif match := _KILO.fullmatch(plain):
        return float(f"{match[1]}e{_RKM_POWER[match[2]]}"), "ohm"
    elif match := _FRACTION.fullmatch(plain):
        sign, whole, above, below, unit = match.groups()
        if int(below):
            value = int(whole or 0) + Fraction(int(above), int(below))
            return float(-value if sign == "-" else value), _symbol(text, unit, example, meant)
    elif match := _VALUE.fullmatch(plain):
        value = float(match[1])
        if math.isfinite(value):
            return value, _symbol(text, match[2], example, meant, match[1])
    raise _unreadable(text, _what_is_wrong(plain, example))


def _unreadable(text: str, advice: str) -> UnitError:
    return UnitError(f"{quoted(text)} cannot be read: {advice}", given=quoted(text), advice=advice)


def _symbol(text: str, unit: str | None, example: str, meant: frozenset[str], number: str = "") -> str:
    unit = (unit or "").strip()
    if unit == "" or unit in UNITS:
        return unit
    squeezed = re.sub(r"\s*([/·*])\s*", r"\1", unit)
    if squeezed in UNITS:
        return squeezed
    plain = text.translate(ALIKE).strip()
    if _RANGE.fullmatch(plain):
        raise _unreadable(text, _what_is_wrong(plain, example))
    number = number or plain[: -len(unit)].strip()
    raise _unreadable(text, _mend(number, unit, example, meant))


def _mend(number: str, unit: str, example: str, meant: frozenset[str]) -> str:
    """What was probably meant by a unit that is in no table."""
    if unit in ("R", "r"):
        return f'"{unit}" alone also names the gas constant; type "{number} ohm"'
    if match := re.fullmatch(r"(m?V|m?A)[\s_-]*([DA])\.?C\.?", unit, flags=re.IGNORECASE):
        symbol = ("m" if len(match[1]) == 2 else "") + match[1][-1].upper()
        if match[2].upper() == "A":
            return f'alternating current is not what is meant here; type "{number} {symbol}" if it is direct current'
        return f'the unit is {symbol} alone, direct current is understood; type "{number} {symbol}"'
    if known := _MEANT.get(unit.lower()):
        return f'type "{number} {known}"'
    if re.search(r"[*^(+]|\s-", unit):
        return f'sums and powers are not worked out; type one number and one unit, such as "{example}"'
    if unit in ("k", "K", "M", "G"):
        return f'"{unit}" is a prefix without a unit; type for example "{number} {unit.replace("K", "k")}ohm"'
    alike = sorted(known for known in UNITS if known.lower() == unit.lower() and (not meant or known in meant))
    if alike:
        choices = " or ".join(f'"{number} {known}" ({UNITS[known].replace("_", " ")})' for known in alike)
        return f'capital and small letters matter in "{unit}"; type {choices}'
    return f'"{quoted(unit)[1:-1]}" is no unit known here; type for example "{example}"'


def _what_is_wrong(plain: str, example: str) -> str:
    if not plain:
        return f'it is empty; type a number and a unit, such as "{example}"'
    if "," in plain:
        return _mend_comma(plain)
    if match := _RANGE.fullmatch(plain):
        return _mend_range(match)
    if re.match(_NUMBER, plain):
        return f'only one number and one unit are read, no sums; type for example "{example}"'
    return f'a number and a unit are needed, in this order; type for example "{example}"'


def _mend_comma(plain: str) -> str:
    said = "a comma is not read as a decimal point"
    point, none = plain.replace(",", "."), plain.replace(",", "")
    if not _VALUE.fullmatch(point):
        return f'{said}, nor between thousands; type for example "1234.5 V"'
    if re.search(r",[0-9]{3}(?![0-9])", plain):
        return f'the comma may be a decimal point or part thousands; type "{point}" or "{none}"'
    return f'{said}; type "{point}"'


def _mend_range(match: re.Match[str]) -> str:
    example = f"{match[1]} {match[2] or match[3] or 'V'}"
    return f'it is a range and one value is needed; type one, such as "{example}", and give the spread as a tolerance'
