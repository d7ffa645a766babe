"""What colour bands and letter codes share: a resistance as digits and a power of ten, and the table of marks."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from ..errors import RangeError
from ..units import say
from .table import Figures, read_figures

MOST_DIGITS = 3
NO_BAND = "none"
"""The row of the table for a body without a tolerance band."""


class Digits(NamedTuple):
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

    def padded(self, count: int) -> Digits:
        """The same value with noughts at the end up to `count` digits."""
        missing = count - self.count
        return Digits(self.whole * 10**missing, self.power - missing)


def digits_of(resistance: float) -> Digits:
    """The fewest digits that write a resistance in ohm.

    Raises RangeError for 0 ohm, and for more than three digits with the nearest values that have three.
    """
    if resistance == 0:
        raise RangeError("resistance 0 ohm is a wire link and has no code; give a resistance above zero")
    # to nine digits, beyond which lies only the rounding of floats
    text, power = f"{resistance:.8e}".split("e")
    shortest = text.replace(".", "").rstrip("0")
    digits = Digits(int(shortest), int(power) + 1 - len(shortest))
    if digits.count <= MOST_DIGITS:
        return digits
    step = 10 ** (digits.count - MOST_DIGITS)
    below = Digits(digits.whole // step, digits.power + digits.count - MOST_DIGITS)
    above = below._replace(whole=below.whole + 1)
    raise RangeError(
        f"resistance {say(resistance, 'ohm', digits.count)} needs more than three digits, and no mark on a resistor "
        f"has more; the nearest that can be written are {say(below.value, 'ohm')} and {say(above.value, 'ohm')}"
    )


@cache
def _table() -> dict[str, Figures]:
    return read_figures("colour_bands.csv")


@cache
def colour_figures(quantity: str) -> dict[str, float]:
    """Colour to figure for one kind of mark ("digit", "power", "tolerance", ...); a tolerance as a fraction."""
    found = {colour: figures[quantity] for colour, figures in _table().items() if quantity in figures}
    return {colour: float(each.value) / (100 if each.unit == "%" else 1) for colour, each in found.items()}


@cache
def tolerance_letters() -> dict[str, float]:
    """The letters that stand for a tolerance, each with its fraction: J is 0.05."""
    fractions = colour_figures("tolerance")
    return {figures["letter"].value: fractions[colour] for colour, figures in _table().items() if "letter" in figures}


def mark_for(value: float | None, marks: dict[str, float], argument: str, unit: str) -> str:
    """The mark that stands for a value, or a RangeError that lists the values with a mark."""
    for mark, marked in marks.items():
        if value is not None and abs(value - marked) <= 1e-9 * marked:
            return mark
    choices = ", ".join(say(each, unit) for each in sorted(marks.values()))
    came = "None" if value is None else say(value, unit, 6)
    raise RangeError(f"{argument} needs a value that has a mark, but {came} came; use one of: {choices}")
