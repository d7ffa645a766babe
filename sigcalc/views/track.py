"""The track from the side at one moment: the train with its magnet, the reed, and the signal with its lit lamp."""

from __future__ import annotations

import itertools
from typing import NamedTuple

import numpy as np

from ..design.train.passing_train import PassingTrain
from ..design.train.train_run import GREEN, RED
from ..units import say
from .canvas import Canvas, text_width
from .picture import Picture
from .style import INK, LINE, NORMAL, PAPER, SHADE, THIN, Size, lamp_fill

_WIDTH, _HEIGHT = 530.0, 206.0
_EDGE = 10.0
_AT = 5e-4  # m: nearer than that the train is at the signal
_RAIL, _FLOOR, _ROOF = 140.0, 132.0, 100.0
_LAMPS = (36.0, 60.0)
_ROOM = 1.3  # of the train's length, before the signal and beyond the place where it is clear
_CARS = 4
_CLEAR = "clear from here"
_ANCHORS = {1: "start", -1: "end"}


class _Moment(NamedTuple):
    """What is so at one moment; `place` is the train's first magnet in m past the reed, as it travels."""

    place: float
    reed: bool
    timer: bool
    red: bool
    time: float


class _Scale(NamedTuple):
    """From metres past the reed, as the signal counts, to points."""

    low: float
    per_metre: float

    def across(self, x: float) -> float:
        return float(np.clip(_EDGE + (x - self.low) * self.per_metre, _EDGE, _WIDTH - _EDGE))


def track_picture(result: PassingTrain, moment: float, size: Size = NORMAL) -> Picture:
    """The train at a moment, in s from the account's start: to scale along the track; heights, magnet and reed are not.

    A train that has left the picture is drawn as far as it is in it.
    """
    case, time = result.happenings, moment - result.si.start
    now = _Moment(
        float(result.run.place(time)),
        *(bool(each.holds(time)[0]) for each in (case.contact, case.timer, case.red)),
        moment,
    )
    scale = _scale(result)
    canvas = Canvas(_WIDTH, _HEIGHT)
    _signal(canvas, scale, result, now)
    _ground(canvas, scale, result)
    _train(canvas, scale, result, now)
    _reed(canvas, scale, now)
    return canvas.picture(_sentence(result, now), size)


def _scale(result: PassingTrain) -> _Scale:
    si = result.run.si
    room = max(_ROOM * si.length, 0.2 * (si.reed_beyond + si.clearing_distance))
    low, high = -si.reed_beyond - room, si.clearing_distance + room
    if result.run.backwards:
        low = min(low, -si.clearing_distance - room)
    return _Scale(low, (_WIDTH - 2 * _EDGE) / (high - low))


def _signal(canvas: Canvas, scale: _Scale, result: PassingTrain, now: _Moment) -> None:
    """The mast behind the track with its two lamps; the lit one is filled, and named beside it."""
    x = scale.across(-result.run.si.reed_beyond)
    canvas.group(f"signal {RED if now.red else GREEN}")
    canvas.line((x, _LAMPS[0] - 14), (x, _RAIL), width=4)
    for colour, y in zip((RED, GREEN), _LAMPS, strict=True):
        lit = (colour == RED) == now.red
        canvas.circle((x, y), 11, fill=PAPER, width=LINE)
        canvas.circle((x, y), 7, fill=lamp_fill(colour) if lit else PAPER, width=THIN)
        if lit:
            side = -1 if x > 80 else 1
            canvas.text((x + side * (18 if side < 0 else 28), y + 4), colour.upper(), _ANCHORS[side], bold=True)
            canvas.rays((x, y), (14, 22), range(-40, 41, 20))
    canvas.text((max(x, 26), _LAMPS[0] - 20), "signal", "middle")


