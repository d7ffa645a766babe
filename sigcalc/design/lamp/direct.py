"""Why a resistor at all: what an LED takes straight from a real source, which has an internal resistance of its own."""

from __future__ import annotations

from typing import Any

from ...errors import UnitError
from ...parts.led import LIT_FROM, Led
from ...parts.source import Adapter, Battery, Source
from ...units import Current, Power, Temperature, record, say, with_units
from ..findings import LOOK, STOP, Finding
from .led_string import as_led, loop_current

DARK, SURVIVES, MAY_SURVIVE, DESTROYED = "stays dark", "survives", "may survive", "destroyed"
VERDICTS = (DARK, SURVIVES, MAY_SURVIVE, DESTROYED)


@record
class DirectConnection:
    """What a bare LED takes from a source, least to most, and the verdict.

    The band spans the source's voltage and internal resistance and the LED's spread, all
    at the ambient temperature: a hot LED takes more still. `junction_temperature` goes
    with the nominal power; None where the LED has no thermal resistance. Where the
    verdict is "destroyed" the figures only show by how much the limits are passed.
    """

    current: Current
    current_min: Current
    current_max: Current
    led_power: Power
    junction_temperature: Any
    verdict: str
    source: Source
    led: Led


@with_units(scalar=True)
def connect_directly(source: Source, led: Led, ambient: Temperature = "25 degC") -> DirectConnection:
    """The LED straight across a battery or adapter: no resistor, no driver.

    The only limits are the source's internal resistance and the LED's own series
    resistance. Raises UnitError for anything but a Battery or Adapter and one Led, and
    DesignError for an LED with a constant drop on a source without resistance, or in air too hot for any current.
    """
    if not isinstance(source, Battery | Adapter):
        raise UnitError(
            f'source needs a Battery or an Adapter, but {type(source).__name__} came; try batteries["9 V alkaline"]'
        )
    string = (as_led(led).in_air(ambient),)
    least, nominal, most = (
        float(loop_current(volts, ohms, string, ambient, spread))
        for (volts, ohms), spread in zip(source.corners, (+1.0, 0.0, -1.0), strict=True)
    )
    power = nominal * float(string[0].model.voltage_si(nominal, ambient))
    thermal = string[0].si.thermal_resistance
    junction = None if thermal is None else ambient + power * thermal
    return DirectConnection.of(
        current=nominal,
        current_min=least,
        current_max=most,
        led_power=power,
        junction_temperature=junction,
        verdict=_verdict(string[0], least, nominal, most),
        source=source,
        led=string[0],
    )


def _verdict(led: Led, least: float, nominal: float, most: float) -> str:
    if least > led.si.max_current:
        return DESTROYED
    if most > led.si.max_current:
        return MAY_SURVIVE
    return SURVIVES if nominal > LIT_FROM else DARK


def _heat(result: DirectConnection) -> str:
    """That the junction passes its limit; never the temperature it would reach, which the lamp does not live to see."""
    limit = result.led.si.max_junction_temperature
    if limit is None or result.junction_temperature is None or result.junction_temperature <= limit:
        return ""
    return f" Its junction would pass the {say(limit, 'K')} it stands within moments."


def findings(result: DirectConnection) -> list[Finding]:
    """The verdict with its reason, in one finding."""
    si, led = result.si, result.led
    band = f"{say(si.current_min, 'A')} to {say(si.current_max, 'A')}, nominally {say(si.current, 'A')}"
    stands = f"the {led.name} stands {say(led.si.max_current, 'A')}"
    topic = f"no resistor on {result.source.name}"
    if result.verdict == DESTROYED:
        least = say(si.current_min, "A", 2)
        reason = f"Even the weakest source and the highest drop would give {least}, and {stands}.{_heat(result)}"
        return [Finding(STOP, topic, reason, "Put a resistor in the circuit.")]
    if result.verdict == MAY_SURVIVE:
        ohms = result.source.si.internal_resistance
        reason = (
            f"{band}, and {stands}. The source's own {say(ohms, 'ohm')} is all that holds the current down: "
            "the lamp may survive with this source and die with the next."
        )
        return [Finding(STOP, topic, reason, "Put a resistor in the circuit and know the current.")]
    if result.verdict == DARK:
        return [
            Finding(
                LOOK,
                topic,
                f"Only {band} flows: the source lies below the drop of the {led.name}.",
                "Use a higher voltage.",
            )
        ]
    reason = f"{band} flows, and {stands}, but only because this source is weak; the current is left to chance."
    return [Finding(LOOK, topic, reason, "Put a resistor in the circuit and know the current.")]
