"""The planner's first sum in the open: the resistor of a plan, or the room a driver has, step by step."""

from __future__ import annotations

from ..design.lamp.drive import string_voltage
from ..errors import PlanError
from ..parts.drive import ConstantCurrentDrive
from ..plan.result import Study
from ..units import say
from .style import NORMAL, Size
from .sums import Step, SumByHand

_DIGITS = 4  # so that a reader who works with the printed figures gets the printed answer


def plan_sum(study: Study | None, size: Size = NORMAL) -> SumByHand:
    """The sum for the lamp that asks for the larger resistor, with the figures of the plan.

    Raises PlanError where there is no study, as in the planner while its plan has faults.
    """
    if study is None:
        raise PlanError(["the plan in the form has faults: mend them there, then run this cell again"])
    plan, pair = study.plan, study.pair
    supply, wanted = plan.supply.corners()[1], plan.drive.current.m_as("A")
    drops = {lamp: float(string_voltage(wanted, pair.branch(lamp)[0])) for lamp in ("red", "green")}
    lamp = min(drops, key=lambda each: drops[each])
    left = supply - drops[lamp]
    keeps = "LED" if pair.series_diode is None else "LED and diode"
    steps = [
        Step("What the supply gives", plan.supply.name, _say(supply, "V")),
        Step(
            f"What the {lamp} lamp's {keeps} would keep at {say(wanted, 'A')}", "from its curve", _say(drops[lamp], "V")
        ),
        Step("What is left", f"{_say(supply, 'V')} − {_say(drops[lamp], 'V')}", _say(left, "V")),
    ]
    if isinstance(study.points[lamp].drive, ConstantCurrentDrive):
        needs = study.points[lamp].drive.si.dropout
        steps.append(Step("What the driver needs", "its drop-out voltage", _say(needs, "V")))
        sentence = f"The driver has {say(left - needs, 'V')} to spare." if left > needs else "The driver drops out."
    else:
        total = study.points[lamp].drive.series_resistance + pair.branch(lamp)[1]
        steps.append(
            Step("The exact resistance", f"{_say(left, 'V')} ÷ {say(wanted, 'A')}", _say(left / wanted, "ohm"))
        )
        steps.append(Step("What the plan takes", f"in the {lamp} lamp's circuit", _say(total, "ohm")))
        found = study.figures[f"{lamp}_current"]
        sentence = f"With {_say(total, 'ohm')} the library finds {found.text} in the {lamp} lamp."
    return SumByHand("The plan's sum by hand", tuple(steps), sentence, size)


def _say(si: float, unit: str) -> str:
    return say(si, unit, _DIGITS)