def _ground(canvas: Canvas, scale: _Scale, result: PassingTrain) -> None:
    """The rail, the place where the last wheel is clear, and a scale bar."""
    canvas.group("track")
    canvas.line((_EDGE, _RAIL), (_WIDTH - _EDGE, _RAIL), width=3)
    clear = scale.across(result.run.si.clearing_distance)
    if result.run.backwards:
        clear = scale.across(-result.run.si.clearing_distance)
    canvas.line((clear, _RAIL - 52), (clear, _RAIL - 2), width=LINE, dash="2 3")
    fits = clear + text_width(_CLEAR) + 20 < _WIDTH  # below the rail, where no mast is
    place, words, anchor = (-4, f"↑ {_CLEAR}", "start") if fits else (4, f"{_CLEAR} ↑", "end")
    canvas.text((clear + place, _RAIL + 38), words, anchor)
    length = next(m * 10.0**e for e in range(3, -4, -1) for m in (5, 2, 1) if m * 10.0**e * scale.per_metre <= 130)
    left, y = _EDGE, _HEIGHT - 8
    right = left + length * scale.per_metre
    canvas.group("scale")
    canvas.line((left, y - 4), (left, y), (right, y), (right, y - 4), width=LINE)
    canvas.text((right + 8, y), f"{say(length, 'm')}; along the track to scale; heights, reed and magnet (■) are not")


def _train(canvas: Canvas, scale: _Scale, result: PassingTrain, now: _Moment) -> None:
    """The train as boxes from its front to its end, with an arrow, and its magnets under the floor."""
    si, way = result.run.si, -1.0 if result.run.backwards else 1.0
    front = now.place + si.magnet_from_front
    edges = [scale.across(way * (front - si.length * part / _CARS)) for part in range(_CARS + 1)]
    canvas.group("train")
    for one, other in itertools.pairwise(edges):
        left, right = sorted((one, other))
        if right - left > 3:
            canvas.rectangle((left + 1, _ROOF), (right - left - 2, _FLOOR - _ROOF), fill=SHADE, radius=4)
            for wheel in (left + 0.2 * (right - left), right - 0.2 * (right - left)):
                canvas.circle((wheel, _FLOOR + 3.5), 4, fill=PAPER, width=1.2)
    if abs(edges[-1] - edges[0]) > 90:
        middle = (edges[0] + edges[-1]) / 2
        canvas.arrow((middle - way * 32, (_ROOF + _FLOOR) / 2), (middle + way * 32, (_ROOF + _FLOOR) / 2), width=2.4)
    canvas.group("magnet")
    places = [now.place]
    if si.last_magnet is not None:
        places.append(now.place - si.last_magnet + si.magnet_from_front)
    for place in places:
        x = scale.across(way * place)
        if _EDGE < x < _WIDTH - _EDGE:
            canvas.rectangle((x - 4, _FLOOR - 7), (8, 9), fill=INK, width=THIN)


def _reed(canvas: Canvas, scale: _Scale, now: _Moment) -> None:
    """The glass under the rail with its two blades, touching or apart."""
    x, y = scale.across(0.0), _RAIL + 14
    canvas.group(f"reed {'closed' if now.reed else 'open'}")
    canvas.rectangle((x - 20, y - 6), (40, 12), width=1.2, radius=6)
    gap = 0.0 if now.reed else 3.0
    canvas.line((x - 28, y), (x - 10, y), (x + 6, y + gap / 2), width=2)
    canvas.line((x + 28, y), (x + 10, y), (x - 6, y - gap), width=2)
    side = 1 if x < _WIDTH - 130 else -1
    canvas.text((x + side * 34, y + 4), f"reed {'CLOSED' if now.reed else 'open'}", _ANCHORS[side], bold=now.reed)


def _sentence(result: PassingTrain, now: _Moment) -> str:
    reach = now.place + result.run.si.magnet_from_front - result.run.signal
    side = "beyond" if reach > 0 else "before"
    where = "at" if abs(reach) < _AT else f"{say(abs(reach), 'm', 2)} {side}"
    return (
        f"At {say(now.time, 's')} the train's front is {where} the signal, the reed is "
        f"{'closed' if now.reed else 'open'}, the timer {'on' if now.timer else 'off'}, and the lamp shows "
        f"{RED if now.red else GREEN}."
    )
