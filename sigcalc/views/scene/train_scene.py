"""A train passes: the track from the side at one moment, and the boards below it that work the signal."""

from __future__ import annotations

import itertools
from typing import NamedTuple

import numpy as np

from ...design.train.passing_train import PassingTrain
from ...design.train.train_run import GREEN, RED
from ...parts.drive import ResistorDrive
from ...units import say
from ..canvas import text_width
from ..light import Light
from ..picture import Picture
from ..style import INK, LINE, MATERIALS, NORMAL, OUTLINE, THIN, Size
from .first_circuit import resistor_facts
from .table import Table

_WIDTH, _TRACK_HEIGHT, _HEIGHT = 632.0, 206.0, 462.0
_EDGE = 10.0
_AT = 5e-4  # m: nearer than that the train is at the signal
_RAIL, _FLOOR = 140.0, 132.0
_ROOM = 1.3  # of the train's length, before the signal and beyond the place where it is clear
_CARS = 4
_CLEAR = "clear from here"
_ANCHORS = {1: "start", -1: "end"}
_SLEEPERS = 13.0  # points from one to the next
_TIMER, _RELAY, _SIGNAL = (24.0, 215.0), (240.0, 200.0), (480.0, 200.0)
_TRIGGER, _LAMPS = 1e-3, 0.01  # A: how quick the dots are
RESISTOR = ResistorDrive("680 ohm")
_LEFT_OUT = "The wires from the supply to the boards, with the X at the relay's contacts, are left out here."


class _Moment(NamedTuple):
    """What is so at one moment; `place` is the train's first magnet in m past the reed, as it travels."""

    place: float
    reed: bool
    timer: bool
    red: bool
    time: float
    left: float  # s of the on-time

    @property
    def lights(self) -> tuple[Light, Light]:
        return Light.switched(RED, self.red), Light.switched(GREEN, not self.red)


class _Scale(NamedTuple):
    """From metres past the reed, as the signal counts, to points."""

    low: float
    per_metre: float

    def across(self, x: float) -> float:
        return float(np.clip(_EDGE + (x - self.low) * self.per_metre, _EDGE, _WIDTH - _EDGE))


def train_scene(result: PassingTrain, moment: float, boards: bool = True, size: Size = NORMAL) -> Picture:
    """The train at a moment, in s from the account's start, and what timer, relay and signal do then.

    To scale along the track; heights, magnet and reed are not. A train that has left the picture is drawn as far as it
    is in it. Without `boards` there is the track alone.
    """
    case, time = result.happenings, moment - result.si.start
    now = _Moment(
        float(result.run.place(time)),
        *(bool(each.holds(time)[0]) for each in (case.contact, case.timer, case.red)),
        moment,
        _left(result, time),
    )
    scale = _scale(result)
    table = Table(_WIDTH, _HEIGHT if boards else _TRACK_HEIGHT)
    _ground(table, scale, result)
    _post(table, scale, result, now)
    _train(table, scale, result, now)
    _reed(table, scale, now)
    if boards:
        _boards(table, scale, result, now)
    _bar(table, scale)
    return table.picture(_sentence(result, now) + (f" {_LEFT_OUT}" if boards else ""), size)


def _left(result: PassingTrain, time: float) -> float:
    """What is left of the on-time (s): 0 where the timer is off, infinite where it stays on for good."""
    starts, ends = (each[0] for each in result.happenings.timer)
    return max((end - time for start, end in zip(starts, ends, strict=True) if start <= time < end), default=0.0)


def _scale(result: PassingTrain) -> _Scale:
    si = result.run.si
    room = max(_ROOM * si.length, 0.2 * (si.reed_beyond + si.clearing_distance))
    low, high = -si.reed_beyond - room, si.clearing_distance + room
    if result.run.backwards:
        low = min(low, -si.clearing_distance - room)
    return _Scale(low, (_WIDTH - 2 * _EDGE) / (high - low))


