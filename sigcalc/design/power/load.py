"""What a battery has to feed: a lamp through its drive, the timer board beside it, a relay's coil."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from ...errors import RangeError, UnitError
from ...parts.drive import Drive, ResistorDrive, as_one_drive
from ...parts.relay import Relay, as_relay
from ...units import Current, Ratio, Voltage, record, say
from ...units.reading import quoted
from ..lamp.led_string import LedString, as_string, loop_current
from ..pair.two_lead_pair import TwoLeadPair

RED, GREEN = "red", "green"


class Phase(NamedTuple):
    """One of the states between which a signal changes: its part of the time, the lamp lit ("" for none), the coil."""

    part: float
    lamp: str
    coil: bool


@record
class Load:
    """A signal as a battery sees it.

    `lamp` is an Led, a list of them in series, or a TwoLeadPair, of which `polarity` +1
    lights the red and -1 the green. `standby` is drawn all the time (a timer board, its
    pilot lamp). `duty` is the part of the time for which the lamp is lit. Of a pair,
    `red_share` is the part of the lit time that is red (None: the polarity alone
    decides). A `relay` draws its coil's current for the part `energised` of the time,
    whatever the lamp does meanwhile; a latching one only while it changes, which counts
    for nothing; its figures are taken as they are at its data sheet's temperature. What
    feeds the coil, a timer's output or a transistor, keeps `coil_drop` of the supply for
    itself, `coil_drop_min` at the least and `coil_drop_max` at the most (None: the same).
    Below `timer_voltage` the timer board loses its place and starts anew.
    """

    drive: Drive
    lamp: Any
    polarity: int = 1
    standby: Current = "0 mA"
    duty: Ratio = 1.0
    red_share: Ratio | None = None
    relay: Relay | None = None
    energised: Ratio = 1.0
    timer_voltage: Voltage | None = None
    coil_drop: Voltage = "0 V"
    coil_drop_min: Voltage | None = None
    coil_drop_max: Voltage | None = None

    def __post_init__(self) -> None:
        as_one_drive(self.drive)
        if not isinstance(self.lamp, TwoLeadPair):
            object.__setattr__(self, "lamp", as_string(self.lamp, "lamp"))
        if isinstance(self.polarity, bool) or not isinstance(self.polarity, int | float) or abs(self.polarity) != 1:
            raise RangeError(f"polarity needs to be +1 (red) or -1 (green), but {quoted(self.polarity)} came")
        if self.polarity < 0 and not self.is_pair:
            raise RangeError("polarity -1 puts the LEDs in reverse and nothing would light; turn the battery round")
        if self.red_share is not None and not self.is_pair:
            raise UnitError("red_share needs a TwoLeadPair as the lamp; leave it out for LEDs of one colour")
        if self.relay is not None:
            object.__setattr__(self, "relay", as_relay(self.relay))
        least, usual, most = self.coil_drops
        if not 0 <= least <= usual <= most:
            raise RangeError(
                f"coil_drop_min, coil_drop and coil_drop_max need to rise from 0 V on, but {say(least, 'V')}, "
                f"{say(usual, 'V')} and {say(most, 'V')} came; leave out what is not known"
            )
        if not self.si.duty > 0:
            raise RangeError("duty needs to be above 0: the lamp would never be lit; give the standby current alone")

    @property
    def is_pair(self) -> bool:
        """Whether the lamp is a two-lead pair."""
        return isinstance(self.lamp, TwoLeadPair)

    @property
    def coil_drops(self) -> tuple[float, float, float]:
        """Least, usual and most in V that what feeds the coil keeps for itself."""
        usual = self.si.coil_drop
        ends = (self.si.coil_drop_min, usual, self.si.coil_drop_max)
        return tuple(usual if each is None else each for each in ends)

    def coil_voltage_needed(self, temperature: float | None = None) -> tuple[float, float, float]:
        """Supply in V from which every relay of the kind pulls in: with the least, usual and most coil drop.

        `temperature` of the coil in K; None stands for the data sheet's.
        """
        kelvin = self.relay.si.reference_temperature if temperature is None else temperature
        volts = self.relay.operate_voltage(kelvin)
        return tuple(volts + drop for drop in self.coil_drops)

    @property
    def shown(self) -> str:
        """The lamp that the polarity calls for."""
        return GREEN if self.polarity < 0 else RED

    def branch(self, lamp: str) -> tuple[LedString, float]:
        """The LEDs that are lit with that lamp, and the extra resistance in ohm in their branch alone."""
        return self.lamp.branch(lamp) if self.is_pair else (self.lamp, 0.0)

    def phases(self) -> tuple[Phase, ...]:
        """The states between which it changes; their parts of the time add up to 1.

        With a relay there is always one in which the coil is on and the lamp lit, if only
        for the moment of changing (part 0): the supply has to stand that too.
        """
        red = (1.0 if self.shown == RED else 0.0) if self.red_share is None else self.red_share
        lamps = ((self.duty * red, RED), (self.duty * (1 - red), GREEN), (1 - self.duty, ""))
        coil = 0.0 if self.relay is None or self.relay.latching else self.energised
        each = [
            Phase(part * share, lamp, on)
            for part, lamp in lamps
            for share, on in ((coil, True), (1 - coil, False))
            if part > 0 and (share > 0 or (on and lamp and self.relay is not None))
        ]
        return tuple(each)

    def lamp_current(self, lamp: str, volts: Any, ohms: Any, tolerance: Any = 0.0, spread: Any = 0.0) -> Any:
        """The lamp's current in A on a source of open voltage and resistance; all arguments broadcast.

        `tolerance` from -1 to +1 says how far the drive is off towards more current, and
        `spread` how far the LEDs' drop is off towards more, as everywhere.
        """
        string, extra = self.branch(lamp)
        off = 1.0 + np.asarray(tolerance) * self.drive.tolerance
        series, limit = self.drive.series_resistance, self.drive.limit
        resistor = isinstance(self.drive, ResistorDrive)
        if resistor:
            series = series * (1.0 - np.asarray(tolerance) * self.drive.tolerance)
        # a source that cannot even feed the steady loads has nothing left for the lamp
        current = loop_current(np.maximum(volts, 0.0), ohms + series + extra, string, None, spread)
        return current if resistor else np.minimum(current, limit * off)
