"""What an adapter really gives at a load, regulated or not, and the resistor that is right for it."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from typing import Any

from ...errors import DesignError
from ...parts.led import Led
from ...parts.resistor import at_least
from ...parts.source import Adapter, as_adapter
from ...units import Current, Q, Ratio, Resistance, SupplyVoltage, Voltage, record, say, say_band, with_units
from ..findings import FINE, HEAT, LOOK, STOP, Finding, check_rating
from ..lamp.drive import LedString, as_string, loop_current, string_voltage
from ..lamp.resistor import LEAST_HEADROOM, needed_resistance
from ..tolerance import Band, over_corners, source_bands
from .load import OFF

MOST_LOAD = 0.8
"""The share of its rated current that an adapter is asked for at most: common practice, no source."""


@record
class AdapterVoltage:
    """What an adapter gives at a load: the mean voltage with its band, and how far ripple swings about it.

    `peak` is the most that the load meets, ripple included.
    """

    load: Current
    voltage: SupplyVoltage
    voltage_min: SupplyVoltage
    voltage_max: SupplyVoltage
    ripple: Voltage
    peak: SupplyVoltage
    adapter: Adapter

    @property
    def sentence(self) -> str:
        """What it gives at the load."""
        si = self.si
        band = say_band(si.voltage_min, si.voltage, si.voltage_max, "V")
        ripple = f", with ripple up to {say(si.peak, 'V')}" if si.ripple > 0 else ""
        return f"With {say(si.load, 'A')} the {self.adapter.name} adapter gives {band}{ripple}."

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The reserve left of the rated current, and how far the voltage is from what is printed."""
        si = self.adapter.si
        what, remedy = f"The load of the {self.adapter.name} adapter", "Take a larger adapter or fewer signals."
        how = {"unit": "A", "topic": "headroom", "reserve": MOST_LOAD, "risk": HEAT}
        why = f"{say(MOST_LOAD, '')} of it leaves room for the next signal: common practice"
        reserve = check_rating(what, self.si.load, si.max_current, remedy, source=why, **how)
        if self.adapter.regulated:
            return reserve, Finding(FINE, "voltage", self.sentence)
        printed = f"only at {say(si.max_current, 'A')} it gives the printed {say(si.voltage, 'V')}"
        reason = f"{self.sentence} It is not regulated: {printed}."
        remedy = "Choose resistors for the voltage at your load, or use a regulated adapter."
        return reserve, Finding(LOOK, "voltage", reason, remedy)


@with_units(scalar=True)
def adapter_voltage(adapter: Adapter, load: Current) -> AdapterVoltage:
    """The voltage of an adapter at a load: a straight line from no load to the rated point.

    Ripple from peak to valley grows with the load in the same way. Raises DesignError
    beyond the rated current, where an adapter sags, overheats or switches itself off.
    """
    si = as_adapter(adapter).si
    if load > si.max_current * (1 + 1e-9):
        need = f"at most the {say(si.max_current, 'A')} that the {adapter.name} adapter is rated for"
        raise DesignError(argument="load", need=need, given=say(load, "A"), advice="feed fewer signals from it")
    band = over_corners(lambda source: source[0] - source[1] * load, source=source_bands(adapter))
    ripple = adapter.ripple * si.voltage * load / si.max_current
    return AdapterVoltage.of(
        load=load,
        voltage=band.nominal,
        voltage_min=band.least,
        voltage_max=band.most,
        ripple=ripple,
        peak=band.most + ripple / 2,
        adapter=adapter,
    )


@record
class AdapterResistor:
    """The resistor for LEDs on an adapter, and what flows through it.

    The band spans adapter, resistor and LEDs; `current_peak` adds the ripple.
    `printed_current` is what would flow with `printed_resistance`, chosen for the voltage
    printed on the adapter.
    """

    resistance: Resistance
    wanted: Current
    current: Current
    current_min: Current
    current_max: Current
    current_peak: Current
    printed_resistance: Resistance
    printed_current: Current
    at: AdapterVoltage
    string: LedString

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The current against the LED's limit, and what the printed voltage would have led to."""
        si, led = self.si, min(self.string, key=lambda each: each.si.max_current)
        ripple = ", with tolerances and ripple," if self.at.si.ripple > 0 else ", with tolerances,"
        what, limit = f"The current through the {led.name} LED{ripple}", led.si.max_current
        found = [check_rating(what, si.current_peak, limit, "Use a larger resistor.", unit="A", topic="LED current")]
        if found[0].grade == STOP and si.current <= limit:  # with typical parts it is within
            found = [dataclasses.replace(found[0], grade=LOOK)]
        left = self.at.si.voltage_min - string_voltage(si.current_min, self.string, None, 1.0)
        if left < LEAST_HEADROOM:
            said = f"At its least the adapter leaves {say(left, 'V')} for the resistor: the LEDs decide the current."
            found.append(Finding(LOOK, "headroom", said, "Use a higher voltage or fewer LEDs in series."))
        if si.printed_resistance != si.resistance:
            passes = f"{say(si.printed_current, 'A')} instead of {say(si.wanted, 'A')}"
            printed = f"A resistor chosen for the printed {say(self.at.adapter.si.voltage, 'V')}"
            said = f"{printed} would be {say(si.printed_resistance, 'ohm')} and pass {passes}."
            found.append(Finding(LOOK, "printed voltage", said, "Measure the adapter at your load before you choose."))
        return tuple(found)


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
    other_load: what else the adapter feeds all the time, which pulls its voltage down

    Raises DesignError where the adapter's voltage is too low, the current is zero or more
    than the LED's limit, or the load more than the adapter gives.
    """
    string, at = as_string(led), adapter_voltage(adapter, Q(current + other_load, "A"))
    resistance, printed = (
        at_least(needed_resistance(volts, string, current), series) for volts in (at.si.voltage, adapter.si.voltage)
    )
    swing = at.si.ripple / 2

    def flows(source: Any, ohms: Any, spread: Any) -> dict[float, Any]:
        volts, inside = source[0] - source[1] * other_load, source[1]
        return {more: loop_current(volts + more, inside + ohms, string, None, spread) for more in {0.0, swing}}

    bands = over_corners(flows, source=source_bands(adapter), ohms=Band.within(resistance, tolerance), spread=OFF)
    volts, inside = adapter.corners[1]
    return AdapterResistor.of(
        resistance=resistance,
        wanted=current,
        current=bands[0.0].nominal,
        current_min=bands[0.0].least,
        current_max=bands[0.0].most,
        current_peak=bands[swing].most,
        printed_resistance=printed,
        printed_current=float(loop_current(volts - inside * other_load, inside + printed, string)),
        at=at,
        string=string,
    )
