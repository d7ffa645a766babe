"""What a battery has to feed (a lamp through its drive, a timer board, a relay's coil), and how it runs down on it."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from ...errors import RangeError, UnitError
from ...parts.drive import Drive, ResistorDrive, as_one_drive
from ...parts.relay import Relay, as_relay
from ...parts.source import Battery
from ...physics.discharge import capacity_at, loaded_source, run_down
from ...units import Current, Ratio, Voltage, record, say
from ...units.reading import quoted
from ..lamp.drive import LedString, as_string, loop_current
from ..pair.two_lead_pair import TwoLeadPair
from ..tolerance import Band, at_corners, source_bands

RED, GREEN = "red", "green"
NOMINAL = 0
"""The place of the nominal case among the corners."""
OFF = Band(-1.0, 0.0, 1.0)
"""How far a drive or an LED is off within its tolerance."""
Array = Any  # of floats, shape (corners, shares) unless said otherwise


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
    for nothing; its figures are taken as they are at its data sheet's temperature.
    `coil_drop` is the voltage lost in what feeds the coil, a timer's output or a transistor,
    `coil_drop_min` at the least and `coil_drop_max` at the most (None: the same).
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
        if not self.is_pair:
            object.__setattr__(self, "lamp", as_string(self.lamp, "lamp"))
        if isinstance(self.polarity, bool) or not isinstance(self.polarity, int | float) or abs(self.polarity) != 1:
            raise RangeError(argument="polarity", need="+1 (red) or -1 (green)", given=quoted(self.polarity))
        if self.polarity < 0 and not self.is_pair:
            raise RangeError("polarity -1 puts the LEDs in reverse and nothing would light; turn the battery round")
        if self.red_share is not None and not self.is_pair:
            raise UnitError("red_share needs a TwoLeadPair as the lamp; leave it out for LEDs of one colour")
        if self.relay is not None:
            object.__setattr__(self, "relay", as_relay(self.relay))
        need_rising_drops(*self.coil_drops)
        if not self.si.duty > 0:
            raise RangeError("duty needs to be above 0: the lamp would never be lit; give the standby current alone")

    @property
    def is_pair(self) -> bool:
        """Whether the lamp is a two-lead pair."""
        return isinstance(self.lamp, TwoLeadPair)

    @property
    def coil_drops(self) -> tuple[float, float, float]:
        """Least, usual and most in V that is lost in what feeds the coil."""
        least, usual, most = self.si.coil_drop_min, self.si.coil_drop, self.si.coil_drop_max
        return usual if least is None else least, usual, usual if most is None else most

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
        for the moment of changing (part 0): the supply must be enough for that too.
        """
        red = float(self.shown == RED) if self.red_share is None else self.red_share
        lamps = ((self.duty * red, RED), (self.duty * (1 - red), GREEN), (1 - self.duty, ""))
        coil = 0.0 if self.relay is None or self.relay.latching else self.energised
        return tuple(
            Phase(part * share, lamp, on)
            for part, lamp in lamps
            for share, on in ((coil, True), (1 - coil, False))
            if part > 0 and (share > 0 or (on and lamp and self.relay is not None))
        )

    def lamp_current(self, lamp: str, volts: Any, ohms: Any, tolerance: Any = 0.0, spread: Any = 0.0) -> Any:
        """The lamp's current in A on a source of open voltage and resistance; all arguments broadcast.

        `tolerance` from -1 to +1 says how far the drive is off towards more current, and
        `spread` how far the LEDs' drop is off towards more, as everywhere.
        """
        (string, extra), (series, limit) = self.branch(lamp), self.drive_at(np.asarray(tolerance))
        # a source that cannot even feed the steady loads has nothing left for the lamp
        return np.minimum(loop_current(np.maximum(volts, 0.0), ohms + series + extra, string, None, spread), limit)

    def drive_at(self, off: Any) -> tuple[Any, Any]:
        """Resistance in ohm and limit in A of its drive, so far off its tolerance (-1 to +1) towards more current."""
        drive, change = self.drive, off * self.drive.tolerance
        if isinstance(drive, ResistorDrive):
            return drive.series_resistance * (1.0 - change), drive.limit
        return drive.series_resistance, drive.limit * (1.0 + change)


def need_rising_drops(least: float, usual: float, most: float) -> None:
    """RangeError where the voltages in V that are lost in what feeds a coil are out of order."""
    if not 0 <= least <= usual <= most:
        said = ", ".join(say(each, "V") for each in (least, usual, most))
        raise RangeError(f"coil_drop_min, coil_drop and coil_drop_max need to rise from 0 V; you gave {said}")


