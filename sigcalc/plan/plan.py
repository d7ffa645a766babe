"""The plan of one signal, with its file and its study."""

from __future__ import annotations

from .model import PlanFields
from .result import Study
from .study import study


class Plan(PlanFields):
    """One signal as the builder wants it.

    Made from sections (`Plan(name="East home", supply={"kind": "battery"})`) or loaded from a
    text file (`load`, `save`); every field has a default. Raises PlanError that lists all faults at once.
    """

    def __repr__(self) -> str:
        return f"Plan {self.name}: scale {self.scale}, {self.supply.name}, {self.drive.kind}, {self.wiring.reversing}"

    def study(self) -> Study:
        """Figures with their bands, findings, parts, cuts, steps and test readings.

        Raises DesignError where there is nothing to study: no lamp would light.
        """
        return study(self)
