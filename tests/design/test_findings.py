"""Findings and their three grades."""

import pytest

from sigcalc.design.findings import FINE, LOOK, STOP, Finding, worst


@pytest.mark.parametrize(
    ("grades", "gravest"),
    [([], FINE), ([FINE], FINE), ([FINE, LOOK, FINE], LOOK), ([STOP, LOOK, FINE], STOP), ([LOOK, STOP], STOP)],
)
def test_the_gravest_counts(grades, gravest):
    findings = [Finding(grade, "topic", "reason") for grade in grades]
    assert worst(findings) == worst(tuple(findings)) == gravest

    assert str(Finding(STOP, "red lamp", "It burns.", "Use a larger resistor.")) == (
        "do not build: red lamp: It burns. Use a larger resistor."
    )
