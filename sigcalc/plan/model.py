"""The plan of one signal: its sections and fields, each checked, all faults reported at once."""

from __future__ import annotations

import difflib
from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field, PrivateAttr, ValidationError, model_validator
from pydantic_core import PydanticCustomError

from ..errors import PlanError, SigcalcError
from ..parts.drill import drills
from ..parts.led import Led
from ..parts.led_model import Exponential
from ..parts.led_table import leds
from ..parts.outline import lamp_outlines
from ..parts.preferred import preferred_values
from ..parts.source import Adapter, Battery, adapters, batteries
from ..parts.wire import wires
from ..units import (
    Current,
    Length,
    LuminousIntensity,
    Q,
    Ratio,
    Resistance,
    ReverseVoltage,
    SupplyVoltage,
    Temperature,
    Voltage,
)
from ..units.reading import quoted

VERSION = 1
"""The version of the plan file that this library writes and reads."""


class Section(BaseModel):
    """A section of the plan: unknown fields are refused, and nothing changes after it is made."""

    model_config = ConfigDict(extra="forbid", frozen=True, validate_default=True)

    def with_changes(self, **changes: Any) -> Any:
        """A copy with some fields given anew, checked like the first."""
        return type(self)(**{name: getattr(self, name) for name in self.model_fields_set} | changes)


def _refuse(sentence: str) -> PydanticCustomError:
    return PydanticCustomError("plan", "{sentence}", {"sentence": sentence})


def _known(make: Any) -> Any:
    """Run a look-up or a fit; a refusal becomes a fault of this section."""
    try:
        return make()
    except SigcalcError as error:
        raise _refuse(str(error)) from None


class Lamps(Section):
    """Which colour stands above which."""

    top: Literal["red", "green"] = Field("green", description='colour of the upper lamp: "red" or "green"')
    bottom: Literal["red", "green"] = Field("red", description="colour of the lower lamp")

    @model_validator(mode="after")
    def _differ(self) -> Lamps:
        if self.top == self.bottom:
            raise _refuse(f'top and bottom are both "{self.top}"; a two-lead pair has one lamp of each colour')
        return self


class Lamp(Section):
    """One LED: a part of the table, or your own data."""

    part: str | None = Field(None, description="name of an LED in the table; leave it out and give points for your own")
    points: tuple[tuple[str, str], ...] | None = Field(
        None,
        description='own readings or the data-sheet line: pairs of voltage and current, such as [["2.0 V", "20 mA"]]',
    )
    max_current: Current | None = Field(None, description="most current your own LED stands, from its data sheet")
    max_reverse_voltage: ReverseVoltage | None = Field(None, description="most reverse voltage your own LED stands")
    drop_below: Voltage | None = Field(None, description="how far below the points a bought part's drop may lie")
    drop_above: Voltage | None = Field(None, description="how far above the points a bought part's drop may lie")
    intensity: LuminousIntensity | None = Field(None, description="luminous intensity of your own LED")
    intensity_current: Current | None = Field(None, description="current at which that intensity holds")

    @model_validator(mode="after")
    def _one_of_two(self) -> Lamp:
        own = [name for name in type(self).model_fields if name != "part" and getattr(self, name) is not None]
        if self.part is not None:
            if own:
                raise _refuse(
                    f"part {quoted(self.part)} stands beside {', '.join(own)}; "
                    "give the part's name or your own data, not both"
                )
            _known(lambda: leds[self.part])
        elif self.points is None or self.max_current is None:
            raise _refuse("needs the name of a part, or your own points and max_current")
        return self

    def led(self, colour: str) -> Led:
        """The LED this section describes."""
        if self.part is not None:
            return leds[self.part]
        given = {name: getattr(self, name) for name in type(self).model_fields if name not in ("part", "points")}
        model = Exponential.fitted(self.points, temperature="25 degC", colour=colour)
        return Led(
            name=f"own {colour} LED",
            colour=colour,
            model=model,
            **{name: value for name, value in given.items() if value is not None},
        )


USUAL_SUPPLY = {"adapter": "12 V regulated", "battery": "9 V alkaline"}