def _post(table: Table, scale: _Scale, result: PassingTrain, now: _Moment) -> None:
    """The mast behind the track with its two lamps; the lit one is named beside it."""
    x = scale.across(-result.run.si.reed_beyond)
    ends = table.put("signal_post", (x - 20, _RAIL - 118), lights=now.lights)
    side = -1 if x > 80 else 1
    lamp, name = ("lamp1", RED) if now.red else ("lamp2", GREEN)
    table.group(f"signal {name}")
    table.text((x + side * 30, ends[lamp][1] + 4), name.upper(), _ANCHORS[side], bold=True)
    table.text((max(x, 26), 16), "signal", "middle")


def _ground(table: Table, scale: _Scale, result: PassingTrain) -> None:
    """The rail on its sleepers and ballast, and the place where the last wheel is clear."""
    wide = _WIDTH - 2 * _EDGE
    table.group("ballast")
    table.rectangle((_EDGE, _RAIL + 4), (wide, 20), fill=MATERIALS["ballast"], width=THIN, radius=3)
    for number in range(int(wide / _SLEEPERS)):
        corner = (_EDGE + 3 + number * _SLEEPERS, _RAIL + 1)
        table.rectangle(corner, (7, 6), fill=MATERIALS["sleeper"], width=0.6, radius=1)
    table.group("track")
    table.line((_EDGE, _RAIL), (_WIDTH - _EDGE, _RAIL), width=4.4, colour=OUTLINE)
    table.line((_EDGE, _RAIL - 0.6), (_WIDTH - _EDGE, _RAIL - 0.6), width=1.8, colour=MATERIALS["metal"])
    clear = scale.across(result.run.si.clearing_distance)
    if result.run.backwards:
        clear = scale.across(-result.run.si.clearing_distance)
    table.line((clear, _RAIL - 52), (clear, _RAIL - 2), width=LINE, dash="2 3")
    room, beside = text_width(_CLEAR) + 20, scale.across(0.0)
    after = clear + room < _WIDTH and (clear >= beside or clear < room)  # away from the reed's wires, if it can
    place, words, anchor = (-4, f"↑ {_CLEAR}", "start") if after else (4, f"{_CLEAR} ↑", "end")
    table.text((clear + place, _RAIL + 39), words, anchor)  # below the rail, where no mast is


def _bar(table: Table, scale: _Scale) -> None:
    """The scale bar at the foot of the sheet."""
    length = next(m * 10.0**e for e in range(3, -4, -1) for m in (5, 2, 1) if m * 10.0**e * scale.per_metre <= 130)
    left, y = _EDGE, table.height - 8
    right = left + length * scale.per_metre
    table.group("scale")
    table.line((left, y - 4), (left, y), (right, y), (right, y - 4), width=LINE)
    table.text((right + 8, y), f"{say(length, 'm')}; along the track to scale; heights, reed and magnet (■) are not")


def _train(table: Table, scale: _Scale, result: PassingTrain, now: _Moment) -> None:
    """The train from its engine to its end, and its magnets under the floor."""
    si, way = result.run.si, -1.0 if result.run.backwards else 1.0
    front = now.place + si.magnet_from_front
    edges = [scale.across(way * (front - si.length * part / _CARS)) for part in range(_CARS + 1)]
    for number, (one, other) in enumerate(itertools.pairwise(edges)):
        left, right = sorted((one, other))
        if right - left > 3:
            table.put("car", (left, _RAIL - 42), long=round(right - left, 1), engine=number == 0, ahead=int(way))
    table.group("magnet")
    places = [now.place]
    if si.last_magnet is not None:
        places.append(now.place - si.last_magnet + si.magnet_from_front)
    for place in places:
        x = scale.across(way * place)
        if _EDGE < x < _WIDTH - _EDGE:
            table.rectangle((x - 4, _FLOOR - 3), (8, 7), fill=INK, width=THIN)


