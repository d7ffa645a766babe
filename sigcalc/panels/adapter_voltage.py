"""What an adapter gives at a load, whatever is printed on it, and the resistor that belongs to that."""

from __future__ import annotations

from ..design.findings import FINE, Finding
from ..design.power import adapter as adapters_design
from ..design.power.adapter import AdapterResistor, resistor_findings, resistor_on_adapter
from ..parts.led import leds
from ..parts.source import adapters
from ..units import say, say_band
from ..views.adapter_line import AdapterLine, sentence
from .base import Panel
from .control import NumberControl, choice
from .scene import Scene


class AdapterVoltagePanel(Panel):
    """An adapter, what hangs on it already, and one more LED."""

    height = "30em"

    def __init__(self) -> None:
        self.line = AdapterLine()
        controls = [
            choice("adapter", list(adapters.items()), adapters["9 V unregulated"]),
            NumberControl("other load", "mA", 0, 400, 0, step=5),
            NumberControl("wanted current", "mA", 1, 25, 10, step=0.5),
            choice("LED", list(leds.items()), leds["red alingap 3 mm"]),
        ]
        super().__init__(controls, "What does the adapter really give?")

    def draw(self) -> Scene:
        """The adapter's line with the point of its load, and the resistor for the LED."""
        result = resistor_on_adapter(
            self["adapter"].value,
            self["LED"].value,
            self.text("wanted current"),
            other_load=self.text("other load"),
        )
        picture = self.line.picture(result.at, self.size)
        return Scene((picture,), f"{sentence(result.at)} {_resistor_words(result)}", _findings(result))


def _resistor_words(result: AdapterResistor) -> str:
    si = result.si
    return (
        f"For {say(si.wanted, 'A')} take {say(si.resistance, 'ohm')}: "
        f"{say_band(si.current_min, si.current, si.current_max, 'A')} flows."
    )


def _findings(result: AdapterResistor) -> tuple[Finding, ...]:
    """What is not fine; that an adapter is not regulated stands in the sentence already."""
    found = [each for each in adapters_design.findings(result.at) if each.topic != "voltage"]
    return tuple(each for each in (*found, *resistor_findings(result)) if each.grade != FINE)
