"""How long a battery runs a signal: until what end, how sure that is, what uses the charge, and what to say of it."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from contextlib import suppress
from typing import Any, NamedTuple

import numpy as np

from ...errors import DesignError, RangeError, UnitError
from ...parts.drive import ConstantCurrentDrive
from ...parts.led import LIT_FROM
from ...parts.source import Battery, as_battery
from ...physics.discharge import at_place, first_below
from ...units import Charge, Current, Hours, Q, Ratio, Time, Voltage, kind_of, record, say, say_band, with_units
from ...units.reading import quoted
from ..findings import FINE, LOOK, STOP, Finding
from ..lamp.drive import OperatingPoint, string_voltage
from .drive_choice import minimum_load
from .load import NOMINAL, Course, Load, course

REACHED, EMPTY = "the end you asked for", "the battery is empty"
RELAY, TIMER = "the relay no longer pulls in", "the timer board starts anew"
USUAL_EVENING = "3 h"

_YEAR = 365.25 * 86400.0
_COULOMBS = 3600.0  # in an ampere-hour
_STANDBY_MUCH = 0.3  # of the charge: more than this for anything but the lamp is worth a word
_STEADY = 0.999
Ends = dict[str, tuple[np.ndarray, Any]]
"""What falls, shape (corners, shares used), and the limit, one or one for each corner, below which the run ends."""


@record
class DischargeCurve:
    """The nominal run, as arrays along it: time, terminal voltage, and what goes with them.

    `voltage` is the lowest the battery shows in any phase. `current` is that of the lamp
    while it is lit (the dimmest, of two), or the steady current; `drain` is the battery's
    mean. `light` is the share of the starting light (the lesser, of two lamps), `used`
    the share of the battery, `charge` what it has given.
    """

    time: Hours
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
    the nominal run, `ends` when each possible end would be reached (None: not before the
    battery is empty). `used` is the charge given, of which `lamp_charge`,
    `standby_charge` and `coil_charge` are the parts. With a relay, `chatter_to` is when the
    supply no longer reaches its voltage even before the coil is switched on: from its own
    end until then it may buzz. `asked` is the end as it was given, `until` in words.
    """

    hours: Hours
    hours_min: Hours
    hours_max: Hours
    used: Charge
    lamp_charge: Charge
    standby_charge: Charge
    coil_charge: Charge
    curve: DischargeCurve
    ended_by: str
    ends: dict[str, Any]
    asked: Any
    until: str
    battery: Battery
    load: Any
    age: Hours
    spread: Spread
    chatter_to: Hours | None = None

    def __repr__(self) -> str:
        return f"RunTime: {self.battery.name} battery, {self.lasts}, until {self.end}"

    @property
    def lasts(self) -> str:
        """The time with its band, in words."""
        return say_band(self.si.hours_min, self.si.hours, self.si.hours_max, "s", 2)

    @property
    def end(self) -> str:
        """What ended the nominal run, as the rest of a sentence: the end asked for, or what came before it."""
        return self.until if self.ended_by == REACHED else self.ended_by

    @property
    def latching(self) -> Any:
        """The nominal time with a latching relay in place of one that is held; None where none is held."""
        load = self.load
        if not isinstance(load, Load) or load.relay is None or load.relay.latching or not load.energised > 0:
            return None
        relay = dataclasses.replace(load.relay, latching=True, must_release=None)
        return run_time(self.battery, dataclasses.replace(load, relay=relay), self.asked, self.age).hours

    @property
    def divided(self) -> Hours:
        """What the plain sum says: the charge of the gentlest test divided by what the fresh battery has to give."""
        _, charges = self.battery.capacity_band()
        return kind_of(Hours).quantity(float(charges[1, 0] / self.curve.si.drain[0]))

    def moment(self, share: float) -> OperatingPoint:
        """The lamp and its drive when a share of the nominal run has passed; at 1 an empty battery gives nothing."""
        curve, (string, _) = self.curve.si, self.load.branch(self.load.shown)
        current, volts = (
            float(np.interp(share * self.si.hours, curve.time, each)) for each in (curve.current, curve.voltage)
        )
        if share >= 1 and self.ended_by == EMPTY:
            current = volts = 0.0
        across = min(float(string_voltage(max(current, 0.0), string)), volts)
        powers = {"led_power": current * across, "drive_power": current * (volts - across)}
        point = {"current": current, "led_voltage": across, "drive_voltage": volts - across, **powers}
        return OperatingPoint.of(**point, string=string, drive=self.load.drive)

    def coil_current(self, share: float) -> float:
        """What a held relay's coil draws then, in A, also where that no longer pulls it in; 0 where none is held."""
        relay, point = self.load.relay, self.moment(share).si
        if relay is None or relay.latching:
            return 0.0
        return max(point.led_voltage + point.drive_voltage - self.load.si.coil_drop, 0.0) / relay.si.coil_resistance

    @with_units(scalar=True)
    def when_light(self, share: Any) -> Hours:
        """When the light has fallen to a share of the start: least, nominal and most time, as an array of three.

        Infinite where it has not fallen so far when the battery is empty. Raises RangeError
        for a share that is not between 0 and 1.
        """
        if not isinstance(share, int | float) or not 0 < share < 1:
            raise RangeError(argument="share", need="a bare number between 0 and 1", given=quoted(share), example="0.5")
        place, found = first_below(self.spread.light, share)
        time = np.where(found, at_place(place, self.spread.time), np.inf)
        return np.array([time.min(), time[NOMINAL], time.max()])

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The verdicts on the run, the most telling first; even the weakest battery should last one usual evening."""
        return self.findings_for(USUAL_EVENING)

    @with_units(scalar=True)
    def findings_for(self, evening: Time) -> tuple[Finding, ...]:
        """The same for an evening of another length."""
        of_signal = (*_light(self), *_uses(self), *_chatter(self)) if isinstance(self.load, Load) else ()
        return (_lasts(self, evening), *_end(self), *of_signal, *_data(self))


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
    signal = isinstance(load, Load)
    unit, limit, words = _read_until(until, signal)
    run = course(battery, load if signal else _steady(load), age / _YEAR)
    _check_start(run, battery, load)
    light, lit = _light_of(run)
    series = {"V": run.voltage, "A": lit, "": light}[unit]
    possible = {EMPTY: (run.voltage, 0.0), REACHED: (series, limit)} | _board_ends(run, load)
    _check_ends(possible, unit, until)
    places, ends = {}, {}
    for name, (series, least) in possible.items():
        places[name], found = first_below(series, least)
        seconds = float(at_place(places[name][NOMINAL], run.time[NOMINAL]))
        ends[name] = kind_of(Hours).quantity(seconds) if found[NOMINAL] or name == EMPTY else None
    place = np.min(list(places.values()), axis=0)
    hours = at_place(place, run.time)
    columns = {"time": run.time, "voltage": run.voltage, "current": lit, "drain": run.drain, "light": light}
    columns |= {"charge": run.charge / _COULOMBS, "used": battery.discharge.si.used[None, :]}
    last, end = int(np.ceil(place[NOMINAL])), float(place[NOMINAL])
    cut = {key: np.append(each[NOMINAL][:last], at_place(end, each[NOMINAL])) for key, each in columns.items()}
    used = float(cut["charge"][-1])
    lamp, standby = _charges(run, load, cut["time"]) if signal else (used, 0.0)
    coil = used - lamp - standby if signal and load.relay is not None and not load.relay.latching else 0.0
    return RunTime.of(
        hours=float(hours[NOMINAL]),
        hours_min=float(hours.min()),
        hours_max=float(hours.max()),
        used=used,
        lamp_charge=lamp,
        standby_charge=standby,
        coil_charge=max(coil, 0.0),
        curve=DischargeCurve.of(**cut),
        ended_by=min(places, key=lambda name: places[name][NOMINAL]),
        ends=ends,
        asked=until,
        until=words,
        battery=battery,
        load=load if signal else Q(load),
        age=age,
        spread=Spread(run.time, light),
        chatter_to=_chatter_end(run, possible),
    )


def _read_until(until: Any, signal: bool) -> tuple[str, float, str]:
    """The unit of what ends the run, "V", "A" or "" for a share of the light, its SI value, and the end in words."""
    if isinstance(until, str):
        try:
            Q(until)
        except UnitError as refusal:
            raise UnitError(f"until: {refusal}") from None
    kinds, need = (Voltage, Current, Ratio), "a voltage, a current, or a bare share of the starting light"
    if not signal:
        kinds, need = (Voltage,), "a voltage where the load is a steady current"
    for kind in map(kind_of, kinds):
        with suppress(UnitError):
            limit = kind.read(until, "until", scalar=True)
            break
    else:
        raise UnitError(argument="until", need=need, example="5.4 V", given=quoted(until))
    if not limit > 0 or (kind.unit == "" and not limit < 1):
        need = "more than zero" if kind.unit else "a share between 0 and 1, such as 0.5"
        raise RangeError(argument="until", need=need, given=quoted(until))
    said = say(limit, kind.unit)
    words = {
        "V": f"the battery shows {said}",
        "A": f"the lamp's current has fallen to {said}",
        "": f"{said} of the starting light is left",
    }
    return kind.unit, limit, words[kind.unit]


def _steady(load: Any) -> float:
    current = kind_of(Current).read(load, "load", scalar=True)
    if not current > 0:
        raise RangeError('load needs to be above 0 A: with nothing connected a run has no end; write load="20 mA"')
    return current


def _check_start(run: Course, battery: Battery, load: Any) -> None:
    """DesignError where the nominal battery cannot feed the load even when fresh."""
    volts, ohms = battery.si.fresh_voltage, battery.si.internal_resistance
    if not run.voltage[NOMINAL, 0] > 0:
        raise DesignError(
            f"load asks the {battery.name} battery for {say(run.drain[NOMINAL, 0], 'A')}, more than it can give: its "
            f"{say(volts, 'V')} and {say(ohms, 'ohm')} give at most {say(volts / ohms, 'A')}; use a lighter load or a "
            "stronger battery"
        )
    for lamp, lit in run.lamps.items():
        if lit[NOMINAL, 0] <= LIT_FROM:
            whose = f"{lamp} lamp" if load.is_pair else "lamp"
            raise DesignError(
                f"battery {battery.name} gives {say(volts, 'V')} at most, below what drive and {whose} need: only "
                f"{say(lit[NOMINAL, 0], 'A')} flows and nothing is lit; use more cells, or fewer LEDs in series"
            )


def _light_of(run: Course) -> tuple[np.ndarray, np.ndarray]:
    """The share of the starting light (1 for a steady current), and the least current of any lamp that is lit."""
    if not run.lamps:
        return np.ones_like(run.time), run.drain
    lamps = list(run.lamps.values())
    shares = [lamp / np.maximum(lamp[:, :1], LIT_FROM) for lamp in lamps]
    return np.min(shares, axis=0), np.min(lamps, axis=0)


def _board_ends(run: Course, load: Any) -> Ends:
    """The ends that relay and timer board set, whose supply dips when the coil is switched on."""
    ends: Ends = {} if run.coil_on is None else {RELAY: (run.coil_on, run.coil_needs)}
    if isinstance(load, Load) and load.timer_voltage is not None:
        dip = run.voltage if run.coil_on is None else np.minimum(run.coil_on, run.voltage)
        ends[TIMER] = (dip, load.si.timer_voltage)
    return ends


def _check_ends(possible: Ends, unit: str, until: Any) -> None:
    """DesignError where an end is reached already at the start."""
    for name, (series, limit) in possible.items():
        first, least = series[NOMINAL, 0], float(np.ravel(limit)[NOMINAL])
        if first >= least:
            continue
        if name == REACHED:
            begins = f"the fresh battery begins with {say(first, unit)}"
            raise DesignError(f"until {quoted(until)} is there already at the start: {begins}; give a lower end")
        who, does = ("relay", " to pull in") if name == RELAY else ("timer board", "")
        raise DesignError(
            f"the {who} needs {say(least, 'V')}{does}, and the fresh battery leaves {say(first, 'V')}: it never works; "
            "use a relay of a lower coil voltage or a stronger battery"
        )


def _charges(run: Course, load: Load, time: np.ndarray) -> tuple[float, float]:
    """What the lamp, and standby with the drive's own current, have used of the charge, in Ah."""
    from scipy.integrate import trapezoid  # slow to load: only where a battery runs down

    parts = {lamp: sum(each.part for each in load.phases() if each.lamp == lamp) for lamp in run.lamps}
    mean = sum(part * run.lamps[lamp][NOMINAL] for lamp, part in parts.items())
    lamp = float(trapezoid(np.interp(time, run.time[NOMINAL], mean), time)) / _COULOMBS
    return lamp, float((load.si.standby + load.duty * load.drive.own_current) * time[-1]) / _COULOMBS


