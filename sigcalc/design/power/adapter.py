"""What an adapter really gives at a load, regulated or not, and the resistor that is right for it."""

from __future__ import annotations

from collections.abc import Sequence

from ...errors import DesignError
from ...parts.led import Led
from ...parts.resistor import at_least
from ...parts.source import Adapter, as_adapter
from ...units import Current, Q, Ratio, Resistance, SupplyVoltage, Voltage, record, say, say_band, with_units
from ..findings import FINE, LOOK, STOP, Finding
from ..lamp.led_string import LedString, as_string, loop_current, string_voltage
from ..lamp.series_resistance import LEAST_HEADROOM, needed_resistance

MOST_LOAD = 0.8
"""The share of its rated current that an adapter is asked for at most: common practice, no source."""


@record
class AdapterVoltage:
    """What an adapter gives at a load: the mean voltage with its band, and how far ripple swings about it.

    `peak` is the most that the load meets, ripple included; `share` is the load against
    the rated current.
    """

    load: Current
    voltage: SupplyVoltage
    voltage_min: SupplyVoltage
    voltage_max: SupplyVoltage
    ripple: Voltage
    peak: SupplyVoltage
    share: float
    adapter: Adapter


@with_units(scalar=True)
def adapter_voltage(adapter: Adapter, load: Current) -> AdapterVoltage:
    """The voltage of an adapter at a load: a straight line from no load to the rated point.

    Ripple from peak to valley grows with the load in the same way. Raises DesignError
    beyond the rated current, where an adapter sags, overheats or switches itself off.
    """
    si = as_adapter(adapter).si
    if load > si.max_current * (1 + 1e-9):
        raise DesignError(
            f"load {say(load, 'A')} is more than the {say(si.max_current, 'A')} that the {adapter.name} adapter is "
            "rated for; feed fewer signals from it, or take a larger one"
        )
    least, nominal, most = (volts - ohms * load for volts, ohms in adapter.corners)
    ripple = adapter.ripple * si.voltage * load / si.max_current
    return AdapterVoltage.of(
        load=load,
        voltage=nominal,
        voltage_min=least,
        voltage_max=most,
        ripple=ripple,
        peak=most + ripple / 2,
        share=load / si.max_current,
        adapter=adapter,
    )


def findings(result: AdapterVoltage) -> list[Finding]:
    """The headroom left of the rated current, and how far the voltage is from what is printed."""
    si, adapter = result.si, result.adapter
    share = f"{say(si.load, 'A')} is {say(result.share, '', 2)} of what the {adapter.name} adapter is rated for"
    if result.share > MOST_LOAD:
        headroom = Finding(
            LOOK,
            "headroom",
            f"{share}; more than {say(MOST_LOAD, '')} leaves no room for the next signal (common practice).",
            "Take a larger adapter or fewer signals.",
        )
    else:
        headroom = Finding(
            FINE, "headroom", f"{share}, with room to spare: {say(MOST_LOAD, '')} is the most (common practice)."
        )
    band = say_band(si.voltage_min, si.voltage, si.voltage_max, "V")
    if adapter.regulated:
        return [headroom, Finding(FINE, "voltage", f"It holds {band}.")]
    reason = (
        f"It is not regulated: at {say(si.load, 'A')} it gives {band}, with ripple up to {say(si.peak, 'V')}, and only "
        f"at {say(adapter.si.max_current, 'A')} the {say(adapter.si.voltage, 'V')} that are printed on it."
    )
    remedy = "Choose resistors for the voltage at your load, or take a regulated adapter."
    return [headroom, Finding(LOOK, "voltage", reason, remedy)]


@record
class AdapterResistor:
    """The resistor for LEDs on an adapter, and what flows through it.

    The band spans adapter, resistor and LEDs; `current_peak` adds the ripple.
    `printed_current` is what would flow with `printed_resistance`, chosen for the voltage
    printed on the adapter.
    """

    resistance: Resistance
    exact: Resistance
    wanted: Current
    current: Current
    current_min: Current
    current_max: Current
    current_peak: Current
    printed_resistance: Resistance
    printed_current: Current
    at: AdapterVoltage
    string: LedString


