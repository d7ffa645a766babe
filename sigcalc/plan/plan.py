"""The plan of one signal, with its file and its study."""

from __future__ import annotations

from pathlib import Path

from . import file
from .model import PlanFields
from .result import Study
from .study import study


class Plan(PlanFields):
    """One signal as the builder wants it.

    Made from sections (`Plan(name="East home", supply={"kind": "battery"})`) or loaded from a
    text file; every field has a default. Raises PlanError that lists all faults at once.
    """

    __hash__ = None  # two plans may be equal and say it in other units

    def __repr__(self) -> str:
        return f"Plan {self.name}: scale {self.scale}, {self.supply.name}, {self.drive.kind}, {self.wiring.reversing}"

    @classmethod
    def load(cls, path: str | Path) -> Plan:
        """The plan in a text file; raises PlanError that lists every fault with its place."""
        return cls.parse(file.read(path, cls.most_bytes))

    @classmethod
    def parse(cls, text: str) -> Plan:
        """The plan in the text of a plan file; raises PlanError like `load`."""
        return file.parse(text, cls)

    def save(self, path: str | Path) -> None:
        """Write the plan as text, the builder's own comments kept; the old file stays until the new one is whole."""
        file.save(self, path)

    def text(self) -> str:
        """What `save` writes."""
        return file.dump(self)

    def study(self) -> Study:
        """Figures with their bands, findings, parts, cuts, steps and test readings.

        Raises DesignError where there is nothing to study: no lamp would light.
        """
        return study(self)
