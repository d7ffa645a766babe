"""The vocabulary of checked quantities: what an argument may be, in which unit and range."""

from __future__ import annotations

import types
import typing
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Annotated, Any

import numpy as np
import pint
from pydantic_core import PydanticCustomError, core_schema

from ..errors import RangeError, SigcalcError, UnitError
from .plain import is_number
from .quantity import Q, numbers, registry, symbols_like, unit
from .reading import quoted, read
from .text import say

_ROUNDING = 1e-12
Given = Any  # text, a quantity, or a list of either


@dataclass(frozen=True)
class QuantityKind:
    """What a quantity must be: its name in a sentence, SI unit, least and greatest plausible value, an example.

    `bare` says that a number without a unit is welcome (a ratio, a count); `shown` is the unit in which people say it,
    and a quantity is given, where that is not the SI unit.
    """

    name: str
    unit: str
    low: float
    high: float
    example: str
    bare: bool = False
    shown: str = ""

    @cached_property
    def pint_unit(self) -> pint.Unit:
        """The SI unit, in the registry."""
        return unit(self.unit)

    @property
    def need(self) -> str:
        """What it is, to follow "needs": "a voltage"."""
        return ("an " if self.name[0] in "aeiou" else "a ") + self.name

    def quantity(self, si: Any) -> Any:
        """An SI float or array as a quantity (a ratio or count stays a number)."""
        if self.bare:
            return si
        quantity = registry.Quantity(si, self.pint_unit)
        return quantity.to(unit(self.shown)) if self.shown else quantity

    def read(self, value: Given, argument: str, scalar: bool = False) -> Any:
        """The SI float, or float array, of a text, a quantity or a list of them.

        Raises UnitError (no unit, wrong unit, unreadable) or RangeError, naming `argument`.
        """
        if scalar and isinstance(value, list | tuple):  # looked into no further: it may contain itself
            raise self._refused(argument, value, f"one {self.name}", "give a single value")
        if isinstance(value, str):
            si = self._from_text(value, argument)
        elif isinstance(value, pint.Quantity):
            si = self._from_quantity(value, argument)
        elif isinstance(value, list | tuple) and value and not (self.bare and _plain(value)):
            si = np.array([self.read(each, argument, scalar=True) for each in value])
        else:
            si = self._from_bare(value, argument)
        if scalar and np.ndim(si):
            raise self._refused(argument, value, f"one {self.name}", "give a single value")
        self.check(si, argument)
        return si

    def check(self, si: Any, argument: str) -> None:
        """Raise RangeError where a value lies outside low..high."""
        least, most = (si, si) if isinstance(si, float) else (np.min(si), np.max(si))
        # the ends belong to the range, also where turning degrees into kelvin rounds
        low, high = self.low - _ROUNDING * abs(self.low), self.high + _ROUNDING * abs(self.high)
        if least < low or most > high:
            wrong = least if least < low else most
            need = f"{self.need} from {self.say(self.low)} to {self.say(self.high)}"
            raise RangeError(argument=argument, need=need, given=self.say(wrong), example=self.example)

    def say(self, si: float) -> str:
        """An SI float as people say it, in a unit of this kind (a count as a plain number, a fraction in per cent)."""
        return f"{si:g}" if self.bare and self.high > 1 else say(si, self.unit)

    def _from_text(self, text: str, argument: str) -> float:
        try:
            number, symbol = read(text, self.example, symbols_like(self.unit))
        except UnitError as error:
            raise self._refused(argument, text, self._need_unit, error.advice) from None
        if symbol == "" and not self.bare:
            raise self._refused(argument, text, self._need_unit, own=number)
        conversion = _to_si(symbol, self.unit)
        if conversion is None:
            kelvin = symbol == "K" and self.unit == "ohm"
            kilohms = f'K alone means kelvin; for kilohms type "{number:g} kohm"' if kelvin else ""
            raise self._refused(argument, text, advice=kilohms)
        factor, offset = conversion
        return (number + offset) * factor

    def _from_quantity(self, value: pint.Quantity, argument: str) -> Any:
        if value._REGISTRY is registry and value._units == self.pint_unit._units:  # as most are: nothing to convert
            return numbers(value.magnitude, argument)
        difference = self.unit == "K" and any("delta" in str(each) for each in value._units)
        if difference or dict(value.dimensionality) != dict(self.pint_unit.dimensionality):
            raise self._refused(argument, value)
        try:
            with np.errstate(over="ignore"):  # a level in dBm may be beyond all numbers; `numbers` says so
                ours = value
                if value._REGISTRY is not registry:  # through base units, which every registry has
                    root = value.to_root_units()
                    ours = registry.Quantity(root.magnitude, registry.UnitsContainer(dict(root._units)))
                return numbers(ours.to(self.pint_unit).magnitude, argument)
        except pint.PintError as error:
            raise self._refused(argument, value, advice=str(error)) from None

    def _from_bare(self, value: Given, argument: str) -> Any:
        if not self.bare:
            raise self._refused(
                argument, value, self._need_unit, own=value if is_number(value) and abs(value) < 1e9 else None
            )
        try:
            return numbers(value, argument)
        except UnitError:
            raise self._refused(argument, value) from None

    @property
    def _need_unit(self) -> str:
        return self.need if self.bare else f"{self.need} with its unit"

    def _refused(
        self, argument: str, value: Given, need: str = "", advice: str = "", own: float | None = None
    ) -> UnitError:
        """The refusal of a value, with what to do or else an example of a right one: the `own` number with a unit."""
        example = self.example if own is None else f"{own:g} {read(self.example)[1]}"
        example = "" if advice else example
        return UnitError(argument=argument, need=need or self.need, given=quoted(value), example=example, advice=advice)

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> core_schema.CoreSchema:
        """Let the plan file read the same vocabulary: the field holds a quantity, in the unit it was given in."""

        def validate(value: Given, info: core_schema.ValidationInfo) -> Any:
            try:
                si = self.read(value, info.field_name or "value", scalar=True)
            except SigcalcError as error:
                raise PydanticCustomError("fault", "{error}", {"error": error}) from None
            return si if self.bare else Q(value)

        return core_schema.with_info_plain_validator_function(validate)


