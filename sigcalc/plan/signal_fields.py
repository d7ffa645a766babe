"""The sections of a plan around its circuit: mast, wires, limits, meter, the evening, and the train that sets it."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import field_validator, model_validator

from ..design.board.wire_and_holes import lamp_outlines
from ..design.train.hold import HoldCircuit
from ..errors import RangeError, SigcalcError
from ..parts.capacitor import Capacitor, capacitor_kinds
from ..parts.drill import drills
from ..parts.magnet import Magnet, magnet_grades, magnets
from ..parts.meter import meters
from ..parts.reed import reeds
from ..parts.relay import relays
from ..parts.scale import ModelSpeed, scale_ratio, scale_speed
from ..parts.timer import timers
from ..parts.wire import wires
from ..units import Capacitance, Current, Length, Q, Ratio, Resistance, Speed, Temperature, Time, Voltage, kind_of, say
from ..units.reading import quoted
from .section import Line, NameIn, Section, above_zero, given, known, optional, refusal

Drill = NameIn[drills]
RelayName = NameIn[relays]
FORMS = ("one shared resistor", "shared and extra", "one in each branch")


class Wiring(Section):
    """How resistors and lamps are joined, and what turns the current round."""

    form: Literal[*FORMS] = given(FORMS[0], " / ".join(f'"{form}"' for form in FORMS))
    extra_red: Resistance | None = optional("extra resistor in the red branch; worked out if left out", "100 ohm")
    extra_green: Resistance | None = optional("extra resistor in the green branch; worked out if left out", "100 ohm")
    series_diodes: bool = given(False, "a plain diode in series with each LED", strict=True)
    reversing: Literal["hand switch", "relay"] = given("hand switch", '"hand switch" or "relay"')

    @model_validator(mode="after")
    def _extras_have_a_place(self) -> Wiring:
        given = [name for name in ("extra_red", "extra_green") if getattr(self, name)]
        if given and self.form == "one shared resistor":
            said = f'it has no place in the form "{self.form}"; choose the form "shared and extra"'
            raise refusal(said, place=(given[0],))
        return self


HEIGHTS = {"height": 6.25, "top_lamp": 5.5, "bottom_lamp": 4.6}
"""Heights of a signal of the prototype in m. From memory: no two railways agree, and a tall one clears a bridge."""


def heights_to_scale(scale: str) -> dict[str, float]:
    """Those heights on a model, in m, by the names of the mast's fields."""
    return {name: metres / scale_ratio(scale) for name, metres in HEIGHTS.items()}


class HeightsError(SigcalcError):
    """The heights of a mast and its lamps do not rise: who changes one of them may be on the way to the next."""


class Mast(Section):
    """The mast and its holes."""

    height: Length = given("130 mm", "from the baseboard to the top of the mast")
    top_lamp: Length = given("115 mm", "height of the upper lamp's centre")
    bottom_lamp: Length = given("95 mm", "height of the lower lamp's centre")
    lamp_outline: NameIn[lamp_outlines] = given(
        "3 mm lamp, generic", "shape of the LEDs, a name in the table of outlines"
    )
    lamp_hole: Drill = given("1/8 in", "drill for the LEDs")
    wire_hole: Drill = given("7/64 in", "drill for the two wires down the mast")

    @model_validator(mode="after")
    def _in_order(self) -> Mast:
        heights = [each.m_as("m") for each in (self.bottom_lamp, self.top_lamp, self.height)]
        if not 0 < heights[0] < heights[1] <= heights[2]:
            raise refusal(error=HeightsError("bottom_lamp, top_lamp and height need to rise in this order, above zero"))
        body = lamp_outlines[self.lamp_outline].body_most
        if heights[1] - heights[0] <= body.m_as("m") or heights[0] <= body.m_as("m") / 2:
            thick = f"{body.m_as('mm'):.3g} mm"
            need = f"room for lamps {thick} thick: more than that below top_lamp, and half of it above the ground"
            raise refusal(place=("bottom_lamp",), need=need, given=f"{self.bottom_lamp:g~P}")
        return self


class WireSpec(Section):
    """The two wires."""

    part: NameIn[wires] = given("26 AWG solid hook-up", "name of a wire in the table")
    distance: Length = given("600 mm", "from the foot of the mast to the terminals under the baseboard")
    slack: Length = given("50 mm", "spare length at the terminals")


