"""A finding: what a check of the design has to say, in one of three grades."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

FINE = "fine"
LOOK = "look again"
STOP = "do not build"
GRADES = (FINE, LOOK, STOP)
MARKS = {FINE: "✔", LOOK: "?", STOP: "✘"}
"""A sign for each grade, which stands beside its words."""

DAMAGE, HEAT = "damage", "overheating"
_RISKS = ("", DAMAGE, HEAT)


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


def gravest_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings by grade, within a grade by what they may lead to, and else in the order given."""
    return tuple(sorted(findings, key=lambda each: (-GRADES.index(each.grade), -_RISKS.index(each.risk))))


def worst(findings: list[Finding] | tuple[Finding, ...]) -> str:
    """The gravest grade among the findings; "fine" where there are none."""
    return max((each.grade for each in findings), key=GRADES.index, default=FINE)
