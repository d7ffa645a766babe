"""A sheet to draw on: shapes and text as SVG, in points with y pointing down. The XML writer escapes all text."""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Iterable, Sequence
from functools import cache
from xml.etree import ElementTree

from .light import Light
from .picture import Picture, plain, root_attributes
from .style import FLOW, FLOW_RIM, FONT, INK, LINE, NORMAL, PAPER, TEXT, Size

Place = tuple[float, float]
_LINE = 1.25 * TEXT  # from one baseline to the next

FLOW_APART = 16.0
"""Points between two dots of a current; the stylesheet moves a line of dots by as much."""
QUICKEST, SLOWEST = 0.36, 4.0
"""Seconds from one dot to the next: no place is passed by more than three dots in a second, so nothing flashes."""
_USUAL_CURRENT, _FLOWS_FROM = 0.03, 1e-5  # A: at this the dots are quickest; below that there are none


class Canvas:
    """Collects shapes; `picture` closes it. `group` names what is drawn next, for tests and readers of the source."""

    def __init__(self, width: float, height: float):
        self.width, self.height = width, height
        self.root = ElementTree.Element("svg")
        self._into = self.root

    def group(self, name: str) -> None:
        """Let what follows belong to a new group with this class."""
        self._into = ElementTree.SubElement(self.root, "g", {"class": plain(name)})

    def add(self, shapes: Iterable[ElementTree.Element]) -> None:
        """Take over ready shapes."""
        self._into.extend(shapes)

    def line(self, *places: Place, width: float = LINE, dash: str = "", colour: str = INK) -> None:
        """A line through two or more places."""
        shape = {"points": _points(places)} | ({"stroke-dasharray": dash} if dash else {})
        self._shape("polyline", shape, "none", width, colour)

    def polygon(self, *places: Place, fill: str = PAPER, width: float = LINE) -> None:
        """A closed outline."""
        self._shape("polygon", {"points": _points(places)}, fill, width)

    def rectangle(self, corner: Place, sides: Place, fill: str = PAPER, width: float = LINE, radius: float = 0) -> None:
        """A rectangle from its upper left corner; `sides` are its extent, `radius` rounds the corners."""
        shape = {"x": corner[0], "y": corner[1], "width": sides[0], "height": sides[1], "rx": radius}
        self._shape("rect", {name: _number(value) for name, value in shape.items()}, fill, width)

    def circle(self, centre: Place, radius: float, fill: str = PAPER, width: float = LINE) -> None:
        """A circle."""
        shape = {"cx": centre[0], "cy": centre[1], "r": radius}
        self._shape("circle", {name: _number(value) for name, value in shape.items()}, fill, width)

    def rays(self, centre: Place, reach: tuple[float, float], degrees: Iterable[float]) -> None:
        """The rays of a lit lamp, between two distances from its centre, in directions clockwise from the right."""
        for angle in map(math.radians, degrees):
            self.line(*((centre[0] + r * math.cos(angle), centre[1] + r * math.sin(angle)) for r in reach))

    def flow(self, *places: Place, current: float, scale: float = 1.0) -> None:
        """Dots along a wire, moving from its first place to its last, quicker with more current (A); none for none.

        They move where the page has the stylesheet of the panels, and elsewhere stand still.
        """
        if current < _FLOWS_FROM:
            return
        takes = f"animation-duration:{flow_period(current):.2f}s"
        for width, colour in ((6.4, FLOW_RIM), (4.4, FLOW)):
            dots = {"class": "sigcalc-flow", "stroke-linecap": "round", "stroke-dasharray": f"0 {FLOW_APART:g}"}
            shape = {"points": _points(places), "style": takes} | dots
            self._shape("polyline", shape, "none", scale * width, colour)

    def halo(self, centre: Place, radius: float, light: Light) -> None:
        """The light around a lens of that radius; nothing around a lamp that does not shine."""
        for reach, opacity in light.halo(radius):
            circle = {"cx": _number(centre[0]), "cy": _number(centre[1]), "r": _number(reach)}
            look = {"fill": light.fill, "opacity": f"{opacity:.3f}"}
            ElementTree.SubElement(self._into, "circle", circle | look)

    def joint(self, place: Place, is_open: bool = False) -> None:
        """A dot where wires join, or an open ring where a lead ends."""
        self.circle(place, 2.7, fill=PAPER if is_open else INK)

    def arrow(self, tail: Place, head: Place, width: float = LINE, point: float = 8.0) -> None:
        """A straight arrow with a filled head of length `point`."""
        (x0, y0), (x1, y1) = tail, head
        length = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
        along, across = ((x1 - x0) / length, (y1 - y0) / length), ((y1 - y0) / length, -(x1 - x0) / length)
        base = (x1 - point * along[0], y1 - point * along[1])
        sides = [(base[0] + s * point * 0.38 * across[0], base[1] + s * point * 0.38 * across[1]) for s in (1, -1)]
        self.line(tail, base, width=width)
        self.polygon(head, *sides, fill=INK, width=0.5)

    def text(self, place: Place, text: object, anchor: str = "start", bold: bool = False, **style: object) -> None:
        """One line of text; `place` is on its baseline, at its "start", "middle" or "end".

        Style: size (points), fill, and whole: the uncut text, shown when the pointer rests on it.
        """
        attributes = {"x": _number(place[0]), "y": _number(place[1]), "text-anchor": anchor, "font-family": FONT}
        attributes |= {"font-size": _number(style.get("size", TEXT)), "fill": str(style.get("fill", INK))}
        if bold:
            attributes["font-weight"] = "bold"
        made = ElementTree.SubElement(self._into, "text", attributes)
        made.text = plain(text)
        if style.get("whole"):
            ElementTree.SubElement(made, "title").text = plain(style["whole"])

    def lines(
        self,
        place: Place,
        texts: Sequence[object],
        anchor: str = "start",
        bold_first: bool = False,
        centred: bool = False,
    ) -> None:
        """Lines of text one below the other; `place` is on the first baseline, or in the middle of all if `centred`."""
        for number, text in enumerate(texts):
            y = self.baseline(place, texts, number) if centred else place[1] + number * _LINE
            self.text((place[0], y), text, anchor, bold_first and number == 0)

    @staticmethod
    def baseline(place: Place, texts: Sequence[object], number: int) -> float:
        """The height of one of the lines of text that are centred on a place."""
        return place[1] + (number - (len(texts) - 1) / 2) * _LINE + 4

    def picture(self, sentence: str, size: Size = NORMAL) -> Picture:
        """The finished picture, with the sentence as its text alternative."""
        sentence = plain(sentence)
        self.root.attrib = root_attributes(sentence, self.width, self.height, size)
        svg = ElementTree.tostring(self.root, encoding="unicode")
        # schemdraw writes a dash pattern of "-" for solid lines, which is none
        return Picture(svg.replace("stroke-dasharray:-;", ""), sentence, size)

    def markup(self) -> str:
        """What was drawn, as SVG without the sheet, to be laid over another drawing."""
        return "".join(ElementTree.tostring(each, encoding="unicode") for each in self.root)

    def _shape(self, tag: str, shape: dict[str, str], fill: str, width: float, stroke: str = INK) -> None:
        paint = {"fill": fill, "stroke": stroke, "stroke-width": _number(width)}
        ElementTree.SubElement(self._into, tag, shape | paint)


