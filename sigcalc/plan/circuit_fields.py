"""The sections of a plan that make its circuit: the two LEDs, the supply, the drive and the wiring."""

from __future__ import annotations

import dataclasses
from typing import Any, Literal

from pydantic import ValidationInfo, field_validator, model_validator

from ..design.lamp.drawer import MOST_VALUES
from ..parts.drive import current_diodes, regulators
from ..parts.led import Exponential, Led, leds
from ..parts.resistor import preferred_values
from ..parts.source import Adapter, Battery, adapters, batteries
from ..units import (
    Charge,
    Current,
    LuminousIntensity,
    Q,
    Resistance,
    ReverseVoltage,
    SupplyVoltage,
    Tolerance,
    Voltage,
    say,
)
from ..units.reading import quoted
from .section import NameIn, Section, above_zero, given, known, known_part, optional, refusal

OWN_TEMPERATURE = "25 degC"
"""At which an LED's own points are taken to hold: that of data sheets, and of a room."""


class Lamps(Section):
    """Which colour is above which."""

    top: Literal["red", "green"] = given("green", 'colour of the upper lamp: "red" or "green"')
    bottom: Literal["red", "green"] = given("red", "colour of the lower lamp")

    @model_validator(mode="after")
    def _differ(self) -> Lamps:
        if self.top == self.bottom:
            raise refusal(f'top and bottom are both "{self.top}"; a two-lead pair has one lamp of each colour')
        return self


class Lamp(Section):
    """One LED: a part of the table, or your own data."""

    part: NameIn[leds] | None = optional("name of an LED in the table; or give points of your own", "bright red 3 mm")
    points: tuple[tuple[Voltage, Current], ...] | None = optional(
        "own readings or the data-sheet line, in place of part: pairs of voltage and current",
        [["1.80 V", "2 mA"], ["1.95 V", "10 mA"]],
    )
    max_current: Current | None = optional("limit of your own LED, from its data sheet", "20 mA")
    max_reverse_voltage: ReverseVoltage | None = optional("reverse voltage limit of your own LED", "5 V")
    drop_below: Voltage | None = optional("how far below the points a bought part's drop may lie", "0.1 V")
    drop_above: Voltage | None = optional("how far above the points a bought part's drop may lie", "0.2 V")
    intensity: LuminousIntensity | None = optional("luminous intensity of your own LED", "20 mcd")
    intensity_current: Current | None = optional("current at which that intensity holds", "10 mA")

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


USUAL_SUPPLY = {"adapter": "12 V regulated", "battery": "9 V alkaline"}
OWN_TOLERANCE = 0.05
"""Of a voltage given without one. Common practice for regulated adapters."""
_INSIDE_BATTERY = "1 mohm"  # of a voltage alone: its record needs some
_RATING = "1 A"  # of an adapter of which only the voltage is known; nothing depends on it
_TABLES: dict[str, Any] = {"adapter": adapters, "battery": batteries}


