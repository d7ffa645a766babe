"""Type sizes, line widths and lamp colours that all pictures share.

A drawing is laid out in points at normal type. Large type is the same drawing one and a half
times as big, so that nothing that fits at one size can overlap at the other. For the stage, where one
picture fills a wall, a drawing has a second layout with fewer words.
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
RIM = "#bdbdbd"  # round a picture, which is a white card on dark pages too
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
STAGE = Size("stage", 2.4)
"""On a wall: a layout of its own with fewer words, in `STAGE_BOX`. The page makes it as large as the screen lets it."""
STAGE_BOX = (400.0, 200.0)
"""Points that a picture for the stage has at the most; its type then is 1/25 of the screen's height."""

# Red is red and green is green. What tells them apart for colour-blind eyes is lightness (red dark, green light; in
# simulation: tests/views/test_style.py), and with it always a word and a place, a line style or a hatch.
_FILLS = {
    "red": "#D5001C",
    "green": "#35CF6A",
    "yellow": "#FFD60A",
    "orange": "#FF8A00",
    "amber": "#FF9F0A",
    "blue": "#1F6FE0",
    "violet": "#A65BD8",
    "white": "#FFF3C4",  # a tint, for the paper and dark lamps are white already
}
DASHES = ("solid", (0, (7, 3)), (0, (1.5, 2)), (0, (9, 2.5, 1.5, 2.5)), (0, (4, 1.5)), (0, (9, 2, 1.5, 2, 1.5, 2)))
"""Line styles of the curves of one chart, in the order in which they are used (matplotlib's notation)."""
_HATCHES = {"green": "//", "yellow": "..", "orange": "..", "amber": "..", "blue": "xx", "violet": "||", "white": "--"}
# The same for the lines themselves: dark enough on white (3:1 and more)
STROKES = {"red": "#D5001C", "green": "#08743A", "yellow": "#7A6A00", "orange": "#9A5A00", "blue": "#1F6FE0"}

# Of a verdict: the line at its edge, 3:1 on light and on dark pages, and what its words stand on at the stage
FINE_EDGE, LOOK_EDGE, STOP_EDGE = "#0A8F68", "#B07A00", "#C23C32"
FINE_GROUND, LOOK_GROUND, STOP_GROUND = "#00704F", "#FFD24D", "#9C3500"

# ---- things as they look: materials, and the wires by their polarity
OUTLINE = "#3D3D45"
FLOW, FLOW_RIM = "#FFCE3A", "#5C3B00"  # the dots of a current, and the rim that shows them on any ground
PLUS, MINUS, LOOSE = "#C8501E", "#2B5C8A", "#8A8F98"  # warm, cool, and a wire on neither pole
MATERIALS = {
    "outline": OUTLINE,
    "metal": "#C9CDD3",
    "metal_dark": "#8F959E",
    "brass": "#C9A24A",
    "black": "#2C2E33",
    "grey": "#6D727B",
    "board": "#1E6B52",
    "wood": "#C9A97C",
    "plaster": "#EFE9DC",
    "ground": "#B9AB8F",
    "ballast": "#9C968C",
    "cell": "#3F7C8C",
    "paper": PAPER,
    "ink": INK,
    "copper": "#B8703A",
    "cover": "#DCE8EE",  # a clear one
    "resistor": "#E4C48F",
    "terminal": "#3E7FA8",
    "pot": "#4A78B8",
    "running": FLOW,
    "button": "#E0912F",
    "button_dark": "#A8661C",
    "glass": "#D8F0E4",
    "sleeper": "#7A5C43",
    "coal": "#3A3B40",
    "engine": "#3F6B4F",
    "wagon": "#A5553C",
    "field": "#7A4FB0",
    "holster": "#E0A92F",
    "display": "#BFD1B0",
    "display_off": "#8E9A88",
    "red": STROKES["red"],
    "green": STROKES["green"],
    "plus": PLUS,
    "minus": MINUS,
    "shadow": "#000000",  # drawn at an opacity of about a tenth
}
"""The palette that the drawings of things take their colours from."""


def lamp_fill(colour: str) -> str:
    """The fill of a lit lamp; a middle grey for a colour that has no fill of its own."""
    return _FILLS.get(colour.lower(), "#B3B3B3")


def ink_on(fill: str) -> str:
    """The colour of text on a fill: white or black, whichever is the easier to read."""
    shares = (int(fill[at : at + 2], 16) / 255 for at in (1, 3, 5))
    red, green, blue = (each / 12.92 if each <= 0.04045 else ((each + 0.055) / 1.055) ** 2.4 for each in shares)
    return PAPER if 0.2126 * red + 0.7152 * green + 0.0722 * blue < 0.179 else INK  # WCAG 2.1, relative luminance


def lamp_hatch(colour: str) -> str:
    """What a lamp's bar is hatched with (matplotlib's notation), to tell it from red without colour."""
    return _HATCHES.get(colour.lower(), "")


def tinted(fill: str, share: float) -> str:
    """A fill mixed with the paper's white: all of it at a share of 1, white at 0."""
    return mixed(PAPER, fill, share)


def lamp_stroke(colour: str) -> str:
    """The colour of a lamp's curve: at least three times as dark as the paper; black where the colour is not known."""
    return STROKES.get(colour.lower(), INK)


def mixed(one: str, other: str, share: float) -> str:
    """A colour between two, `share` of the way from the first to the second."""
    share = min(max(share, 0.0), 1.0)
    (a, b) = ([int(each[at : at + 2], 16) for at in (1, 3, 5)] for each in (one, other))
    return "#" + "".join(f"{round(start + share * (end - start)):02x}" for start, end in zip(a, b, strict=True))
