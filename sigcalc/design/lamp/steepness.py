"""How much more current a little more voltage pushes through an LED, and how much more through a resistor."""

from __future__ import annotations

from ...errors import RangeError
from ...parts.led import LIT_FROM, Led
from ...units import Count, Current, Resistance, Voltage, record, with_units
from .led_string import as_string


@record
class Steepness:
    """Two voltages straight across an LED, and a resistor that takes the same current at the first of them.

    `times` is how many times as much the LED takes at the second voltage, `resistor_times`
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
def steepness(led: Led, voltage: Voltage, step: Voltage = "0.1 V") -> Steepness:
    """What an LED takes at a voltage and at `step` more, beside a resistor that starts with the same current.

    Raises RangeError where the voltage is not forward.
    """
    model = as_string(led)[0].model
    if not voltage > 0 or not step > 0:
        raise RangeError("voltage and step need to be above 0 V; give for example 1.8 V and 0.1 V")
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