class Supply(Section):
    """What feeds the signal."""

    kind: Literal["adapter", "battery"] = given("adapter", '"adapter" or "battery"')
    part: str | None = optional("name of a battery or adapter in the tables", USUAL_SUPPLY["adapter"])
    voltage: SupplyVoltage | None = optional("measured or printed voltage, in place of a part", "12 V")
    tolerance: Tolerance | None = optional("how far the voltage may be off", "5 %")
    no_load_voltage: SupplyVoltage | None = optional(
        "of your own unregulated adapter: measured with nothing connected; voltage is then the printed one", "17 V"
    )
    max_current: Current | None = optional("printed on your own adapter, beside its voltage", "500 mA")
    capacity: Charge | None = optional("printed on your own battery, in place of the table's", "500 mAh")

    @model_validator(mode="before")
    @classmethod
    def _usual_part(cls, given: Any) -> Any:
        """Where neither part nor voltage is given, the usual supply of that kind."""
        if not isinstance(given, dict) or "part" in given or "voltage" in given:
            return given
        kind = given.get("kind")
        return given | {"part": USUAL_SUPPLY["battery" if kind == "battery" else "adapter"]}

    @field_validator("part")
    @classmethod
    def _part_known(cls, name: str | None, info: ValidationInfo) -> str | None:
        known_part(_TABLES, info.data.get("kind"), name)  # missing where the kind itself is at fault
        return name

    @field_validator("voltage")
    @classmethod
    def _above_zero(cls, voltage: Any) -> Any:
        return above_zero(voltage, advice="turn the meter's probes round")

    @model_validator(mode="after")
    def _one_of_two(self) -> Supply:
        if self.part is None and self.voltage is None:
            raise refusal("neither part nor voltage is given; name a part, or give the voltage of your own supply")
        if self.part is not None and self.voltage is not None:
            raise refusal("part and voltage are both given; keep one of them")
        own_adapter = self.kind == "adapter" and self.voltage is not None
        for name in ("no_load_voltage", "max_current"):
            if getattr(self, name) is not None and not own_adapter:
                raise refusal("it belongs to an adapter of your own, given by its voltage; leave it out", place=(name,))
        if self.no_load_voltage is not None and self.max_current is None:
            raise refusal(place=("no_load_voltage",), need="max_current beside it, as printed on the adapter")
        if self.capacity is not None and (self.kind != "battery" or self.part is None):
            raise refusal("it belongs to a battery named by its part; leave it out", place=("capacity",))
        known(self.record)
        return self

    def source(self) -> Battery | Adapter | None:
        """As `record`; None where a voltage alone is given."""
        return None if self.part is None and self.max_current is None else self.record()

    def record(self) -> Battery | Adapter:
        """The table's record or your own supply's, with your tolerance; a voltage alone holds whatever it feeds."""
        if self.part is not None:
            source = _TABLES[self.kind][self.part]
            source = source if self.capacity is None else dataclasses.replace(source, capacity=self.capacity)
        else:
            source = self._own_adapter() if self.kind == "adapter" else self._own_battery()
        if self.tolerance is None:
            return source
        if isinstance(source, Battery):
            least, most = (source.fresh_voltage * (1 + sign * self.tolerance) for sign in (-1, 1))
            return dataclasses.replace(source, fresh_voltage_min=least, fresh_voltage_max=most)
        idle = source.no_load_voltage
        return dataclasses.replace(source, tolerance=self.tolerance, no_load_voltage_min=idle, no_load_voltage_max=idle)

    def _own_adapter(self) -> Adapter:
        volts, idle = self.voltage, self.no_load_voltage
        inside = Q(0, "ohm") if idle is None else (idle - volts) / self.max_current
        if inside.magnitude < 0:
            need = f"to be at least the printed {volts:~P}"
            raise refusal(place=("no_load_voltage",), need=need, given=f"{idle:g~P}")
        rating = _RATING if self.max_current is None else self.max_current
        no_load = dict.fromkeys(("no_load_voltage", "no_load_voltage_min", "no_load_voltage_max"), idle)
        return Adapter(self._label, volts, OWN_TOLERANCE, internal_resistance=inside, max_current=rating, **no_load)

    def _own_battery(self) -> Battery:
        inside = ("internal_resistance", "internal_resistance_min", "internal_resistance_max")
        return Battery(
            name=self._label,
            chemistry="unknown",
            nominal_voltage=self.voltage,
            fresh_voltage=self.voltage,
            fresh_voltage_min=self.voltage * (1 - OWN_TOLERANCE),
            fresh_voltage_max=self.voltage * (1 + OWN_TOLERANCE),
            **dict.fromkeys(inside, _INSIDE_BATTERY),
        )

    def corners(self) -> tuple[float, float, float]:
        """Least, nominal and most open-circuit voltage in V."""
        return tuple(volts for volts, _ in self.record().corners)

    @property
    def depends_on(self) -> str:
        """Where the spread of the voltage comes from."""
        if self.tolerance is not None:
            return "the tolerance you give"
        if self.part is None:
            return f"{say(OWN_TOLERANCE, '')} taken for granted, as none is given"
        return "how fresh the battery is" if self.kind == "battery" else "the adapter's tolerance"

    @property
    def name(self) -> str:
        """As it is said on the sheet."""
        if self.part:
            return f"{self.part} {self.kind}"
        return f"{self._label} {self.kind}"

    @property
    def _label(self) -> str:
        """The name of an own supply, without its kind, as the tables name theirs."""
        return f"{self.voltage.m_as('V'):g} V{'' if self.no_load_voltage is None else ' unregulated'}"


