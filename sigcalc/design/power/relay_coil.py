"""A relay's coil on a supply: current and power, and the voltage down to which it still pulls in, cold and hot."""

from __future__ import annotations

from typing import Any

from ...errors import RangeError
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
from ..findings import FINE, HEAT, LOOK, STOP, Finding, check_rating
from ..pair.wiring import SPLIT_SUPPLY
from ..tolerance import Band, over_corners, source_bands

HOT_COIL = 333.15
"""A coil that has been fed for long, in K: 60 °C. Common practice, no source: about 35 K above a warm room."""

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
    most_voltage: the most allowed across the coil
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
    most_voltage: Voltage

    @property
    def sentence(self) -> str:
        """What the coil draws, in words."""
        si = self.si
        return (
            f"The {self.relay.name} relay's coil draws {say_band(si.current_min, si.current, si.current_max, 'A')} "
            f"at {say(si.voltage, 'V')}, {say(si.power, 'W')} of heat."
        )

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The verdicts on a coil: too much, too little, too little when hot, and the poles."""
        if self.relay.si.poles >= 2:
            return (self._voltage(),)
        reason = "This relay has one moving contact; to reverse a current on one supply takes two."
        poles = Finding(LOOK, "relay contacts", reason, f"Use a two-pole relay, or {SPLIT_SUPPLY}.")
        return self._voltage(), poles

    def _voltage(self) -> Finding:
        si, across = self.si, f"The voltage across the {self.relay.name} relay's coil"
        remedy = "Use a relay for a higher voltage, or a series resistor."
        most = check_rating(across, si.voltage_max, si.most_voltage, remedy, unit="V", topic="relay coil", risk=HEAT)
        if most.grade != FINE:
            return most
        little = f"{across} may be as little as {say(si.voltage_min, 'V')}"
        if si.voltage_min < si.operate_voltage * (1 - _ROUNDING):
            reason = f"{little}, and it pulls in for sure only from {say(si.operate_voltage, 'V')} on."
            remedy = "Use a relay for a lower voltage, or a fresh or stronger supply."
            return Finding(STOP, "relay coil", reason, remedy)
        if si.voltage_min < si.hot_operate_voltage * (1 - _ROUNDING):
            hot = f"one of {say(HOT_COIL, 'K')} needs {say(si.hot_operate_voltage, 'V')}"
            reason = f"{little}: enough for a cold coil, but {hot}."
            remedy = "Try it when it has been on for long, or use one for a lower voltage."
            return Finding(LOOK, "relay coil", reason, remedy)
        return Finding(FINE, "relay coil", self.sentence)


@with_units(scalar=True)
def coil_on(
    relay: str | Relay,
    supply: Any,
    coil_temperature: Temperature = "23 °C",
    coil_drop_max: Voltage = "0 V",
    coil_drop: Voltage | None = None,
    coil_drop_min: Voltage = "0 V",
) -> CoilOn:
    """The coil on a supply.

    Parameters
    ----------
    relay: a name in `relays` or a record
    supply: a voltage, or a battery or adapter with its spread and internal resistance
    coil_temperature: of the copper; a warm coil draws less current and needs more voltage
    coil_drop_max: the most voltage lost in the transistor or timer that switches the coil (`high_drop` or `low_drop`
        of a timer), for the least that the coil may get
    coil_drop: what is lost there usually, for the nominal figures; the most where it is left out
    coil_drop_min: the least that is lost there, for the most that the coil may get

    Raises UnknownNameError, UnitError or RangeError for what cannot be read, RangeError where
    nothing is left for the coil.
    """
    relay = as_relay(relay)
    volts, inside = _supply_bands(supply)
    usual = coil_drop_max if coil_drop is None else coil_drop
    if not coil_drop_max < volts.least:
        lost, most = say(coil_drop_max, "V"), say(volts.least, "V")
        raise RangeError(
            f"{lost} is lost in what switches the coil: nothing would be left for it of the supply's {most}"
        )
    if not 0 <= coil_drop_min <= usual <= coil_drop_max:
        said = ", ".join(say(each, "V") for each in (coil_drop_min, usual, coil_drop_max))
        raise RangeError(f"coil_drop_min, coil_drop and coil_drop_max need to rise from 0 V; you gave {said}")
    # the most is lost on the weakest supply
    left = Band(volts.least - coil_drop_max, volts.nominal - usual, volts.most - coil_drop_min)

    def fed(source: Any, ohms: Any) -> dict[str, Any]:
        volts, loop = source[0], ohms + source[1]
        current, across = volts / loop, volts * (ohms / loop)
        return {"current": current, "voltage": across, "power": current * across}

    bands = over_corners(fed, source=(left, inside), ohms=Band(*relay.resistances(coil_temperature)))
    return CoilOn.of(
        relay=relay,
        coil_temperature=coil_temperature,
        **{name: band.nominal for name, band in bands.items()},
        **{f"{name}_min": band.least for name, band in bands.items()},
        **{f"{name}_max": band.most for name, band in bands.items()},
        operate_voltage=relay.operate_voltage(coil_temperature),
        hot_operate_voltage=relay.operate_voltage(max(HOT_COIL, coil_temperature)),
        most_voltage=relay.si.most_share * relay.si.rated_voltage,
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
    times its must-operate share, more by 0.393 % for each kelvin (copper), and what is lost in the source's
    internal resistance and the driver. Raises RangeError for a negative `driver_drop`.
    """
    relay = as_relay(relay)
    if driver_drop < 0:
        raise RangeError(argument="driver_drop", need="0 V or more", given=say(driver_drop, "V"), example="0.3 V")
    least = relay.resistances(coil_temperature)[0]
    return relay.operate_voltage(coil_temperature) * (1 + internal_resistance / least) + driver_drop


def _supply_bands(supply: Any) -> tuple[Band, Band]:
    if isinstance(supply, Battery | Adapter):
        return source_bands(supply)
    volts = kind_of(SupplyVoltage).read(supply, "supply", scalar=True)
    if not volts > 0:
        raise RangeError(argument="supply", need="more than 0 V", given=say(volts, "V"), example="9 V")
    return Band.exactly(volts, "V"), Band.exactly(0.0, "ohm")
