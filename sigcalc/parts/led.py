"""Light-emitting diodes (and plain diodes): two models of voltage against current, the part itself, and the tables.

The tables `leds` and `diodes` hold typical figures of data sheets, not guaranteed for the one you bought.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator, Sequence
from typing import Annotated, Any

import numpy as np

from ..errors import DesignError, RangeError, SigcalcError, UnitError, UnknownNameError
from ..physics import diode, light
from ..physics.diode_fit import IDEALITY_BOUNDS, ExponentialFit, fit_exponential
from ..units import (
    Count,
    Current,
    LuminousIntensity,
    Power,
    QuantityKind,
    Resistance,
    Temperature,
    TemperatureCoefficient,
    ThermalResistance,
    Voltage,
    Wavelength,
    kind_of,
    record,
    say,
    with_units,
)
from ..units.reading import quoted
from .table import Figures, PartsTable, from_rows, need_rising, read_figures, unknown

LIT_FROM = 10e-6
"""A lamp counts as lit above this current, in A."""
USUAL_LIGHT = (1 / 3, 3.0)
"""Least and most light of a bought part as shares of the typical, where its sheet says nothing: together 9 : 1, a bit
more than what the order codes of one type span (HLMP-1301 sheet of Broadcom: from 3.4 to 27.6 mcd at 10 mA)."""
METER_ERROR = 15e-3
"""In V: about what a cheap meter errs by at 2 V, all readings alike. Common practice, no source."""
POOR_ABOVE = METER_ERROR
"""In V: a residual beyond this is called poor."""
LEAST_VOLTAGE = -20.0
"""In V: below it breakdown in reverse is so near, for any LED, that the models give no figure."""
Triple = tuple[Any, Any, Any]
"""Saturation current in A, emission voltage (ideality times kT/q) in V, series resistance in ohm."""

# an ultraviolet LED in the cold, a large germanium diode
SaturationCurrent = Annotated[Any, QuantityKind("saturation current", "A", 1e-50, 1e-3, "1e-21 A")]
Ideality = Annotated[Any, QuantityKind("ideality", "", *IDEALITY_BOUNDS, "1.8", bare=True)]
Drop = Annotated[Any, QuantityKind("forward voltage", "V", 1e-9, 60.0, "2 V")]
DropSpread = Annotated[Any, QuantityKind("voltage", "V", 0.0, 60.0, "0.2 V")]
MostCurrent = Annotated[Any, QuantityKind("current", "A", 1e-9, 10.0, "20 mA")]
MostReverse = Annotated[Any, QuantityKind("reverse voltage", "V", 0.01, 1e3, "5 V")]

# the drop of a measured red AlInGaP lamp at 10 mA (github erg0dic/pnjunction, 264 to 371 K, straight line)
_MEASURED_COEFFICIENT = "-1.72 mV/K"
_COEFFICIENT_CURRENT = 10e-3
_DIM, _DOUBT_STEPS = 1e-3, 20  # A; currents at which the fit's doubts are looked at
_PRIORS = "led_priors.csv"
_ANY, _INGAN = "any", "ingan"  # rows of the table of assumptions that are no colour


@record
class Fit:
    """Where a model's parameters come from.

    `points` is how many points were given; `residual` the root mean square of measured minus fitted voltage, None where
    no points are left over to judge by; `poor` says that it is too large to trust, or that the ideality is at the edge
    of what any diode has. `assumed` names the parameters that rest on an assumption, and `assumption` says which, with
    its spread. `covariance` belongs to (ln saturation current, ideality, series resistance), in SI; it holds what is
    usual for the colour as well, even where there are points enough without it.
    """

    points: int
    residual: Voltage | None
    poor: bool
    assumed: tuple[str, ...]
    assumption: str
    ideality_spread: Count
    series_resistance_spread: Resistance
    covariance: np.ndarray


class _Model:
    """What both models answer to: `voltage_si` and `current_si` in SI, and the same at the door for units."""

    @with_units
    def voltage(self, current: Current, temperature: Temperature | None = None) -> Voltage:
        """The forward voltage at a current; `temperature` is the junction's (the model's own if not given)."""
        return self.voltage_si(current, temperature)

    @with_units
    def current(self, voltage: Voltage, temperature: Temperature | None = None) -> Current:
        """The current at a voltage across the part (negative: in reverse, breakdown not modelled).

        Raises RangeError below -20 V, where the lack of breakdown would make any figure worthless.
        """
        if np.any(np.less(voltage, LEAST_VOLTAGE)):
            given, advice = say(np.min(voltage), "V"), "keep an LED's reverse voltage within its rating, often 5 V"
            need = f"to be {say(LEAST_VOLTAGE, 'V')} or more, since breakdown in reverse is not modelled"
            raise RangeError(argument="voltage", need=need, given=given, advice=advice)
        return self.current_si(voltage, temperature)


@record
class ConstantDrop(_Model):
    """The rule-of-thumb model: the drop is the same at every current, and below it nothing flows.

    `forward_voltage` is that drop. Good for choosing a resistor on a supply well above
    the drop; silent about what happens without a resistor, near the drop, or when warm.
    """

    forward_voltage: Drop

    def voltage_si(self, current: Any, temperature: Any = None, shift: Any = 0.0) -> Any:  # noqa: ARG002 as Exponential has it
        """The drop in V at a current in A (any forward current: the drop is constant)."""
        return self.si.forward_voltage + shift + 0.0 * np.asarray(current)

    def current_si(self, voltage: Any, temperature: Any = None, shift: Any = 0.0) -> Any:  # noqa: ARG002 as Exponential has it
        """0 A below the drop; at or above it the model has no answer and DesignError is raised."""
        drop = self.si.forward_voltage + shift
        if np.any(np.asarray(voltage) >= drop):
            raise DesignError(
                f"voltage {say(np.max(voltage), 'V')} is at or above the constant drop of {say(np.max(drop), 'V')}: "
                "this model then gives no current; put a resistance in the circuit, or use an Exponential model"
            )
        return 0.0 * np.asarray(voltage, float)


@record
class Exponential(_Model):
    """The junction model V = n (kT/q) ln(1 + I/Is) + I Rs of one LED or diode.

    `saturation_current`, `ideality` and `series_resistance` hold at `temperature`. At
    another temperature the saturation current is rescaled by an effective energy gap,
    chosen so that the drop at 10 mA changes by `temperature_coefficient`, as measured;
    left fixed, the computed drop would rise with temperature, while a real one falls.
    Reverse breakdown is not in the model. `fit` says where fitted parameters come from.
    """

    saturation_current: SaturationCurrent
    ideality: Ideality
    series_resistance: Resistance
    temperature: Temperature = "27 degC"
    temperature_coefficient: TemperatureCoefficient = _MEASURED_COEFFICIENT
    fit: Fit | None = None

    def __post_init__(self) -> None:
        if self._reference_voltage > -LEAST_VOLTAGE:
            raise RangeError(
                f"saturation_current {self.si.saturation_current:g} A with ideality {self.si.ideality:g} would need "
                f"{say(self._reference_voltage, 'V')} for 10 mA, which no LED does; check both"
            )

    @classmethod
    def fitted(
        cls,
        points: Sequence[Any],
        temperature: Any = "27 degC",
        colour: str | None = None,
        temperature_coefficient: Any = None,
    ) -> Exponential:
        """The model through measured or data-sheet points.

        Parameters
        ----------
        points: pairs (voltage, current), each as text or quantity, in any order; one data-sheet line is one point
        temperature: of the junction when the points were taken
        colour: "red", "green", ... picks the assumed ideality and series resistance where fewer than three points
            leave them open; the assumed ones are named with their spread in `.fit.assumed`
        temperature_coefficient: of the drop at 10 mA; the colour's typical one if not given

        Raises RangeError or UnitError for points that no LED shows (falling voltage, zero current).
        """
        voltages, currents = read_points(points)
        kelvin = kind_of(Temperature).read(temperature, "temperature", scalar=True)
        usual = _usual(_ANY if colour is None else colour)
        solved = fit_exponential(
            voltages,
            currents,
            float(diode.thermal_voltage(kelvin)),
            ideality_prior=usual["ideality"],
            series_resistance_prior=usual["series_resistance"],
        )
        kind = kind_of(SaturationCurrent)
        kind.check(solved.saturation_current, "points: the nearest curve")
        return cls(
            kind.quantity(solved.saturation_current),
            solved.ideality,
            kind_of(Resistance).quantity(solved.series_resistance),
            temperature,
            usual["temperature_coefficient"] if temperature_coefficient is None else temperature_coefficient,
            _story(solved, len(voltages), usual, colour),
        )

    def triple(self, temperature: Any = None, shift: Any = 0.0) -> Triple:
        """Saturation current, emission voltage and series resistance in SI at a junction temperature in K.

        `shift` raises the drop of the part by so many volts at every current.
        """
        si, reference = self.si, self.si.temperature
        kelvin = reference if temperature is None else temperature
        emission = si.ideality * diode.thermal_voltage(kelvin)
        saturation = si.saturation_current
        if temperature is not None:
            gap = diode.effective_energy_gap(self._reference_voltage, si.temperature_coefficient, reference)
            saturation = diode.saturation_current_at(kelvin, saturation, si.ideality, gap, reference)
        return saturation * np.exp(-np.asarray(shift) / emission), emission, si.series_resistance

    @property
    def _reference_voltage(self) -> float:
        emission = self.si.ideality * diode.thermal_voltage(self.si.temperature)
        return emission * math.log(_COEFFICIENT_CURRENT / self.si.saturation_current)

    def drop_doubt(self, most_current: float) -> float:
        """How far in V the drop of the very part may be off its fitted curve.

        Two standard deviations of the fit where it is worst, from 1 mA (at which a lamp is dim) to a current in A, and
        the meter's error; half the drop at 1 mA at the most: no lamp of a colour differs by more.
        """
        current = np.geomspace(min(_DIM, most_current), most_current, _DOUBT_STEPS)
        saturation, emission, _ = self.triple()
        thermal = emission / self.si.ideality
        slopes = np.stack([np.full_like(current, -emission), thermal * np.log(current / saturation), current])
        variance = np.einsum("ip,ij,jp->p", slopes, self.fit.covariance, slopes)
        doubt = math.hypot(2 * math.sqrt(max(variance.max(), 0.0)), METER_ERROR)
        return min(doubt, float(self.voltage_si(_DIM)) / 2)

    def voltage_si(self, current: Any, temperature: Any = None, shift: Any = 0.0) -> Any:
        """The drop in V at a current in A."""
        return diode.exponential_voltage(current, *self.triple(temperature, shift))

    def current_si(self, voltage: Any, temperature: Any = None, shift: Any = 0.0) -> Any:
        """The current in A at a voltage in V across the part."""
        return diode.exponential_current(voltage, *self.triple(temperature, shift))


def read_points(points: Any) -> tuple[np.ndarray, np.ndarray]:
    """Voltages in V and currents in A of points given as pairs; RangeError for what no LED shows."""
    pairs = list(points) if isinstance(points, Sequence | Iterator) and not isinstance(points, str | bytes) else []
    odd = [each for each in pairs if isinstance(each, str | bytes) or not isinstance(each, Sequence) or len(each) != 2]
    if odd or not pairs:
        raise UnitError(
            argument="points",
            need='pairs of voltage and current, such as [("1.9 V", "5 mA"), ("2.0 V", "20 mA")]',
            given=quoted(odd[0] if odd else points),
        )
    try:
        voltages = np.array([kind_of(Voltage).read(each, "voltage", scalar=True) for each, _ in pairs])
        currents = np.array([kind_of(Current).read(each, "current", scalar=True) for _, each in pairs])
    except SigcalcError as refusal:
        raise type(refusal)(f"points: {refusal}") from None
    if np.any(currents <= 0) or np.any(voltages <= 0):
        need = "forward voltages and currents above zero"
        raise RangeError(argument="points", need=need, advice="leave out points without current")
    order = np.argsort(currents, kind="stable")
    falling = (np.diff(voltages[order]) < 0) & (np.diff(currents[order]) > 0)
    if np.any(falling):
        at = order[int(np.argmax(falling)) + 1]
        raise RangeError(
            f"points: the voltage falls to {say(voltages[at], 'V')} where the current rises to "
            f"{say(currents[at], 'A')}; an LED's voltage rises with its current, so check the readings "
            "and that each is written as (voltage, current)"
        )
    return voltages, currents


def _usual(row: Any) -> dict[str, Any]:
    """What is usual for a colour: (value, spread) in SI of ideality and series resistance; the temperature coefficient.

    Raises UnknownNameError for a colour without an assumption.
    """
    table = read_figures(_PRIORS)
    if not isinstance(row, str) or row not in table:
        plain = [each for each in table if each not in (_ANY, _INGAN) and " " not in each]
        raise UnknownNameError(unknown("colour", row, plain))

    said, kinds = table[row], {"ideality": Count, "series_resistance": Resistance}
    usual = {
        name: tuple(kind_of(kind).read(said[key].text, key) for key in (name, f"{name}_spread"))
        for name, kind in kinds.items()
    }
    return usual | {"temperature_coefficient": said["temperature_coefficient"].text}


def usual_colour(colour: str, technology: str) -> str:
    """The row of the table of assumptions that fits a colour and chip technology best."""
    row = f"{colour} {technology.lower()}"
    return _INGAN if technology == "InGaN" else row if row in read_figures(_PRIORS) else colour


def _story(solved: ExponentialFit, points: int, usual: dict[str, Any], colour: str | None) -> Fit:
    """What a fit tells of itself."""
    covariance, edge = solved.covariance, any(abs(solved.ideality - bound) < 1e-6 for bound in IDEALITY_BOUNDS)
    if not solved.assumed:
        # What is left of the doubts once the usual ideality and series resistance count as measurements too: points
        # close together tell next to nothing of the curve elsewhere, and no LED is as odd as they allow.
        doubts = np.diag([usual["ideality"][1], usual["series_resistance"][1]]) ** 2
        gain = covariance[:, 1:] @ np.linalg.inv(covariance[1:, 1:] + doubts)
        covariance = covariance - gain @ covariance[1:, :]
    said = {
        "ideality": "ideality {:g} ± {:g}".format(*usual["ideality"]),
        "series_resistance": "series resistance {:g} ± {:g} Ω".format(*usual["series_resistance"]),
    }
    of = "LEDs of any colour" if colour is None else f"{colour} LEDs"
    listed = ", ".join(said[name] for name in solved.assumed)
    return Fit.of(
        points=points,
        residual=solved.residual,
        poor=(solved.residual is not None and solved.residual > POOR_ABOVE) or edge,
        assumed=solved.assumed,
        assumption=f"too few points: assumed as usual for {of}: {listed}" if listed else "",
        ideality_spread=float(solved.spreads[1]),
        series_resistance_spread=float(solved.spreads[2]),
        covariance=covariance,
    )


@record
class Led:
    """A light-emitting diode.

    `model` answers for voltage and current of the typical part; a bought part's drop may
    lie up to `drop_below` lower or `drop_above` higher at every current. Where they are not
    given, the part is your own: how far its drop may be off a fitted curve (see
    `Exponential.drop_doubt`), and 0 V where nothing was fitted. `intensity`, `intensity_min` and `intensity_max`
    are the typical, least and most luminous intensity on the axis at `intensity_current`; where the
    last two are not given, `USUAL_LIGHT` is used. `wavelength` is the dominant one, by which
    the eye names the hue. `max_current` holds in air up to `derate_from`; from there it falls in a
    straight line to nothing at `zero_at`. What is given here for an LED without a data sheet is from
    memory, and cautious.
    """

    name: str
    colour: str
    model: ConstantDrop | Exponential
    max_current: MostCurrent
    max_reverse_voltage: MostReverse = "5 V"
    drop_below: DropSpread | None = None
    drop_above: DropSpread | None = None
    intensity: LuminousIntensity | None = None
    intensity_min: LuminousIntensity | None = None
    intensity_current: MostCurrent | None = None
    wavelength: Wavelength | None = None
    max_power: Power | None = None
    max_junction_temperature: Temperature | None = None
    thermal_resistance: ThermalResistance | None = None
    derate_from: Temperature = "50 degC"
    zero_at: Temperature = "100 degC"
    note: str = ""
    intensity_max: LuminousIntensity | None = None

    def __post_init__(self) -> None:
        si = self.si
        if not isinstance(self.model, ConstantDrop | Exponential):
            need, example = "a ConstantDrop or an Exponential", 'ConstantDrop("2 V")'
            raise UnitError(argument="model", need=need, given=type(self.model).__name__, example=example)
        if not si.zero_at > si.derate_from:
            need = f"to be above derate_from, {say(si.derate_from, 'K')}"
            raise RangeError(argument="zero_at", need=need, given=say(si.zero_at, "K"))
        if (si.intensity is None) != (si.intensity_current is None):
            raise UnitError(f"intensity of {self.name} needs intensity_current beside it: light is stated at a current")
        need_rising(self, "intensity_min", "intensity", "intensity_max")
        fitted = isinstance(self.model, Exponential) and self.model.fit is not None
        for name in ("drop_below", "drop_above"):
            if getattr(si, name) is None:
                setattr(si, name, self.model.drop_doubt(si.max_current) if fitted else 0.0)
        if isinstance(self.model, ConstantDrop) and not si.drop_below < self.model.si.forward_voltage:
            need = f"to be less than its drop of {say(self.model.si.forward_voltage, 'V')}"
            raise RangeError(argument="drop_below", need=need, given=say(si.drop_below, "V"))

    def max_current_in(self, ambient: float) -> float:
        """The most current in A that it may carry in air of so many K; 0 where it is too hot for any."""
        si = self.si
        share = (si.zero_at - ambient) / (si.zero_at - si.derate_from)
        return si.max_current * min(max(share, 0.0), 1.0)

    def in_air(self, ambient: float) -> Led:
        """The same LED, named and rated for air of so many K. Raises DesignError where it may carry nothing."""
        most = self.max_current_in(ambient)
        if most == self.si.max_current:
            return self
        if most < kind_of(MostCurrent).low:
            raise DesignError(
                f"air at {say(ambient, 'K')} leaves the {self.name} no current at all; "
                f"put it where it is cooler than {say(self.si.zero_at, 'K')}"
            )
        name = f"{self.name} in air at {say(ambient, 'K')}"
        return dataclasses.replace(self, name=name, max_current=kind_of(Current).quantity(most))

    def voltage(self, current: Any, temperature: Any = None) -> Any:
        """The forward voltage at a current; `temperature` is the junction's (the model's own if not given)."""
        return self.model.voltage(current, temperature)

    def current(self, voltage: Any, temperature: Any = None) -> Any:
        """The current at a voltage straight across the LED (negative: in reverse, breakdown not modelled).

        Raises RangeError below -20 V, and DesignError at or above the drop of a ConstantDrop.
        """
        return self.model.current(voltage, temperature)

    @with_units
    def light(self, current: Current) -> LuminousIntensity:
        """Typical luminous intensity on the axis at a current, taken as proportional to the current.

        Raises UnitError where the part has no intensity. Source of the straight line: measured
        light against current, correlation 0.999 (see `physics.light.intensity_at`).
        """
        return self.light_si(current)

    def light_si(self, current: Any) -> Any:
        """The same in candela for a current in A."""
        if self.intensity is None:
            raise UnitError(
                f"{self.name} has no luminous intensity; give intensity and intensity_current to compare light"
            )
        return light.intensity_at(current, self.si.intensity, self.si.intensity_current)

    @property
    def light_shares(self) -> tuple[float, float]:
        """The least and the most light of a bought part at the same current, as shares of the typical."""
        ends = (self.si.intensity_min, self.si.intensity_max)
        pairs = zip(ends, USUAL_LIGHT, strict=True)
        return tuple(usual if end is None or not self.si.intensity else end / self.si.intensity for end, usual in pairs)

    def __str__(self) -> str:
        return f"{self.name} ({self.colour}, up to {say(self.si.max_current, 'A')})"


_OF_THE_MODEL = ("technology", "test_current", "forward_voltage", "forward_voltage_min", "forward_voltage_max")


def _led(name: str, figures: Figures) -> Led:
    """An LED from its rows: the model goes through the typical point, the rest is assumed by colour and technology."""
    colour, volts = figures["colour"].value, kind_of(Voltage)
    point = (figures["forward_voltage"].text, figures["test_current"].text)
    typical, least, most = (
        volts.read(figures[f"forward_voltage{end}"].text, "forward_voltage") for end in ("", "_min", "_max")
    )
    assumed = usual_colour(colour, figures["technology"].value)
    return from_rows(Led, *_OF_THE_MODEL)(
        name,
        figures,
        model=Exponential.fitted([point], temperature="25 degC", colour=assumed),
        drop_below=volts.quantity(typical - least),
        drop_above=volts.quantity(most - typical),
    )


def _diode(name: str, figures: Figures) -> Led:
    """A plain silicon diode; it has the same model as an LED and no light."""
    names = ("saturation_current", "ideality", "series_resistance", "temperature_coefficient")
    model = Exponential(**{key: figures[key].text for key in names})
    return from_rows(Led, *names)(name, figures, colour="none", model=model)


leds: PartsTable[Led] = PartsTable("LED", "leds.csv", _led)
diodes: PartsTable[Led] = PartsTable("diode", "diodes.csv", _diode)
