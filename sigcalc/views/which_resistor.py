"""Colour bands, each named and lettered, so that no colour needs to be seen; what they mean; two resistors joined."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from ..errors import RangeError, UnknownNameError
from ..parts.marking import PLACES, colour_figures
from ..parts.resistor import USUAL_MARGIN, resistor_ratings
from ..units import say
from .canvas import Canvas, wrapped
from .circuit import elm, symbol
from .picture import Picture, plain
from .style import FAINT, INK, MATERIALS, NORMAL, OUTLINE, PAPER, STAGE, TEXT, THIN, Size, tinted

# letters: IEC 60757, code for designation of colours
_COLOURS = {
    "black": ("BK", "#000000"),
    "brown": ("BN", "#7B3F00"),
    "red": ("RD", "#D40000"),
    "orange": ("OG", "#F58220"),
    "yellow": ("YE", "#FFE600"),
    "green": ("GN", "#00843D"),
    "blue": ("BU", "#0057B8"),
    "violet": ("VT", "#7F3F98"),
    "grey": ("GY", "#8C8C8C"),
    "white": ("WH", "#FFFFFF"),
    "pink": ("PK", "#F5A9C4"),
    "gold": ("GD", "#CFA93A"),
    "silver": ("SR", "#C8CCD0"),
}
BAND_FILLS = {name: fill for name, (_, fill) in _COLOURS.items()}
"""What a band is painted with, by its colour's name."""
_WIDTH = 480.0
_BAND = 25.0


class _Layout(NamedTuple):
    """Of a resistor with its bands: the sheet's height, the body (left, top, width, height), and the sizes of type."""

    height: float
    body: tuple[float, float, float, float]
    text: float
    caption: float


_PAGE = _Layout(172.0, (64.0, 46.0, 352.0, 58.0), TEXT, TEXT)
_WALL = _Layout(240.0, (64.0, 64.0, 352.0, 86.0), 15.0, 26.0)
_HEAT, _WARM = 0.5, "#F2A65A"  # W at the end of the bar, and its colour
JOINED_TEXT = 16.0
"""The size of type of two resistors joined, on a wall."""
_COLUMNS, _FIRST_ROW, _ROW = (132.0, 216.0, 284.0, 384.0), 34.0, 24.0  # of the table of colours
_MEANINGS = {
    "digit": "digit",
    "power": "times",
    "tolerance": "tolerance",
    "temperature_coefficient": "drift",
}


def colour_band_picture(bands: Sequence[str], caption: str = "", size: Size = NORMAL, meanings: bool = True) -> Picture:
    """A resistor lying with its first band on the left.

    Parameters
    ----------
    bands: three to six lower-case colour names, as `colour_bands` gives them
    caption: what the bands mean, such as "560 Ω, 5 %"
    meanings: write below each band what it stands for

    Raises UnknownNameError for a colour that no band has, RangeError for another count.
    """
    names = tuple(bands) if not isinstance(bands, str) else (bands,)
    if len(names) not in PLACES:
        raise RangeError(argument="bands", need="three to six colour names", given=str(len(names)))
    for name in names:
        if name not in _COLOURS:
            raise UnknownNameError(f"bands has no colour {plain(name)[:40]!r}; use one of: {', '.join(_COLOURS)}")
    lies = _WALL if size is STAGE else _PAGE
    canvas = Canvas(_WIDTH, lies.height)
    tolerance = dict(zip(PLACES[len(names)], names, strict=True)).get("tolerance", "")
    _resistor(canvas, lies, body_fill(colour_figures("tolerance").get(tolerance, 1.0)))
    canvas.group("caption")
    words = wrapped(caption, (_WIDTH / 1.06 - 20) * TEXT / lies.caption, 1)[0]
    place = (_WIDTH / 2, lies.body[1] / 2 + 0.3 * lies.caption)
    canvas.text(place, words, "middle", bold=True, whole=caption, size=lies.caption)
    for name, place, x in zip(names, PLACES[len(names)], _centres(len(names)), strict=True):
        _band(canvas, lies, name, (_value(place, name), _MEANINGS[place]) if meanings else (), x)
    start = f"{plain(caption)}: the" if caption else "The"
    return canvas.picture(
        f"{start} bands are {', '.join(names)}, read from the end where they are closer together.", size
    )


