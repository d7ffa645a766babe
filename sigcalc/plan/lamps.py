"""The lamps of a plan: which colour stands on top, and what LED each one is."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import Field, field_validator, model_validator

from ..parts.led import Exponential, Led, leds
from ..units import Current, LuminousIntensity, ReverseVoltage, Voltage
from ..units.reading import quoted
from .section import Section, known, refusal

OWN_TEMPERATURE = "25 degC"
"""At which an LED's own points are taken to hold: that of data sheets, and of a room."""


class Lamps(Section):
    """Which colour stands above which."""

    top: Literal["red", "green"] = Field("green", description='colour of the upper lamp: "red" or "green"')
    bottom: Literal["red", "green"] = Field("red", description="colour of the lower lamp")

    @model_validator(mode="after")
    def _differ(self) -> Lamps:
        if self.top == self.bottom:
            raise refusal(f'top and bottom are both "{self.top}"; a two-lead pair has one lamp of each colour')
        return self


class Lamp(Section):
    """One LED: a part of the table, or your own data."""

    part: str | None = Field(
        None,
        description="name of an LED in the table; leave it out and give points for your own",
        examples=["red alingap 3 mm"],
    )
    points: tuple[tuple[Voltage, Current], ...] | None = Field(
        None,
        description="own readings or the data-sheet line, in place of part: pairs of voltage and current",
        examples=[[["1.80 V", "2 mA"], ["1.95 V", "10 mA"]]],
    )
    max_current: Current | None = Field(
        None, description="most current your own LED stands, from its data sheet", examples=["20 mA"]
    )
    max_reverse_voltage: ReverseVoltage | None = Field(
        None, description="most reverse voltage your own LED stands", examples=["5 V"]
    )
    drop_below: Voltage | None = Field(
        None, description="how far below the points a bought part's drop may lie", examples=["0.1 V"]
    )
    drop_above: Voltage | None = Field(
        None, description="how far above the points a bought part's drop may lie", examples=["0.2 V"]
    )
    intensity: LuminousIntensity | None = Field(
        None, description="luminous intensity of your own LED", examples=["20 mcd"]
    )
    intensity_current: Current | None = Field(
        None, description="current at which that intensity holds", examples=["10 mA"]
    )

    @field_validator("part")
    @classmethod
    def _part_known(cls, name: str | None) -> str | None:
        if name is not None:
            known(lambda: leds[name])
        return name

    @model_validator(mode="after")
    def _one_of_two(self) -> Lamp:
        own = [name for name in type(self).model_fields if name != "part" and getattr(self, name) is not None]
        if self.part is not None and own:
            said = (
                f"{quoted(self.part)} is named, and {', '.join(own)} given; name a part or give your own data, not both"
            )
            raise refusal(said, place=("part",))
        if self.part is None and (not self.points or self.max_current is None):
            raise refusal(need="the name of a part, or your own points and max_current")
        return self

    def led(self, colour: str) -> Led:
        """The LED this section describes; raises SigcalcError where its own data are no LED's."""
        if self.part is not None:
            return leds[self.part]
        given: dict[str, Any] = {name: getattr(self, name) for name in type(self).model_fields}
        model = Exponential.fitted(given.pop("points"), temperature=OWN_TEMPERATURE, colour=colour)
        told = {name: value for name, value in given.items() if value is not None}
        return Led(name=f"own {colour} LED", colour=colour, model=model, **told)
