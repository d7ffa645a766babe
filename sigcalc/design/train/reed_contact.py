"""Whether a reed's contacts bear what they switch: power, voltage and current all at once, and the first rush."""

from __future__ import annotations

from ...errors import UnitError
from ...parts.reed import ReedType, reeds
from ...units import ContactVoltage, Current, Power, Resistance, record, say, with_units
from ...units.reading import quoted
from ..findings import FINE, STOP, Finding

_TOPIC = "reed's contacts"
BOUNCE_FREE = 0.1
"""In A: above it a reed's bounce is almost gone (Coto reed switches, technical notes)."""


@record
class ReedContact:
    """What a reed switches, set against what its contacts bear.

    `inrush` is the greatest current at the moment of closing; `least_resistance` what must stand in series with a
    capacitor or a lamp so that even a dead short behind it stays within all three limits.
    """

    reed: ReedType
    voltage: ContactVoltage
    current: Current
    inrush: Current
    power: Power
    least_resistance: Resistance

    @property
    def crossed(self) -> tuple[str, ...]:
        """The limits that are crossed, in words; empty where the contacts bear it all."""
        limit, si = self.reed.si, self.si
        rush = max(si.inrush, si.current)
        checks = (
            (si.voltage, limit.max_voltage, "V", "the voltage"),
            (rush, limit.max_current, "A", "the current at closing"),
            (si.current, limit.carry_current, "A", "the current once closed"),
            (rush * si.voltage, limit.max_power, "W", "voltage times current"),
        )
        return tuple(
            f"{what} of {say(value, unit)} is above {say(most, unit)}"
            for value, most, unit, what in checks
            if value > most
        )

    @property
    def sentence(self) -> str:
        """Load and limits in words."""
        limit, si = self.reed.si, self.si
        return (
            f"The {self.reed.name} bears {say(limit.max_power, 'W')}, {say(limit.max_voltage, 'V')} and "
            f"{say(limit.max_current, 'A')}, all three at once; it switches {say(si.voltage, 'V')} and "
            f"{say(si.current, 'A')}, with {say(si.inrush, 'A')} at the moment of closing."
        )


@with_units(scalar=True)
def reed_contact(
    reed: ReedType | str, voltage: ContactVoltage, current: Current, inrush: Current | None = None
) -> ReedContact:
    """Set a load against a reed's contacts.

    Parameters
    ----------
    reed: a type, or its name in `reeds`
    voltage: across the open contacts; current: through them once they are closed
    inrush: the greatest current at closing, more than `current` with a capacitor or a cold lamp

    Raises UnknownNameError for a reed in no table, UnitError or RangeError for what cannot be.
    """
    reed = reeds[reed] if isinstance(reed, str) else reed
    if not isinstance(reed, ReedType):
        raise UnitError(
            f"reed needs a ReedType or a name in reeds, but {quoted(reed)} came; a single Reed has no limits"
        )
    return ReedContact.of(
        reed=reed,
        voltage=voltage,
        current=current,
        inrush=current if inrush is None else inrush,
        power=voltage * current,
        least_resistance=max(voltage / reed.si.max_current, voltage**2 / reed.si.max_power),
    )


def findings(result: ReedContact) -> tuple[Finding, ...]:
    """The verdict on the contacts, and on their bounce."""
    si = result.si
    if result.crossed:
        reason = f"{result.sentence} Beyond its limits: {'; '.join(result.crossed)}."
        remedy = (
            f"Let the reed work a relay or a transistor, or put {say(si.least_resistance, 'ohm')} or more in series."
        )
        found = [Finding(STOP, _TOPIC, reason, remedy)]
    else:
        found = [Finding(FINE, _TOPIC, result.sentence)]
    if si.current <= BOUNCE_FREE:
        reason = (
            f"At {say(si.current, 'A')} the contacts bounce for about {say(result.reed.si.bounce_time, 's')} "
            f"(almost nothing above {say(BOUNCE_FREE, 'A')}): a relay, or a timer that holds, does not notice; "
            "a counter would count twice."
        )
        found.append(Finding(FINE, "bounce", reason))
    return tuple(found)
