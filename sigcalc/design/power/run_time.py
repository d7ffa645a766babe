"""How long a battery runs a signal: until what end, how sure that is, and what uses the charge up."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np
from scipy.integrate import trapezoid

from ...errors import DesignError, RangeError
from ...parts.drive import ConstantCurrentDrive
from ...parts.led import LIT_FROM, leds
from ...parts.relay import relays
from ...parts.source import Battery, as_battery, batteries
from ...physics.discharge import at_place, first_below
from ...units import Current, Q, Time, Voltage, kind_of, say, with_units
from ...units.reading import quoted
from .battery_run import BATTERY_SIGNS, NOMINAL, Course, course, steady_course
from .end_condition import read_until, until_in_words
from .load import Load
from .run_result import EMPTY, REACHED, RELAY, TIMER, DischargeCurve, RunTime, Spread

_YEAR = 365.25 * 86400.0
_COULOMBS = 3600.0
Ends = dict[str, tuple[np.ndarray, np.ndarray]]
"""What falls, shape (corners, shares used), and the limit in each corner below which the run ends."""


@with_units(scalar=True)
def run_time(battery: Battery, load: Any, until: Any, age: Time = "0 h") -> RunTime:
    """How long a battery feeds a load.

    Parameters
    ----------
    battery: a Battery with discharge data
    load: a steady current, or a Load
    until: a voltage at the battery's terminals, a current of the lamp, or a bare share of the starting light
        (such as 0.5); the last two only for a Load
    age: how long the battery has been stored

    A run with a relay also ends when the supply no longer reaches the voltage at which
    every relay pulls in, and one with a timer board when it starts anew. Time is the
    integral of capacity over drain (`physics.discharge`), capacities are interpolated
    between published drains in logarithms. Raises DesignError where the load cannot be
    fed at all, or the end is reached before the start; UnitError, RangeError for
    arguments that make no sense.
    """
    as_battery(battery)
    kind, limit = read_until(until, isinstance(load, Load))
    current = None if isinstance(load, Load) else _steady(load)
    years = age / _YEAR
    run = course(battery, load, years) if current is None else steady_course(battery, current, years)
    _check_start(run, battery, load, current)
    light, lit = _light(run)
    asked = {"V": run.voltage, "A": lit, "": light}[kind], limit
    possible = _in_every_corner({EMPTY: (run.voltage, 0.0), REACHED: asked} | _board_ends(run, load))
    _check_ends(possible, kind, until)
    places, ends = _places(possible, run)
    place = np.min(list(places.values()), axis=0)
    hours = at_place(place, run.time)
    used = float(at_place(place[NOMINAL], run.charge[NOMINAL])) / _COULOMBS
    curve = _curve(run, battery, float(place[NOMINAL]), light, run.drain if current is not None else lit)
    lamp, standby, coil = _charges(run, load, curve, used)
    return RunTime.of(
        hours=float(hours[NOMINAL]),
        hours_min=float(hours.min()),
        hours_max=float(hours.max()),
        used=used,
        lamp_charge=lamp,
        standby_charge=standby,
        coil_charge=coil,
        curve=curve,
        ended_by=min(places, key=lambda name: places[name][NOMINAL]),
        ends=ends,
        until=until_in_words(kind, limit),
        battery=battery,
        load=load if current is None else Q(current, "A"),
        age=age,
        spread=Spread(run.time, light),
        latching=_with_latching(battery, load, until, age),
        chatter_to=_chatter(run, possible),
    )


def _with_latching(battery: Battery, load: Any, until: Any, age: float) -> float | None:
    """The nominal time in s with a relay that need not be held; None where none is held."""
    if not isinstance(load, Load) or load.relay is None or load.relay.latching or not load.energised > 0:
        return None
    latching = dataclasses.replace(load.relay, latching=True, must_release=None)
    return run_time(battery, dataclasses.replace(load, relay=latching), until, Q(age, "s")).si.hours


def _chatter(run: Course, possible: Ends) -> float | None:
    """When the supply without the coil falls below what relay or timer need, in s; None without a relay."""
    limits = [float(possible[name][1][NOMINAL]) for name in (RELAY, TIMER) if name in possible]
    if run.coil_off is None:
        return None
    place, _ = first_below(run.coil_off[NOMINAL], max(limits))
    return float(at_place(place, run.time[NOMINAL]))


def _steady(load: Any) -> float:
    current = kind_of(Current).read(load, "load", scalar=True)
    if not current > 0:
        raise RangeError('load needs to be above 0 A: with nothing connected a run has no end; write load="20 mA"')
    return current


def _check_start(run: Course, battery: Battery, load: Any, current: float | None) -> None:
    """DesignError where the nominal battery cannot feed the load even when fresh."""
    volts, amperes = battery.si.fresh_voltage, run.drain[NOMINAL, 0]
    if not run.voltage[NOMINAL, 0] > 0:
        raise DesignError(
            f"load asks the {battery.name} battery for {say(current or amperes, 'A')}, which no voltage satisfies: its "
            f"{say(volts, 'V')} and {say(battery.si.internal_resistance, 'ohm')} give at most "
            f"{say(volts / battery.si.internal_resistance, 'A')}; take a lighter load or a stronger battery"
        )
    for lamp, lit in run.lamps.items():
        if lit[NOMINAL, 0] <= LIT_FROM:
            whose = f"{lamp} lamp" if load.is_pair else "lamp"
            raise DesignError(
                f"battery {battery.name} gives {say(volts, 'V')} at most, below what drive and {whose} need: only "
                f"{say(lit[NOMINAL, 0], 'A')} flows and nothing is lit; take more cells, or fewer LEDs in series"
            )


def _light(run: Course) -> tuple[np.ndarray, np.ndarray]:
    """The share of the starting light (1 for a steady current), and the least current of any lamp that is lit."""
    if not run.lamps:
        return np.ones_like(run.time), run.drain
    lamps = list(run.lamps.values())
    shares = [lamp / np.maximum(lamp[:, :1], LIT_FROM) for lamp in lamps]
    return np.min(shares, axis=0), np.min(lamps, axis=0)


def _board_ends(run: Course, load: Any) -> dict[str, tuple[np.ndarray, Any]]:
    """The ends that relay and timer board set, which see the supply dip when the coil comes on."""
    if not isinstance(load, Load):
        return {}
    dip = run.voltage if run.coil_on is None else np.minimum(run.coil_on, run.voltage)
    ends = {}
    if load.relay is not None:
        ends[RELAY] = (run.coil_on, _pull_in_limits(load))
    if load.timer_voltage is not None:
        ends[TIMER] = (dip, load.si.timer_voltage)
    return ends


def _pull_in_limits(load: Load) -> np.ndarray:
    """The supply that the relay needs in each corner: what feeds its coil keeps most where the battery is weakest."""
    least, usual, most = load.coil_voltage_needed()
    return np.choose(BATTERY_SIGNS + 1, [most, usual, least])


def _in_every_corner(ends: dict[str, tuple[np.ndarray, Any]]) -> Ends:
    """The same with a limit for each corner, where most have one for all."""
    return {name: (series, np.broadcast_to(limit, len(series))) for name, (series, limit) in ends.items()}


def _check_ends(possible: Ends, unit: str, until: Any) -> None:
    """DesignError where an end is there already at the start."""
    series, limit = possible[REACHED]
    if series[NOMINAL, 0] < limit[NOMINAL]:
        raise DesignError(
            f"until {quoted(until)} is there already at the start: the fresh battery begins with "
            f"{say(series[NOMINAL, 0], unit)}; give a lower end"
        )
    for name, what in ((RELAY, "the relay needs {} to pull in"), (TIMER, "the timer board needs {}")):
        if name not in possible:
            continue
        series, limit = possible[name]
        if series[NOMINAL, 0] < limit[NOMINAL]:
            needs, left = say(limit[NOMINAL], "V"), say(series[NOMINAL, 0], "V")
            raise DesignError(
                f"{what.format(needs)}, and the fresh battery leaves {left}: it never works; take a relay of a lower "
                "coil voltage or a stronger battery"
            )


def _places(possible: Ends, run: Course) -> tuple[dict[str, np.ndarray], dict[str, Any]]:
    """Where along the shares used each end comes in every corner, and when it comes in the nominal one."""
    places, ends = {}, {}
    for name, (series, limit) in possible.items():
        places[name], found = first_below(series, limit)
        seconds = float(at_place(places[name][NOMINAL], run.time[NOMINAL]))
        ends[name] = kind_of(Time).quantity(seconds) if found[NOMINAL] or name == EMPTY else None
    return places, ends


def _curve(run: Course, battery: Battery, place: float, light: np.ndarray, current: np.ndarray) -> DischargeCurve:
    """The nominal run up to its end, which becomes the last point."""

    def cut(values: np.ndarray) -> np.ndarray:
        return np.append(values[: int(np.ceil(place))], at_place(place, values))

    return DischargeCurve.of(
        time=cut(run.time[NOMINAL]),
        voltage=cut(run.voltage[NOMINAL]),
        current=cut(current[NOMINAL]),
        drain=cut(run.drain[NOMINAL]),
        charge=cut(run.charge[NOMINAL]) / _COULOMBS,
        light=cut(light[NOMINAL]),
        used=cut(battery.discharge.si.used),
    )


def _charges(run: Course, load: Any, curve: DischargeCurve, used: float) -> tuple[float, float, float]:
    """What lamp, standby with the drive's own current, and coil have used of the charge, in Ah."""
    if not isinstance(load, Load):
        return used, 0.0, 0.0
    time = curve.si.time
    parts = {lamp: sum(each.part for each in load.phases() if each.lamp == lamp) for lamp in run.lamps}
    mean = sum(part * run.lamps[lamp][NOMINAL] for lamp, part in parts.items())
    along = np.interp(time, run.time[NOMINAL], mean)
    lamp = float(trapezoid(along, time)) / _COULOMBS
    standby = (load.si.standby + load.duty * load.drive.own_current) * time[-1] / _COULOMBS
    coil = used - lamp - standby if load.relay is not None and not load.relay.latching else 0.0
    return lamp, standby, max(coil, 0.0)


@with_units(scalar=True)
def in_practice(current: Current = "20 mA", dropout: Voltage = "1.5 V") -> dict[str, RunTime]:
    """A 9 V alkaline block on one red lamp, by how the signal is changed: "relay", "latching relay", "hand switch".

    Assumed: a fresh block, a constant-current driver, the lamp lit all the time, no other
    standby current, and the end where half the light is gone or the relay no longer
    surely pulls in. The relay is a sensitive 9 V one with two changeover contacts, its
    coil held all the time. Common practice, no source: about twelve hours with the relay.
    """
    drive = ConstantCurrentDrive(Q(current, "A"), Q(dropout, "V"), 0.1)
    by_hand = Load(drive, leds["red alingap 3 mm"])
    held = dataclasses.replace(by_hand, relay=relays["9 V two-pole sensitive"])
    latching = dataclasses.replace(by_hand, relay=relays["9 V two-pole latching"])
    loads = {"relay": held, "latching relay": latching, "hand switch": by_hand}
    return {how: run_time(batteries["9 V alkaline"], load, 0.5) for how, load in loads.items()}
