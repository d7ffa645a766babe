"""Saying a figure to a person: engineering prefixes, few digits, no false precision."""

from __future__ import annotations

import math

_STEPS = ((1e9, "G"), (1e6, "M"), (1e3, "k"), (1.0, ""), (1e-3, "m"), (1e-6, "µ"), (1e-9, "n"), (1e-12, "p"))
_PLAIN = {"K": ("°C", 1.0, -273.15), "": ("%", 100.0, 0.0), "m2": ("mm²", 1e6, 0.0), "deg": ("°", 1.0, 0.0)}
_LEAST, _MOST = 1e-15, 1e15  # beyond, 1e-21 A (a saturation current) says more than a row of zeros in pA
_SHOWN = {"ohm": "Ω"}
_LAST = {"A": 1e-3, "ohm": 1.0}
"""The smallest steps people say, down to a thousandth of one: 0.781 mA and 0.92 Ω, as a hobby meter shows them."""


def say(si: float, unit: str, digits: int = 3) -> str:
    """An SI float as people say it: 0.0123 A is "12.3 mA", 4700 ohm is "4.70 kΩ" cut to "4.7 kΩ".

    Temperatures (unit "K") are said in °C and bare ratios (unit "") in per cent.
    """
    si = float(si) + 0.0  # no minus before a zero
    if unit in _PLAIN:
        shown, factor, offset = _PLAIN[unit]
        return f"{_digits(round(si * factor + offset, 12), digits)} {shown}"  # no row of zeros for 0 °C either
    if unit == "s" and abs(si) >= 120:
        return f"{_digits(si / 3600, digits)} h" if abs(si) >= 3600 else f"{_digits(si / 60, digits)} min"
    if unit == "m" and (si == 0 or 1e-5 <= abs(si) < 1):
        return f"{_digits(si * 1e3, digits)} mm"
    shown = _SHOWN.get(unit, unit)
    if "/" in unit or not _LEAST <= abs(si) < _MOST:
        return f"{_digits(si, digits)} {shown}"
    rounded = abs(float(f"{si:.{digits - 1}e}"))  # 999.9 mA is 1 A, not 1000 mA
    last = _LAST.get(unit)
    said = ((s, p) for s, p in _STEPS if rounded >= s or (s == last and rounded >= s / 1000))
    step, prefix = next(said, _STEPS[-1])
    return f"{_digits(si / step, digits)} {prefix}{shown}"


def say_band(least: float, nominal: float, most: float, unit: str, digits: int = 3) -> str:
    """A figure with its band: "11.2 mA (10.4 to 12.1 mA)"."""
    return f"{say(nominal, unit, digits)} ({say(least, unit, digits)} to {say(most, unit, digits)})"


def say_times(ratio: float, digits: int = 2) -> str:
    """A plain number as people say it: 1.53 is "1.5", 123.4 is "123"; no power of ten as long as it can be read."""
    return _digits(float(ratio), digits)


def _digits(value: float, digits: int) -> str:
    if not _LEAST <= abs(value) < _MOST:
        return f"{value:.{digits}g}"
    places = max(0, digits - 1 - math.floor(math.log10(abs(float(f"{value:.{digits - 1}e}")))))
    text = f"{value:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
