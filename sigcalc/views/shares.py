"""The bar beside every circuit: the supply's voltage, cut into the pieces that are across its parts."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from .canvas import Canvas, Place, text_width
from .phrases import voltage_words
from .style import FAINT, INK, PAPER, SHADE, THIN, lamp_fill, tinted

SHARES_HEIGHT = 62.0
"""Points that a bar needs below a circuit, its labels included."""
_TALL, _APART = 16.0, 10.0
_SEEN = 0.003  # of the scale: a thinner piece has no width to draw


class Share(NamedTuple):
    """A piece of the voltage: the part it is across, the volts, and the colour of the piece."""

    part: str
    volts: float
    fill: str


def across_source(volts: float) -> Share:
    """What is lost inside the source itself."""
    return Share("inside the source", volts, SHADE)


def across_resistor(volts: float, part: str = "resistor") -> Share:
    """What is across a resistor."""
    return Share(part, volts, "#E4C48F")


def across_driver(volts: float) -> Share:
    """What is across a constant-current driver."""
    return Share("driver", volts, "#B9CDE8")


def across_lamp(volts: float, colour: str) -> Share:
    """What is across a lit LED."""
    return Share(f"{colour} LED", volts, tinted(lamp_fill(colour), 0.75))


def shares_bar(
    canvas: Canvas, corner: Place, width: float, shares: Sequence[Share], full: float | None = None, until: str = ""
) -> None:
    """Draw the bar with its labels; `corner` is its upper left one, `full` the volts at its right end.

    The pieces come in the order in which the current meets the parts. Without `full` the bar is as long as there is
    room; with it the scale stays while the supply changes. A piece too thin to be seen keeps its label. `until` says
    how long it was so, for a lamp that burst.
    """
    (left, top), total = corner, sum(share.volts for share in shares)
    scale = width / max(full or total, total, 1e-9)
    canvas.group("shares")
    canvas.text((left, top + 11), f"{voltage_words(total)} shared out{until}", bold=True)
    top += 18
    if full is not None and total < full * (1 - _SEEN):
        canvas.rectangle((left, top), (width, _TALL), fill=PAPER, width=THIN, radius=2)
        canvas.text((left + width, top - 5), f"{voltage_words(full)}", "end", fill=FAINT)
    at, labels = left, []
    for share in shares:
        long = share.volts * scale
        if long > _SEEN * width:
            canvas.rectangle((at, top), (long, _TALL), fill=share.fill)
        labels.append((at + long / 2, f"{share.part} {_in_volts(share.volts)}"))
        at += long
    for (middle, words), x in zip(labels, _spread(labels, left, left + width), strict=True):
        canvas.line((middle, top + _TALL), (middle, top + _TALL + 4), (x, top + _TALL + 10), width=THIN, colour=INK)
        canvas.text((x, top + _TALL + 22), words, "middle")


def _in_volts(volts: float) -> str:
    """In volts, however few, so that the pieces can be added up."""
    return voltage_words(volts) if volts >= 1 or volts < 0.01 else f"{volts:.2f} V"


def _spread(labels: Sequence[tuple[float, str]], left: float, right: float) -> list[float]:
    """The middles of the labels, each as near to its piece as the others let it."""
    wide = [text_width(words) for _, words in labels]
    places, edge = [], left
    for (middle, _), width in zip(labels, wide, strict=True):
        places.append(max(middle, edge + width / 2))
        edge = places[-1] + width / 2 + _APART
    edge = right
    for number in reversed(range(len(places))):
        places[number] = min(places[number], edge - wide[number] / 2)
        edge = places[number] - wide[number] / 2 - _APART
    return places
