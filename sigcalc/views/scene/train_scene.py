"""A train passes: the track from the side at one moment, and the boards below it that work the signal."""

from __future__ import annotations

import itertools
from typing import NamedTuple

import numpy as np

from ...design.train.passing_train import PassingTrain
from ...design.train.train_run import GREEN, RED
from ...parts.drive import ResistorDrive
from ...units import say
from ..canvas import Place, text_width
from ..chart import kept
from ..light import Light
from ..picture import Picture
from ..style import INK, LINE, MATERIALS, NORMAL, OUTLINE, STAGE, STAGE_BOX, THIN, Size, ink_on, lamp_fill
from .first_circuit import resistor_facts
from .table import Table

_HEIGHT = 462.0  # with the boards below the track
_EDGE = 10.0
_AT = 5e-4  # m: nearer than that the train is at the signal
_CARS = 4
_CLEAR, _LAST_CLEAR = "clear from here", "last wheel clear"
_ANCHORS = {1: "start", -1: "end"}
_SLEEPERS = 13.0  # points from one to the next
_TIMER, _RELAY, _SIGNAL = (24.0, 215.0), (240.0, 200.0), (480.0, 200.0)
_TRIGGER, _LAMPS = 1e-3, 0.01  # A: how quick the dots are
RESISTOR = ResistorDrive("680 ohm")
_LEFT_OUT = "The wires from the supply to the boards, with the X at the relay's contacts, are left out here."


class _Layout(NamedTuple):
    """The sheet for the track alone, the height of its rail, and the room on either side of signal and clear place."""

    sides: Place
    rail: float
    room: float  # of the train's length
    wall: bool


_PAGE = _Layout((632.0, 206.0), 140.0, 1.3, wall=False)
_WALL = _Layout(STAGE_BOX, 120.0, 0.5, wall=True)
_STRIP, _STRIP_TALL = 165.0, 18.0  # of the lamp's colour in time, on a wall
_NAME = 17.0  # size of the colour's name there


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
    lies: _Layout

    @property
    def right(self) -> float:
        """How far the track goes."""
        return self.lies.sides[0] - _EDGE

    def across(self, x: float) -> float:
        return float(np.clip(_EDGE + (x - self.low) * self.per_metre, _EDGE, self.right))


def train_scene(result: PassingTrain, moment: float, boards: bool = True, size: Size = NORMAL) -> Picture:
    """The train at a moment, in s from the account's start, and what timer, relay and signal do then.

    To scale along the track; heights, magnet and reed are not. A train that has left the picture is drawn as far as it
    is in it. Without `boards` there is the track alone; on the stage there are in their place the colours in time.
    """
    case, time = result.happenings, moment - result.si.start
    now = _Moment(
        float(result.run.place(time)),
        *(bool(each.holds(time)[0]) for each in (case.contact, case.timer, case.red)),
        moment,
        _left(result, time),
    )
    lies = _WALL if size is STAGE else _PAGE
    boards = boards and not lies.wall
    scale = _scale(result, lies)
    table = Table(lies.sides[0], _HEIGHT if boards else lies.sides[1])
    _ground(table, scale, result)
    _post(table, scale, result, now)
    _train(table, scale, result, now)
    _reed(table, scale, now)
    if boards:
        _boards(table, scale, result, now)
    (_colours_in_time if lies.wall else _bar)(table, scale, result, now)
    return table.picture(_sentence(result, now) + (f" {_LEFT_OUT}" if boards else ""), size)


def _left(result: PassingTrain, time: float) -> float:
    """What is left of the on-time (s): 0 where the timer is off, infinite where it stays on for good."""
    starts, ends = (each[0] for each in result.happenings.timer)
    return max((end - time for start, end in zip(starts, ends, strict=True) if start <= time < end), default=0.0)


def _scale(result: PassingTrain, lies: _Layout) -> _Scale:
    si = result.run.si
    room = max(lies.room * si.length, 0.2 * (si.reed_beyond + si.clearing_distance))
    low, high = -si.reed_beyond - room, si.clearing_distance + room
    if result.run.backwards:
        low = min(low, -si.clearing_distance - room)
    low, high = kept(low, high, "track")
    return _Scale(low, (lies.sides[0] - 2 * _EDGE) / (high - low), lies)