class Supply(Section):
    """What feeds the signal."""

    kind: Literal["adapter", "battery"] = Field("adapter", description='"adapter" or "battery"')
    part: str | None = Field(None, description="name of a battery or adapter in the tables")
    voltage: SupplyVoltage | None = Field(None, description="measured or printed voltage, in place of a part")
    tolerance: Ratio | None = Field(None, description="how far the voltage may be off, such as 5 %")

    @model_validator(mode="before")
    @classmethod
    def _usual_part(cls, given: Any) -> Any:
        """Where neither part nor voltage is given, the usual supply of that kind."""
        if not isinstance(given, dict) or "part" in given or "voltage" in given:
            return given
        return given | {"part": USUAL_SUPPLY.get(given.get("kind"), USUAL_SUPPLY["adapter"])}

    @model_validator(mode="after")
    def _one_of_two(self) -> Supply:
        if (self.part is None) == (self.voltage is None):
            raise _refuse("part and voltage are both given, or neither; keep one of them")
        if self.voltage is not None and not self.voltage.m_as("V") > 0:
            raise _refuse(
                f'voltage needs to be above 0 V, but {self.voltage} came; turn the plug round and write "12 V"'
            )
        if self.part is not None:
            self._check_part()
        return self

    def _check_part(self) -> None:
        if self.part not in self._table:
            for other, table in (("battery", batteries), ("adapter", adapters)):
                if self.part in table:
                    raise _refuse(f'part {quoted(self.part)} is of the other kind; write kind = "{other}"')
        _known(lambda: self._table[self.part])

    @property
    def _table(self) -> Any:
        return batteries if self.kind == "battery" else adapters

    def source(self) -> Battery | Adapter | None:
        """The table's record, or None where a voltage stands in its place."""
        return None if self.part is None else self._table[self.part]

    def corners(self) -> tuple[float, float, float]:
        """Least, nominal and most open-circuit voltage in V."""
        source = self.source()
        if source is None:
            volts = self.voltage.m_as("V")
            spread = 0.05 if self.tolerance is None else self.tolerance
            return volts * (1 - spread), volts, volts * (1 + spread)
        least, nominal, most = (volts for volts, _ in source.corners)
        if self.tolerance is not None:
            return nominal * (1 - self.tolerance), nominal, nominal * (1 + self.tolerance)
        return least, nominal, most

    @property
    def name(self) -> str:
        """As it is said on the sheet."""
        return f"{self.part} {self.kind}" if self.part else f"{self.voltage.m_as('V'):g} V {self.kind}"


class DriveWish(Section):
    """How the current is set."""

    kind: Literal["resistor", "constant current"] = Field("resistor", description='"resistor" or "constant current"')
    current: Current = Field("5 mA", description="wanted current in each lamp; a lamp never gets more nominally")
    series: str = Field("E12", description="series of preferred values the shop sells: E6 to E192")
    tolerance: Ratio = Field("5 %", description="tolerance of the resistor, or of the driver's current")
    resistance: Resistance | None = Field(
        None, description="the shared resistor you already have, in place of a choice"
    )
    drawer: tuple[str, ...] | None = Field(None, description='values in your own drawer, such as ["470 ohm", "1 kohm"]')
    dropout: Voltage = Field("1.5 V", description="drop-out voltage of a constant-current driver")

    @model_validator(mode="after")
    def _series_known(self) -> DriveWish:
        _known(lambda: preferred_values(self.series))
        if not self.current.magnitude > 0:
            raise _refuse('current needs to be above 0 mA, such as "5 mA"')
        if self.resistance is not None and self.drawer is not None:
            raise _refuse("resistance and drawer are both given; give the one resistor, or the drawer to choose from")
        for value in self.drawer or ():
            if not _known(lambda value=value: Q(value)).check("[resistance]"):
                raise _refuse(f'drawer holds {quoted(value)}, which is no resistance; write values such as "470 ohm"')
        return self


FORMS = ("one shared resistor", "shared and extra", "one in each branch")


class Wiring(Section):
    """How resistors and lamps are joined, and what turns the current round."""

    form: Literal["one shared resistor", "shared and extra", "one in each branch"] = Field(
        "one shared resistor", description=" / ".join(f'"{form}"' for form in FORMS)
    )
    extra_red: Resistance | None = Field(None, description="extra resistor in the red branch; worked out if left out")
    extra_green: Resistance | None = Field(
        None, description="extra resistor in the green branch; worked out if left out"
    )
    series_diodes: bool = Field(False, strict=True, description="a plain diode in series with each LED")
    reversing: Literal["hand switch", "relay"] = Field("hand switch", description='"hand switch" or "relay"')


