"""How much more current a little more voltage pushes through an LED, and how much more through a resistor."""

from __future__ import annotations

from ..errors import RangeError
from ..parts.led import LIT_FROM, Led
from ..parts.string import as_string
from ..units import Count, Current, Resistance, Voltage, door, record, say


@record
class Steepness:
    """Two voltages straight across an LED, and a resistor that takes the same current at the first of them.

    `times` is how many times as much the LED takes at the second voltage, `resistor_times`
    the same of the resistor.
    """

    voltage: Voltage
    step: Voltage
    current: Current
    current_after: Current
    times: Count
    resistance: Resistance
    resistor_after: Current
    resistor_times: Count
    led: Led


@door(scalar=True)
def steepness(led: Led, voltage: Voltage, step: Voltage = "0.1 V") -> Steepness:
    """What an LED takes at a voltage and at `step` more, beside a resistor that starts with the same current.

    Raises RangeError where the voltage is not forward, and where too little flows to speak of (under 1 µA).
    """
    model = as_string(led)[0].model
    if not voltage > 0 or not step > 0:
        raise RangeError("voltage and step need to be above 0 V; give for example 1.8 V and 0.1 V")
    before, after = (float(model.current_si(volts)) for volts in (voltage, voltage + step))
    if before < LIT_FROM / 10:
        raise RangeError(
            f"voltage {say(voltage, 'V')} pushes next to nothing through the {led.name}; "
            f"give at least {say(float(model.voltage_si(LIT_FROM)), 'V')}"
        )
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
        led=led,
    )
