"""The one error class of the library, and its kinds.

Every refusal is a single sentence that says which argument is meant, what it
needs, what came instead and what to do about it.
"""

from __future__ import annotations

from collections.abc import Sequence

MOST_FAULTS = 20
"""Nobody reads more at once, and a stranger's file may have tens of thousands."""


class SigcalcError(ValueError):
    """Anything the library refuses to compute, said in one sentence."""


class UnitError(SigcalcError):
    """A unit is missing, wrong or cannot be read."""


class RangeError(SigcalcError):
    """A value lies outside the range in which the answer would mean anything."""


class UnknownNameError(SigcalcError):
    """A name stands in no table: a part, a series, a scale, a gauge."""


class DesignError(SigcalcError):
    """No design satisfies what was asked for."""


class PlanError(SigcalcError):
    """A plan file breaks its rules; `faults` lists them, each with its place: the first twenty, and how many more."""

    def __init__(self, faults: Sequence[str], more: int = 0):
        self.listed = tuple(faults[:MOST_FAULTS])
        self.more = more + max(0, len(faults) - MOST_FAULTS)
        self.faults = (*self.listed, f"and {self.more} more") if self.more else self.listed
        super().__init__("\n".join(self.faults))
