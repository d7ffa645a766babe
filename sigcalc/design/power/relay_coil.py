"""A relay's coil on a supply: current and power, and the voltage down to which it still pulls in, cold and hot."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ...errors import RangeError
from ...parts.contacts import SPLIT_SUPPLY
from ...parts.relay import Relay, as_relay
from ...parts.source import Adapter, Battery
from ...units import (
    Current,
    Power,
    Resistance,
    SupplyVoltage,
    Temperature,
    Voltage,
    kind_of,
    record,
    say,
    say_band,
    with_units,
)
from ..findings import FINE, HEAT, LOOK, STOP, Finding

HOT_COIL = 333.15
"""A coil that has been fed for long, in K: 60 °C. Common practice, no source: about 35 K above a warm room."""

_VOLTAGE = kind_of(SupplyVoltage)
_ROUNDING = 1e-9  # a supply right at a limit is within it


@record
class CoilOn:
    """A coil that is fed: least, nominal and most over the supply's and the coil's tolerances.

    Attributes
    ----------
    voltage_min, voltage, voltage_max: across the coil
    current_min, current, current_max: through it; power_min, power, power_max: turned into heat by it
    operate_voltage: the coil voltage from which every relay of the kind pulls in, at `coil_temperature`
    hot_operate_voltage: the same for a coil that has been fed for long
    release_voltage: the coil voltage down to which it may stay pulled in; None for one that latches
    most_voltage: the most that may stand across the coil
    """

    relay: Relay
    coil_temperature: Temperature
    voltage_min: Voltage
    voltage: Voltage
    voltage_max: Voltage
    current_min: Current
    current: Current
    current_max: Current
    power_min: Power
    power: Power
    power_max: Power
    operate_voltage: Voltage
    hot_operate_voltage: Voltage
    release_voltage: Voltage | None
    most_voltage: Voltage

    @property
    def sentence(self) -> str:
        """What the coil takes, in words."""
        si = self.si
        return (
            f"The {self.relay.name} relay's coil takes {say_band(si.current_min, si.current, si.current_max, 'A')} "
            f"at {say(si.voltage, 'V')}, {say(si.power, 'W')} of heat."
        )


@with_units(scalar=True)
def coil_on(
    relay: str | Relay,
    supply: Any,
    coil_temperature: Temperature = "23 °C",
    driver_drop: Voltage = "0 V",
    least_drop: Voltage = "0 V",
    usual_drop: Voltage | None = None,
) -> CoilOn:
    """The coil on a supply.

    Parameters
    ----------
    relay: a name in `relays` or a record
    supply: a voltage, or a battery or adapter with its spread and internal resistance
    coil_temperature: of the copper; a warm coil takes less current and needs more voltage
    driver_drop: what the transistor or timer that switches the coil keeps for itself at the most (`high_drop` or
        `low_drop` of a timer), for the least that the coil may get
    least_drop: what it keeps at the least, for the most that the coil may get
    usual_drop: what it keeps usually, for the nominal figures; `driver_drop` where it is left out

    Raises UnknownNameError, UnitError or RangeError for what cannot be read, RangeError where
    nothing is left for the coil.
    """
    relay = as_relay(relay)
    ohms_least, ohms, ohms_most = relay.resistances(coil_temperature)
    least, nominal, most = _corners(supply)
    if not least[0] > driver_drop >= 0:
        raise RangeError(
            f"driver_drop needs to be from 0 V to less than the supply's {say(least[0], 'V')}, but "
            f"{say(driver_drop, 'V')} came: nothing would be left for the coil"
        )

    usual_drop = driver_drop if usual_drop is None else usual_drop
    for name, drop in (("least_drop", least_drop), ("usual_drop", usual_drop)):
        if not 0 <= drop <= driver_drop:
            raise RangeError(
                f"{name} needs to be from 0 V to driver_drop ({say(driver_drop, 'V')}), but {say(drop, 'V')} came; "
                "leave it out where it is not known"
            )
    least, nominal, most = (
        (volts - drop, inside)
        for (volts, inside), drop in zip((least, nominal, most), (driver_drop, usual_drop, least_drop), strict=True)
    )

    def point(source: tuple[float, float], coil: float) -> tuple[float, float]:
        volts, inside = source
        return volts / (coil + inside), volts * (coil / (coil + inside))

    # across a source with internal resistance the coil with least resistance gets the least voltage
    current_min, current, current_max = (
        point(*each)[0] for each in ((least, ohms_most), (nominal, ohms), (most, ohms_least))
    )
    voltage_min, voltage, voltage_max = (
        point(*each)[1] for each in ((least, ohms_least), (nominal, ohms), (most, ohms_most))
    )
    rated = relay.si.rated_voltage
    release = relay.si.must_release
    return CoilOn.of(
        relay=relay,
        coil_temperature=coil_temperature,
        voltage_min=voltage_min,
        voltage=voltage,
        voltage_max=voltage_max,
        current_min=current_min,
        current=current,
        current_max=current_max,
        power_min=current_min**2 * ohms_most,
        power=current * voltage,
        power_max=current_max**2 * ohms_least,
        operate_voltage=relay.operate_voltage(coil_temperature),
        hot_operate_voltage=relay.operate_voltage(max(HOT_COIL, coil_temperature)),
        release_voltage=None if release is None else release * rated,
        most_voltage=relay.si.most_share * rated,
    )


@with_units(scalar=True)
def operates_down_to(
    relay: str | Relay,
    coil_temperature: Temperature = "23 °C",
    internal_resistance: Resistance = "0 ohm",
    driver_drop: Voltage = "0 V",
) -> SupplyVoltage:
    """The supply's open voltage down to which every relay of the kind still pulls in.

    It is where a run on a battery ends for the relay: `until` of a run time. The rated voltage
    times its must-operate share, more by 0.393 % for each kelvin (copper), and what the source's
    internal resistance and the driver keep. Raises RangeError for a negative `driver_drop`.
    """
    relay = as_relay(relay)
    if driver_drop < 0:
        raise RangeError(
            f'driver_drop needs to be 0 V or more, but {say(driver_drop, "V")} came; write driver_drop="0.3 V"'
        )
    least = relay.resistances(coil_temperature)[0]
    return relay.operate_voltage(coil_temperature) * (1 + internal_resistance / least) + driver_drop


def _corners(supply: Any) -> tuple[tuple[float, float], ...]:
    if isinstance(supply, Battery | Adapter):
        return supply.corners
    volts = _VOLTAGE.read(supply, "supply", scalar=True)
    if not volts > 0:
        raise RangeError(f'supply needs to be above 0 V, but {say(volts, "V")} came; a usual one is "9 V"')
    return ((volts, 0.0),) * 3


def findings(result: CoilOn) -> tuple[Finding, ...]:
    """The verdicts on a coil: too much, too little, too little when hot, and the poles."""
    return tuple(_voltage(result)) + tuple(_poles(result.relay))


def _voltage(result: CoilOn) -> Iterator[Finding]:
    si, name = result.si, result.relay.name
    if si.voltage_max > si.most_voltage * (1 + _ROUNDING):
        reason = (
            f"Up to {say(si.voltage_max, 'V')} lie across the {name} relay's coil, and it stands "
            f"{say(si.most_voltage, 'V')}."
        )
        yield Finding(STOP, "relay coil", reason, "Take a relay for a higher voltage, or a series resistor.", HEAT)
    elif si.voltage_min < si.operate_voltage * (1 - _ROUNDING):
        reason = (
            f"As little as {say(si.voltage_min, 'V')} may lie across the {name} relay's coil, and it pulls in for sure "
            f"only from {say(si.operate_voltage, 'V')} on."
        )
        yield Finding(STOP, "relay coil", reason, "Take a relay for a lower voltage, or a fresh or stronger supply.")
    elif si.voltage_min < si.hot_operate_voltage * (1 - _ROUNDING):
        reason = (
            f"As little as {say(si.voltage_min, 'V')} may lie across the {name} relay's coil: enough for a cold coil, "
            f"but one of {say(HOT_COIL, 'K')} needs {say(si.hot_operate_voltage, 'V')}."
        )
        yield Finding(
            LOOK, "relay coil", reason, "Try it when it has been on for long, or take one for a lower voltage."
        )
    else:
        yield Finding(FINE, "relay coil", result.sentence)


def _poles(relay: Relay) -> Iterator[Finding]:
    if relay.si.poles < 2:
        reason = f"The {relay.name} relay has one moving contact; to turn a current round on one supply takes two."
        yield Finding(LOOK, "relay contacts", reason, f"Take a two-pole relay, or {SPLIT_SUPPLY}.")