def colour_numbers(size: Size = NORMAL) -> Picture:
    """What each colour of a band means: a digit, by how much to multiply, the tolerance (IEC 60062)."""
    canvas = Canvas(_WIDTH, _FIRST_ROW + _ROW * len(_COLOURS))
    canvas.group("heads")
    for x, head in zip(_COLUMNS, ("colour", "digit", "times", "tolerance"), strict=True):
        canvas.text((x, 20), head, bold=True)
    for row, name in enumerate(_COLOURS):
        top = _FIRST_ROW + row * _ROW
        canvas.group(f"colour {name}")
        _swatch(canvas, name, (10, top), (_COLUMNS[0] - 22, _ROW - 4))
        texts = [name, *(_value(place, name) for place in ("digit", "power", "tolerance"))]
        for x, text in zip(_COLUMNS, texts, strict=True):
            canvas.text((x, top + 13), text, bold=text == name)
    return canvas.picture(_numbers_sentence(), size)


def _numbers_sentence() -> str:
    digits, powers, tolerances = map(colour_figures, ("digit", "power", "tolerance"))
    said = ", ".join(f"{name} {figure:g}" for name, figure in digits.items())
    fewer = ", ".join(f"{name} divides by {10.0**-figure:g}" for name, figure in powers.items() if figure < 0)
    close = ", ".join(
        f"{name if name in _COLOURS else 'no band'} {say(figure, '')}" for name, figure in tolerances.items()
    )
    return f"Digits: {said}. As multiplier a colour adds as many zeros as its digit says; {fewer}. Tolerance: {close}."


class _HeatLayout(NamedTuple):
    """The heights of the words above the bar, of the bar itself and of the words below; and the sizes of type."""

    height: float
    heading: float
    top: float
    tall: float
    below: tuple[float, float]
    text: float
    large: float


_HEAT_PAGE = _HeatLayout(104.0, 20.0, 34.0, 18.0, (68.0, 92.0), TEXT, TEXT)
_HEAT_WALL = _HeatLayout(220.0, 40.0, 66.0, 62.0, (160.0, 200.0), 16.0, 30.0)


def heat_bar(heat: float, size: Size = NORMAL) -> Picture:
    """The heat in a resistor, in W, on a scale that stays, and which rating to ask for at so much."""
    lies = _HEAT_WALL if size is STAGE else _HEAT_PAGE
    canvas, left, width, beyond = Canvas(_WIDTH, lies.height), 10.0, _WIDTH - 20, heat > _HEAT
    canvas.group("heat")
    text = f"Heat in the resistor: {say(heat, 'W')}{', beyond the end of the bar →' if beyond else ''}"
    heading = f"{say(heat, 'W')} of heat{' →' if beyond else ''}" if size is STAGE else text
    canvas.text((left, lies.heading), heading, bold=True, size=lies.large)
    canvas.rectangle((left, lies.top), (width, lies.tall), radius=2)
    canvas.rectangle((left, lies.top), (width * min(heat / _HEAT, 1.0), lies.tall), fill=_WARM, radius=2)
    canvas.group("ratings")
    edge = 0.0
    for name, rating in resistor_ratings.items():
        end = min(rating.si.power / USUAL_MARGIN, _HEAT)
        if end > edge:
            places = [left + width * each / _HEAT for each in (edge, end)]
            canvas.line((places[1], lies.top), (places[1], lies.top + lies.tall + 12), width=THIN)
            here = {"bold": edge < heat <= end, "size": lies.text}
            canvas.text((sum(places) / 2, lies.below[0]), name, "middle", **here)
        edge = max(edge, end)
    advice = f"rating to ask for: at least {USUAL_MARGIN:g} times the heat"
    canvas.text((left, lies.below[1]), advice, fill=FAINT, size=lies.text)
    return canvas.picture(f"{text}.", size)


def joined_resistors(first: float, second: float, parallel: bool, size: Size = NORMAL) -> Picture:
    """How two resistors, in ohm, are joined between two ends of wire: side by side, or one behind the other."""
    values = [say(ohms, "ohm") for ohms in (first, second)]
    way = "in parallel" if parallel else "in series"
    text = {"size": JOINED_TEXT if size is STAGE else TEXT}
    canvas = Canvas(_WIDTH, 140.0 if parallel else 84.0)
    canvas.group("caption")
    canvas.text((_WIDTH / 2, 24), f"{values[0]} and {values[1]} {way}", "middle", bold=True, **text)
    spots = [((6.0, 50.0), (_WIDTH / 2, 50.0)), ((_WIDTH / 2, 50.0), (_WIDTH - 6, 50.0))]
    if parallel:
        spots = [((150.0, y), (330.0, y)) for y in (50.0, 104.0)]
        canvas.group("wire")
        for end, edge in ((6.0, 150.0), (_WIDTH - 6, 330.0)):
            canvas.line((end, 77.0), (edge, 77.0))
            canvas.line((edge, 50.0), (edge, 104.0))
            canvas.joint((edge, 77.0))
    for value, (start, end) in zip(values, spots, strict=True):
        canvas.group("resistor")
        canvas.add(symbol(elm.ResistorIEC, start, end))
        canvas.text(((start[0] + end[0]) / 2, start[1] + 26), value, "middle", **text)
    return canvas.picture(f"{values[0]} and {values[1]} are joined {way}.", size)


