"""A relay's coil: what it draws on a supply, down to which voltage it pulls in, and what switching it off does."""

from __future__ import annotations

import math
from typing import Annotated, Any

from ...errors import DesignError, RangeError
from ...parts.relay import Relay, as_relay
from ...parts.source import Adapter, Battery
from ...physics.rc import settling_time
from ...units import QuantityKind, SupplyVoltage, Temperature, Time, Voltage, kind_of, record, say, with_units
from ..findings import DAMAGE, FINE, HEAT, LOOK, STOP, Finding, check_rating
from ..pair.wiring import SPLIT_SUPPLY
from ..tolerance import Band, over_corners, source_bands
from .load import need_rising_drops

HOT_COIL = 333.15
"""A coil that has been fed for long, in K: 60 °C. Common practice, no source: about 35 K above a warm room."""

Energy = Annotated[Any, QuantityKind("energy", "J", 0.0, 1e6, "1 mJ")]
Surge = Annotated[Any, QuantityKind("surge voltage", "V", 0.0, 1e9, "100 V")]

_ROUNDING = 1e-9  # a supply right at a limit is within it
_DIODE_DROP = 0.7  # V
_STRAY_CAPACITANCE = 100e-12  # F; common practice, no source: of coil, wires and transistor


@record
class CoilOn:
    """A coil that is fed, at its data sheet's temperature.

    `voltage` across it, `current` through it and `power` turned into heat by it are the bands over the supply's and
    the coil's tolerances, in V, A and W.
    """

    relay: Relay
    voltage: Any
    current: Any
    power: Any

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The verdicts on a coil: too much, too little, too little when hot, and the poles."""
        if self.relay.si.poles >= 2:
            return (self._voltage(),)
        reason = "This relay has one moving contact; to reverse a current on one supply takes two."
        poles = Finding(LOOK, "relay contacts", reason, f"Use a two-pole relay, or {SPLIT_SUPPLY}.")
        return self._voltage(), poles

    def _voltage(self) -> Finding:
        relay, name, si = self.relay, self.relay.name, self.relay.si
        across, limit = f"The voltage across the {name} relay's coil", si.most_share * si.rated_voltage
        remedy = "Use a relay for a higher voltage, or a series resistor."
        most = check_rating(across, self.voltage.most, limit, remedy, unit="V", topic="relay coil", risk=HEAT)
        if most.grade != FINE:
            return most
        cold, hot = (relay.operate_voltage(kelvin) for kelvin in (si.reference_temperature, HOT_COIL))
        least = self.voltage.least
        little = f"{across} may be as little as {say(least, 'V')}"
        if least < cold * (1 - _ROUNDING):
            reason = f"{little}, and it pulls in for sure only from {say(cold, 'V')} on."
            remedy = "Use a relay for a lower voltage, or a fresh or stronger supply."
            return Finding(STOP, "relay coil", reason, remedy)
        if least < hot * (1 - _ROUNDING):
            reason = f"{little}: enough for a cold coil, but one of {say(HOT_COIL, 'K')} needs {say(hot, 'V')}."
            remedy = "Try it when it has been on for long, or use one for a lower voltage."
            return Finding(LOOK, "relay coil", reason, remedy)
        heat = f"{say(self.voltage.nominal, 'V')}, {say(self.power.nominal, 'W')} of heat"
        return Finding(FINE, "relay coil", f"The {name} relay's coil draws {self.current} at {heat}.")


@with_units(scalar=True)
def coil_on(
    relay: str | Relay,
    supply: Any,
    coil_drop_max: Voltage = "0 V",
    coil_drop: Voltage | None = None,
    coil_drop_min: Voltage = "0 V",
) -> CoilOn:
    """The coil on a supply.

    Parameters
    ----------
    relay: a name in `relays` or a record
    supply: a voltage, or a battery or adapter with its spread and internal resistance
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
    need_rising_drops(coil_drop_min, usual, coil_drop_max)
    # the most is lost on the weakest supply
    left = Band(volts.least - coil_drop_max, volts.nominal - usual, volts.most - coil_drop_min)
    supplied, coil = (left, inside), Band(*relay.resistances(relay.si.reference_temperature))

    def fed(source: Any, ohms: Any) -> dict[str, Any]:
        current = source[0] / (ohms + source[1])
        return {"V": current * ohms, "A": current, "W": current**2 * ohms}

    bands = (Band(*band, unit) for unit, band in over_corners(fed, source=supplied, ohms=coil).items())
    return CoilOn(relay, *bands)


