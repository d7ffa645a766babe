"""The plan's sum by hand: the exact resistance is what the figures before it give, and the plan takes no less."""

import re

import pytest

from sigcalc import Plan, PlanError, Q
from sigcalc.views.plan_sum import plan_sum


def base(answer):
    return Q(answer.replace("Ω", "ohm")).to_base_units().magnitude


@pytest.mark.parametrize("supply", [{"kind": "battery", "part": "9 V alkaline"}, {"part": "12 V regulated"}])
def test_a_resistor_is_found_from_the_figures_before_it(supply):
    table = plan_sum(Plan(supply=supply).study())
    given, kept, left, exact, taken = (base(step.answer) for step in table.steps)
    assert left == pytest.approx(given - kept, abs=5e-3)
    wanted = base(re.search(r"÷ (.+)", table.steps[3].how)[1])
    assert exact == pytest.approx(left / wanted, rel=1e-3)
    assert taken >= exact
    assert table.steps[-1].answer in table.sentence


def test_a_driver_has_what_is_left_less_what_it_needs():
    table = plan_sum(Plan(drive={"kind": "constant current", "dropout": "1.5 V"}).study())
    _, _, left, needs = (base(step.answer) for step in table.steps)
    assert needs == 1.5
    assert base(re.search(r"has (.+) to spare", table.sentence)[1]) == pytest.approx(left - needs, abs=0.05)


def test_without_a_study_it_says_what_to_do():
    with pytest.raises(PlanError, match="mend them there, then run this cell again"):
        plan_sum(None)
