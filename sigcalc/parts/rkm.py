"""The letter code of resistances (IEC 60062), in which the letter stands for the decimal point: 4K7, 470R, R47."""

from __future__ import annotations

import re
from typing import Any

from ..errors import RangeError, UnitError
from ..units import Ratio, Resistance, kind_of, say, with_units
from ..units.reading import quoted
from .marking import Digits, digits_of, mark_for, tolerance_letters

_POWERS = {"G": 9, "M": 6, "K": 3, "R": 0, "L": -3}
_LEAST = 1e-4  # three places after the L
_CODE = re.compile(r"([0-9]{0,3})([GMKkRL])([0-9]{0,3})([A-Z]?)")


@with_units(scalar=True)
def rkm_code(resistance: Resistance, tolerance: Ratio | None = None) -> str:
    """The code of a resistance of at most three digits, with the tolerance's letter where one is given.

    4700 ohm with 5 % is "4K7J"; without a tolerance "4K7". Source: IEC 60062 (the letters
    from memory). Raises RangeError for what cannot be written, naming what can.
    """
    digits = digits_of(resistance)
    if digits.value < _LEAST:
        raise RangeError(f"resistance {say(resistance, 'ohm')} has no letter code; they begin at {say(_LEAST, 'ohm')}")
    letter = next((letter for letter, power in _POWERS.items() if digits.value >= 10.0**power), "L")
    if digits.value >= 0.1 and letter == "L":
        letter = "R"  # 0.47 ohm is R47, not 470L
    places = _POWERS[letter] - digits.power
    whole = str(digits.whole).rjust(places + 1, "0") if places > 0 else f"{digits.whole * 10**-places}."
    before, after = (whole[:-places], whole[-places:]) if places > 0 else (whole[:-1], "")
    before = before.lstrip("0")
    if len(before + after) == 1:
        after += "0"  # a code has two digits at least: 1K0
    return (
        before
        + letter
        + after
        + ("" if tolerance is None else mark_for(tolerance, tolerance_letters(), "tolerance", ""))
    )


def read_rkm(text: str) -> tuple[Any, float | None]:
    """Resistance (a quantity) and tolerance (a fraction; None without a letter for it) of a code such as "4K7J".

    Source: IEC 60062. Raises UnitError for text that is no such code, RangeError for 0 ohm.
    """
    match = _CODE.fullmatch(text.strip()) if isinstance(text, str) else None
    letters = tolerance_letters()
    if not match or not match[1] + match[3] or match[4] not in ("", *letters):
        raise UnitError(
            f'text needs a code such as "4K7", "470R" or "4K7J", but {quoted(text)} came; '
            f"the letter in place of the point is one of {', '.join(_POWERS)}, "
            f"a last letter for the tolerance one of {', '.join(letters)}"
        )
    digits = Digits(int(match[1] + match[3]), _POWERS[match[2].upper()] - len(match[3]))
    if digits.whole == 0:
        raise RangeError(f"text {quoted(text)} says 0 ohm, a wire link; give the code of a resistance above zero")
    kind = kind_of(Resistance)
    kind.check(digits.value, "text")
    return kind.quantity(digits.value), letters.get(match[4])