def _chatter_end(run: Course, possible: Ends) -> float | None:
    """When the supply without the coil falls below what relay or timer need, in s; None without a relay."""
    if run.coil_off is None:
        return None
    limits = [float(np.ravel(possible[name][1])[NOMINAL]) for name in (RELAY, TIMER) if name in possible]
    place, _ = first_below(run.coil_off[NOMINAL], max(limits))
    return float(at_place(place, run.time[NOMINAL]))


def _lasts(run: RunTime, evening: float) -> Finding:
    """The time, held against one evening."""
    si, left, one = run.si, "", f"one evening of {say(evening, 's', 2)}"
    if isinstance(run.load, Load) and run.ended_by != REACHED:
        left = f", with {say(run.curve.light[-1], '')} of the starting light left"
    said = [f"It lasts {run.lasts} until {run.end}{left}, over the spread of batteries, drive and LEDs."]
    if si.hours < evening:
        little = "a little " if say(si.hours, "s", 2) == say(evening, "s", 2) else ""
        said.append(f"That is {little}less than {one}.")
    if si.hours_min == 0:
        said.append("The weakest does not even start.")
    elif si.hours_min < evening <= si.hours:
        said.append(f"The weakest does not last {one}.")
    grade = STOP if si.hours < evening else LOOK if si.hours_min < evening else FINE
    remedy = "" if grade == FINE else "Use a stronger battery or a lighter load."
    return Finding(grade, f"{run.battery.name} battery", " ".join(said), remedy)