def _reed(table: Table, scale: _Scale, now: _Moment) -> None:
    """The glass under the rail with its two blades, touching or apart."""
    x, y = scale.across(0.0), _RAIL + 14
    table.group(f"reed {'closed' if now.reed else 'open'}")
    gap = 0.0 if now.reed else 3.0
    table.rectangle((x - 20, y - 7), (40, 14), fill=MATERIALS["glass"], width=1.4, radius=7)
    table.line((x - 28, y), (x - 10, y), (x + 6, y + gap / 2), width=2)
    table.line((x + 28, y), (x + 10, y), (x - 6, y - gap), width=2)
    side = 1 if x < _WIDTH - 130 else -1
    table.words((x + side * 36, y + 4), f"reed {'CLOSED' if now.reed else 'open'}", _ANCHORS[side], bold=now.reed)


def _boards(table: Table, scale: _Scale, result: PassingTrain, now: _Moment) -> None:
    """Timer and relay board and the signal as one sees them, with the wires from the reed to the lamps."""
    fed = now.timer == (result.run.coil_fed_for == RED)
    pulled = now.red == (result.run.coil_fed_for == RED)
    share = float(np.clip(now.left / result.run.hold, 0.0, 1.0))
    timer = table.put("timer_board", _TIMER, running=now.timer, share=round(share, 2))
    relay = table.put("relay_board", _RELAY, pulled=pulled, light=Light.switched("amber", fed))
    signal = table.put("signal", _SIGNAL, lights=now.lights)
    x, y, trigger = scale.across(0.0), _RAIL + 14, _TRIGGER if now.reed else 0.0
    down = ((x + 28, y), (x + 28, 197), (15, 197), (15, timer["reed1"][1]), (timer["reed1"][0] + 10, timer["reed1"][1]))
    back = ((x - 28, y), (x - 28, 187), (5, 187), (5, timer["reed2"][1]), (timer["reed2"][0] + 10, timer["reed2"][1]))
    table.wire(*down[::-1], current=trigger, name="wire to reed")
    table.wire(*back, current=trigger, name="wire to reed")
    table.wire(timer["out"], relay["trigger"], current=_TRIGGER if fed else 0.0, name="output wire")
    ends = (relay["common1"], signal["a"], 486.0, "A"), (relay["common2"], signal["b"], 466.0, "B")
    for (start, end, across, name), sign in zip(ends, "+−" if now.red else "−+", strict=True):
        way = (start, (across, start[1]), (across, end[1]), end)
        table.wire(*way, pole=sign, current=_LAMPS if sign == "+" else -_LAMPS, name=f"wire {name}")
        table.text(
            (across + (10 if name == "A" else -14), end[1] + (-10 if name == "A" else 5)), sign, "middle", bold=True
        )
    table.put("resistor_upright", (453, relay["common2"][1] + 6), **resistor_facts(RESISTOR))
    table.group("states")
    left = f", {say(now.left, 's', 2)} left" if np.isfinite(now.left) else " for good"
    table.text((_TIMER[0] + 100, 374), f"timer {f'ON{left}' if now.timer else 'off'}", "middle", bold=now.timer)
    state = f"{'still ' if pulled != fed else ''}{'pulled in' if pulled else 'at rest'}"  # it needs its moment
    table.text((_RELAY[0] + 107, 384), f"relay {state}: {RED if now.red else GREEN}", "middle")


def _sentence(result: PassingTrain, now: _Moment) -> str:
    reach = now.place + result.run.si.magnet_from_front - result.run.signal
    side = "beyond" if reach > 0 else "before"
    where = "at" if abs(reach) < _AT else f"{say(abs(reach), 'm', 2)} {side}"
    return (
        f"At {say(now.time, 's')} the train's front is {where} the signal, the reed is "
        f"{'closed' if now.reed else 'open'}, the timer {'on' if now.timer else 'off'}, and the lamp shows "
        f"{RED if now.red else GREEN}."
    )
