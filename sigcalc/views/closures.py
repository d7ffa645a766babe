"""A magnet past a reed in its three orientations: the field along the track, and where the reed is closed."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..design.train.magnet_and_reed import Gap, Passing, closures
from ..parts.magnet import Magnet, as_magnet, as_orientation
from ..parts.reed import Reed, as_reed
from ..physics.magnetics import CROSSWISE, LENGTHWISE, ORIENTATIONS, UPRIGHT
from ..units import Q, say, say_times, with_units
from .canvas import Canvas
from .field_axis import FieldAxis
from .picture import Picture
from .style import FAINT, INK, NORMAL, PAPER, THIN, Size

_WIDTH, _LEFT, _RIGHT = 530.0, 138.0, 462.0
_TOP, _LANE, _STRIP, _GAP = 10.0, 70.0, 16.0, 12.0
_FOOT = 44.0
_LEAST_REACH = 0.01  # m
_POINTS = 401
_CLOSED = "#595959"

Stretches = list[tuple[float, float]]


@with_units(scalar=True)
def closures_picture(
    magnet: Magnet | str,
    reed: Reed,
    gap: Gap,
    orientations: Sequence[str] = ORIENTATIONS,
    size: Size = NORMAL,
) -> Picture:
    """The amount of the flux density along the reed against the magnet's place, one lane for each orientation.

    Below each curve stand the closed stretches, numbered; a lone orientation has a higher lane. Arguments as
    `closures`, and raises as it does.
    """
    magnet, reed = as_magnet(magnet), as_reed(reed)
    names = [as_orientation(each) for each in orientations]
    found = {name: _in_metres(closures(magnet, reed, Q(gap, "m"), name)) for name in names}
    reach = 1.2 * max([_LEAST_REACH, *(abs(x) for each in found.values() for pair in each for x in pair)])
    places = np.linspace(-reach, reach, _POINTS)
    passings = {name: Passing.over(magnet, name, reed) for name in names}
    fields = {name: np.abs(each.field(places, gap)) for name, each in passings.items()}
    pull_in, release = reed.at_magnet
    axis = FieldAxis.around(release, max(pull_in, *(float(each.max()) for each in fields.values())))
    lane = _LANE if len(names) > 1 else 2.6 * _LANE
    pitch = lane + _STRIP + _GAP
    canvas = Canvas(_WIDTH, _TOP + len(names) * pitch + _FOOT)
    for number, name in enumerate(names):
        box = (_TOP + number * pitch, lane)
        _lane(canvas, name, box, axis, (places, fields[name]), reed)
        _strip(canvas, found[name], _TOP + number * pitch + lane, reach)
    _place_axis(canvas, _TOP + len(names) * pitch - _GAP, reach)
    peaks = {name: float(each.peak(gap)[0]) / pull_in for name, each in passings.items()}
    return canvas.picture(_sentence(found, gap, peaks), size)


def _in_metres(pairs: list) -> Stretches:
    return [(float(start.m_as("m")), float(end.m_as("m"))) for start, end in pairs]


def _lane(
    canvas: Canvas,
    name: str,
    box: tuple[float, float],
    axis: FieldAxis,
    curve: tuple[np.ndarray, np.ndarray],
    reed: Reed,
) -> None:
    top, height = box
    canvas.group(f"lane {name}")
    canvas.text((0, top + 12), name.upper(), bold=True)
    _icon(canvas, name, (42, top + 46))
    axis.draw(canvas, (_LEFT, _RIGHT), box, reed)
    places, field = curve
    across = _LEFT + (places - places[0]) / (places[-1] - places[0]) * (_RIGHT - _LEFT)
    if field.max() <= 0:
        canvas.text(((_LEFT + _RIGHT) / 2, top + 0.3 * height), "no field along the reed", "middle")
        return
    canvas.line(*zip(across, axis.height(field, box), strict=True), width=2.4)


def _strip(canvas: Canvas, stretches: Stretches, top: float, reach: float) -> None:
    """The closed stretches as numbered bars under the curve."""
    canvas.group("closed")
    canvas.rectangle((_LEFT, top), (_RIGHT - _LEFT, _STRIP), width=THIN)
    for number, pair in enumerate(stretches, 1):
        start, end = (_LEFT + (x / reach + 1) / 2 * (_RIGHT - _LEFT) for x in pair)
        canvas.rectangle((start, top), (end - start, _STRIP), fill=_CLOSED, width=THIN)
        if end - start > 14:
            canvas.text(((start + end) / 2, top + 12.5), number, "middle", bold=True, fill=PAPER)
    canvas.text((_RIGHT + 5, top + 13), f"closed {len(stretches)}×", bold=True)


def _icon(canvas: Canvas, name: str, centre: tuple[float, float]) -> None:
    """The magnet over the reed, seen from the side; its poles are named."""
    x, y = centre
    if name == UPRIGHT:
        canvas.rectangle((x - 9, y - 26), (18, 32), width=1.2)
        canvas.line((x - 9, y - 10), (x + 9, y - 10), width=THIN)
        canvas.text((x, y - 13), "N", "middle")
        canvas.text((x, y + 4), "S", "middle")
    elif name == LENGTHWISE:
        canvas.rectangle((x - 17, y - 12), (34, 18), width=1.2)
        canvas.line((x, y - 12), (x, y + 6), width=THIN)
        canvas.text((x - 8.5, y + 1.5), "S", "middle")
        canvas.text((x + 8.5, y + 1.5), "N", "middle")
    elif name == CROSSWISE:
        canvas.circle((x, y - 4), 10, width=1.2)
        canvas.text((x, y + 0.5), "N", "middle")
    canvas.rectangle((x - 30, y + 15), (60, 8), width=1.2, radius=4)
    canvas.line((x - 38, y + 19), (x + 2, y + 20), width=1.2)
    canvas.line((x - 2, y + 18), (x + 38, y + 19), width=1.2)


def _place_axis(canvas: Canvas, y: float, reach: float) -> None:
    """Millimetres along the track below all lanes."""
    canvas.group("axis")
    step = next(each for each in (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000) if reach * 1e3 / each <= 5)
    last = int(reach * 1e3 // step)
    for number in range(-last, last + 1):
        x = _LEFT + (number * step / (reach * 1e3) + 1) / 2 * (_RIGHT - _LEFT)
        canvas.line((x, y), (x, y + 5), width=THIN, colour=FAINT if number else INK)
        canvas.text((x, y + 18), f"{number * step:g}".replace("-", "−"), "middle")
    canvas.text((_RIGHT + 14, y + 18), "mm")
    canvas.text(((_LEFT + _RIGHT) / 2, y + 36), "from the reed to the magnet, which travels this way", "middle")
    canvas.arrow((_RIGHT - 12, y + 32), (_RIGHT + 22, y + 32))


def _sentence(found: dict[str, Stretches], gap: float, peaks: dict[str, float]) -> str:
    parts = [f"{name} {_often(len(each))}" for name, each in found.items()]
    listed = parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}"
    said = f"Straight over the reed, at a gap of {say(gap, 'm')}, the magnet closes it {listed}."
    strong = " and ".join(f"{say_times(peak)} times {name}" for name, peak in peaks.items() if peak)
    if strong:
        said += f" At its peak the field is this much of the pull-in: {strong}."
    if len(found) > 1:
        return said
    (stretches,) = found.values()
    places = [f"from {_signed(start)} to {_signed(end)}" for start, end in stretches]
    return f"{said} It is closed {' and '.join(places)} of the reed." if places else said


def _often(count: int) -> str:
    return {0: "never", 1: "once", 2: "twice"}.get(count, f"{count} times")


def _signed(place: float) -> str:
    return say(place, "m").replace("-", "−")