class Mast(Section):
    """The mast and its holes."""

    height: Length = Field("130 mm", description="from the baseboard to the top of the mast")
    top_lamp: Length = Field("115 mm", description="height of the upper lamp's centre")
    bottom_lamp: Length = Field("95 mm", description="height of the lower lamp's centre")
    lamp_outline: str = Field("3 mm lamp, generic", description="shape of the LEDs, a name in the table of outlines")
    lamp_hole: str = Field("1/8 in", description="drill for the LEDs")
    wire_hole: str = Field("7/64 in", description="drill for the two wires down the mast")

    @model_validator(mode="after")
    def _in_order(self) -> Mast:
        heights = [each.magnitude for each in (self.bottom_lamp, self.top_lamp, self.height)]
        if not 0 < heights[0] < heights[1] <= heights[2]:
            raise _refuse("bottom_lamp, top_lamp and height need to rise in this order, above zero")
        for name in (self.lamp_hole, self.wire_hole):
            _known(lambda name=name: drills[name])
        _known(lambda: lamp_outlines[self.lamp_outline])
        return self


class WireWish(Section):
    """The two wires."""

    part: str = Field("26 AWG solid hook-up", description="name of a wire in the table")
    distance: Length = Field("600 mm", description="from the foot of the mast to the terminals under the baseboard")
    slack: Length = Field("50 mm", description="spare length at the terminals")

    @model_validator(mode="after")
    def _wire_known(self) -> WireWish:
        _known(lambda: wires[self.part])
        return self


class Limits(Section):
    """Your own limits, on top of the parts' ratings."""

    max_current: Current = Field("20 mA", description="ceiling for the current in any lamp")
    ambient: Temperature = Field("25 degC", description="warmest air around the parts")
    unevenness: float = Field(
        1.5, gt=1, le=100, description="greatest ratio of brightness you accept between the lamps"
    )


class PlanFields(Section):
    """The fields of a plan; `Plan` (in `plan.py`) adds the file and the study to them."""

    version: Literal[1] = Field(VERSION, description="version of this file's format")
    name: str = Field("Quillhaven east home", min_length=1, max_length=80, description="name of the signal")
    scale: str = Field("1:48", max_length=12, description="scale of the layout")
    lamps: Lamps = Lamps()
    red: Lamp = Lamp(part="red low-current 3 mm")
    green: Lamp = Lamp(part="green low-current 3 mm")
    supply: Supply = Supply()
    drive: DriveWish = DriveWish()
    wiring: Wiring = Wiring()
    mast: Mast = Mast()
    wire: WireWish = WireWish()
    limits: Limits = Limits()
    _document: Any = PrivateAttr(None)

    def __init__(self, **given: Any):
        try:
            super().__init__(**given)
        except ValidationError as error:
            raise PlanError([_fault(each) for each in error.errors()]) from None

    def with_changes(self, **changes: Any) -> Any:
        """A copy with some sections or fields given anew; it keeps the comments of the file it came from."""
        changed = super().with_changes(**changes)
        changed._document = self._document
        return changed

    @model_validator(mode="after")
    def _lamps_readable(self) -> PlanFields:
        for colour in ("red", "green"):
            try:
                getattr(self, colour).led(colour)
            except SigcalcError as error:
                raise _refuse(f"{colour}: {error}") from None
        return self

    def __eq__(self, other: object) -> bool:
        """Whether both say the same; the comments of their files do not count."""
        if not isinstance(other, PlanFields):
            return NotImplemented
        return all(getattr(self, name) == getattr(other, name) for name in PlanFields.model_fields)

    __hash__ = None


_NEEDS = {
    "model_type": "needs a section of its own, headed by its name in square brackets",
    "string_type": "needs a text in quotes",
    "tuple_type": "needs a list in square brackets",
    "bool_type": "needs true or false, without quotes",
    "float_parsing": "needs a number, without quotes",
    "float_type": "needs a number, without quotes",
}


def _fault(error: Any) -> str:
    """One fault of a plan as a sentence that starts with its place."""
    place = ".".join(str(each) for each in error["loc"]) or "plan"
    if error["type"] == "extra_forbidden":
        return f"{place}: {_unknown_field(error['loc'])}"
    if error["type"] in ("plan", "unit"):
        sentence = error["ctx"]["sentence"]
        return f"{place}: {sentence}" if error["loc"] else sentence
    needs = _NEEDS.get(error["type"], error["msg"].replace("Input should be", "needs to be"))
    return f"{place}: {needs}, but {quoted(error['input'])} came"


def _unknown_field(place: tuple[Any, ...]) -> str:
    model: Any = PlanFields
    for each in place[:-1]:
        model = model.model_fields[each].annotation
    near = difflib.get_close_matches(str(place[-1]), list(model.model_fields), n=1)
    hint = f"; did you mean {near[0]!r}?" if near else f"; the fields here are {', '.join(model.model_fields)}"
    return f"no field of a plan{hint}"