class Bench(Section):
    """The meter for the readings."""

    meter: NameIn[meters] = given("hand meter", "name of a meter in the table; its errors widen the readings")


class Limits(Section):
    """Your own limits, on top of the parts' ratings."""

    max_current: Current = given("20 mA", "ceiling for the current in any lamp")
    ambient: Temperature = given("25 degC", "warmest air around the parts")
    unevenness: float = given(1.5, "greatest ratio of brightness you accept between the lamps", gt=1, le=100)


class Evening(Section):
    """How the signal is used, for its power; leave the section out where nobody asks."""

    hours: Time = given("3 h", "how long it is switched on in one evening")
    every: Time = given("7 days", "from one evening to the next")
    red_share: Ratio = given("50 %", "part of that time in which red is shown")
    standby: Current = given("0 mA", "what a timer board or pilot lamp draws all the time")
    timer_voltage: Voltage | None = optional("below this voltage the timer board starts anew", "4.5 V")
    relay: RelayName | None = optional(
        "name of a relay in the table; the train's if left out", "9 V two-pole sensitive"
    )
    coil_fed: Literal["for red", "for green"] = given("for red", 'when its coil is fed: "for red" or "for green"')
    until: Line = given(
        "50 %", "when the battery counts as done: a voltage, or a share of the starting light", max_length=20
    )

    @field_validator("hours", "every")
    @classmethod
    def _above_zero(cls, value: Any) -> Any:
        return above_zero(value)

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


USUAL_MAGNET = "8 x 3 mm disc, N35"
USUAL_SPEED = "0.3 m/s"


class TriggerSpec(Section):
    """The train's magnet, the reed in the track and the timer; leave the section out where a hand sets it."""

    magnet: NameIn[magnets] | None = optional(
        "name of a magnet in the table; or give your own diameter and length", USUAL_MAGNET
    )
    diameter: Length | None = optional("of your own disc magnet", "5 mm")
    length: Length | None = optional("of your own magnet, along its magnetised axis", "3 mm")
    grade: NameIn[magnet_grades] = given("N35", "of your own magnet, a name in the table of grades")
    orientation: Literal["upright", "lengthwise", "crosswise"] = given(
        "upright", 'the magnet\'s axis to the track: "upright", "lengthwise" or "crosswise"'
    )
    reed: NameIn[reeds] = given(
        "10 mm reed, 10 to 25 AT", "name of a reed switch in the table; it lies along the track"
    )
    gap: Length = given("5 mm", "from the magnet's nearest face down to the reed's axis")
    beyond: Length = given("50 mm", "how far beyond the signal the reed lies, as the train runs")
    neighbour: Length | None = optional("distance of the neighbouring track's centre line", "100 mm")
    speed: Speed | None = optional("of the model", USUAL_SPEED)
    prototype_speed: Speed | None = optional("of the prototype, in place of speed; goes by the plan's scale", "60 km/h")
    train_length: Length = given("1 m", "of the longest train")
    magnet_from_front: Length = given("50 mm", "from the train's front back to its magnet")
    clearing_distance: Length = given("200 mm", "from the reed on to where the last wheel is clear of the signal")
    both_ways: bool = given(False, "trains run over the reed from either side", strict=True)
    may_stop: bool = given(False, "a train may stop over the reed", strict=True)
    hold: Time | None = optional("how long red lasts; left out, what the train needs with some to spare", "10 s")
    trains_per_hour: float | None = optional(
        "to learn which lamp shows after each failure, and the charge that the coil needs", 12, gt=0, le=3600
    )
    timer: NameIn[timers] = given("one-shot", "name of a timer in the table")
    capacitor: NameIn[capacitor_kinds] = given("electrolytic", "kind of the timer's capacitor, a name in the table")
    capacitance: Capacitance = given("100 µF", "of the timer's capacitor")
    capacitor_voltage: Voltage = given("25 V", "printed on the timer's capacitor")
    pot: Resistance = given("220 kohm", "of the pot that sets the on-time")
    end_resistor: Resistance = given("4.7 kohm", "in series with the pot, so that it never goes to nothing")
    reed_resistor: Resistance = given("100 ohm", "in series with the reed, so that its contacts never carry more")
    relay: RelayName | None = optional("name of a relay in the table; the evening's if left out", "12 V two-pole")

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
