"""A finding: what a check of the design has to say, in one of three grades."""

from __future__ import annotations

from dataclasses import dataclass

FINE = "fine"
LOOK = "look again"
STOP = "do not build"
GRADES = (FINE, LOOK, STOP)
MARKS = {FINE: "✔", LOOK: "?", STOP: "✘"}
"""A sign for each grade, which stands beside its words."""


@dataclass(frozen=True)
class Finding:
    """One verdict: its grade, what it is about, the reason, and the remedy ("" where none is needed)."""

    grade: str
    topic: str
    reason: str
    remedy: str = ""

    def __str__(self) -> str:
        return f"{self.grade}: {self.topic}: {self.reason}" + (f" {self.remedy}" if self.remedy else "")


def worst(findings: list[Finding] | tuple[Finding, ...]) -> str:
    """The gravest grade among the findings; "fine" where there are none."""
    return max((each.grade for each in findings), key=GRADES.index, default=FINE)
