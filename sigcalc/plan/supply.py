"""The supply of a plan: a battery or an adapter, out of the tables or by its voltage."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import Field, ValidationInfo, field_validator, model_validator

from ..parts.source import Adapter, Battery, adapters, batteries
from ..units import Ratio, SupplyVoltage, say
from ..units.reading import quoted
from .section import Section, at_most_half, known, refusal

USUAL_SUPPLY = {"adapter": "12 V regulated", "battery": "9 V alkaline"}
OWN_TOLERANCE = 0.05
"""Of a voltage given without one. Common practice for regulated adapters."""
_TABLES: dict[str, Any] = {"adapter": adapters, "battery": batteries}


class Supply(Section):
    """What feeds the signal."""

    kind: Literal["adapter", "battery"] = Field("adapter", description='"adapter" or "battery"')
    part: str | None = Field(
        None, description="name of a battery or adapter in the tables", examples=[USUAL_SUPPLY["adapter"]]
    )
    voltage: SupplyVoltage | None = Field(
        None, description="measured or printed voltage, in place of a part", examples=["12 V"]
    )
    tolerance: Ratio | None = Field(None, description="how far the voltage may be off", examples=["5 %"])

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
        kind = info.data.get("kind")  # missing where the kind itself is at fault
        if name is None or kind is None:
            return name
        for other, table in _TABLES.items():
            if other != kind and name in table:
                raise refusal(f'{quoted(name)} is of the other kind; write kind = "{other}"')
        known(lambda: _TABLES[kind][name])
        return name

    @field_validator("tolerance")
    @classmethod
    def _tolerance_plausible(cls, tolerance: float | None) -> float | None:
        return tolerance if tolerance is None else at_most_half(tolerance)

    @field_validator("voltage")
    @classmethod
    def _above_zero(cls, voltage: Any) -> Any:
        if voltage is not None and not voltage.magnitude > 0:
            raise refusal(f'needs to be above 0 V, but {voltage} came; turn the plug round and write "12 V"')
        return voltage

    @model_validator(mode="after")
    def _one_of_two(self) -> Supply:
        if (self.part is None) == (self.voltage is None):
            raise refusal("part and voltage are both given, or neither; keep one of them")
        return self

    def source(self) -> Battery | Adapter | None:
        """The table's record, or None where a voltage stands in its place."""
        return None if self.part is None else _TABLES[self.kind][self.part]

    def corners(self) -> tuple[float, float, float]:
        """Least, nominal and most open-circuit voltage in V."""
        source = self.source()
        if source is None:
            least, nominal, most = (self.voltage.m_as("V") * (1 + sign * OWN_TOLERANCE) for sign in (-1, 0, 1))
        else:
            least, nominal, most = (volts for volts, _ in source.corners)
        if self.tolerance is None:
            return least, nominal, most
        return nominal * (1 - self.tolerance), nominal, nominal * (1 + self.tolerance)

    @property
    def hangs_on(self) -> str:
        """Where the spread of the voltage comes from."""
        if self.tolerance is not None:
            return "the tolerance you give"
        if self.part is None:
            return f"{say(OWN_TOLERANCE, '')} taken for granted, as none is given"
        return "how fresh the battery is" if self.kind == "battery" else "the adapter's tolerance"

    @property
    def name(self) -> str:
        """As it is said on the sheet."""
        return f"{self.part} {self.kind}" if self.part else f"{self.voltage.m_as('V'):g} V {self.kind}"
