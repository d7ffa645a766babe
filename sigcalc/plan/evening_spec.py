"""The evening that a plan is for: how long it is switched on, what else draws current, and when the battery is done."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import Field, field_validator, model_validator

from ..parts.relay import relays
from ..units import Current, Q, Ratio, Time, Voltage, kind_of
from ..units.reading import quoted
from .section import Line, Section, above_zero, known, refusal


class Evening(Section):
    """How the signal is used, for its power; leave the section out where nobody asks."""

    hours: Time = Field("3 h", description="how long it is switched on in one evening")
    every: Time = Field("7 days", description="from one evening to the next")
    red_share: Ratio = Field("50 %", description="part of that time in which red is shown")
    standby: Current = Field("0 mA", description="what a timer board or pilot lamp draws all the time")
    timer_voltage: Voltage | None = Field(
        None, description="below this voltage the timer board starts anew", examples=["4.5 V"]
    )
    relay: str | None = Field(
        None,
        description="name of the relay in the table; that of the train if left out",
        examples=["9 V two-pole sensitive"],
    )
    coil_fed: Literal["for red", "for green"] = Field(
        "for red", description='when the relay\'s coil is fed: "for red" or "for green"'
    )
    until: Line = Field(
        "50 %",
        description="when the battery counts as done: a voltage, or a share of the starting light",
        max_length=20,
    )

    @field_validator("hours", "every")
    @classmethod
    def _above_zero(cls, value: Any) -> Any:
        return above_zero(value)

    @field_validator("relay")
    @classmethod
    def _relay_known(cls, name: str | None) -> str | None:
        if name is not None:
            known(lambda: relays[name])
        return name

    @field_validator("until")
    @classmethod
    def _until_readable(cls, until: str) -> str:
        value = known(lambda: Q(until))
        volts = value.check(kind_of(Voltage).pint_unit.dimensionality)
        if not volts and not value.dimensionless:
            need = 'a voltage or a share of the light, such as "5.4 V" or "50 %"'
            raise refusal(need=need, given=quoted(until))
        if value.magnitude <= 0 or (not volts and value.m_as("") >= 1):
            need = "a voltage above zero or a share below 100 %"
            raise refusal(need=need, given=quoted(until), example="50 %")
        return until

    @model_validator(mode="after")
    def _evening_fits(self) -> Evening:
        if self.hours > self.every:
            need = f"to be no longer than every ({self.every:g~P})"
            raise refusal(place=("hours",), need=need, given=f"{self.hours:g~P}")
        return self
