"""Switching a relay's coil off: the voltage that the switch sees, with a diode and without, and the delay."""

from __future__ import annotations

import math
from typing import Annotated, Any

from ...errors import DesignError, RangeError
from ...parts.relay import Inductance, Relay, as_relay
from ...physics.rc import settling_time
from ...units import QuantityKind, SupplyVoltage, Temperature, Time, Voltage, record, say, with_units
from ..findings import DAMAGE, FINE, STOP, Finding

Energy = Annotated[Any, QuantityKind("energy", "J", 0.0, 1e6, "1 mJ")]
Surge = Annotated[Any, QuantityKind("surge voltage", "V", 0.0, 1e9, "100 V")]
Drop = Annotated[Any, QuantityKind("voltage", "V", 0.0, 100.0, "0.7 V")]
Stray = Annotated[Any, QuantityKind("capacitance", "F", 1e-15, 1e-3, "100 pF")]

DIODE_DROP = "0.7 V"
STRAY_CAPACITANCE = "100 pF"  # common practice, no source: of coil, wires and transistor


@record
class SwitchOff:
    """A coil at the moment it is switched off, and after.

    Attributes
    ----------
    with_diode: voltage across the open switch with a diode across the coil
    without_diode: what it would rise to if nothing broke down before: the coil's energy in the stray capacitance
    energy: stored in the coil
    delay_min, delay_max: how long the current lives on in the diode before the relay lets go
    release_time: the longest time the armature then needs
    diode: whether one is fitted
    """

    relay: Relay
    supply: SupplyVoltage
    with_diode: Voltage
    without_diode: Surge
    energy: Energy
    delay_min: Time
    delay_max: Time
    release_time: Time
    diode: bool

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The verdict on switching off, with or without a diode."""
        si = self.si
        if self.diode:
            reason = (
                f"With the diode across the coil there are {say(si.with_diode, 'V')} across the switch. The relay lets "
                f"go {say(si.delay_min, 's')} to {say(si.delay_max, 's')} later, and its armature needs up to "
                f"{say(si.release_time, 's')} more: nobody sees that."
            )
            return (Finding(FINE, "diode across the coil", reason, "The diode's stripe goes to plus."),)
        reason = (
            f"The coil stores {say(si.energy, 'J')}. Without a diode the voltage across the switch rises towards "
            f"{say(si.without_diode, 'V', 2)} until something breaks down: a transistor or the reed."
        )
        remedy = f"Put a diode across the coil, its stripe to plus: that leaves {say(si.with_diode, 'V')}."
        return (Finding(STOP, "diode across the coil", reason, remedy, DAMAGE),)


@with_units(scalar=True)
def switch_off(
    relay: str | Relay,
    supply: SupplyVoltage,
    diode: bool = True,
    diode_drop: Drop = DIODE_DROP,
    coil_temperature: Temperature = "23 °C",
    inductance: Inductance | None = None,
    stray_capacitance: Stray = STRAY_CAPACITANCE,
) -> SwitchOff:
    """Switching off a coil that has been fed from `supply`.

    With a diode the current i decays from supply / R by L di/dt = -(R i + drop), so that the relay
    lets go after (L / R) ln((I + drop / R) / (i + drop / R)); i lies between must release and must
    operate. Source of the voltage: Kuphaldt, Lessons in Electric Circuits, vol. III ch. 3.

    Raises DesignError for a relay that latches, or whose inductance is not known; RangeError for a
    supply at which the relay has not pulled in.
    """
    relay = as_relay(relay)
    henry = relay.inductance if inductance is None else inductance
    if relay.latching:
        raise DesignError(f"the {relay.name} relay latches: it does not let go when its current ends")
    if not henry:
        raise DesignError(f'the inductance of the {relay.name} relay is not known; give it, such as inductance="0.5 H"')
    if not supply >= relay.operate_voltage(coil_temperature):
        raise RangeError(
            argument="supply",
            need=f"at least the {say(relay.operate_voltage(coil_temperature), 'V')} at which the {relay.name} relay "
            "has pulled in",
            given=say(supply, "V"),
        )
    ohms = relay.resistances(coil_temperature)[1]
    current = supply / ohms
    cold = relay.si.rated_voltage / relay.si.coil_resistance
    delay_min, delay_max = (
        float(settling_time(henry / ohms, current, -diode_drop / ohms, min(share * cold, current)))
        for share in (relay.si.must_operate, relay.si.must_release)
    )
    return SwitchOff.of(
        relay=relay,
        supply=supply,
        with_diode=supply + diode_drop,
        without_diode=supply + current * math.sqrt(henry / stray_capacitance),
        energy=henry * current**2 / 2,
        delay_min=delay_min,
        delay_max=delay_max,
        release_time=relay.si.release_time,
        diode=diode,
    )