def _post(table: Table, scale: _Scale, result: PassingTrain, now: _Moment) -> None:
    """The mast behind the track with its two lamps; the lit one is named beside it."""
    x, wall = scale.across(-result.run.si.reed_beyond), scale.lies.wall
    ends = table.put("signal_post", (x - 20, scale.lies.rail - 118), lights=now.lights)
    side = -1 if x > 100 else 1
    lamp, name = ("lamp1", RED) if now.red else ("lamp2", GREEN)
    table.group(f"signal {name}")
    letters = {"size": _NAME} if wall else {}
    table.text((x + side * 30, ends[lamp][1] + 4), name.upper(), _ANCHORS[side], bold=True, **letters)
    if not wall:
        table.text((max(x, 26), 16), "signal", "middle")


def _ground(table: Table, scale: _Scale, result: PassingTrain) -> None:
    """The rail on its sleepers and ballast, and the place where the last wheel is clear."""
    wide, rail, wall = scale.right - _EDGE, scale.lies.rail, scale.lies.wall
    table.group("ballast")
    table.rectangle((_EDGE, rail + 4), (wide, 20), fill=MATERIALS["ballast"], width=THIN, radius=3)
    for number in range(int(wide / _SLEEPERS)):
        corner = (_EDGE + 3 + number * _SLEEPERS, rail + 1)
        table.rectangle(corner, (7, 6), fill=MATERIALS["sleeper"], width=0.6, radius=1)
    table.group("track")
    table.line((_EDGE, rail), (scale.right, rail), width=4.4, colour=OUTLINE)
    table.line((_EDGE, rail - 0.6), (scale.right, rail - 0.6), width=1.8, colour=MATERIALS["metal"])
    clear = scale.across(result.run.si.clearing_distance)
    if result.run.backwards:
        clear = scale.across(-result.run.si.clearing_distance)
    table.line((clear, rail - (44 if wall else 52)), (clear, rail - 2), width=LINE, dash="2 3")
    way = "↓" if wall else "↑"
    room, beside = text_width(f"{_CLEAR} {way}") + 4, scale.across(0.0)
    # away from mast and reed, if it can
    after = clear + room < scale.right + _EDGE and (clear >= beside or clear < room)
    place, words, anchor = (-4, f"{way} {_CLEAR}", "start") if after else (4, f"{_CLEAR} {way}", "end")
    # below the rail, where no mast is; on a wall above the roofs
    table.text((clear + place, rail + (-48 if wall else 39)), words, anchor)


def _bar(table: Table, scale: _Scale, *_: object) -> None:
    """The scale bar at the foot of the sheet."""
    length = next(m * 10.0**e for e in range(3, -4, -1) for m in (5, 2, 1) if m * 10.0**e * scale.per_metre <= 130)
    left, y = _EDGE, table.height - 8
    right = left + length * scale.per_metre
    table.group("scale")
    table.line((left, y - 4), (left, y), (right, y), (right, y - 4), width=LINE)
    table.text((right + 8, y), f"{say(length, 'm')}; along the track to scale; heights, reed and magnet (■) are not")


