"""Findings and their three grades."""

from sigcalc.design.findings import FINE, LOOK, STOP, Finding, worst


def test_the_gravest_counts_and_a_finding_reads_as_a_line():
    cases = {(): FINE, (FINE, LOOK, FINE): LOOK, (STOP, LOOK, FINE): STOP, (LOOK, STOP): STOP}
    for grades, gravest in cases.items():
        assert worst(Finding(grade, "topic", "reason") for grade in grades) == gravest
    burns = Finding(STOP, "red lamp", "It burns.", "Use a larger resistor.")
    assert str(burns) == "do not build: red lamp: It burns. Use a larger resistor."