def _end(run: RunTime) -> Iterator[Finding]:
    """That relay or timer give up before the lamp does."""
    if run.ended_by not in (RELAY, TIMER):
        return
    why = "the supply dips below what it needs"
    if run.ended_by == RELAY:
        timer = ", with what is lost in its timer" if run.load.si.coil_drop > 0 else ""
        why = f"the supply sags below what every relay pulls in at{timer}"
    reason = f"It ends because {run.ended_by}: {why}, while {say(run.curve.light[-1], '')} of the light is left."
    remedy = "Use a relay or timer for a lower voltage, or a battery with more cells."
    yield Finding(LOOK, "end of the run", reason, remedy)


def _light(run: RunTime) -> Iterator[Finding]:
    """How the light falls, and where a driver stops holding its current or is set to less than it needs."""
    drive, curve = run.load.drive, run.curve.si
    half = say(float(np.interp(curve.time[-1] / 2, curve.time, run.curve.light)), "")
    falls = f"{half} of the starting light is left at half time and {say(run.curve.light[-1], '')} at the end"
    if not isinstance(drive, ConstantCurrentDrive):
        reason = f"With a resistor the light fades with the battery: {falls}. The eye notices little before half."
        yield Finding(FINE, "light", reason)
        return
    yield Finding(FINE, "light", f"With the driver {falls}: there is little warning before it collapses.")
    held, wanted = curve.current >= drive.limit * _STEADY, say(drive.limit, "A")
    if not held[0]:
        reason = f"Even fresh, the battery leaves the driver {say(curve.current[0], 'A')} instead of {wanted}."
        remedy = "Use more cells, fewer LEDs in series, or a driver that needs less."
        yield Finding(LOOK, "drop-out", reason, remedy)
    elif not held.all():
        when = say(curve.time[int(np.argmin(held))], "s", 2)
        yield Finding(FINE, "drop-out", f"The driver holds its current for {when}, then the light falls.")
    yield from minimum_load(drive)


