"""Findings and their three grades."""

import pytest

from sigcalc.design.findings import FINE, GRADES, LOOK, STOP, Finding, worst


def test_the_grades_go_from_fine_to_do_not_build():
    assert GRADES == (FINE, LOOK, STOP) == ("fine", "look again", "do not build")


@pytest.mark.parametrize(
    ("grades", "gravest"),
    [([], FINE), ([FINE], FINE), ([FINE, LOOK, FINE], LOOK), ([STOP, LOOK, FINE], STOP), ([LOOK, STOP], STOP)],
)
def test_the_gravest_counts(grades, gravest):
    findings = [Finding(grade, "topic", "reason") for grade in grades]
    assert worst(findings) == worst(tuple(findings)) == gravest


def test_as_a_line_of_text():
    assert str(Finding(STOP, "red lamp", "It burns.", "Use a larger resistor.")) == (
        "do not build: red lamp: It burns. Use a larger resistor."
    )
    assert str(Finding(FINE, "red lamp", "It is lit.")) == "fine: red lamp: It is lit."
