"""The plan of one signal: all its sections and fields, each checked, all faults reported at once."""

from __future__ import annotations

from typing import Any, ClassVar

from pydantic import ValidationError, ValidationInfo, field_validator, model_validator

from ..errors import SigcalcError
from ..parts.scale import scale_ratio
from .circuit_fields import RESISTOR, DriveSpec, Lamp, Lamps, Supply
from .file import InFile
from .section import Line, given, known, plan_error, refusal
from .signal_fields import Bench, Evening, Limits, Mast, TriggerSpec, WireSpec, Wiring


class PlanFields(InFile):
    """The fields of a plan; `Plan` (in `plan.py`) adds the file and the study to them."""

    name: Line = given("Quillhaven east home", "name of the signal", min_length=1, max_length=80)
    scale: Line = given("1:48", "scale of the layout", min_length=1, max_length=12)
    lamps: Lamps = Lamps()
    red: Lamp = Lamp(part="low-current red 3 mm")
    green: Lamp = Lamp(part="low-current green 3 mm")
    supply: Supply = Supply()
    drive: DriveSpec = DriveSpec()
    wiring: Wiring = Wiring()
    mast: Mast = Mast()
    wire: WireSpec = WireSpec()
    limits: Limits = Limits()
    bench: Bench = Bench()
    evening: Evening | None = None
    trigger: TriggerSpec | None = None
    most_bytes: ClassVar[int] = 100_000  # a new one has seven thousand

    def __init__(self, /, **given: Any):
        try:
            super().__init__(**given)
        except ValidationError as error:
            raise plan_error(error, PlanFields) from None

    @field_validator("scale")
    @classmethod
    def _scale_known(cls, scale: str) -> str:
        known(lambda: scale_ratio(scale))
        return scale

    @field_validator("red", "green")
    @classmethod
    def _own_data_are_an_led(cls, lamp: Lamp, info: ValidationInfo) -> Lamp:
        known(lambda: lamp.led(info.field_name))
        return lamp

    @model_validator(mode="after")
    def _sections_agree(self) -> PlanFields:
        shared = self.drive.kind == RESISTOR and self.drive.resistance is not None
        if shared and self.wiring.form == "one in each branch":
            said = (
                f'it is shared by both lamps, but the form of the wiring is "{self.wiring.form}"; '
                "give an extra resistor for red and for green there, or choose another form"
            )
            raise refusal(said, place=("drive", "resistance"))
        named = {each.relay for each in (self.evening, self.trigger) if each is not None and each.relay is not None}
        if len(named) > 1:
            said = "it is another one than that of the evening; a signal has one relay, so name it once"
            raise refusal(said, place=("trigger", "relay"))
        if self.trigger is not None:
            try:
                self.trigger.model_speed(self.scale)
            except SigcalcError as error:
                place = "speed" if self.trigger.speed is not None else "prototype_speed"
                raise refusal(place=("trigger", place), error=error) from None
        if self.relay is not None and self.wiring.reversing != "relay":
            said = f'it is "{self.wiring.reversing}", but a relay is named; choose "relay", or leave the relay out'
            raise refusal(said, place=("wiring", "reversing"))
        return self

    @property
    def relay(self) -> str | None:
        """The name of the relay that turns the current round, where one is named."""
        named = (each.relay for each in (self.evening, self.trigger) if each is not None)
        return next((each for each in named if each is not None), None)

    @property
    def coil_fed_for(self) -> str:
        """The lamp, "red" or "green", for which the relay's coil is fed."""
        return "red" if self.evening is None else self.evening.coil_fed.removeprefix("for ")


TITLES = {
    "lamps": "Which lamp on top",
    "red": "Red LED",
    "green": "Green LED",
    "supply": "Supply",
    "drive": "Current and resistor",
    "wiring": "Wiring",
    "mast": "Mast and holes",
    "wire": "Wires",
    "limits": "Your limits",
    "bench": "Your meter",
    "evening": "Power for the evening",
    "trigger": "Hands off: the train sets it",
}


def where_in_plan(section: str) -> str:
    """Where to look, as the form and as a plan's file call it."""
    return f'"{TITLES[section]}" ([{section}] in the file)'
