"""A battery feeding a load, at every share used and in every corner of the tolerances at once.

Corner 0 has everything nominal; the others take every combination of least and most for
capacity, battery voltage and internal resistance, drive, and LEDs.
"""

from __future__ import annotations

import itertools
from typing import Any, NamedTuple

import numpy as np

from ...parts.source import Battery
from ...physics.discharge import capacity_at, loaded_source, run_down
from .load import Load, Phase

NOMINAL = 0
_SIGNS = np.array([(0, 0, 0, 0), *itertools.product((-1, 1), repeat=4)])
BATTERY_SIGNS = _SIGNS[:, 1]
"""In each corner, whether the battery's voltage and resistance are nominal (0), at their weakest (-1) or best (+1)."""
Array = Any  # of floats, shape (corners, shares) unless said otherwise


class Corners(NamedTuple):
    """The battery and the tolerances in each corner, as columns to set against the shares used."""

    rest_voltage: Array
    resistance: Array
    drain: Array  # published drains, shape (points,)
    capacity: Array  # in C, shape (corners, 1, points)
    tolerance: Array  # of the drive, -1 to +1, shape (corners, 1)
    spread: Array  # of the LEDs, -1 to +1, shape (corners, 1)


class Course(NamedTuple):
    """What happens along the share used. Voltages are those of the heaviest phase, at the battery's terminals."""

    time: Array  # s
    charge: Array  # C
    voltage: Array
    drain: Array  # A, the mean over the phases
    lamps: dict[str, Array]  # each lamp's current while it is lit
    coil_on: Array | None  # terminal voltage with the relay's coil on and the lamp lit
    coil_off: Array | None  # and without the coil


def corners(battery: Battery, years: float = 0.0) -> Corners:
    """All corners of a battery stored for so many years."""
    si, discharge = battery.si, battery.discharge
    drain, capacity = battery.capacity_band(years)
    ends = np.array(battery.corners)  # least, nominal, most current: voltage and resistance
    capacity_sign, battery_sign, drive_sign, led_sign = _SIGNS.T
    shift = ends[1 + battery_sign, 0] - si.fresh_voltage
    # the curve begins at the table's fresh voltage: a battery of your own shifts it
    own = si.fresh_voltage - discharge.si.rest_voltage[0]
    return Corners(
        rest_voltage=np.maximum(discharge.si.rest_voltage + own + shift[:, None], 0.0),
        resistance=ends[1 + battery_sign, 1][:, None] * discharge.resistance_growth,
        drain=drain,
        capacity=capacity[1 + capacity_sign][:, None, :],
        tolerance=drive_sign[:, None].astype(float),
        spread=led_sign[:, None].astype(float),
    )


def steady_course(battery: Battery, current: float, years: float = 0.0) -> Course:
    """The course under one steady current in A."""
    at = corners(battery, years)
    voltage = at.rest_voltage - at.resistance * current
    drain = np.full_like(voltage, current)
    time, charge = run_down(battery.discharge.si.used, drain, capacity_at(drain, at.drain, at.capacity))
    return Course(time, charge, voltage, drain, {}, None, None)


def course(battery: Battery, load: Load, years: float = 0.0) -> Course:
    """The course under a load whose current answers to the voltage."""
    at, phases = corners(battery, years), load.phases()
    states = [_state(at, load, phase) for phase in phases]
    drains, voltages = np.stack([each[0] for each in states]), np.stack([each[1] for each in states])
    parts = np.array([phase.part for phase in phases])
    time, charge = run_down(battery.discharge.si.used, drains, capacity_at(drains, at.drain, at.capacity), parts)
    on, off = _with_and_without_coil(at, load, phases, voltages)
    return Course(
        time=time,
        charge=charge,
        voltage=voltages[parts > 0].min(axis=0),
        drain=np.tensordot(parts, drains, axes=1),
        lamps={phase.lamp: state[2] for phase, state in zip(phases, states, strict=True) if phase.lamp and phase.part},
        coil_on=on,
        coil_off=off,
    )


def _state(at: Corners, load: Load, phase: Phase) -> tuple[Array, Array, Array]:
    """Drain, terminal voltage and lamp current in one phase."""
    steady = load.si.standby + (load.drive.own_current if phase.lamp else 0.0)
    coil, kept = 0.0, load.si.coil_drop
    if phase.coil:
        coil = 1.0 / (load.relay.si.coil_resistance * (1.0 - at.tolerance * load.relay.coil_tolerance))
    volts, ohms = loaded_source(at.rest_voltage, at.resistance, steady, coil)
    # the coil sees the supply less what is kept; below that it takes nothing
    volts = np.minimum(volts + ohms * coil * kept, at.rest_voltage - at.resistance * steady)
    lamp = np.zeros_like(volts)
    if phase.lamp:
        lamp = np.maximum(load.lamp_current(phase.lamp, volts, ohms, at.tolerance, at.spread), 0.0)
    terminal = volts - ohms * lamp
    return steady + lamp + coil * np.maximum(terminal - kept, 0.0), terminal, lamp


def _with_and_without_coil(
    at: Corners, load: Load, phases: tuple[Phase, ...], voltages: Array
) -> tuple[Array | None, Array | None]:
    """The lowest terminal voltage with the coil on, and that of the same lamp without it."""
    if load.relay is None:
        return None, None
    on = voltages[[phase.coil for phase in phases]].min(axis=0)
    lit = {phase.lamp for phase in phases if phase.coil}
    off = np.stack([_state(at, load, Phase(0.0, lamp, False))[1] for lamp in sorted(lit)]).min(axis=0)
    return on, off
