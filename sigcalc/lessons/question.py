"""A question with one number as its answer, and a reason for each likely wrong one."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from ..errors import UnitError
from ..parts.led import ConstantDrop, Led, leds
from ..units import Q, QuantityKind, say_times
from ..units.reading import quoted
from ..units.typed import typed

_ROUNDED = 0.005
"""A slip's value is known by as much: it is a sum, also where the answer is a whole number."""


def plain_led(name: str) -> Led:
    """An LED as a sum by hand has it: whatever the current, the voltage of its data sheet is across it."""
    return Led(
        name, leds[name].colour, ConstantDrop(leds.figures(name)["forward_voltage"].text), leds[name].max_current
    )


@dataclass(frozen=True)
class Verdict:
    """What the check says of an answer."""

    right: bool
    reason: str


@dataclass(frozen=True)
class Question:
    """A question for the reader; `answer` and the mistakes are in the SI unit of `kind`.

    `mistakes` says for each wrong answer that a known slip leads to what slipped.
    An answer counts as right within the fraction `close`, so that rounding on the way does no harm. So does `shown`,
    where the lesson's panel shows another value than the sum by hand. The unit of the kind's example ("10 mA") is the
    one that a number alone is in; of a count it is the word for what is counted ("2 contacts").
    """

    text: str
    kind: QuantityKind
    answer: float
    mistakes: Mapping[float, str]
    hint: str
    working: str
    close: float = 0.03
    shown: float | None = None

    @property
    def unit(self) -> str:
        """The unit that a number alone is in, or the word for what is counted."""
        return self.kind.example.partition(" ")[2]

    def check(self, given: str) -> Verdict:
        """Whether the answer, as it was typed, is right; else the reason that fits the mistake."""
        try:
            value = self._read(given)
        except UnitError as error:
            return Verdict(False, str(error))
        if self._is(value, self.answer):
            return Verdict(True, f"Right: {self.said}.")
        if self.shown is not None and self._is(value, self.shown):
            return Verdict(True, f"Right: the panel shows {self._say(self.shown)}. The sum by hand gives {self.said}.")
        for mistake, reason in self.mistakes.items():
            if self._is(value, mistake, max(self.close, _ROUNDED)):
                return Verdict(False, reason)
        return Verdict(False, self._how_far_off(value))

    @property
    def said(self) -> str:
        """The answer as people say it."""
        return self._say(self.answer)

    def _say(self, value: float) -> str:
        """A value as people say it; a bare count is no percentage."""
        return say_times(value, 3) if self.kind.bare else self.kind.say(value)

    def _read(self, given: str) -> float:
        """The number in SI, or a sentence for a reader who types into a box, not for one who writes Python."""
        example, name = self.kind.example, self.kind.name
        if not self.kind.bare:
            number = typed(given, self.unit, f"a{'n' * (name[0] in 'aeiou')} {name}", example)
            return float(Q(number, self.unit).m_as(self.kind.pint_unit))
        try:
            return typed(self._without_word(given), "", "a plain number", example)
        except UnitError as error:
            if "," in given:
                raise
            raise UnitError(f'{quoted(given.strip())} is not a plain number: type for example "{example}".') from error

    def _without_word(self, given: str) -> str:
        """What was typed for a count, without the word for what is counted, as in "4 contacts" or "4x"."""
        word = "times( as much)?|-?fold|x|×" if self.unit == "times" else f"{self.unit.removesuffix('s')}s?"
        return re.sub(rf"\s*({word})\s*$", "", given, flags=re.IGNORECASE) if self.unit else given

    def _is(self, value: float, other: float, close: float | None = None) -> bool:
        return abs(value - other) <= (self.close if close is None else close) * abs(other)

    def _how_far_off(self, value: float) -> str:
        for factor, words in ((1e3, "a thousand times too large"), (1e-3, "a thousand times too small")):
            if self._is(value, self.answer * factor):
                return f"{self._say(value)} is {words}: look at the unit's prefix."
        if self._is(-value, self.answer):
            return "The size is right. Leave out the minus sign: the question asks how much."
        size = "large" if value > self.answer else "small"
        return f"{self._say(value)} is too {size}. Take the hint, or unfold the answer."
