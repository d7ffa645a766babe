"""A question with one number as its answer, and a reason for each likely wrong one."""

from __future__ import annotations

from dataclasses import dataclass

from ...errors import UnitError
from ...units import Kind, Q, say_times
from ...units.reading import quoted, read


@dataclass(frozen=True)
class Mistake:
    """A wrong answer that a known slip leads to, in the answer's SI unit, and what slipped."""

    value: float
    reason: str


@dataclass(frozen=True)
class Verdict:
    """What the check says of an answer."""

    right: bool
    reason: str


@dataclass(frozen=True)
class Question:
    """A question for the reader; `answer` and the mistakes are in the SI unit of `kind`.

    An answer counts as right within the fraction `close`, so that rounding on the way does no harm.
    """

    text: str
    kind: Kind
    answer: float
    mistakes: tuple[Mistake, ...]
    hint: str
    working: str
    close: float = 0.03

    def check(self, given: str) -> Verdict:
        """Whether the answer, as it was typed, is right; else the reason that fits the mistake."""
        try:
            value = self._read(given)
        except UnitError as error:
            return Verdict(False, str(error))
        if self._is(value, self.answer):
            return Verdict(True, f"Right: {self.said}.")
        for mistake in self.mistakes:
            if self._is(value, mistake.value):
                return Verdict(False, mistake.reason)
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
        typed, example = quoted(given.strip()), self.kind.example
        try:
            _, symbol = read(given, example)
        except UnitError:
            if self.kind.bare:
                raise UnitError(f'{typed} is no number: write a plain number, such as "{example}".') from None
            raise
        if self.kind.bare and symbol:
            raise UnitError(f'{typed} has a unit, and a plain number is asked for: write for example "{example}".')
        if symbol == "" and not self.kind.bare:
            raise UnitError(f'{typed} has no unit: write number and unit, such as "{example}".')
        quantity = Q(given)
        if not quantity.is_compatible_with(self.kind.pint_unit):
            raise UnitError(f'{typed} is not a {self.kind.name}: write number and unit, such as "{example}".')
        return float(quantity.m_as(self.kind.pint_unit))

    def _is(self, value: float, other: float) -> bool:
        return abs(value - other) <= self.close * abs(other)

    def _how_far_off(self, value: float) -> str:
        for factor, words in ((1e3, "a thousand times too large"), (1e-3, "a thousand times too small")):
            if self._is(value, self.answer * factor):
                return f"That is {words}: look at the unit's prefix."
        size = "large" if value > self.answer else "small"
        return f"{self._say(value)} is too {size}. Take the hint, or unfold the answer."
