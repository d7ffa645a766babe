"""What is said after a fault was named: the verdict, what it was, and what the readings had told."""

from __future__ import annotations

from ..design.bench.fault import Fault
from ..design.findings import FINE, LOOK, Finding
from ..lessons.hidden_fault import ALIKE, PARTLY, RIGHT, Judgement


def outcome(judged: Judgement, fault: Fault) -> tuple[Finding, ...]:
    """The verdict, what it was, and what the readings had said."""
    worth = f"{judged.points:g} of {judged.most:g} points, with an effort of {judged.effort:g}."
    if judged.outcome == RIGHT:
        first = Finding(FINE, "verdict", f"Right: {fault.name}. {worth}")
    elif judged.outcome == ALIKE:
        first = Finding(
            LOOK,
            "verdict",
            f"It is {fault.name}; what you named looks the same in all that you read. {worth}",
            _next(judged),
        )
    elif judged.outcome == PARTLY:
        first = Finding(LOOK, "verdict", f"One of the two is right: it is {fault.name}. {worth}", _next(judged))
    else:
        first = Finding(LOOK, "verdict", f"No: it is {fault.name}. {worth}")
    made = f"From what you saw and read, the library gives it {round(100 * judged.pointed)} %."
    lucky = " You were lucky." if judged.outcome == RIGHT and judged.pointed < 0.5 else ""
    return (
        first,
        Finding(LOOK, "what it was", fault.cause, fault.remedy),
        Finding(LOOK, "evidence", made + lucky, _next(judged) if judged.outcome == RIGHT and lucky else ""),
    )


def _next(judged: Judgement) -> str:
    """The measurement that would have told more."""
    ahead = judged.diagnosis.next
    return f"Most telling would have been {ahead[0].point}." if ahead else ""