def flow_period(current: float) -> float:
    """Seconds from one dot of a current (A) to the next."""
    return min(max(QUICKEST * math.sqrt(_USUAL_CURRENT / current), QUICKEST), SLOWEST)


def wrapped(text: object, width: float, most: int) -> list[str]:
    """A text in at most `most` lines of `width` points, cut with an ellipsis where it is longer."""
    # a number stays with its unit
    words = re.sub(r"(?<=[0-9]) (?=\S{1,3}(?: |$))", "\u00a0", plain(text)).split(" ")
    lines = [""]
    for word in words:
        longer = f"{lines[-1]} {word}".strip()
        if text_width(longer) <= width or not lines[-1]:
            lines[-1] = longer
        else:
            lines.append(word)
    fitting = [_cut(line, width) for line in lines[:most]]
    if len(lines) > most:
        fitting[-1] = _cut(f"{fitting[-1].removesuffix('…')}…", width)
    return fitting


def _cut(line: str, width: float) -> str:
    if text_width(line) <= width:
        return line
    while line and text_width(line + "…") > width:
        line = line[:-1]
    return line + "…"


def text_width(text: object, bold: bool = False) -> float:
    """The width of a line of text in points, as Arial would set it."""
    return sum(map(_em, plain(text))) * TEXT * (1.06 if bold else 1.0)


@cache
def _em(character: str) -> float:
    """The width of a character to the type size: Arial's widths to two digits, East Asian and picture signs full."""
    if unicodedata.east_asian_width(character) in "WF" or character == "\ufffd":
        return 1.0
    return next((width for width, members in _WIDTHS if character in members), 0.6)


_WIDTHS = (
    (0.22, "'ijl|"),
    (0.28, " !,./:;I[\\]ft"),
    (0.33, "()-`r{}"),
    (0.36, '"'),
    (0.4, "*°"),
    (0.5, "Jcksvxyz^"),
    (0.56, "#$0123456789?L_abdeghnopqu"),
    (0.67, "&ABEKPSVXY"),
    (0.73, "CDHNRUw"),
    (0.78, "GOQΩ"),
    (0.84, "Mm"),
    (0.95, "%W"),
    (1.02, "@…"),
)


def _points(places: Iterable[Place]) -> str:
    return " ".join(f"{_number(x)},{_number(y)}" for x, y in places)


def _number(value: object) -> str:
    return f"{float(value):.2f}".rstrip("0").rstrip(".")  # type: ignore[arg-type]