def _supply_bands(supply: Any) -> tuple[Band, Band]:
    if isinstance(supply, Battery | Adapter):
        return source_bands(supply)
    volts = kind_of(SupplyVoltage).read(supply, "supply", scalar=True)
    if not volts > 0:
        raise RangeError(argument="supply", need="more than 0 V", given=say(volts, "V"), example="9 V")
    return Band.exactly(volts, "V"), Band.exactly(0.0, "ohm")


@with_units(scalar=True)
def operates_down_to(relay: str | Relay, coil_temperature: Temperature = "23 °C") -> SupplyVoltage:
    """The coil voltage down to which every relay of the kind still pulls in.

    It is where a run on a battery ends for the relay. The rated voltage times its must-operate share, more by 0.393 %
    for each kelvin (copper).
    """
    return as_relay(relay).operate_voltage(coil_temperature)


@record
class SwitchOff:
    """A coil at the moment it is switched off, and after.

    Attributes
    ----------
    with_diode: voltage across the open switch with a diode across the coil
    without_diode: what it would rise to if nothing broke down before: the coil's energy in the stray capacitance
    energy: stored in the coil
    delay_min, delay_max: how long the current lives on in the diode before the relay lets go
    diode: whether one is fitted
    """

    relay: Relay
    with_diode: Voltage
    without_diode: Surge
    energy: Energy
    delay_min: Time
    delay_max: Time
    diode: bool

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The verdict on switching off, with or without a diode."""
        si, topic = self.si, "diode across the coil"
        if self.diode:
            reason = (
                f"With the diode across the coil there are {say(si.with_diode, 'V')} across the switch. The relay lets "
                f"go {say(si.delay_min, 's')} to {say(si.delay_max, 's')} later, and its armature needs up to "
                f"{say(self.relay.si.release_time, 's')} more: nobody sees that."
            )
            return (Finding(FINE, topic, reason, "The diode's stripe goes to plus."),)
        reason = (
            f"The coil stores {say(si.energy, 'J')}. Without a diode the voltage across the switch rises towards "
            f"{say(si.without_diode, 'V', 2)} until something breaks down: a transistor or the reed."
        )
        remedy = f"Put a diode across the coil, its stripe to plus: that leaves {say(si.with_diode, 'V')}."
        return (Finding(STOP, topic, reason, remedy, DAMAGE),)


@with_units(scalar=True)
def switch_off(relay: str | Relay, supply: SupplyVoltage, diode: bool = True) -> SwitchOff:
    """Switching off a coil that has been fed from `supply`, at its data sheet's temperature.

    With a diode the current i decays from supply / R by L di/dt = -(R i + drop), so that the relay
    lets go after (L / R) ln((I + drop / R) / (i + drop / R)); i lies between must release and must
    operate. Source of the voltage: Kuphaldt, Lessons in Electric Circuits, vol. III ch. 3.

    Raises DesignError for a relay that latches, or whose inductance is not known; RangeError for a
    supply at which the relay has not pulled in.
    """
    relay = as_relay(relay)
    si, henry = relay.si, relay.inductance
    if relay.latching:
        raise DesignError(f"the {relay.name} relay latches: it does not let go when its current ends")
    if not henry:
        raise DesignError(f"the inductance of the {relay.name} relay is not known; give it in a record of your own")
    least = relay.operate_voltage(si.reference_temperature)
    if not supply >= least:
        need = f"at least the {say(least, 'V')} at which the {relay.name} relay has pulled in"
        raise RangeError(argument="supply", need=need, given=say(supply, "V"))
    ohms, current = si.coil_resistance, supply / si.coil_resistance
    delay_min, delay_max = (
        float(settling_time(henry / ohms, current, -_DIODE_DROP / ohms, min(share * si.rated_voltage / ohms, current)))
        for share in (si.must_operate, si.must_release)
    )
    return SwitchOff.of(
        relay=relay,
        with_diode=supply + _DIODE_DROP,
        without_diode=supply + current * math.sqrt(henry / _STRAY_CAPACITANCE),
        energy=henry * current**2 / 2,
        delay_min=delay_min,
        delay_max=delay_max,
        diode=diode,
    )
