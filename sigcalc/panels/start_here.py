"""The first panel a reader meets: one slider, one lamp, to prove that sliders work."""

from __future__ import annotations

from ..design.lamp.drive import operate
from ..parts.drive import ResistorDrive
from ..parts.led import leds
from ..views.findings import Answer
from ..views.led_circuit import led_brief, one_led_circuit
from ..views.scene.first_circuit import one_led_scene
from .base import Panel
from .control import NumberControl


class FirstLight(Panel):
    """A red LED behind a fixed resistor on a supply that can be turned up and down."""

    drive = ResistorDrive("470 ohm")
    led = leds["bright red 3 mm"]
    wall = ("supply",)

    def __init__(self) -> None:
        controls = [NumberControl("supply", "V", 0, 12, 9)]
        super().__init__(controls, "Move the slider: does the lamp follow?", scene=True)

    def draw(self) -> Answer:
        """The circuit with its current."""
        supply = self["supply"]
        point = operate(self.text("supply"), self.drive, self.led)
        pictures = self.pictured(
            lambda: one_led_scene(point, "supply", "bench supply", size=self.size),
            lambda: one_led_circuit(point, "supply", adapter=True, size=self.size, full=supply.most),
        )
        return Answer(pictures, pictures[0].sentence, brief=led_brief(point))
