"""Type sizes, line widths and lamp colours that all pictures share.

A drawing is laid out once, in points at normal type. Large type is the same drawing one and
a half times as big, so that nothing that fits at one size can overlap at the other.
"""

from __future__ import annotations

from dataclasses import dataclass

TEXT = 12.0
"""Size of all text in a drawing, in points of its viewBox."""
LINE = 1.7
THIN = 0.9
INK = "#000000"
FAINT = "#595959"  # 7:1 on white: still text to be read
SHADE = "#d9d9d9"
PAPER = "#ffffff"
FONT = "Arial, Helvetica, 'Liberation Sans', sans-serif"


@dataclass(frozen=True)
class Size:
    """How large a picture is shown: `scale` times the size it is laid out in, `text` the type size in points."""

    name: str
    scale: float

    @property
    def text(self) -> float:
        """The type size in points when the picture has its natural width."""
        return TEXT * self.scale


NORMAL = Size("normal", 1.0)
LARGE = Size("large", 1.5)

# Okabe and Ito's palette (Color Universal Design, 2008). Red and green of it are told apart with every common kind of
# colour blindness, but their lightness is nearly the same: so each fill comes with a black outline and a word, and
# where two lamps are compared, with a line style or a hatch as well.
_FILLS = {
    "red": "#D55E00",
    "green": "#009E73",
    "yellow": "#F0E442",
    "orange": "#E69F00",
    "amber": "#E69F00",
    "blue": "#0072B2",
    "violet": "#CC79A7",
    "white": "#FFF3C4",  # a tint, for the paper and dark lamps are white already
}
DASHES = ("solid", (0, (7, 3)), (0, (1.5, 2)), (0, (9, 2.5, 1.5, 2.5)), (0, (4, 1.5)), (0, (9, 2, 1.5, 2, 1.5, 2)))
"""Line styles of the curves of one chart, in the order in which they are used (matplotlib's notation)."""
_HATCHES = {"green": "//", "yellow": "..", "orange": "..", "amber": "..", "blue": "xx", "violet": "||", "white": "--"}
# The same for the lines themselves: dark enough on white (3:1 and more)
STROKES = {"red": "#D55E00", "green": "#00805D", "yellow": "#7A6A00", "orange": "#9A6A00", "blue": "#0072B2"}


def lamp_fill(colour: str) -> str:
    """The fill of a lit lamp; a middle grey for a colour that has no fill of its own."""
    return _FILLS.get(colour.lower(), "#B3B3B3")


def lamp_hatch(colour: str) -> str:
    """What a lamp's bar is hatched with (matplotlib's notation), to tell it from red without colour."""
    return _HATCHES.get(colour.lower(), "")


def tinted(fill: str, share: float) -> str:
    """A fill mixed with the paper's white: all of it at a share of 1, white at 0."""
    share = min(max(share, 0.0), 1.0)
    mixed = (round(255 + share * (int(fill[at : at + 2], 16) - 255)) for at in (1, 3, 5))
    return "#" + "".join(f"{each:02x}" for each in mixed)


def lamp_stroke(colour: str) -> str:
    """The colour of a lamp's curve: at least three times as dark as the paper; black where the colour is not known."""
    return STROKES.get(colour.lower(), INK)
