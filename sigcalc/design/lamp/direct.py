"""An LED on a real source, with a resistor or without: what flows, and how much more for a little more voltage."""

from __future__ import annotations

from typing import Annotated, Any

from ...errors import UnitError
from ...parts.drive import ResistorDrive
from ...parts.led import LIT_FROM, Led
from ...parts.source import Adapter, Battery, Source
from ...units import (
    Count,
    Current,
    Power,
    QuantityKind,
    Resistance,
    SupplyVoltage,
    Temperature,
    Tolerance,
    Voltage,
    record,
    say,
    say_band,
    with_units,
)
from ..findings import FINE, LOOK, STOP, Finding, check_rating
from ..tolerance import Band, over_corners, source_bands
from .drive import SPREAD, as_led, loop_current, operate

DARK, SURVIVES, MAY_SURVIVE, DESTROYED = "stays dark", "survives", "may survive", "destroyed"
VERDICTS = (DARK, SURVIVES, MAY_SURVIVE, DESTROYED)
STEP = 0.1
"""The little more voltage, in V, that is asked about."""
ForwardVoltage = Annotated[Any, QuantityKind("voltage", "V", 1e-3, 20.0, "1.8 V")]


@record
class FromSource:
    """The current of an LED from a source through a resistance (0 ohm: a bare wire), least to most, and the verdict.

    The band spans the source's voltage and internal resistance, the resistor's tolerance and the LED's spread, all at
    the ambient temperature: a hot LED carries more still. `terminal_voltage` is what a meter shows at the source while
    the current flows; `added` is by how much the current grows when the source's voltage does by `step`.
    `junction_temperature` goes with the nominal power; None where the LED has no thermal resistance. Where the verdict
    is "destroyed" the figures only show by how much the limits are passed.
    """

    current: Current
    current_min: Current
    current_max: Current
    open_voltage: SupplyVoltage
    internal_resistance: Resistance
    terminal_voltage: Voltage
    step: Voltage
    added: Current
    led_power: Power
    junction_temperature: Temperature | None
    resistance: Resistance
    source: Source
    led: Led

    @property
    def verdict(self) -> str:
        """What becomes of the LED: one of VERDICTS."""
        si, limit = self.si, self.led.si.max_current
        if si.current_min > limit:
            return DESTROYED
        if si.current_max > limit:
            return MAY_SURVIVE
        return SURVIVES if si.current > LIT_FROM else DARK

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The verdict with its reason; with a resistor what the ratings say, and whether the spread passes one."""
        return self._with_resistor() if self.si.resistance else (self._bare(),)

    def _bare(self) -> Finding:
        si, led, hottest = self.si, self.led, self.led.si.max_junction_temperature
        band = say_band(si.current_min, si.current, si.current_max, "A")
        topic, rated = f"no resistor on {self.source.name}", f"its limit is {say(led.si.max_current, 'A')}"
        grade, remedy = STOP, "Put a resistor in the circuit."
        if self.verdict == DARK:
            grade, remedy = LOOK, "Use a higher voltage."
            reason = f"Only {band} flows: the source's voltage is below the drop of the {led.name}."
        elif self.verdict == SURVIVES:
            grade, weak = LOOK, "That is so only because this source is weak: it is left to chance."
            reason = f"The current is {band}; {rated}. {weak}"
        elif self.verdict == MAY_SURVIVE:
            reason = (
                f"The current through the {led.name} is {band}; {rated}. Only the {say(si.internal_resistance, 'ohm')} "
                "inside the source hold the current down: the lamp may survive with this source and die with the next."
            )
        else:
            least = say(si.current_min, "A", 2)
            reason = f"Even the weakest source would push {least} through an LED with the highest drop; {rated}."
            # never the temperature it would reach, for the lamp dies before
            if hottest is not None and si.junction_temperature is not None and si.junction_temperature > hottest:
                reason += f" Its junction would pass its limit of {say(hottest, 'K')} within moments."
        return Finding(grade, topic, reason, remedy)

    def _with_resistor(self) -> tuple[Finding, ...]:
        si, limit = self.si, self.led.si.max_current
        found = operate(self.terminal_voltage, ResistorDrive(self.resistance), self.led).findings
        if si.current_max <= limit:
            what = f"With bought parts the current through the {self.led.name}"
            spread = check_rating(what, si.current_max, limit, "", unit="A", topic="LED current")
            return tuple(spread if each.grade == FINE else each for each in found)
        if si.current > limit:
            return found
        reason = (
            f"With bought parts and this source the current may reach {say(si.current_max, 'A')}; the limit of the "
            f"{self.led.name} is {say(limit, 'A')}."
        )
        spread = Finding(LOOK, "spread of the parts", reason, "Use a larger resistance.")
        return (*(each for each in found if each.grade != FINE), spread)


@with_units(scalar=True)
def connect_to_source(
    source: Source,
    led: Led,
    resistance: Resistance = "0 ohm",
    tolerance: Tolerance = 0.05,
    ambient: Temperature = "25 degC",
) -> FromSource:
    """The LED with a resistor (0 ohm: a bare wire) on a fresh battery or an adapter.

    The source is its open voltage behind its internal resistance; the resistor has the `tolerance`. Without a resistor
    only the source's internal resistance and the LED's own limit the current. Raises UnitError for anything but a
    Battery or Adapter and one Led, and DesignError for an LED with a constant drop where no resistance at all is left,
    or in air too hot for any current.
    """
    if not isinstance(source, Battery | Adapter):
        given, example = type(source).__name__, 'batteries["9 V alkaline"]'
        raise UnitError(argument="source", need="a Battery or an Adapter", given=given, example=example)
    string = (as_led(led).in_air(ambient),)
    band = over_corners(
        lambda source, ohms, spread: loop_current(source[0], source[1] + ohms, string, ambient, spread),
        source=source_bands(source),
        ohms=Band.within(resistance, tolerance),
        spread=SPREAD,
    )
    volts, inside = (each.nominal for each in source_bands(source))
    more = float(loop_current(volts + STEP, inside + resistance, string, ambient))
    power = band.nominal * float(string[0].model.voltage_si(band.nominal, ambient))
    thermal = string[0].si.thermal_resistance
    return FromSource.of(
        current=band.nominal,
        current_min=band.least,
        current_max=band.most,
        open_voltage=volts,
        internal_resistance=inside,
        terminal_voltage=volts - band.nominal * inside,
        step=STEP,
        added=more - band.nominal,
        led_power=power,
        junction_temperature=None if thermal is None else ambient + power * thermal,
        resistance=resistance,
        source=source,
        led=string[0],
    )


def connect_directly(source: Source, led: Led, ambient: Temperature = "25 degC") -> FromSource:
    """The LED straight across a battery or adapter: no resistor, no driver. See `connect_to_source`."""
    return connect_to_source(source, led, ambient=ambient)


@record
class Steepness:
    """Two voltages straight across an LED, and a resistor with the same current at the first of them.

    `times` is how many times as much flows through the LED at the second voltage, `resistor_times`
    the same of the resistor. `lit_from` is the voltage at which the LED begins to be seen.
    """

    voltage: Voltage
    step: Voltage
    current: Current
    current_after: Current
    times: Count
    resistance: Resistance
    resistor_after: Current
    resistor_times: Count
    lit_from: Voltage
    led: Led

    @property
    def dark(self) -> bool:
        """Whether too little flows at the first voltage to speak of: under 1 µA."""
        return self.si.current < LIT_FROM / 10


@with_units(scalar=True)
def steepness(led: Led, voltage: ForwardVoltage, step: ForwardVoltage = "0.1 V") -> Steepness:
    """The current of an LED at a voltage and at `step` more, beside a resistor that starts with the same current."""
    model = as_led(led).model
    before, after = (float(model.current_si(volts)) for volts in (voltage, voltage + step))
    ohms = voltage / before
    return Steepness.of(
        voltage=voltage,
        step=step,
        current=before,
        current_after=after,
        times=after / before,
        resistance=ohms,
        resistor_after=(voltage + step) / ohms,
        resistor_times=1 + step / voltage,
        lit_from=float(model.voltage_si(LIT_FROM)),
        led=led,
    )
