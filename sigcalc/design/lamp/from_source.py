"""An LED on a real source, with a resistor or without: what flows, and how much more for a little more voltage."""

from __future__ import annotations

from ...errors import UnitError
from ...parts.led import Led
from ...parts.source import Adapter, Battery, Source
from ...units import Current, Ratio, Resistance, SupplyVoltage, Voltage, record, say, with_units
from ..findings import LOOK, Finding
from .led_string import as_string, loop_current

STEP = 0.1
"""The little more voltage, in V, that is asked about."""


@record
class FromSource:
    """What an LED takes from a source through a resistance.

    The band spans the source's voltage and internal resistance, the resistor's tolerance
    and the LED's spread. `terminal_voltage` is what a meter shows at the source while the
    current flows; `added` is by how much the current grows when the source's voltage does
    by `step`.
    """

    current: Current
    current_min: Current
    current_max: Current
    open_voltage: SupplyVoltage
    internal_resistance: Resistance
    terminal_voltage: Voltage
    step: Voltage
    added: Current
    resistance: Resistance
    source: Source
    led: Led


@with_units(scalar=True)
def connect_to_source(
    source: Source, led: Led, resistance: Resistance = "0 ohm", tolerance: Ratio = 0.05
) -> FromSource:
    """The LED with a resistor (0 ohm: a bare wire) on a fresh battery or an adapter.

    The source is its open voltage behind its internal resistance; the resistor has the
    `tolerance`. Raises UnitError for anything but a Battery or Adapter and one Led, and
    DesignError for an LED with a constant drop where no resistance at all is left.
    """
    if not isinstance(source, Battery | Adapter):
        came = type(source).__name__
        raise UnitError(f'source needs a Battery or an Adapter, but {came} came; try batteries["9 V alkaline"]')
    string = as_string(led)
    factors = (1 + tolerance, 1.0, 1 - tolerance)
    least, nominal, most = (
        float(loop_current(volts, inside + resistance * factor, string, None, spread))
        for (volts, inside), factor, spread in zip(source.corners, factors, (1.0, 0.0, -1.0), strict=True)
    )
    volts, inside = source.corners[1]
    more = float(loop_current(volts + STEP, inside + resistance, string))
    return FromSource.of(
        current=nominal,
        current_min=least,
        current_max=most,
        open_voltage=volts,
        internal_resistance=inside,
        terminal_voltage=volts - nominal * inside,
        step=STEP,
        added=more - nominal,
        resistance=resistance,
        source=source,
        led=string[0],
    )


def findings(result: FromSource) -> list[Finding]:
    """What the band says beyond the nominal current, which `drive.findings` judges: nothing, or one warning."""
    si, led = result.si, result.led
    if not si.current <= led.si.max_current < si.current_max:
        return []
    reason = (
        f"With bought parts and this source up to {say(si.current_max, 'A')} may flow, more than the "
        f"{say(led.si.max_current, 'A')} that the {led.name} stands."
    )
    return [Finding(LOOK, "spread of the parts", reason, "Use a larger resistance.")]