def _colours_in_time(table: Table, scale: _Scale, result: PassingTrain, now: _Moment) -> None:
    """The lamp's colour over the whole time, with this moment, what the timer does, and when the train is clear."""
    si, (starts, ends) = result.si, result.happenings.red
    top, foot, (_, end) = _STRIP, _STRIP + _STRIP_TALL, kept(0.0, si.end, "time")

    def across(time: float) -> float:
        return _EDGE + float(np.clip(time / end, 0.0, 1.0)) * (scale.right - _EDGE)

    reds = [(across(a + si.start), across(b + si.start)) for a, b in zip(starts[0], ends[0], strict=True) if b > a]
    edges = [_EDGE, *itertools.chain(*reds), scale.right]
    spans = [(RED, each, 0.0) for each in reds]
    spans += [(GREEN, each, 4.0) for each in zip(edges[::2], edges[1::2], strict=True) if each[1] > each[0]]
    table.group("lamp")
    for colour, (left, right), inset in spans:
        fill = lamp_fill(colour)
        table.rectangle((left, top + inset), (right - left, _STRIP_TALL - 2 * inset), fill=fill, width=LINE - inset / 5)
        if right - left > text_width(colour.upper(), bold=True) + 8 and not inset:
            table.text(((left + right) / 2, foot - 5), colour.upper(), "middle", bold=True, fill=ink_on(fill))
    x, clear = across(now.time), across(si.clear)
    table.group("clear")
    table.line((clear, top), (clear, foot + 5), width=2.4, dash="3 2")
    side = 1 if clear < scale.right - text_width(_LAST_CLEAR) - 6 else -1
    table.text((clear + 5 * side, foot + 14), _LAST_CLEAR, _ANCHORS[side])
    table.group("now")
    table.line((x, top - 3), (x, foot), width=2.4)
    table.polygon((x, top + 1), (x - 6, top - 9), (x + 6, top - 9), fill=INK, width=0.5)
    side = 1 if x < scale.right - text_width("timer ON, 8.88 s left", bold=True) - 12 else -1
    table.text((x + 10 * side, top - 3), _timer_words(now), _ANCHORS[side], bold=now.timer)


def _timer_words(now: _Moment) -> str:
    left = f", {say(now.left, 's', 2)} left" if np.isfinite(now.left) else " for good"
    return f"timer {f'ON{left}' if now.timer else 'off'}"


def _train(table: Table, scale: _Scale, result: PassingTrain, now: _Moment) -> None:
    """The train from its engine to its end, and its magnets under the floor."""
    si, way = result.run.si, -1.0 if result.run.backwards else 1.0
    front = now.place + si.magnet_from_front
    edges = [scale.across(way * (front - si.length * part / _CARS)) for part in range(_CARS + 1)]
    for number, (one, other) in enumerate(itertools.pairwise(edges)):
        left, right = sorted((one, other))
        if right - left > 3:
            table.put(
                "car", (left, scale.lies.rail - 42), long=round(right - left, 1), engine=number == 0, ahead=int(way)
            )
    table.group("magnet")
    places = [now.place]
    if si.last_magnet is not None:
        places.append(now.place - si.last_magnet + si.magnet_from_front)
    for place in places:
        x = scale.across(way * place)
        if _EDGE < x < scale.right:
            table.rectangle((x - 4, scale.lies.rail - 11), (8, 7), fill=INK, width=THIN)


def _reed(table: Table, scale: _Scale, now: _Moment) -> None:
    """The glass under the rail with its two blades, touching or apart."""
    x, y = scale.across(0.0), scale.lies.rail + 14
    table.group(f"reed {'closed' if now.reed else 'open'}")
    gap = 0.0 if now.reed else 3.0
    table.rectangle((x - 20, y - 7), (40, 14), fill=MATERIALS["glass"], width=1.4, radius=7)
    table.line((x - 28, y), (x - 10, y), (x + 6, y + gap / 2), width=2)
    table.line((x + 28, y), (x + 10, y), (x - 6, y - gap), width=2)
    side = 1 if x < scale.right - 120 else -1
    table.words((x + side * 36, y + 4), f"reed {'CLOSED' if now.reed else 'open'}", _ANCHORS[side], bold=now.reed)


def _boards(table: Table, scale: _Scale, result: PassingTrain, now: _Moment) -> None:
    """Timer and relay board and the signal as one sees them, with the wires from the reed to the lamps."""
    fed = now.timer == (result.run.coil_fed_for == RED)
    pulled = now.red == (result.run.coil_fed_for == RED)
    share = float(np.clip(now.left / result.run.hold, 0.0, 1.0))
    timer = table.put("timer_board", _TIMER, running=now.timer, share=round(share, 2))
    relay = table.put("relay_board", _RELAY, pulled=pulled, light=Light.switched("amber", fed))
    signal = table.put("signal", _SIGNAL, lights=now.lights)
    x, y, trigger = scale.across(0.0), scale.lies.rail + 14, _TRIGGER if now.reed else 0.0
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
    table.text((_TIMER[0] + 100, 374), _timer_words(now), "middle", bold=now.timer)
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