@with_units(scalar=True)
def resistor_on_adapter(
    adapter: Adapter,
    led: Led | Sequence[Led],
    current: Current,
    series: str = "E12",
    tolerance: Ratio = 0.05,
    other_load: Current = "0 mA",
) -> AdapterResistor:
    """The smallest preferred value that gives LEDs no more than a current on an adapter as it is loaded.

    Parameters
    ----------
    adapter: regulated or not
    led: an Led, or a list of them in series
    current: wanted in the LEDs with typical parts
    series: of preferred values, "E3" to "E192"
    tolerance: of the resistor
    other_load: what else hangs on the adapter all the time, and pulls its voltage down

    Raises DesignError where the adapter's voltage is too low, the current is zero or more
    than the LED stands, or the load more than the adapter gives.
    """
    string, load = as_string(led), current + other_load
    if load > as_adapter(adapter).si.max_current * (1 + 1e-9):
        raise DesignError(
            f"current {say(current, 'A')} and other_load {say(other_load, 'A')} are more together than the "
            f"{say(adapter.si.max_current, 'A')} that the {adapter.name} adapter is rated for; feed fewer signals "
            "from it, or take a larger one"
        )
    at = adapter_voltage(adapter, Q(load, "A"))
    exact = needed_resistance(at.si.voltage, string, current)
    resistance = at_least(exact, series)
    printed = at_least(needed_resistance(adapter.si.voltage, string, current), series)
    (low, inner), (volts, _), (high, _) = ((volts - ohms * other_load, ohms) for volts, ohms in adapter.corners)
    nominal, as_printed = (float(loop_current(volts, inner + ohms, string)) for ohms in (resistance, printed))
    swing = adapter.ripple * adapter.si.voltage * at.share / 2
    most, peak = (
        float(loop_current(high + more, inner + resistance * (1 - tolerance), string, None, -1.0))
        for more in (0.0, swing)
    )
    return AdapterResistor.of(
        resistance=resistance,
        exact=exact,
        wanted=current,
        current=nominal,
        current_min=float(loop_current(low, inner + resistance * (1 + tolerance), string, None, 1.0)),
        current_max=most,
        current_peak=peak,
        printed_resistance=printed,
        printed_current=as_printed,
        at=at,
        string=string,
    )


def resistor_findings(result: AdapterResistor) -> list[Finding]:
    """The current against the LED's limit, and what the printed voltage would have led to."""
    si, led = result.si, min(result.string, key=lambda each: each.si.max_current)
    stands = led.si.max_current
    band = say_band(si.current_min, si.current, si.current_max, "A")
    peak = f", {say(si.current_peak, 'A')} at the peak of the ripple" if result.at.si.ripple > 0 else ""
    reason = f"With {say(si.resistance, 'ohm')} {band} flows{peak}; the {led.name} stands {say(stands, 'A')}."
    grade = STOP if si.current > stands else LOOK if si.current_peak > stands else FINE
    found = [Finding(grade, "LED current", reason, "" if grade == FINE else "Use a larger resistor.")]
    left = result.at.si.voltage_min - string_voltage(si.current_min, result.string, None, 1.0)
    if left < LEAST_HEADROOM:
        said = f"At its least the adapter leaves {say(left, 'V')} for the resistor: the LEDs decide the current."
        found.append(Finding(LOOK, "headroom", said, "Use a higher voltage or fewer LEDs in series."))
    if si.printed_resistance != si.resistance:
        said = (
            f"A resistor chosen for the printed {say(result.at.adapter.si.voltage, 'V')} would be "
            f"{say(si.printed_resistance, 'ohm')} and pass {say(si.printed_current, 'A')} in place of "
            f"{say(si.wanted, 'A')}."
        )
        found.append(Finding(LOOK, "printed voltage", said, "Measure the adapter at your load before you choose."))
    return found
