"""How bright the two lamps are, as bars, with what bought parts may differ by."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from ..errors import RangeError
from ..physics.photometry import brightness_ratio, unevenness_word
from ..units import LuminousIntensity, say, with_units
from .canvas import Canvas
from .phrases import light_words, two_figures
from .picture import Picture
from .style import FAINT, NORMAL, THIN, Size, lamp_fill

_WIDTH, _HEIGHT = 480.0, 186.0
_START, _ROOM = 92.0, 212.0  # where bars begin, and how long the longest may be
_BAR, _ARROW = 30.0, 16.0
_TOPS = {"red": 30.0, "green": 112.0}
_DARK = 1e-9  # cd: no comparison with a lamp that gives less


@dataclass(frozen=True)
class _Light:
    """A lamp's luminous intensity in cd: typical, and the least and the most of a bought part where they are known."""

    lamp: str
    typical: float
    least: float | None
    most: float | None

    @property
    def ends(self) -> tuple[float, float]:
        low, high = self.least, self.most
        return (self.typical if low is None else low), (self.typical if high is None else high)


@with_units(scalar=True)
def brightness_bars(
    red: LuminousIntensity,
    green: LuminousIntensity,
    red_least: LuminousIntensity | None = None,
    red_most: LuminousIntensity | None = None,
    green_least: LuminousIntensity | None = None,
    green_most: LuminousIntensity | None = None,
    word: str | None = None,
    full: LuminousIntensity | None = None,
    size: Size = NORMAL,
) -> Picture:
    """Bars for the typical light of both lamps, whiskers for the least and the most.

    `word` says how they compare; without it, the word for their typical light. `full` is the light at the end of the
    scale, so that bars of several pictures can be compared; what reaches beyond ends in an arrow. Without it the
    longest is as long as there is room.

    Raises RangeError where least, typical and most do not rise in this order.
    """
    lights = (_Light("red", red, red_least, red_most), _Light("green", green, green_least, green_most))
    for light in lights:
        if not light.ends[0] <= light.typical <= light.ends[1]:
            raise RangeError(
                f"{light.lamp} needs its least, typical and most light in rising order, but "
                f"{light_words(light.ends[0])}, {light_words(light.typical)} and {light_words(light.ends[1])} came"
            )
    canvas = Canvas(_WIDTH, _HEIGHT)
    end = max(*(light.ends[1] for light in lights), _DARK) if full is None else max(full, _DARK)
    scale = _ROOM / end
    brightest = max(red, green)
    for light in lights:
        _bar(canvas, light, scale, brightest)
    canvas.group("zero")
    canvas.line((_START, 18), (_START, _HEIGHT - 14))
    if full is not None:
        canvas.group("scale")
        canvas.line((_START, 18), (_START + _ROOM, 18), width=THIN, colour=FAINT)
        for x, words in ((_START, "0"), (_START + _ROOM, light_words(end))):
            canvas.line((x, 18), (x, 22), width=THIN, colour=FAINT)
            canvas.text((x, 13), words, "middle", fill=FAINT)
    return canvas.picture(_sentence(*lights, word), size)


def picture_of(evenness: Any, full: Any = None, size: Size = NORMAL) -> Picture:
    """The bars of a comparison made by `design.brightness.compare_brightness`; `full` as in `brightness_bars`."""
    return brightness_bars(
        red=evenness.red_light,
        green=evenness.green_light,
        red_least=evenness.red_light_min,
        red_most=evenness.red_light_max,
        green_least=evenness.green_light_min,
        green_most=evenness.green_light_max,
        word=evenness.word,
        full=full,
        size=size,
    )


def _bar(canvas: Canvas, light: _Light, scale: float, brightest: float) -> None:
    top, length = _TOPS[light.lamp], min(light.typical * scale, _ROOM)
    canvas.group(f"bar {light.lamp}")
    canvas.text((_START - 12, top + 20), light.lamp.upper(), "end", bold=True)
    canvas.rectangle((_START, top), (length, _BAR), fill=lamp_fill(light.lamp))
    if light.lamp == "green":
        _hatch(canvas, top, length)
    part = light.typical / brightest if brightest > _DARK else 0.0
    share = f", {100 * part:.0f} %" if part >= 0.01 else ", under 1 %" if part > 0 else ""
    beyond = _beyond(canvas, light.typical * scale, top + _BAR / 2)
    canvas.text((_START + length + 8 + beyond, top + 20), light_words(light.typical) + share, bold=True)
    low, high = (_START + min(end * scale, _ROOM) for end in light.ends)
    if light.least is None and light.most is None:
        return
    y = top + _BAR + 14
    canvas.group(f"spread {light.lamp}")
    canvas.line((low, y), (high, y))
    for x in (low, high):
        canvas.line((x, y - 5), (x, y + 5))
    beyond = _beyond(canvas, light.ends[1] * scale, y)
    canvas.text((high + 8 + beyond, y + 4), _spread_words(light), fill=FAINT)


def _beyond(canvas: Canvas, length: float, y: float) -> float:
    """An arrow at the end of the scale where something is longer than that; how much room it takes."""
    if length <= _ROOM * (1 + 1e-9):
        return 0.0
    canvas.arrow((_START + _ROOM, y), (_START + _ROOM + _ARROW, y))
    return _ARROW


def _hatch(canvas: Canvas, top: float, length: float) -> None:
    """Slanting lines over the green bar, which a grey print tells from the red one."""
    for step in range(1, int((length + _BAR) / 9) + 1):
        foot, head = step * 9.0, step * 9.0 - _BAR
        low = (_START + min(foot, length), top + max(foot - length, 0.0))
        high = (_START + max(head, 0.0), top + _BAR - max(-head, 0.0))
        canvas.line(low, high, width=THIN)


def _spread_words(light: _Light) -> str:
    least, most = (say(end, "cd", 2) for end in light.ends)
    return f"bought: {least} or more" if light.most is None else f"bought: {least} to {most}"


def _sentence(red: _Light, green: _Light, word: str | None) -> str:
    dark = [light.lamp for light in (red, green) if light.typical <= _DARK]
    if dark:
        return (
            f"{' and '.join(dark).capitalize()} {'gives' if len(dark) == 1 else 'give'} no light: nothing to compare."
        )
    brighter, dimmer = (red, green) if red.typical >= green.typical else (green, red)
    ratio = float(brightness_ratio(red.typical, green.typical))
    word = (word or str(unevenness_word(ratio))).replace("one ", f"{brighter.lamp} ")
    return f"{brighter.lamp.capitalize()} has {_times(ratio)} the light of {dimmer.lamp}: {word}." + _spread(red, green)


def _spread(red: _Light, green: _Light) -> str:
    if (red.least, red.most, green.least, green.most) == (None,) * 4:
        return ""
    if min(red.ends[0], green.ends[0]) <= _DARK:
        return " A bought part may be dark."
    worst = max(red.ends[1] / green.ends[0], green.ends[1] / red.ends[0])
    return f" With bought parts one may have {_times(worst)} the light of the other."


def _times(ratio: float) -> str:
    """A ratio in words, to two figures."""
    if ratio < 1.05:
        return "about"
    return f"{two_figures(ratio)} times"