class Course(NamedTuple):
    """What happens along the share used, in every corner of the tolerances, the nominal one first.

    Voltages are those of the heaviest phase, at the battery's terminals.
    """

    time: Array  # s
    charge: Array  # C
    voltage: Array
    drain: Array  # A, the mean over the phases
    lamps: dict[str, Array]  # each lamp's current while it is lit
    coil_on: Array | None  # terminal voltage with the relay's coil on and the lamp lit
    coil_off: Array | None  # and without the coil
    coil_needs: Array | None  # the terminal voltage from which the relay is sure to pull in, shape (corners,)


def course(battery: Battery, load: Load | float, years: float = 0.0) -> Course:
    """The course of a battery that was stored for so many years, under a Load or a steady current in A.

    The tolerances are those of the battery's capacity, of its voltage with its resistance and what feeds the coil, of
    the drive, and of the LEDs. Raises DesignError for a battery without discharge data.
    """
    drains, capacity = battery.capacity_band(years)
    signal = isinstance(load, Load)
    at = at_corners(
        capacity=Band(*capacity), battery=_battery_bands(battery, load if signal else None), drive=OFF, led=OFF
    )
    phases = load.phases() if signal else (Phase(1.0, "", False),)
    states = [_state(at, load, phase) for phase in phases]
    currents, voltages = np.stack([each[0] for each in states]), np.stack([each[1] for each in states])
    parts = np.array([phase.part for phase in phases])
    charges = capacity_at(currents, drains, at["capacity"][:, None, :])
    time, charge = run_down(battery.discharge.si.used, currents, charges, parts)
    on = off = needs = None
    if signal and load.relay is not None:
        on = voltages[[phase.coil for phase in phases]].min(axis=0)
        lit = {phase.lamp for phase in phases if phase.coil}
        off = np.stack([_state(at, load, Phase(0.0, lamp, False))[1] for lamp in sorted(lit)]).min(axis=0)
        needs = at["battery"][2][:, 0]
    return Course(
        time=time,
        charge=charge,
        voltage=voltages[parts > 0].min(axis=0),
        drain=(parts[:, None, None] * currents).sum(axis=0),
        lamps={phase.lamp: state[2] for phase, state in zip(phases, states, strict=True) if phase.lamp and phase.part},
        coil_on=on,
        coil_off=off,
        coil_needs=needs,
    )


def _battery_bands(battery: Battery, load: Load | None) -> tuple[Band, ...]:
    """What goes to its ends with the battery: its rest voltage and resistance over the shares, the relay's need."""
    volts, ohms = source_bands(battery)
    discharge = battery.discharge.si
    # the curve begins at the table's fresh voltage: a battery of your own shifts it
    rest = [np.maximum(discharge.rest_voltage + each - discharge.rest_voltage[0], 0.0) for each in volts]
    resistance = [each * battery.discharge.resistance_growth for each in ohms]
    needs = (0.0,) * 3 if load is None or load.relay is None else load.coil_voltage_needed()[::-1]
    return Band(*rest, "V"), Band(*resistance, "ohm"), Band(*needs, "V")


def _state(at: dict[str, Any], load: Load | float, phase: Phase) -> tuple[Array, Array, Array]:
    """Drain, terminal voltage and lamp current in one phase."""
    rest, inside, _ = at["battery"]
    if not isinstance(load, Load):
        return np.full_like(rest, load), rest - inside * load, np.zeros_like(rest)
    steady = load.si.standby + (load.drive.own_current if phase.lamp else 0.0)
    coil, drop = 0.0, load.si.coil_drop
    if phase.coil:
        coil = 1.0 / (load.relay.si.coil_resistance * (1.0 - at["drive"] * load.relay.coil_tolerance))
    volts, ohms = loaded_source(rest, inside, steady, coil)
    # the coil gets the supply less the drop of what feeds it, and draws nothing below that
    volts = np.minimum(volts + ohms * coil * drop, rest - inside * steady)
    lamp = np.zeros_like(volts)
    if phase.lamp:
        lamp = np.maximum(load.lamp_current(phase.lamp, volts, ohms, at["drive"], at["led"]), 0.0)
    terminal = volts - ohms * lamp
    return steady + lamp + coil * np.maximum(terminal - drop, 0.0), terminal, lamp
