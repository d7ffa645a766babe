"""How a passing train is to set the signal to red: magnet, reed, train, and the timer that holds it."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import Field, field_validator, model_validator

from ..design.train.hold_circuit import HoldCircuit
from ..errors import RangeError
from ..parts.capacitor import Capacitor, capacitor_kinds
from ..parts.magnet import Magnet, magnet_grades, magnets
from ..parts.reed import reeds
from ..parts.relay import relays
from ..parts.scale import ModelSpeed, scale_speed
from ..parts.timer import timers
from ..units import Capacitance, Length, Resistance, Speed, Time, Voltage, kind_of, say
from .section import Section, above_zero, known, refusal

USUAL_MAGNET = "8 x 3 mm disc, N35"
USUAL_SPEED = "0.3 m/s"
TRIGGER_TABLES: dict[str, Any] = {
    "magnet": magnets,
    "grade": magnet_grades,
    "reed": reeds,
    "timer": timers,
    "capacitor": capacitor_kinds,
    "relay": relays,
}


class TriggerSpec(Section):
    """The train's magnet, the reed in the track and the hold timer; leave the section out where a hand sets it."""

    magnet: str | None = Field(
        None, description="name of a magnet in the table; or give your own diameter and length", examples=[USUAL_MAGNET]
    )
    diameter: Length | None = Field(None, description="of your own disc magnet", examples=["5 mm"])
    length: Length | None = Field(None, description="of your own magnet, along its magnetised axis", examples=["3 mm"])
    grade: str = Field("N35", description="of your own magnet, a name in the table of grades")
    orientation: Literal["upright", "lengthwise", "crosswise"] = Field(
        "upright", description='the magnet\'s axis to the track: "upright", "lengthwise" or "crosswise"'
    )
    reed: str = Field(
        "10 mm reed, 10 to 25 AT", description="name of a reed switch in the table; it lies along the track"
    )
    gap: Length = Field("5 mm", description="from the magnet's nearest face down to the reed's axis")
    beyond: Length = Field("50 mm", description="how far beyond the signal the reed lies, as the train runs")
    neighbour: Length | None = Field(
        None, description="distance of the neighbouring track's centre line", examples=["100 mm"]
    )
    speed: Speed | None = Field(None, description="of the model", examples=[USUAL_SPEED])
    prototype_speed: Speed | None = Field(
        None, description="of the prototype, in place of speed; goes by the plan's scale", examples=["60 km/h"]
    )
    train_length: Length = Field("1 m", description="of the longest train")
    magnet_from_front: Length = Field("50 mm", description="from the train's front back to its magnet")
    clearing_distance: Length = Field(
        "200 mm", description="from the reed on to where the last wheel is clear of the signal"
    )
    both_ways: bool = Field(False, strict=True, description="trains run over the reed from either side")
    may_stop: bool = Field(False, strict=True, description="a train may stop over the reed")
    hold: Time | None = Field(
        None,
        description="how long red is to be held; what the train needs, with some to spare, if left out",
        examples=["10 s"],
    )
    trains_per_hour: float | None = Field(
        None,
        gt=0,
        le=3600,
        description="to learn what fails to which side, and what charge the coil takes for it",
        examples=[12],
    )
    timer: str = Field("one-shot", description="name of a timer in the table")
    capacitor: str = Field("electrolytic", description="kind of the timer's capacitor, a name in the table")
    capacitance: Capacitance = Field("100 µF", description="of the timer's capacitor")
    capacitor_voltage: Voltage = Field("25 V", description="printed on the timer's capacitor")
    pot: Resistance = Field("220 kohm", description="of the pot that sets the hold")
    end_resistor: Resistance = Field("4.7 kohm", description="in series with the pot, so that it never goes to nothing")
    reed_resistor: Resistance = Field(
        "100 ohm", description="in series with the reed, so that its contacts never carry more"
    )
    relay: str | None = Field(
        None,
        description="name of the relay in the table; that of the evening if left out",
        examples=["12 V two-pole"],
    )

    @model_validator(mode="before")
    @classmethod
    def _usual(cls, given: Any) -> Any:
        """Where no magnet or no speed is given at all, a usual one."""
        if not isinstance(given, dict):
            return given
        usual = {}
        if not {"magnet", "diameter", "length"} & set(given):
            usual["magnet"] = USUAL_MAGNET
        if not {"speed", "prototype_speed"} & set(given):
            usual["speed"] = USUAL_SPEED
        return given | usual

    @field_validator(*TRIGGER_TABLES)
    @classmethod
    def _name_known(cls, name: str | None, info: Any) -> str | None:
        if name is not None:
            known(lambda: TRIGGER_TABLES[info.field_name][name])
        return name

    @field_validator("gap", "speed", "prototype_speed", "train_length", "hold", "capacitance", "pot", "reed_resistor")
    @classmethod
    def _above_zero(cls, value: Any) -> Any:
        return above_zero(value)

    @model_validator(mode="after")
    def _no_contradiction(self) -> TriggerSpec:
        own = [name for name in ("diameter", "length") if getattr(self, name) is not None]
        if self.magnet is not None and own:
            said = f"{' and '.join(own)} is given as well; name one of the table or give your own, not both"
            raise refusal(said, place=("magnet",))
        if self.magnet is None and len(own) < 2:
            raise refusal(need="the name of a magnet, or both diameter and length of your own")
        if (self.speed is None) == (self.prototype_speed is None):
            raise refusal(need="either speed or prototype_speed", advice="keep one of them")
        if self.magnet_from_front > self.train_length:
            raise refusal(
                place=("magnet_from_front",),
                need="to be no more than train_length",
                given=f"{self.magnet_from_front:g~P}",
                advice="measure from the train's front",
            )
        known(self.make_magnet)
        known(self.circuit)
        return self

    def make_magnet(self) -> Magnet:
        """The magnet's record."""
        if self.magnet is not None:
            return magnets[self.magnet]
        return Magnet.of_grade(self.grade, diameter=self.diameter, length=self.length)

    def circuit(self) -> HoldCircuit:
        """Timer, capacitor, pot and end resistor together."""
        capacitor = Capacitor(self.capacitor, self.capacitance, self.capacitor_voltage)
        return HoldCircuit(self.timer, capacitor, self.pot, self.end_resistor)

    def model_speed(self, scale: str) -> Any:
        """The model's speed, by the scale where the prototype's is given; raises RangeError, or as `scale_speed`."""
        speed = self.speed if self.speed is not None else scale_speed(self.prototype_speed, scale)
        slowest, fastest = kind_of(ModelSpeed).low, kind_of(ModelSpeed).high
        if not slowest <= speed.m_as("m/s") <= fastest:
            raise RangeError(
                argument="speed",
                need=f"to be from {say(slowest, 'm/s')} to {say(fastest, 'm/s')} on the model",
                given=say(speed.m_as("m/s"), "m/s"),
                advice="0.1 m/s to 1 m/s is usual",
            )
        return speed
