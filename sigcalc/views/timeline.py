"""The passing in time: field, reed, timer, coil and lamp one below the other on one time axis."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple

import numpy as np

from ..design.train.passing_train import PassingTrain
from ..design.train.train_run import GREEN, RED
from ..errors import UnknownNameError
from ..parts.reed import band_of
from ..physics.events import Spans
from ..units import say
from .canvas import Canvas, text_width
from .field_axis import FieldAxis
from .picture import Picture
from .style import INK, NORMAL, SHADE, THIN, Size, lamp_fill

WHOLE, OVER_THE_REED, FIRST_CLOSING = "whole time", "over the reed", "first closing"
VIEWS = (WHOLE, OVER_THE_REED, FIRST_CLOSING)

_WIDTH, _LEFT, _RIGHT = 530.0, 84.0, 462.0
_MARKS, _TOP, _FIELD = 4.0, 56.0, 62.0
_ROW, _BLOCK = 30.0, 20.0
_FOOT, _BRIEF_FOOT = 42.0, 24.0
_SPACE = 14.0  # between the field and the rows
_POINTS = 1201
_LEAST_WIDTH = 1.5  # points of a block too short to be seen at its length

Window = tuple[float, float]


class _Sheet(NamedTuple):
    """Where times (s, from the first magnet over the reed) stand on the sheet."""

    window: Window
    rows: float  # where the rows begin
    foot: float  # where they end

    def across(self, time: Any) -> Any:
        low, high = self.window
        return _LEFT + (np.clip(time, low, high) - low) / (high - low) * (_RIGHT - _LEFT)

    def sees(self, time: float) -> bool:
        slack = 1e-9 * (self.window[1] - self.window[0])  # its own ends, added to and taken off again
        return self.window[0] - slack <= time <= self.window[1] + slack


def passing_timeline(
    result: PassingTrain, view: str = WHOLE, moment: float | None = None, brief: bool = False, size: Size = NORMAL
) -> Picture:
    """All that happens while a train passes.

    Parameters
    ----------
    result: one train
    view: "whole time", "over the reed" (while the field matters), or "first closing" (milliseconds)
    moment: a time in s from the account's start, marked by a line
    brief: leave out the field and the coil

    Raises UnknownNameError for another view.
    """
    if view not in VIEWS:
        raise UnknownNameError(f"view needs to be one of {', '.join(VIEWS)}, but {view!r} came")
    rows = [row for name, row in _rows(result).items() if not (brief and name == "coil")]
    start = _TOP + 4.0 if brief else _TOP + _FIELD + _SPACE
    sheet = _Sheet(_window(result, view), start, start + len(rows) * _ROW)
    canvas = Canvas(_WIDTH, sheet.foot + (_BRIEF_FOOT if brief else _FOOT))
    _marks(canvas, result, sheet, moment)
    if not brief:
        _field(canvas, result, sheet)
    for number, row in enumerate(rows):
        row(canvas, sheet, sheet.rows + number * _ROW)
    since = _time_axis(canvas, result, sheet, view)
    if not brief:
        canvas.text(((_LEFT + _RIGHT) / 2, sheet.foot + 36), since, "middle")
    return canvas.picture(result.sentence, size)


def moments_of(result: PassingTrain, view: str, count: int) -> np.ndarray:
    """So many times in s from the account's start that a view shows, rising: of the whole time every event as well."""
    if view == WHOLE:
        return result.moments(count)
    return np.linspace(*_window(result, view), count) + result.si.start


