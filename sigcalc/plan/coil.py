"""The coil of a plan's relay on its supply, less what the timer that switches it keeps for itself."""

from __future__ import annotations

from typing import Any

from ..design.findings import LOOK, STOP, Finding
from ..design.power import relay_coil
from ..errors import SigcalcError
from ..parts.timer import timers
from ..parts.timer_output import timer_output
from ..units import Q
from .model import PlanFields
from .result import Band, sentence
from .titles import where_in_plan

_TOPIC = "relay coil"


def study_coil(plan: PlanFields) -> tuple[dict[str, Band], list[Finding]]:
    """Figures and findings of the coil; none where the signal has no relay."""
    if plan.relay is None:
        if plan.wiring.reversing != "relay":
            return {}, [] if plan.trigger is None else [_by_hand()]
        reason = "The wiring asks for a relay, and none is named: its coil is not counted."
        places = " or ".join(map(where_in_plan, ("evening", "trigger")))
        return {}, [Finding(LOOK, _TOPIC, reason, f"Name the relay under {places}.")]
    try:
        drops = coil_drops(plan, "least_drop", "usual_drop", "driver_drop")
        coil = relay_coil.coil_on(plan.relay, plan.supply.record(), **drops)
    except SigcalcError as refusal:
        return {}, [Finding(STOP, _TOPIC, sentence(refusal), "Use a higher supply voltage.")]
    si, hangs_on = coil.si, "supply and coil"
    figures = {
        "coil_voltage": Band("across the relay's coil", si.voltage_min, si.voltage, si.voltage_max, "V", hangs_on),
        "coil_current": Band("relay's coil", si.current_min, si.current, si.current_max, "A", hangs_on),
    }
    return figures, list(relay_coil.findings(coil))


def _by_hand() -> Finding:
    reason = "A train is to set the signal, but the wiring has a hand switch to turn the current round."
    remedy = f"Choose relay for reversing under {where_in_plan('wiring')}, and name it."
    return Finding(STOP, "reversing", reason, remedy)


def coil_drops(plan: PlanFields, *names: str) -> dict[str, Any]:
    """What the timer's output, or the transistor behind it, keeps of the supply while the coil is fed.

    Least, usual and most under three `names`; nothing where no timer feeds it.
    """
    if plan.trigger is None:
        return {}
    keeps = timer_output(timers[plan.trigger.timer], plan.coil_fed_for).keeps
    return dict(zip(names, (Q(each, "V") for each in keeps), strict=True))
