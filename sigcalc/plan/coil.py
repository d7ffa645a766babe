"""The coil of a plan's relay on its supply, less what the timer that switches it keeps for itself."""

from __future__ import annotations

from typing import Any

from ..design import relay_coil
from ..errors import SigcalcError
from ..parts.finding import LOOK, STOP, Finding
from ..parts.source import Adapter
from ..parts.timer import timers
from ..units import Q
from .model import PlanFields
from .result import Band, sentence
from .supply import OWN_TOLERANCE, Supply

_TOPIC = "relay coil"


def study_coil(plan: PlanFields) -> tuple[dict[str, Band], list[Finding]]:
    """Figures and findings of the coil; none where the signal has no relay."""
    if plan.relay is None:
        if plan.wiring.reversing != "relay":
            return {}, [] if plan.trigger is None else [_by_hand()]
        reason = "The wiring asks for a relay, and none is named: its coil is not counted."
        return {}, [Finding(LOOK, _TOPIC, reason, "Name the relay under evening or trigger.")]
    try:
        coil = relay_coil.coil_on(plan.relay, coil_supply(plan.supply), driver_drop=driver_drop(plan))
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
    return Finding(STOP, "reversing", reason, 'Choose a relay: write reversing = "relay" under wiring, and name it.')


def driver_drop(plan: PlanFields) -> Any:
    """What the timer's output keeps of the supply while the coil is fed; nothing where that is not known."""
    if plan.trigger is None:
        return Q(0, "V")
    timer = timers[plan.trigger.timer]
    while_holding = plan.coil_fed_for == "red"
    drop = timer.high_drop if while_holding else timer.low_drop
    return Q(0, "V") if drop is None else drop


def coil_supply(supply: Supply) -> Any:
    """What feeds the coil; of a voltage alone its tolerance counts, whatever it is rated for."""
    source = supply.fed_from()
    if source is not None:
        return source
    tolerance = OWN_TOLERANCE if supply.tolerance is None else supply.tolerance
    return Adapter(supply.name, supply.voltage, tolerance, Q(0, "ohm"), Q(1, "A"))
