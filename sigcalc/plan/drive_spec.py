"""The drive of a plan: a resistor, or one of the constant-current drivers, out of the tables or by its own figures."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import Field, field_validator, model_validator

from ..design.lamp.drawer import MOST_VALUES
from ..parts.drive import current_diodes, regulators
from ..parts.resistor import preferred_values
from ..units import Current, Ratio, Resistance, Voltage
from ..units.reading import quoted
from .section import Section, above_zero, at_most_half, known, refusal

RESISTOR, DRIVER, REGULATOR, DIODE = KINDS = ("resistor", "constant current", "regulator", "current diode")
DRIVE_TABLES: dict[str, Any] = {REGULATOR: regulators, DIODE: current_diodes}
USUAL_DRIVE = {REGULATOR: "lm317l", DIODE: "1n5314"}
_MAY_HAVE = {"part": (REGULATOR, DIODE), "reference_voltage": (REGULATOR,), "resistance": (RESISTOR, REGULATOR)}
_MAY_HAVE["drawer"] = (RESISTOR,)


class DriveSpec(Section):
    """How the current is set."""

    kind: Literal["resistor", "constant current", "regulator", "current diode"] = Field(
        RESISTOR, description=" / ".join(f'"{kind}"' for kind in KINDS)
    )
    part: str | None = Field(
        None, description="name of a regulator or current diode in the tables", examples=[USUAL_DRIVE[REGULATOR]]
    )
    current: Current = Field("5 mA", description="wanted current in each lamp; a lamp never gets more nominally")
    series: str = Field("E12", description="series of preferred values the shop sells: E6 to E192")
    tolerance: Ratio = Field("5 %", description="tolerance of the resistor, or of an own driver's current")
    resistance: Resistance | None = Field(
        None,
        description="the resistor you already have, shared or setting a regulator's current, in place of a choice",
        examples=["680 ohm"],
    )
    drawer: tuple[Resistance, ...] | None = Field(
        None, description="values in your own drawer to choose from", examples=[["470 ohm", "1 kohm"]]
    )
    dropout: Voltage = Field(
        "1.5 V",
        description="drop-out voltage of an own driver or diode; what an own regulator needs from input to output",
    )
    reference_voltage: Voltage | None = Field(
        None, description="an own regulator's voltage from output to adjust pin, in place of part", examples=["1.25 V"]
    )

    @field_validator("series")
    @classmethod
    def _series_known(cls, series: str) -> str:
        known(lambda: preferred_values(series))
        return series

    @field_validator("current", "dropout", "reference_voltage")
    @classmethod
    def _above_zero(cls, value: Any) -> Any:
        return above_zero(value)

    @field_validator("tolerance")
    @classmethod
    def _tolerance_plausible(cls, tolerance: float) -> float:
        return at_most_half(tolerance)

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
        if self.part is not None:
            self._check_part(self.part)
        if self.kind == REGULATOR and (self.part is None) == (self.reference_voltage is None):
            raise refusal(f'a regulator needs either part (such as "{USUAL_DRIVE[REGULATOR]}") or reference_voltage')
        if self.kind == REGULATOR and self.resistance is not None and not self.resistance.magnitude > 0:
            raise refusal(
                place=("resistance",),
                need="to be above 0 Ω, for it sets the regulator's current",
                given=f"{self.resistance:g~P}",
                example="270 ohm",
            )
        return self

    def _check_part(self, name: str) -> None:
        for other, table in DRIVE_TABLES.items():
            if other != self.kind and name in table:
                raise refusal(f'{quoted(name)} is of another kind; choose the kind "{other}"', place=("part",))
        known(lambda: DRIVE_TABLES[self.kind][name])
