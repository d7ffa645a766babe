"""A finding: what a check of the design has to say, in one of three grades; and the check against a rating."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ..units import say

FINE = "fine"
LOOK = "look again"
STOP = "do not build"
GRADES = (FINE, LOOK, STOP)
MARKS = {FINE: "✔", LOOK: "?", STOP: "✘"}
"""A sign for each grade, beside its words."""

DAMAGE, HEAT = "damage", "overheating"
_RISKS = ("", DAMAGE, HEAT)
_ROUNDING = 1e-9  # a value right at its limit is within it


@dataclass(frozen=True)
class Finding:
    """One verdict: its grade, what it is about, the reason, and the remedy ("" where none is needed).

    `risk` is what it may lead to: "overheating", "damage" to a part, or "" where it only does not work or look well.
    """

    grade: str
    topic: str
    reason: str
    remedy: str = ""
    risk: str = ""

    def __str__(self) -> str:
        return f"{self.grade}: {self.topic}: {self.reason}" + (f" {self.remedy}" if self.remedy else "")


def check_rating(
    what: str,
    value: float,
    limit: float,
    remedy: str,
    *,
    unit: str,
    topic: str,
    reserve: float = 1.0,
    risk: str = DAMAGE,
    source: str = "",
) -> Finding:
    """A value (its most, in SI) against a rating: fine, close to the limit, or beyond it.

    Parameters
    ----------
    what: names the value, to begin the sentence: "The current through the red LED"
    reserve: the share of the limit up to which the value is fine; between that and the limit one should look again
    source: where the limit or the reserve is from, in brackets behind the sentence; "" where a data sheet gives it

    The sentence reads "The current through the red LED is up to 12 mA; its limit is 20 mA."
    """
    reason = f"{what} is up to {say(value, unit)}; its limit is {say(limit, unit)}"
    reason += f" ({source})." if source else "."
    most = limit * (1 + _ROUNDING)
    if value <= reserve * most:
        return Finding(FINE, topic, reason)
    return Finding(STOP if value > most else LOOK, topic, reason, remedy, risk)


def gravest_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings by grade, within a grade by what they may lead to, and else in the order given."""
    return tuple(sorted(findings, key=lambda each: (-GRADES.index(each.grade), -_RISKS.index(each.risk))))


def worst(findings: Iterable[Finding]) -> str:
    """The gravest grade among the findings; "fine" where there are none."""
    return max((each.grade for each in findings), key=GRADES.index, default=FINE)
