"""What is known of a battery's run: time with its band, the curve, what used the charge up, and what ended it."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from ...errors import RangeError
from ...parts.source import Battery
from ...physics.discharge import at_place, first_below
from ...units import Charge, Current, Time, Voltage, record, with_units
from ...units.reading import quoted
from .battery_run import NOMINAL

REACHED, EMPTY = "the end you asked for", "the battery is empty"
RELAY, TIMER = "the relay no longer pulls in", "the timer board starts anew"


@record
class DischargeCurve:
    """The nominal run, as arrays along it: time, terminal voltage, and what goes with them.

    `voltage` is the lowest the battery shows in any phase. `current` is that of the lamp
    while it is lit (the dimmest, of two), or the steady current; `drain` is the battery's
    mean. `light` is the share of the starting light (the lesser, of two lamps), `used`
    the share of the battery, `charge` what it has given.
    """

    time: Time
    voltage: Voltage
    current: Current
    drain: Current
    charge: Charge
    light: Any
    used: Any


class Spread(NamedTuple):
    """Time in s, and light, along the share used in every corner of the tolerances; shape (corners, shares)."""

    time: np.ndarray
    light: np.ndarray


@record
class RunTime:
    """How long a battery lasts: nominal, least and most over the spread of battery, drive and LEDs.

    The time counts lit or not, as long as it is switched on. `ended_by` says what ended
    the nominal run, `ends` when each possible end would come (None: not before the
    battery is empty). `used` is the charge given, of which `lamp_charge`,
    `standby_charge` and `coil_charge` are the parts. With a relay that is held,
    `latching` is the nominal time a latching one would give; `chatter_to` is when the
    supply no longer reaches its voltage even before the coil comes on: from its own end
    until then it may buzz.
    """

    hours: Time
    hours_min: Time
    hours_max: Time
    used: Charge
    lamp_charge: Charge
    standby_charge: Charge
    coil_charge: Charge
    curve: DischargeCurve
    ended_by: str
    ends: dict[str, Any]
    until: str
    battery: Battery
    load: Any
    age: Time
    spread: Spread
    latching: Time | None = None
    chatter_to: Time | None = None

    @property
    def end(self) -> str:
        """What ended the nominal run, as the rest of a sentence: the end asked for, or what came before it."""
        return self.until if self.ended_by == REACHED else self.ended_by

    @with_units(scalar=True)
    def when_light(self, share: Any) -> Time:
        """When the light has fallen to a share of the start: least, nominal and most time, as an array of three.

        Infinite where it has not fallen so far when the battery is empty. Raises RangeError
        for a share that is not between 0 and 1.
        """
        if not isinstance(share, int | float) or not 0 < share < 1:
            raise RangeError(f"share needs to lie between 0 and 1, but {quoted(share)} came; half the light is 0.5")
        place, found = first_below(self.spread.light, np.full(len(self.spread.light), float(share)))
        time = np.where(found, at_place(place, self.spread.time), np.inf)
        return np.array([time.min(), time[NOMINAL], time.max()])
