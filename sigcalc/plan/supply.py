"""The supply of a plan: a battery or an adapter, out of the tables or by its voltage."""

from __future__ import annotations

import dataclasses
from typing import Any, Literal

from pydantic import Field, ValidationInfo, field_validator, model_validator

from ..parts.source import Adapter, Battery, adapters, batteries
from ..units import Charge, Current, Q, Ratio, SupplyVoltage, say
from ..units.reading import quoted
from .section import Section, at_most_half, known, refusal

USUAL_SUPPLY = {"adapter": "12 V regulated", "battery": "9 V alkaline"}
OWN_TOLERANCE = 0.05
"""Of a voltage given without one. Common practice for regulated adapters."""
_INSIDE_ADAPTER, _INSIDE_BATTERY = "0 ohm", "1 mohm"  # of a voltage alone; a battery's record needs some
_RATING = "1 A"  # of an adapter of which only the voltage is known; nothing hangs on it
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
    no_load_voltage: SupplyVoltage | None = Field(
        None,
        description="of your own unregulated adapter: measured with nothing connected; voltage is then the printed one",
        examples=["17 V"],
    )
    max_current: Current | None = Field(
        None, description="printed on your own adapter, beside its voltage", examples=["500 mA"]
    )
    capacity: Charge | None = Field(
        None, description="printed on your own battery, in place of the table's", examples=["500 mAh"]
    )

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
                raise refusal(f'{quoted(name)} is of the other kind; choose the kind "{other}"')
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
            advice = "turn the meter's probes round"
            raise refusal(need="to be above 0 V", given=f"{voltage:g~P}", advice=advice)
        return voltage

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
        known(self.source)
        return self

    def source(self) -> Battery | Adapter | None:
        """The table's record or your own adapter's; None where a voltage alone stands in its place."""
        if self.part is not None:
            source = _TABLES[self.kind][self.part]
            return source if self.capacity is None else dataclasses.replace(source, capacity=self.capacity)
        return None if self.max_current is None else self._own_adapter()

    def _own_adapter(self) -> Adapter:
        volts, idle = self.voltage, self.no_load_voltage
        inside = Q(0, "ohm") if idle is None else (idle - volts) / self.max_current
        if inside.magnitude < 0:
            need = f"to be at least the printed {volts:~P}"
            raise refusal(place=("no_load_voltage",), need=need, given=f"{idle:g~P}")
        return Adapter(
            name=self._label,
            voltage=volts,
            tolerance=OWN_TOLERANCE if self.tolerance is None else self.tolerance,
            internal_resistance=inside,
            max_current=self.max_current,
            no_load_voltage=idle,
            no_load_voltage_min=idle,
            no_load_voltage_max=idle,
        )

    def fed_from(self) -> Battery | Adapter | None:
        """As `source`, with the tolerance that you give in place of the table's."""
        source = self.source()
        if source is None or self.tolerance is None:
            return source
        if isinstance(source, Battery):
            least, _, most = (Q(each, "V") for each in self.corners())
            return dataclasses.replace(source, fresh_voltage_min=least, fresh_voltage_max=most)
        idle = source.no_load_voltage
        return dataclasses.replace(source, tolerance=self.tolerance, no_load_voltage_min=idle, no_load_voltage_max=idle)

    def record(self) -> Battery | Adapter:
        """As `fed_from`; where a voltage alone is known, a source that holds it whatever it feeds."""
        source = self.fed_from()
        if source is not None:
            return source
        least, nominal, most = (Q(each, "V") for each in self.corners())
        if self.kind == "adapter":
            tolerance = (most - nominal) / nominal
            return Adapter(self._label, nominal, tolerance, internal_resistance=_INSIDE_ADAPTER, max_current=_RATING)
        return Battery(
            name=self._label,
            chemistry="unknown",
            nominal_voltage=nominal,
            fresh_voltage=nominal,
            fresh_voltage_min=least,
            fresh_voltage_max=most,
            internal_resistance=_INSIDE_BATTERY,
            internal_resistance_min=_INSIDE_BATTERY,
            internal_resistance_max=_INSIDE_BATTERY,
        )

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
        if self.part:
            return f"{self.part} {self.kind}"
        return f"{self._label} {self.kind}"

    @property
    def _label(self) -> str:
        """The name of an own supply, without its kind, as the tables name theirs."""
        return f"{self.voltage.m_as('V'):g} V{'' if self.no_load_voltage is None else ' unregulated'}"
