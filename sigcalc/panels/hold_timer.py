"""How long the timer holds the red: supply, timer, capacitor, pot and its turn."""

from __future__ import annotations

from dataclasses import replace

from ..design.findings import FINE, STOP, Finding
from ..design.train.hold import Hold, HoldCircuit, hold_at, pot_turn, supply_effect
from ..errors import DesignError
from ..parts.capacitor import Capacitor, capacitor_kinds
from ..parts.timer import timers
from ..units import Q
from ..views.hold_curve import HoldCurve
from .base import Panel
from .control import NumberControl, choice
from .scene import Scene

SAGGED = 0.7
"""To what share of its first voltage a battery is taken to sag before it is changed; common practice, no source."""
RATINGS = ("6.3 V", "10 V", "16 V", "25 V", "63 V")


class HoldTimerPanel(Panel):
    """A timer with its capacitor, pot and end resistor, and the hold that is wanted."""

    height = "39em"

    def __init__(self) -> None:
        self.curve = HoldCurve()
        controls = [
            NumberControl("supply", "V", 3, 18, 9),
            choice("timer", list(timers), "one-shot"),
            NumberControl("capacitor", "µF", 1, 1000, 100, logarithmic=True),
            choice("kind", list(capacitor_kinds), "electrolytic", narrow=True),
            choice("it stands", RATINGS, "16 V", narrow=True),
            NumberControl("pot", "kohm", 10, 1000, 220, logarithmic=True),
            NumberControl("end resistor", "kohm", 0.1, 100, 4.7, logarithmic=True),
            NumberControl("turn of the pot", "%", 0, 100, 40, step=1),
            NumberControl("hold wanted", "s", 1, 30, 10, step=0.5),
        ]
        super().__init__(controls, "How long does the timer hold the red?")

    def draw(self) -> Scene:
        """The hold against the pot's turn with its band; where to turn it; what a flat battery does; what is amiss."""
        supply, wanted = self.text("supply"), self.text("hold wanted")
        capacitor = Capacitor(self["kind"].value, self.text("capacitor"), self["it stands"].value)
        circuit = HoldCircuit(self["timer"].value, capacitor, self.text("pot"), self.text("end resistor"))
        result = hold_at(circuit, supply, self.text("turn of the pot"))
        picture = self.curve.picture(result, wanted, self.size)
        told = [_not_twice(each, result) for each in result.findings if each.grade != FINE]
        sagging = supply_effect(circuit, supply, Q(supply) * SAGGED, self.text("turn of the pot"))
        told += [*_setting(circuit, supply, wanted), *sagging.findings]
        return Scene((picture,), picture.sentence, tuple(told))


def _not_twice(finding: Finding, result: Hold) -> Finding:
    """The band stands in the sentence already; of its finding what to do about it is left."""
    return replace(finding, reason="The band is wide.") if finding.reason == result.sentence else finding


def _setting(circuit: HoldCircuit, supply: str, wanted: str) -> tuple[Finding, ...]:
    """Where to turn the pot for the hold that is wanted, or why no turn gives it."""
    try:
        return pot_turn(circuit, supply, wanted).findings
    except DesignError as beyond:
        return (Finding(STOP, "pot", f"{beyond}."),)
