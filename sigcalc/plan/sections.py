"""The sections of a plan beside lamps, supply and drive: wiring, mast, wires, and the builder's limits."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, field_validator, model_validator

from ..design.board.outline import lamp_outlines
from ..parts.drill import drills
from ..parts.meter import meters
from ..parts.wire import wires
from ..units import Current, Length, Resistance, Temperature
from .section import Section, known, refusal

FORMS = ("one shared resistor", "shared and extra", "one in each branch")


class Wiring(Section):
    """How resistors and lamps are joined, and what turns the current round."""

    form: Literal["one shared resistor", "shared and extra", "one in each branch"] = Field(
        "one shared resistor", description=" / ".join(f'"{form}"' for form in FORMS)
    )
    extra_red: Resistance | None = Field(
        None, description="extra resistor in the red branch; worked out if left out", examples=["100 ohm"]
    )
    extra_green: Resistance | None = Field(
        None, description="extra resistor in the green branch; worked out if left out", examples=["100 ohm"]
    )
    series_diodes: bool = Field(False, strict=True, description="a plain diode in series with each LED")
    reversing: Literal["hand switch", "relay"] = Field("hand switch", description='"hand switch" or "relay"')

    @model_validator(mode="after")
    def _extras_have_a_place(self) -> Wiring:
        given = [name for name in ("extra_red", "extra_green") if getattr(self, name)]
        if given and self.form == "one shared resistor":
            said = f'it has no place in the form "{self.form}"; choose the form "shared and extra"'
            raise refusal(said, place=(given[0],))
        return self


class Mast(Section):
    """The mast and its holes."""

    height: Length = Field("130 mm", description="from the baseboard to the top of the mast")
    top_lamp: Length = Field("115 mm", description="height of the upper lamp's centre")
    bottom_lamp: Length = Field("95 mm", description="height of the lower lamp's centre")
    lamp_outline: str = Field("3 mm lamp, generic", description="shape of the LEDs, a name in the table of outlines")
    lamp_hole: str = Field("1/8 in", description="drill for the LEDs")
    wire_hole: str = Field("7/64 in", description="drill for the two wires down the mast")

    @field_validator("lamp_outline")
    @classmethod
    def _outline_known(cls, name: str) -> str:
        known(lambda: lamp_outlines[name])
        return name

    @field_validator("lamp_hole", "wire_hole")
    @classmethod
    def _drill_known(cls, name: str) -> str:
        known(lambda: drills[name])
        return name

    @model_validator(mode="after")
    def _in_order(self) -> Mast:
        heights = [each.m_as("m") for each in (self.bottom_lamp, self.top_lamp, self.height)]
        if not 0 < heights[0] < heights[1] <= heights[2]:
            raise refusal("bottom_lamp, top_lamp and height need to rise in this order, above zero")
        body = lamp_outlines[self.lamp_outline].body_most
        if heights[1] - heights[0] <= body.m_as("m") or heights[0] <= body.m_as("m") / 2:
            thick = f"{body.m_as('mm'):.3g} mm"
            need = f"room for lamps {thick} thick: more than that below top_lamp, and half of it above the ground"
            raise refusal(place=("bottom_lamp",), need=need, given=f"{self.bottom_lamp:g~P}")
        return self


class WireSpec(Section):
    """The two wires."""

    part: str = Field("26 AWG solid hook-up", description="name of a wire in the table")
    distance: Length = Field("600 mm", description="from the foot of the mast to the terminals under the baseboard")
    slack: Length = Field("50 mm", description="spare length at the terminals")

    @field_validator("part")
    @classmethod
    def _wire_known(cls, name: str) -> str:
        known(lambda: wires[name])
        return name


class Bench(Section):
    """The meter for the readings."""

    meter: str = Field("hand meter", description="name of a meter in the table; its errors widen the readings")

    @field_validator("meter")
    @classmethod
    def _meter_known(cls, name: str) -> str:
        known(lambda: meters[name])
        return name


class Limits(Section):
    """Your own limits, on top of the parts' ratings."""

    max_current: Current = Field("20 mA", description="ceiling for the current in any lamp")
    ambient: Temperature = Field("25 degC", description="warmest air around the parts")
    unevenness: float = Field(
        1.5, gt=1, le=100, description="greatest ratio of brightness you accept between the lamps"
    )
