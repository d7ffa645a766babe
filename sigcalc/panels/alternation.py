"""The pair on AC and on quick reversal: both lamps seem to be on, and the colours mix."""

from __future__ import annotations

from ..design.findings import FINE
from ..design.pair.alternating import AC, REVERSED
from ..design.pair.alternation import findings, on_ac, turned_round
from ..design.pair.two_lead_pair import TwoLeadPair
from ..parts.drive import ResistorDrive
from ..views.alternation import timeline
from .base import Panel
from .control import NumberControl, positions
from .scene import Scene
from .two_wires import led_choice


class AlternationPanel(Panel):
    """A supply that turns round all the time, one shared resistor, and the pair."""

    height = "36em"

    def __init__(self) -> None:
        controls = [
            positions("supply turns round", [("as AC does", AC), ("by quick reversal of DC", REVERSED)]),
            NumberControl("supply", "V", 0, 24, 12),
            NumberControl("frequency", "Hz", 1, 3000, 60, logarithmic=True),
            NumberControl("share of the time for red", "%", 5, 95, 50, step=1),
            NumberControl("resistor", "ohm", 100, 10_000, 1000, logarithmic=True),
            led_choice("red", "red gaasp 3 mm"),
            led_choice("green", "green gap 3 mm"),
        ]
        super().__init__(controls, "What do two lamps show when the supply keeps turning round?")

    def redraw(self) -> None:
        """Draw again; the share of the time can be moved only where it counts."""
        self["share of the time for red"].enable(self["supply turns round"].value == REVERSED)
        super().redraw()

    def draw(self) -> Scene:
        """The timeline of both lamps; the share of the time counts only for quick reversal."""
        lamps = TwoLeadPair(self["red LED"].value, self["green LED"].value)
        drive, frequency = ResistorDrive(self.text("resistor"), "5 %"), self.text("frequency")
        if self["supply turns round"].value == AC:
            result = on_ac(self.text("supply"), drive, lamps, frequency)
        else:
            share = self.text("share of the time for red")
            result = turned_round(self.text("supply"), drive, lamps, frequency, share)
        told = tuple(each for each in findings(result) if each.grade != FINE)
        return Scene((timeline(result, size=self.size),), result.sentence, told)