def _plain(values: list[Any] | tuple[Any, ...]) -> bool:
    return not any(isinstance(each, str | pint.Quantity) for each in values)


@lru_cache(maxsize=512)
def _to_si(symbol: str, si_symbol: str) -> tuple[float, float] | None:
    """Factor and offset that take a number in `symbol` to `si_symbol`; None where the dimensions differ."""
    given, wanted = unit(symbol), unit(si_symbol)
    if given.dimensionality != wanted.dimensionality:
        return None
    zero, one = (registry.Quantity(each, given).to(wanted).magnitude for each in (0.0, 1.0))
    return (one, 0.0) if zero == 0 else (one - zero, zero / (one - zero))


def kind_of(annotation: Any) -> QuantityKind | None:
    """The kind inside an annotation such as `Voltage` or `Voltage | None`, if there is one."""
    if typing.get_origin(annotation) is Annotated:
        return next((each for each in annotation.__metadata__ if isinstance(each, QuantityKind)), None)
    if typing.get_origin(annotation) in (typing.Union, types.UnionType):
        return next((kind for each in typing.get_args(annotation) if (kind := kind_of(each))), None)
    return None


def may_be_none(annotation: Any) -> bool:
    """Whether an annotation such as `Voltage | None` lets None mean "not given"."""
    return type(None) in typing.get_args(annotation)


# UL 1310, scope: a Class 2 supply gives at most 60 V of continuous DC (SELV of IEC 60335-1 ends lower, at 42 V between
# conductors under load); breakdown in reverse is not modelled below -20 V
Voltage = Annotated[Given, QuantityKind("voltage", "V", -60.0, 60.0, "9 V")]
SupplyVoltage = Annotated[Given, QuantityKind("supply voltage", "V", -20.0, 60.0, "9 V")]
ReverseVoltage = Annotated[Given, QuantityKind("reverse voltage", "V", 0.0, 1e3, "5 V")]
ContactVoltage = Annotated[Given, QuantityKind("contact voltage", "V", 0.0, 1e3, "24 V")]
Current = Annotated[Given, QuantityKind("current", "A", 0.0, 10.0, "10 mA")]
Resistance = Annotated[Given, QuantityKind("resistance", "ohm", 0.0, 1e9, "470 ohm")]
Power = Annotated[Given, QuantityKind("power", "W", 0.0, 1e3, "250 mW")]
Length = Annotated[Given, QuantityKind("length", "m", 0.0, 1e3, "150 mm")]
Area = Annotated[Given, QuantityKind("area", "m2", 0.0, 1e-2, "0.129 mm2")]
Time = Annotated[Given, QuantityKind("time", "s", 0.0, 1e10, "3 h")]
Hours = Annotated[Given, QuantityKind("time", "s", 0.0, 1e10, "3 h", shown="h")]
Temperature = Annotated[Given, QuantityKind("temperature", "K", 218.15, 428.15, "27 degC")]
TemperatureCoefficient = Annotated[Given, QuantityKind("temperature coefficient", "V/K", -0.01, 0.0, "-1.7 mV/K")]
ResistanceCoefficient = Annotated[Given, QuantityKind("temperature coefficient", "ppm/K", 0.0, 1e4, "100 ppm/K")]
ThermalResistance = Annotated[Given, QuantityKind("thermal resistance", "K/W", 0.0, 2e3, "400 K/W")]
LuminousIntensity = Annotated[Given, QuantityKind("luminous intensity", "cd", 0.0, 1e3, "20 mcd")]
Wavelength = Annotated[Given, QuantityKind("wavelength", "m", 360e-9, 830e-9, "625 nm")]
Charge = Annotated[Given, QuantityKind("charge", "Ah", 0.0, 1e4, "550 mAh")]
Capacitance = Annotated[Given, QuantityKind("capacitance", "F", 0.0, 1.0, "100 µF")]
Speed = Annotated[Given, QuantityKind("speed", "m/s", 0.0, 200.0, "100 km/h")]
FluxDensity = Annotated[Given, QuantityKind("flux density", "T", 0.0, 3.0, "2 mT")]
# from 1 AT, so that the current of the coil, given instead, is noticed
AmpereTurns = Annotated[Given, QuantityKind("magnetomotive force", "AT", 1.0, 500.0, "15 AT")]
RemanenceCoefficient = Annotated[
    Given, QuantityKind("temperature coefficient of remanence", "%/K", -0.5, 0.0, "-0.12 %/K")
]
Tolerance = Annotated[Given, QuantityKind("tolerance", "", 0.0, 0.5, "5 %", bare=True)]
Ratio = Annotated[Given, QuantityKind("fraction", "", 0.0, 1.0, "5 %", bare=True)]
Count = Annotated[Given, QuantityKind("count", "", 0.0, 1e6, "2", bare=True)]
