"""A question with one number as its answer, a reason for each likely wrong one, and new numbers on request."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from random import Random
from typing import Any

from ..errors import UnitError
from ..parts.led import ConstantDrop, Led, leds
from ..units import QuantityKind, say_times
from .answers import readings

_ROUNDED = 0.005
"""A slip's value is known by as much: it is a sum, also where the answer is a whole number."""

FORGOT_DROP = "Not the whole voltage is across the resistor: subtract the LED's drop."
LED_DROP = "That is with the LED's voltage. The rest of the voltage is across the resistor."
ADDED_DROP = "Subtract the drop from the supply's voltage; do not add it."
MULTIPLIED = "You multiplied. For the current, divide the voltage by the resistance."
NOBODY_SELLS_IT = "That is the exact value, and nobody sells it. Take the next one up in the series."
AS_IN_PARALLEL = "That is for two side by side (in parallel). In series the resistances add up."
POWER_OF_THE_LED = "That is the heat of the LED. The resistor has its own voltage across it."
POWER_OF_ALL = "That is what the supply gives to both. The resistor turns only its own share into heat."

_FACTORS = {
    1e3: "a thousand times too large: look at the unit's prefix",
    1e-3: "a thousand times too small: look at the unit's prefix",
    1e6: "a million times too large: look at the unit's prefix",
    1e-6: "a million times too small: look at the unit's prefix",
    10.0: "ten times too large: a zero or the decimal point has slipped",
    0.1: "ten times too small: a zero or the decimal point has slipped",
    2.0: "twice as much as it should be: was something counted twice, or a half forgotten?",
    0.5: "half of what it should be: was something left out, or halved?",
}
"""What slipped where an answer is so many times the right one, if the question knows no better reason."""


def plain_led(name: str) -> Led:
    """An LED as a sum by hand has it: whatever the current, the voltage of its data sheet is across it."""
    return Led(
        name, leds[name].colour, ConstantDrop(leds.figures(name)["forward_voltage"].text), leds[name].max_current
    )


class Draw:
    """Draws an exercise's numbers by a seed; seed 0 takes the first of each list, which everybody begins with."""

    def __init__(self, seed: int):
        self._random = Random(f"{seed}") if seed else None  # a text is well mixed, small numbers are not

    def one(self, *among: Any) -> Any:
        """One of these."""
        return self._random.choice(among) if self._random else among[0]

    def mixed(self, among: Any) -> tuple[Any, ...]:
        """All of these in some order."""
        return tuple(self._random.sample(among, len(among)) if self._random else among)


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
            values = readings(given, self.kind, self.unit)
        except UnitError as error:
            return Verdict(False, str(error))
        verdicts = [self._judged(value) for value in values]
        better = (each for each in verdicts if each.right or each.reason in self.mistakes.values())
        return next(better, verdicts[0])

    def _judged(self, value: float) -> Verdict:
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

    def _is(self, value: float, other: float, close: float | None = None) -> bool:
        return abs(value - other) <= (self.close if close is None else close) * abs(other)

    def _how_far_off(self, value: float) -> str:
        for factor, words in _FACTORS.items():
            if self._is(value, self.answer * factor):
                return f"{self._say(value)} is {words}{'' if words.endswith('?') else '.'}"
        if self._is(-value, self.answer):
            return "The size is right. Leave out the minus sign: the question asks how much."
        size = "large" if value > self.answer else "small"
        return f"{self._say(value)} is too {size}. Take the hint, then try again."
