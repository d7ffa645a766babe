"""The marks on a resistor: colour bands (IEC 60062), to write and to read.

Parts of 5 % and wider carry two digits where they suffice, closer ones three: 470 ohm with 1 % has five bands. Both
are read, and `digits=2` writes a close part in four bands.

Sources differ on grey as a tolerance: it is 0.01 %, and orange 0.05 %, as in the edition of 2016 (from memory); older
charts print 0.05 % for grey.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from ..errors import RangeError, UnitError, UnknownNameError
from ..units import Count, Ratio, Resistance, ResistanceCoefficient, kind_of, say, with_units
from ..units.reading import quoted
from .marking import MOST_DIGITS, NO_BAND, Digits, colour_figures, digits_of, mark_for
from .table import unknown

_ALIASES = {"gray": "grey", "purple": "violet"}
PLACES = {
    3: ("digit", "digit", "power"),
    4: ("digit", "digit", "power", "tolerance"),
    5: ("digit", "digit", "digit", "power", "tolerance"),
    6: ("digit", "digit", "digit", "power", "tolerance", "temperature_coefficient"),
}
"""What each band says, by the number of bands."""
_TWO_DIGITS_FROM = 0.05
"""The closest tolerance with two digits (IEC 60062, by instrumentationtools.com/iec-labelling-resistors-color-code)."""
_MEANING = {
    "digit": "a digit",
    "power": "the multiplier",
    "tolerance": "the tolerance",
    "temperature_coefficient": "the temperature coefficient",
}


@with_units(scalar=True)
def colour_bands(
    resistance: Resistance,
    tolerance: Ratio,
    temperature_coefficient: ResistanceCoefficient | None = None,
    digits: Count | None = None,
) -> tuple[str, ...]:
    """The colours to look for on a resistor, from the end where they crowd: lower-case names.

    Parameters
    ----------
    resistance: 10 mohm or more, of at most three digits
    tolerance: one that has a colour, such as 0.05 or "5 %"; 20 % is a body without that band (three bands in all)
    temperature_coefficient: one that has a colour; six bands, so three digits
    digits: 2 or 3; if not given, three below 5 %, else two where they suffice

    Source: IEC 60062. Raises RangeError for what cannot be written, naming what can.
    """
    last = mark_for(tolerance, colour_figures("tolerance"), "tolerance", "")
    if digits is None and tolerance < _TWO_DIGITS_FROM:
        digits = MOST_DIGITS
    count = _digit_bands(resistance, last, temperature_coefficient, digits)
    written = digits_of(resistance).padded(count)
    bands = [_colour("digit", int(each)) for each in str(written.whole)] + [_multiplier(written)]
    bands += [last] if last != NO_BAND else []
    if temperature_coefficient is not None:
        marks = colour_figures("temperature_coefficient")
        bands.append(mark_for(temperature_coefficient, marks, "temperature_coefficient", "ppm/K"))
    return tuple(bands)


def read_colour_bands(bands: str | Sequence[str]) -> tuple[Any, float]:
    """Resistance (a quantity) and tolerance (a fraction) of three to six bands, read from the end where they crowd.

    `bands` is a list of colours or one text such as "yellow violet red gold"; a sixth
    band is the temperature coefficient (see `read_temperature_coefficient`). Source:
    IEC 60062. Raises UnknownNameError for a colour that is none, RangeError for one that
    does not belong in its place.
    """
    read = _read(bands)
    digits = "".join(f"{value:g}" for place, value in read if place == "digit")
    (power,) = (int(value) for place, value in read if place == "power")
    tolerance = next((value for place, value in read if place == "tolerance"), colour_figures("tolerance")[NO_BAND])
    resistance = Digits(int(digits), power).value
    most = kind_of(Resistance).high
    if resistance > most:
        raise RangeError(
            f"bands {_shown(bands)} would be {say(resistance, 'ohm')}, above the {say(most, 'ohm')} of any part sold; "
            "read them from the other end"
        )
    return kind_of(Resistance).quantity(resistance), tolerance


def read_temperature_coefficient(bands: str | Sequence[str]) -> Any:
    """The temperature coefficient (a quantity in ppm/K) that the sixth band says.

    Raises RangeError where there is no sixth band.
    """
    value = dict(_read(bands)).get("temperature_coefficient")
    if value is None:
        raise RangeError(f"bands needs six colours to say a temperature coefficient, but {_shown(bands)} came")
    return kind_of(ResistanceCoefficient).quantity(value)


def _digit_bands(resistance: float, last: str, coefficient: float | None, digits: float | None) -> int:
    """How many bands of digits to write: as few as suffice, or as many as asked for."""
    needed = max(2, digits_of(resistance).count, MOST_DIGITS if coefficient is not None else 0)
    if digits not in (None, 2, 3):
        raise RangeError(f"digits needs to be 2 or 3, but {digits:g} came")
    if digits == 2 and needed == 3:
        why = "a temperature coefficient stands beside three digits" if coefficient is not None else "it has three"
        raise RangeError(f"digits needs to be 3 for {say(resistance, 'ohm')}, but 2 came: {why}; leave digits out")
    count = int(digits or needed)
    if count == 3 and last == NO_BAND:
        raise RangeError(
            f"resistance {say(resistance, 'ohm')} with three digits needs a tolerance band, and 20 % has none; "
            "give a closer tolerance, such as 0.05"
        )
    return count


def _colour(place: str, figure: float) -> str:
    return next(colour for colour, each in colour_figures(place).items() if each == figure)


def _multiplier(written: Digits) -> str:
    powers = colour_figures("power").values()
    if written.power not in powers:
        least = Digits(10 ** (written.count - 1), int(min(powers)))
        raise RangeError(
            f"resistance {say(written.value, 'ohm')} cannot be written with {written.count} digits in colour bands; "
            f"they begin at {say(least.value, 'ohm')}"
        )
    return _colour("power", written.power)


def _read(bands: str | Sequence[str]) -> list[tuple[str, float]]:
    """What each band says: its place in the code and its value there."""
    colours = _colours(bands)
    if len(colours) not in PLACES:
        raise RangeError(f"bands needs 3 to 6 colours, but {_shown(bands)} came ({len(colours)}); {_example()}")
    places = PLACES[len(colours)]
    read = zip(places, colours, strict=True)
    return [(place, _value(place, colour, number)) for number, (place, colour) in enumerate(read, 1)]


def _value(place: str, colour: str, number: int) -> float:
    allowed = {name: value for name, value in colour_figures(place).items() if name != NO_BAND}
    if number == 1:
        del allowed["black"]  # no number starts with a nought
    if colour not in allowed:
        raise RangeError(
            f"band {number} says {_MEANING[place]} and needs one of {', '.join(allowed)}, but {colour} came; "
            "try reading from the other end"
        )
    return allowed[colour]


def _colours(bands: Any) -> list[str]:
    """The colours as they stand in the table."""
    given = re.split(r"[\s,;/-]+", bands.strip()) if isinstance(bands, str) else bands
    if not isinstance(given, Sequence) or isinstance(given, bytes) or not all(isinstance(each, str) for each in given):
        raise UnitError(f"bands needs colours, but {_shown(bands)} came; {_example()}")
    plain = [each.strip().lower() for each in given if each.strip()]
    plain = [_ALIASES.get(each, each) for each in plain]
    known = list(colour_figures("power"))
    for number, colour in enumerate(plain, 1):
        if colour not in known:
            raise UnknownNameError(unknown(f"band {number}: colour", colour, known))
    return plain


def _example() -> str:
    return 'type for example "yellow violet red gold"'


def _shown(bands: Any) -> str:
    names = isinstance(bands, list | tuple) and all(isinstance(each, str) for each in bands)
    return quoted(" ".join(bands) if names else bands)