def _window(result: PassingTrain, view: str) -> Window:
    """The times that are shown, in s from the first magnet over the reed."""
    case, si = result.happenings, result.si
    first = float(case.field.starts[0, 0])
    if view == WHOLE:
        return -si.start, si.end - si.start
    if np.isnan(first):  # nothing closes: what the field does is all there is
        half = 0.05 / result.run.si.speed
        return -half, half
    if view == OVER_THE_REED:
        last = float(np.nanmax(case.field.ends))
        if result.run.si.last_magnet is not None:
            last = float(np.nanmax(case.field.ends[0, : case.field.ends.shape[1] // 2]))
        return first - 0.2 * (last - first), last + 0.2 * (last - first)
    run = result.run
    reed = run.operate_time
    return first - 0.25 * (reed + run.delays[0]), first + 1.4 * (reed + run.delays[0])


def _field(canvas: Canvas, result: PassingTrain, sheet: _Sheet) -> None:
    run = result.run
    times = np.linspace(*sheet.window, _POINTS)
    # the crossings themselves, so that a spike narrower than the grid is drawn as high as it is
    places = np.linspace(-0.03, 0.03, _POINTS)
    times = np.union1d(times, [each for each in run.when(places) if sheet.sees(each)])
    field = np.abs(run.field(times))
    middle = band_of(run.reed)[1]
    box = (_TOP, _FIELD)
    pull_in, release = middle.at_magnet
    axis = FieldAxis.around(release, max(pull_in, float(field.max())))
    canvas.group("field")
    canvas.text((0, _TOP + _FIELD / 2 + 4), "field", bold=True)
    axis.draw(canvas, (_LEFT, _RIGHT), box, middle)
    canvas.line(*zip(sheet.across(times), axis.height(field, box), strict=True), width=1.8)


def _rows(result: PassingTrain) -> dict[str, Callable[[Canvas, _Sheet, float], None]]:
    case, run = result.happenings, result.run
    fed_for_red = run.coil_fed_for == RED
    coil = ("coil", case.timer, ("FED", "not fed") if fed_for_red else ("not fed", "FED"), fed_for_red)

    def row(name: str, spans: Spans, words: tuple[str, str], raised: bool = True) -> Any:
        return lambda canvas, sheet, y: _row(canvas, sheet, y, name, spans, words, raised)

    return {
        "reed": row("reed", case.contact, ("CLOSED", "open")),
        "timer": row("timer", case.timer, ("ON", "off")),
        "coil": row(*coil),
        "lamp": lambda canvas, sheet, y: _lamp(canvas, sheet, y, case.red),
    }


def _row(
    canvas: Canvas, sheet: _Sheet, y: float, name: str, spans: Spans, words: tuple[str, str], raised: bool
) -> None:
    """A line that is up in a block while something is on; `raised` says whether the spans are the blocks."""
    canvas.group(f"row {name}")
    canvas.text((0, y + 15), name, bold=True)
    canvas.line((_LEFT, y + _BLOCK), (_RIGHT, y + _BLOCK), width=THIN)
    for start, end, inside in _pieces(sheet, spans):
        width = max(end - start, _LEAST_WIDTH if inside else 0.0)
        if inside == raised:
            canvas.rectangle((start, y), (width, _BLOCK), fill=SHADE if width > 4 else INK, width=1.2)
        word = words[0 if inside else 1]
        if inside != raised:  # a mark's line may run through: the word stands on paper of its own
            middle, wide = start + width / 2, text_width(word)
            if _fits(word, width, bold=False):
                canvas.rectangle((middle - wide / 2 - 2, y + 3), (wide + 4, 15), width=0)
        _word(canvas, word, (start, width), y, bold=inside == raised)
    count = int(np.isfinite(spans.starts[0]).sum())
    if name == "reed":
        canvas.text((_RIGHT + 5, y + 15), f"{count}×", bold=True)


def _lamp(canvas: Canvas, sheet: _Sheet, y: float, red: Spans) -> None:
    """Red in a high block with a solid rim, green in a low one with a dashed rim."""
    canvas.group("row lamp")
    canvas.text((0, y + 15), "lamp", bold=True)
    for start, end, inside in _pieces(sheet, red):
        width = max(end - start, _LEAST_WIDTH if inside else 0.0)
        if inside:
            canvas.rectangle((start, y - 3), (width, _BLOCK + 6), fill=lamp_fill(RED), width=2.4)
        else:
            canvas.rectangle((start, y + 3), (width, _BLOCK - 6), fill=lamp_fill(GREEN), width=0)
            for edge in (y + 3, y + _BLOCK - 3):
                canvas.line((start, edge), (start + width, edge), width=THIN, dash="5 3")
        _word(canvas, "RED" if inside else "GREEN", (start, width), y, bold=True)


def _word(canvas: Canvas, word: str, block: tuple[float, float], y: float, bold: bool) -> None:
    start, width = block
    if _fits(word, width, bold):
        canvas.text((start + width / 2, y + 14.5), word, "middle", bold=bold)


def _fits(word: str, width: float, bold: bool) -> bool:
    return width > text_width(word, bold) + 6


def _pieces(sheet: _Sheet, spans: Spans) -> list[tuple[float, float, bool]]:
    """The window cut at the spans' ends: from and to in points, and whether a span holds it."""
    low, high = sheet.window
    there = np.isfinite(spans.starts[0])
    cuts = np.concatenate([spans.starts[0][there], spans.ends[0][there]])
    cuts = np.unique(np.concatenate([[low], np.clip(cuts, low, high), [high]]))
    middles = (cuts[1:] + cuts[:-1]) / 2
    inside = spans.holds(middles[np.newaxis, :].T)[:, 0] if len(middles) else []
    edges = sheet.across(cuts)
    return [(float(a), float(b), bool(on)) for a, b, on in zip(edges[:-1], edges[1:], inside, strict=True)]


def _time_axis(canvas: Canvas, result: PassingTrain, sheet: _Sheet, view: str) -> str:
    """Seconds from the account's start, or milliseconds from the first closing; gives what is counted, in words."""
    low, high = sheet.window
    first = float(result.happenings.field.starts[0, 0])
    zero, factor, unit, since = -result.si.start, 1.0, "s", ""
    if view != WHOLE:
        zero, since = (0.0, "from the magnet over the reed") if np.isnan(first) else (first, "from the first closing")
        if high - low < 2:
            factor, unit = 1e3, "ms"
    y = sheet.foot
    span = (high - low) * factor
    step = next(m * 10.0**e for e in range(-4, 7) for m in (1, 2, 5) if span / (m * 10.0**e) <= 8)
    canvas.group("axis")
    canvas.line((_LEFT, y), (_RIGHT, y), width=THIN)
    for number in range(int(np.ceil((low - zero) * factor / step)), int((high - zero) * factor / step) + 1):
        x = float(sheet.across(zero + number * step / factor))
        canvas.line((x, y), (x, y + 5), width=THIN)
        canvas.text((x, y + 18), f"{number * step:g}".replace("-", "−"), "middle")
    canvas.text((_RIGHT + 16, y + 18), unit)
    return f"time in {unit} {since}".strip()


def _marks(canvas: Canvas, result: PassingTrain, sheet: _Sheet, moment: float | None) -> None:
    """Lines behind all rows: front at the signal, last wheel clear, and the moment; it shows between the blocks."""
    si = result.si
    marks = [("front at the signal", si.at_signal, "7 3"), ("last wheel clear", si.clear, "2 3")]
    if moment is not None:
        marks.append((f"now: {say(moment, 's')}", moment, ""))
    canvas.group("marks")
    for number, (words, time, dash) in enumerate(marks):
        if not sheet.sees(time - si.start):
            continue
        x, y = float(sheet.across(time - si.start)), _MARKS + 10 + 16 * number
        canvas.line((x, y - 8), (x, sheet.foot), width=1.6 if dash else 2.2, dash=dash)
        wide = text_width(words, bold=not dash)
        right = x + wide + 12 < _WIDTH
        canvas.rectangle((x + 2 if right else x - wide - 6, y - 11), (wide + 4, 14), width=0)
        canvas.text((x + 4 if right else x - 4, y), words, "start" if right else "end", bold=not dash)