def _uses(run: RunTime) -> Iterator[Finding]:
    """That much of the charge goes into anything but the lamp."""
    si = run.si
    if si.standby_charge + si.coil_charge < _STANDBY_MUCH * si.used:
        return
    uses = {"the lamp uses": si.lamp_charge, "standby": si.standby_charge, "the relay's coil": si.coil_charge}
    told = [f"{what} {say(charge, 'Ah', 2)}" for what, charge in uses.items() if charge > 0]
    remedy = "Use a board that draws less, or an adapter."
    if si.coil_charge > si.standby_charge:
        instead = f"{say(run.latching.m_as('s'), 's', 2)} instead of {say(si.hours, 's', 2)}"
        remedy = f"A latching relay needs no holding: {instead}."
    reason = f"Of {say(si.used, 'Ah', 2)} {', '.join(told[:-1])} and {told[-1]}."
    yield Finding(LOOK, "what uses the charge", reason, remedy)


def _chatter(run: RunTime) -> Iterator[Finding]:
    """Where the dip of the coil makes relay and timer unsure."""
    ends = [run.ends[name].m_as("s") for name in (RELAY, TIMER) if run.ends.get(name) is not None]
    if not ends or run.chatter_to is None or say(run.si.chatter_to, "s") == say(min(ends), "s"):
        return
    reason = (
        f"From {say(min(ends), 's')} to {say(run.si.chatter_to, 's')} the supply is enough until the coil is switched "
        "on, and then sags below what is needed: the relay may buzz, and the timer may start anew at every try."
    )
    latching = "." if run.load.relay.latching else "; a latching relay puts it off."
    remedy = f"Change the battery before, or put a large capacitor at the relay board{latching}"
    yield Finding(LOOK, "chatter", reason, remedy)


def _data(run: RunTime) -> Iterator[Finding]:
    """What the run's figures rest on: drains beyond the tests, and what is from memory."""
    drains, _ = run.battery.capacity_band()
    drain, recalled = run.curve.si.drain, run.battery.discharge.from_memory
    if drain.min() < drains[0] * (1 - 1e-9):
        reason = f"{say(drain.min(), 'A')} for part of the run is less than in any published test "
        reason += f"({say(drains[0], 'A')}): no extra capacity is assumed for that."
        yield Finding(LOOK, "outside the data", reason)
    elif drain.max() > drains[-1] * (1 + 1e-9):
        reason = f"{say(drain.max(), 'A')} is more than in any published test ({say(drains[-1], 'A')}): the capacity "
        reason += "is carried on beyond the last point."
        yield Finding(LOOK, "outside the data", reason, "Use a larger battery.")
    if recalled:
        reason = f"Not looked up: {'; '.join(recalled)}. The band is wider for it."
        yield Finding(LOOK, "figures from memory", reason)
