"""The first panel a reader meets: one slider, one lamp, to prove that sliders work."""

from __future__ import annotations

from ..design.lamp.drive import operate
from ..parts.drive import ResistorDrive
from ..parts.led import leds
from ..views.picture import Picture
from ..views.why_a_resistor import one_led_circuit
from .base import Panel
from .control import NumberControl


class FirstLight(Panel):
    """A red LED behind a fixed resistor on a supply that can be turned up and down."""

    drive = ResistorDrive("470 ohm")
    led = leds["bright red 3 mm"]

    def __init__(self) -> None:
        super().__init__([NumberControl("supply", "V", 0, 12, 9)], "Move the slider: does the sentence change?")

    def draw(self) -> Picture:
        """The circuit with its current."""
        point = operate(self.text("supply"), self.drive, self.led)
        return one_led_circuit(point, "supply", adapter=True, size=self.size)
