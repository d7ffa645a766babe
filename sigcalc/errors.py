"""The one error class of the library, and its kinds.

Every refusal is a single sentence: which argument is meant, what it needs, what was given, and what to do.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

MOST_FAULTS = 20
"""Nobody reads more at once, and a stranger's file may have tens of thousands."""
_LONGEST_PLACE = 60


class SigcalcError(ValueError):
    """Anything the library refuses to compute, said in one sentence.

    Parameters
    ----------
    sentence: the whole sentence, where no single argument is at fault; else leave it out and give the facts
    argument: the name of the argument in Python
    need: what it needs, to follow "needs": "a voltage with its unit"
    given: what was given, already in words: "'12'" or "70 V"; "" where nothing was
    example: what a right one looks like, as it is typed: "12 V"
    advice: what to do, as a clause after a semicolon: "use thicker wire"

    The facts stay readable as attributes, so that a form or a file can word them with its own name for the argument
    (`worded`); nobody takes the sentence apart again.
    """

    def __init__(
        self,
        sentence: str = "",
        *,
        argument: str = "",
        need: str = "",
        given: str = "",
        example: str = "",
        advice: str = "",
    ):
        self.sentence, self.argument, self.need = sentence, argument, need
        self.given, self.example, self.advice = given, example, advice
        super().__init__(self.worded(argument))

    def worded(self, name: str) -> str:
        """The sentence with `name` for the argument: a field's label in a form, a key in a file."""
        if not self.need:
            return self.sentence
        said = f"{name} needs {self.need}"
        said += f', for example "{self.example}"' if self.example else ""
        said += f"; you gave {self.given}" if self.given else ""
        return said + (f"; {self.advice}" if self.advice else "")


class UnitError(SigcalcError):
    """A unit is missing, wrong or cannot be read."""


class RangeError(SigcalcError):
    """A value lies outside the range in which the answer would mean anything."""


class UnknownNameError(SigcalcError):
    """A name is in no table: a part, a series, a scale, a gauge."""


class DesignError(SigcalcError):
    """No design satisfies what was asked for."""


@dataclass(frozen=True)
class Fault:
    """One fault of a plan or layout: where it lies, and what is wrong there.

    `place` holds the keys from the file's top, such as ("red", "points", 0); `owner` names in words the entry of a
    list that they count from, such as "signal 'home'". As text it is the sentence for somebody with the file open.
    """

    place: tuple[str | int, ...]
    error: SigcalcError
    owner: str = ""

    def __str__(self) -> str:
        return self.worded(", ".join(each for each in (self.owner, _key(self.place)) if each))

    def worded(self, name: str) -> str:
        """The sentence with `name` for the place."""
        if self.error.need:
            return self.error.worded(name)
        return f"{name}: {self.error.sentence}" if name else self.error.sentence


def _key(place: tuple[str | int, ...]) -> str:
    """The place as a file's key, such as red.points.0; a field's name that is no word is in quotes, cut short."""
    said = ".".join(str(each) if isinstance(each, int) or each.isidentifier() else repr(each) for each in place)
    return said if len(said) <= _LONGEST_PLACE else said[: _LONGEST_PLACE - 1] + "…"


class PlanError(SigcalcError):
    """A plan file breaks its rules.

    `faults` are the sentences, each with its place: the first twenty, and how many more. `listed` are the same as they
    were found, a `Fault` with its facts or a sentence of its own.
    """

    def __init__(self, faults: Sequence[Fault | str], more: int = 0):
        self.listed = tuple(faults[:MOST_FAULTS])
        self.more = more + max(0, len(faults) - MOST_FAULTS)
        said = tuple(map(str, self.listed))
        self.faults = (*said, f"and {self.more} more") if self.more else said
        super().__init__("\n".join(self.faults))
