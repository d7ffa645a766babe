"""The one error class of the library, and its kinds.

Every refusal is a single sentence that says which argument is meant, what it
needs, what came instead and what to do about it.
"""

from __future__ import annotations

from collections.abc import Sequence


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
    """A plan file breaks its rules; `faults` lists all of them, each with its place."""

    def __init__(self, faults: Sequence[str]):
        self.faults = tuple(faults)
        super().__init__("\n".join(self.faults))