def band_fills(bands: Sequence[str]) -> tuple[str, ...]:
    """The colours to draw bands with, given by their names."""
    return tuple(BAND_FILLS[each] for each in bands)


def body_fill(tolerance: float) -> str:
    """What a resistor's body is painted with: close ones are blue, the others beige; common practice."""
    return "#8FB8D0" if tolerance <= 0.02 else MATERIALS["resistor"]


def _resistor(canvas: Canvas, lies: _Layout, body: str) -> None:
    """Body and leads as they look, much enlarged; the ends of the body bulge over the caps of the leads."""
    left, top, width, height = lies.body
    middle, right = top + height / 2, left + width
    canvas.group("body")
    for wide, colour in ((9.0, OUTLINE), (5.4, MATERIALS["metal"])):
        canvas.line((6, middle), (left + 4, middle), width=wide, colour=colour)
        canvas.line((right - 4, middle), (_WIDTH - 6, middle), width=wide, colour=colour)
    bulge, neck = 5.0, 62.0
    round_end = [(24 * (1 - np.cos(turn)), np.sin(turn)) for turn in np.linspace(0, np.pi / 2, 9)]
    edge = [(left + along, middle - (height / 2 + bulge) * up) for along, up in round_end]
    fall = [(share, (1 + np.cos(np.pi * share)) / 2) for share in np.linspace(0, 1, 13)]
    edge += [(left + 40 + (neck - 40) * share, top - bulge * left_over) for share, left_over in fall]
    edge += [(left + right - x, y) for x, y in reversed(edge)]
    edge += [(x, 2 * middle - y) for x, y in reversed(edge)]
    canvas.polygon(*edge, fill=body)
    shine = tinted(body, 0.35)
    canvas.line((left + 18, top + 5), (left + 44, top + 4), (left + neck + 8, top + 9), width=4, colour=shine)
    canvas.line((left + neck + 8, top + 9), (right - neck, top + 9), width=4, colour=shine)


def _centres(count: int) -> list[float]:
    """Middles of the bands: even steps from the left, and the last one (the tolerance) apart where there is one."""
    left, _, width, _ = _PAGE.body
    step = 62.0 if count < 5 else 56.0 if count == 5 else 52.0
    places = [left + 38 + step * number for number in range(count)]
    if count > 3:
        places[-1] = left + width - 38
    return places


def _band(canvas: Canvas, lies: _Layout, name: str, below: tuple[str, ...], x: float) -> None:
    _, top, _, height = lies.body
    foot, line = top + height + lies.text + 10, lies.text + 4
    canvas.group(f"band {name}")
    _swatch(canvas, name, (x - _BAND / 2, top - 2), (_BAND, height + 4), lies.text)
    canvas.text((x, foot), name, "middle", bold=True, size=lies.text)
    for number, text in enumerate(below, 1):
        canvas.text((x, foot + line * number), text, "middle", fill=FAINT, size=lies.text)


def _swatch(
    canvas: Canvas, name: str, corner: tuple[float, float], sides: tuple[float, float], text: float = TEXT
) -> None:
    """A colour with its letters on white, which are as easy to read on every colour."""
    letters, fill = _COLOURS[name]
    (left, top), (width, height) = corner, sides
    middle = (left + width / 2, top + height / 2)
    canvas.rectangle(corner, sides, fill=fill, width=THIN)
    canvas.rectangle((middle[0] - _BAND / 2, middle[1] - 9), (_BAND, 18), fill=PAPER, width=THIN)
    canvas.text((middle[0], middle[1] + 0.375 * text), letters, "middle", bold=True, fill=INK, size=text)


def _value(place: str, name: str) -> str:
    """What a colour says in its place, such as "× 100"; nothing for one that says nothing there."""
    figure = colour_figures(place).get(name)
    if figure is None:
        return ""
    if place == "power":
        step = 6 if figure >= 6 else 3 if figure >= 3 else 0
        return f"× {10.0 ** (figure - step):g}{ {6: 'M', 3: 'k', 0: ''}[step] }"
    return {"tolerance": f"± {say(figure, '')}", "temperature_coefficient": f"{figure:g} ppm/K"}.get(
        place, f"{figure:g}"
    )
