"""The marks on a resistor (IEC 60062), to write and to read: colour bands, and the letter code 4K7, 470R, R47.

Parts of 5 % and wider carry two digits in colours where they suffice, closer ones three: 470 ohm with 1 % has five
bands. Both are read, and `digits=2` writes a close part in four bands.

Sources differ on grey as a tolerance: it is 0.01 %, and orange 0.05 %, as in the edition of 2016 (from memory); older
charts print 0.05 % for grey.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from decimal import Decimal
from functools import cache
from typing import Any, NamedTuple

from ..errors import RangeError, UnitError
from ..units import Count, Ratio, Resistance, kind_of, say, with_units
from ..units.reading import quoted
from .table import need_name, read_figures

PLACES = {
    3: ("digit", "digit", "power"),
    4: ("digit", "digit", "power", "tolerance"),
    5: ("digit", "digit", "digit", "power", "tolerance"),
    6: ("digit", "digit", "digit", "power", "tolerance", "temperature_coefficient"),
}
"""What each band says, by the number of bands."""
_MEANING = {"digit": "a digit", "power": "the multiplier", "temperature_coefficient": "the temperature coefficient"}
_ALIASES = {"gray": "grey", "purple": "violet"}
_MOST_DIGITS = 3
_TABLE = "colour_bands.csv"
_NO_BAND = "none"  # the row of the table for a body without a tolerance band
_TWO_DIGITS_FROM = 0.05
"""The closest tolerance with two digits (IEC 60062, by instrumentationtools.com/iec-labelling-resistors-color-code)."""
_POWERS = {"G": 9, "M": 6, "K": 3, "R": 0, "L": -3}
_LEAST_CODE = 1e-4  # three places after the L
_CODE = re.compile(r"([0-9]{0,3})([GMKkRL])([0-9]{0,3})([A-Z]?)")
_EXAMPLE = 'type for example "yellow violet red gold"'


class _Digits(NamedTuple):
    """A value as a whole number times ten to a power: 4700 ohm is 47 and 2."""

    whole: int
    power: int

    @property
    def count(self) -> int:
        """How many digits the whole number has."""
        return len(str(self.whole))

    @property
    def value(self) -> float:
        """Rounded once: 47 and -2 give the very float 0.47."""
        return float(f"{self.whole}e{self.power}")


def _digits_of(resistance: float) -> _Digits:
    """The fewest digits that write a resistance in ohm.

    Raises RangeError for 0 ohm, and for more than three digits with the nearest values that have three.
    """
    if resistance == 0:
        raise RangeError("resistance 0 ohm is a wire link and has no code; give a resistance above zero")
    # to nine digits, beyond which lies only the rounding of floats
    text, power = f"{resistance:.8e}".split("e")
    shortest = text.replace(".", "").rstrip("0")
    digits = _Digits(int(shortest), int(power) + 1 - len(shortest))
    if digits.count <= _MOST_DIGITS:
        return digits
    below = _Digits(digits.whole // 10 ** (digits.count - _MOST_DIGITS), digits.power + digits.count - _MOST_DIGITS)
    above = below._replace(whole=below.whole + 1)
    raise RangeError(
        f"resistance {say(resistance, 'ohm', digits.count)} needs more than three digits, and no mark on a resistor "
        f"has more; the nearest that can be written are {say(below.value, 'ohm')} and {say(above.value, 'ohm')}"
    )


@cache
def colour_figures(quantity: str) -> dict[str, float]:
    """Colour to figure for one kind of mark ("digit", "power", "tolerance", ...); a tolerance as a fraction."""
    found = {colour: figures[quantity] for colour, figures in read_figures(_TABLE).items() if quantity in figures}
    return {colour: float(each.value) / (100 if each.unit == "%" else 1) for colour, each in found.items()}


@cache
def _tolerance_letters() -> dict[str, float]:
    """The letters that stand for a tolerance, each with its fraction: J is 0.05."""
    fractions = colour_figures("tolerance")
    return {
        figures["letter"].value: fractions[colour]
        for colour, figures in read_figures(_TABLE).items()
        if "letter" in figures
    }


def _mark_for(tolerance: float, marks: dict[str, float]) -> str:
    """The mark for a tolerance, or a RangeError that lists the tolerances with one."""
    for mark, marked in marks.items():
        if tolerance is not None and abs(tolerance - marked) <= 1e-9 * marked:
            return mark
    choices = ", ".join(say(each, "") for each in sorted(marks.values()))
    given = "None" if tolerance is None else say(tolerance, "", 6)
    raise RangeError(argument="tolerance", need="a value that has a mark", given=given, advice=f"use one of: {choices}")


@with_units(scalar=True)
def colour_bands(resistance: Resistance, tolerance: Ratio, digits: Count | None = None) -> tuple[str, ...]:
    """The colours to look for on a resistor, from the end where they crowd: lower-case names.

    Parameters
    ----------
    resistance: 10 mohm or more, of at most three digits
    tolerance: one that has a colour, such as 0.05 or "5 %"; 20 % is a body without that band (three bands in all)
    digits: 2 or 3; if not given, three below 5 %, else two where they suffice

    Source: IEC 60062. Raises RangeError for what cannot be written, naming what can.
    """
    last = _mark_for(tolerance, colour_figures("tolerance"))
    fewest, shown = _digits_of(resistance), say(resistance, "ohm")
    if digits not in (None, 2, 3):
        raise RangeError(argument="digits", need="to be 2 or 3", given=f"{digits:g}")
    if digits == 2 and fewest.count > 2:
        raise RangeError(argument="digits", need=f"to be 3 for {shown}", given="2", advice="leave digits out")
    count = int(digits or (3 if tolerance < _TWO_DIGITS_FROM else max(2, fewest.count)))
    if count == 3 and last == _NO_BAND:
        raise RangeError(
            f"resistance {shown} with three digits needs a tolerance band, and 20 % has none; "
            "give a closer tolerance, such as 0.05"
        )
    missing = count - fewest.count
    whole, power = fewest.whole * 10**missing, fewest.power - missing
    colours = {int(figure): colour for colour, figure in colour_figures("power").items()}
    if power not in colours:
        least = _Digits(10 ** (count - 1), min(colours)).value
        raise RangeError(
            f"resistance {shown} cannot be written with {count} digits in colour bands; they begin at "
            f"{say(least, 'ohm')}"
        )
    names = {int(figure): colour for colour, figure in colour_figures("digit").items()}
    bands = (*(names[int(each)] for each in str(whole)), colours[power])
    return bands if last == _NO_BAND else (*bands, last)


def read_colour_bands(bands: str | Sequence[str]) -> tuple[Any, float]:
    """Resistance (a quantity) and tolerance (a fraction) of three to six bands, read from the end where they crowd.

    `bands` is a list of colours or one text such as "yellow violet red gold"; a sixth
    band is the temperature coefficient, which is not given. Source: IEC 60062. Raises
    UnknownNameError for a colour that is none, RangeError for one that does not belong in its place.
    """
    colours, shown = _colours(bands), _shown(bands)
    if len(colours) not in PLACES:
        advice = f"you gave {shown} ({len(colours)}); {_EXAMPLE}"
        raise RangeError(argument="bands", need="3 to 6 colours", advice=advice)
    digits, said = "", {"tolerance": colour_figures("tolerance")[_NO_BAND]}
    for number, (place, colour) in enumerate(zip(PLACES[len(colours)], colours, strict=True), 1):
        allowed = {name: value for name, value in colour_figures(place).items() if name != _NO_BAND}
        if number == 1:
            del allowed["black"]  # no number starts with a zero
        if colour not in allowed:
            meaning = _MEANING.get(place, "the tolerance")
            raise RangeError(
                f"band {number} says {meaning} and needs one of {', '.join(allowed)}; you gave {colour}; "
                "try reading from the other end"
            )
        if place == "digit":
            digits += f"{allowed[colour]:g}"
        else:
            said[place] = allowed[colour]
    resistance, kind = _Digits(int(digits), int(said["power"])).value, kind_of(Resistance)
    if resistance > kind.high:
        raise RangeError(
            f"bands {shown} would be {say(resistance, 'ohm')}, above the {say(kind.high, 'ohm')} of any part sold; "
            "read them from the other end"
        )
    return kind.quantity(resistance), said["tolerance"]


def _colours(bands: Any) -> list[str]:
    """The colours as the table has them."""
    given = re.split(r"[\s,;/-]+", bands.strip()) if isinstance(bands, str) else bands
    if not isinstance(given, Sequence) or isinstance(given, bytes) or not all(isinstance(each, str) for each in given):
        raise UnitError(argument="bands", need="colours", given=_shown(bands), advice=_EXAMPLE)
    plain = [each.strip().lower() for each in given if each.strip()]
    plain = [_ALIASES.get(each, each) for each in plain]
    for number, colour in enumerate(plain, 1):
        need_name(colour, f"band {number}: colour", colour_figures("power"))
    return plain


def _shown(bands: Any) -> str:
    names = isinstance(bands, list | tuple) and all(isinstance(each, str) for each in bands)
    return quoted(" ".join(bands) if names else bands)


@with_units(scalar=True)
def rkm_code(resistance: Resistance, tolerance: Ratio | None = None) -> str:
    """The code of a resistance of at most three digits, with the tolerance's letter where one is given.

    4700 ohm with 5 % is "4K7J"; without a tolerance "4K7". Source: IEC 60062 (the letters
    from memory). Raises RangeError for what cannot be written, naming what can.
    """
    digits = _digits_of(resistance)
    if digits.value < _LEAST_CODE:
        least = say(_LEAST_CODE, "ohm")
        raise RangeError(f"resistance {say(resistance, 'ohm')} has no letter code; they begin at {least}")
    letter = next((letter for letter, power in _POWERS.items() if digits.value >= 10.0**power), "L")
    if digits.value >= 0.1 and letter == "L":
        letter = "R"  # 0.47 ohm is R47, not 470L
    number = format(Decimal(digits.whole).scaleb(digits.power - _POWERS[letter]), "f")  # 4.7 for 4K7, 0.47 for R47
    before, _, after = number.partition(".")
    before = before.lstrip("0")
    if len(before + after) == 1:
        after += "0"  # a code has two digits at least: 1K0
    return before + letter + after + ("" if tolerance is None else _mark_for(tolerance, _tolerance_letters()))


def read_rkm(text: str) -> tuple[Any, float | None]:
    """Resistance (a quantity) and tolerance (a fraction; None without a letter for it) of a code such as "4K7J".

    Source: IEC 60062. Raises UnitError for text that is no such code, RangeError for 0 ohm.
    """
    match = _CODE.fullmatch(text.strip()) if isinstance(text, str) else None
    letters = _tolerance_letters()
    if not match or not match[1] + match[3] or match[4] not in ("", *letters):
        need = 'a code such as "4K7", "470R" or "4K7J"'
        advice = (
            f"the letter in place of the point is one of {', '.join(_POWERS)}, "
            f"a last letter for the tolerance one of {', '.join(letters)}"
        )
        raise UnitError(argument="text", need=need, given=quoted(text), advice=advice)
    digits = _Digits(int(match[1] + match[3]), _POWERS[match[2].upper()] - len(match[3]))
    if digits.whole == 0:
        raise RangeError(f"text {quoted(text)} says 0 ohm, a wire link; give the code of a resistance above zero")
    kind = kind_of(Resistance)
    kind.check(digits.value, "text")
    return kind.quantity(digits.value), letters.get(match[4])