RESISTOR, DRIVER, REGULATOR, DIODE = KINDS = ("resistor", "constant current", "regulator", "current diode")
DRIVE_TABLES: dict[str, Any] = {REGULATOR: regulators, DIODE: current_diodes}
USUAL_DRIVE = {REGULATOR: "lm317l", DIODE: "1n5314"}
_MAY_HAVE = {"part": (REGULATOR, DIODE), "reference_voltage": (REGULATOR,), "resistance": (RESISTOR, REGULATOR)}
_MAY_HAVE["drawer"] = (RESISTOR,)


class DriveSpec(Section):
    """How the current is set."""

    kind: Literal[*KINDS] = given(RESISTOR, " / ".join(f'"{kind}"' for kind in KINDS))
    part: str | None = optional("name of a regulator or current diode in the tables", USUAL_DRIVE[REGULATOR])
    current: Current = given("5 mA", "wanted current in each lamp; a lamp never gets more nominally")
    series: str = given("E12", "series of preferred values the shop sells: E6 to E192")
    tolerance: Tolerance = given("5 %", "tolerance of the resistor, or of an own driver's current")
    resistance: Resistance | None = optional(
        "the resistor you already have, shared or setting a regulator's current, in place of a choice", "680 ohm"
    )
    drawer: tuple[Resistance, ...] | None = optional("values in your own drawer to choose from", ["470 ohm", "1 kohm"])
    dropout: Voltage = given(
        "1.5 V", "drop-out voltage of an own driver or diode; what an own regulator needs from input to output"
    )
    reference_voltage: Voltage | None = optional(
        "an own regulator's voltage from output to adjust pin, in place of part", "1.25 V"
    )

    @field_validator("part")
    @classmethod
    def _part_known(cls, name: str | None, info: ValidationInfo) -> str | None:
        known_part(DRIVE_TABLES, info.data.get("kind"), name)
        return name

    @field_validator("series")
    @classmethod
    def _series_known(cls, series: str) -> str:
        known(lambda: preferred_values(series))
        return series

    @field_validator("current", "dropout", "reference_voltage")
    @classmethod
    def _above_zero(cls, value: Any) -> Any:
        return above_zero(value)

    @field_validator("drawer")
    @classmethod
    def _drawer_holds_something(cls, drawer: Any) -> Any:
        if drawer is not None and not (drawer and all(each.magnitude > 0 for each in drawer)):
            raise refusal(need='one or more resistances above zero, such as "470 ohm" and "1 kohm"')
        if drawer is not None and len(drawer) > MOST_VALUES:
            need, advice = f"{MOST_VALUES} values at most", "leave out what is far off"
            raise refusal(need=need, given=f"{len(drawer)}", advice=advice)
        return drawer

    @model_validator(mode="after")
    def _no_contradiction(self) -> DriveSpec:
        if self.resistance is not None and self.drawer is not None:
            raise refusal("resistance and drawer are both given; give the one resistor, or the drawer to choose from")
        for name, kinds in _MAY_HAVE.items():
            if getattr(self, name) is not None and self.kind not in kinds:
                raise refusal(f'it has no place where the kind is "{self.kind}"; leave it out', place=(name,))
        if self.kind == REGULATOR and (self.part is None) == (self.reference_voltage is None):
            raise refusal(f'a regulator needs either part (such as "{USUAL_DRIVE[REGULATOR]}") or reference_voltage')
        if self.kind == REGULATOR:
            above_zero(self.resistance, place=("resistance",), advice="it sets the regulator's current")
        return self
