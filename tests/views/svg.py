"""Reads what is in a picture: its texts with their boxes, its groups and shapes."""

import re
from collections import namedtuple
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

import matplotlib
from matplotlib.ft2font import FT2Font

SVG = "{http://www.w3.org/2000/svg}"
NARROWER = 0.9  # Arial's width to that of DejaVu Sans, which comes with matplotlib
HOSTILE = "<b>&\"'$x^2_1$\\frac]]>--\x00\x1b\ud800‮ 日本 🚂 %s {0}"


class Text(namedtuple("Text", "words size left top right bottom")):
    """A text and the box it takes, in points of the viewBox."""

    def overlaps(self, other):
        across = min(self.right, other.right) - max(self.left, other.left)
        return across > 1 and min(self.bottom, other.bottom) - max(self.top, other.top) > 1


def parse(picture):
    """The root; parsing fails where the picture is no well-formed XML."""
    return ElementTree.fromstring(picture.svg)


def view_box(root):
    return [float(number) for number in root.get("viewBox").split()]


def words(picture):
    return [text.words for text in texts(picture)]


@cache
def texts(picture):
    return [_text(element, shift) for element, shift in _shifted(parse(picture), (0.0, 0.0)) if element.text]


def _shifted(element, shift):
    """The texts below an element, each with how far the groups around it move it."""
    if moved := re.match(r"translate\((-?[\d.]+) (-?[\d.]+)\)", element.get("transform", "")):
        shift = tuple(one + float(other) for one, other in zip(shift, moved.groups(), strict=True))
    return (
        [(element, shift)]
        if element.tag == SVG + "text"
        else [each for sub in element for each in _shifted(sub, shift)]
    )


def _text(element, shift):
    style = dict(part.split(":", 1) for part in element.get("style", "").replace(" ", "").split(";") if part)
    size = float((element.get("font-size") or style["font-size"]).removesuffix("px"))
    anchor = element.get("text-anchor") or style.get("text-anchor", "start")
    x, y = float(element.get("x")) + shift[0], float(element.get("y")) + shift[1]
    width = _width(element.text, "bold" in element.get("font-weight", "") or "font-weight" in style) * size
    if (turned := re.match(r"rotate\((-?[\d.]+)", element.get("transform", ""))) and float(turned[1]) == -90:
        return Text(element.text, size, x - 0.8 * size, y - width / 2, x + 0.2 * size, y + width / 2)
    left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * width
    return Text(element.text, size, left, y - 0.75 * size, left + width, y + 0.2 * size)


@cache
def _font(bold):
    fonts = Path(matplotlib.get_data_path()) / "fonts" / "ttf"
    font = FT2Font(str(fonts / ("DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf")))
    font.set_size(100, 72)
    return font


@cache
def _width(string, bold):
    """The width of a text of size 1."""
    font = _font(bold)
    font.set_text("".join(character if ord(character) < 0x2200 else "M" for character in string))
    return NARROWER * font.get_width_height()[0] / 64 / 100


def groups(picture, start):
    """The groups whose class begins with these words."""
    return [each for each in parse(picture).iter(SVG + "g") if each.get("class", "").startswith(start)]


def group(picture, start):
    (found,) = groups(picture, start)
    return found


def fills(element):
    """The fills of a group's closed shapes (given as attribute or in the style), none and paper left out."""
    found = []
    for shape in element.iter():
        fill = shape.get("fill") or next(iter(re.findall("fill:([^;]+)", shape.get("style", ""))), "none")
        if fill.lower() not in ("none", "#ffffff") and not shape.tag.endswith("text"):
            found.append(fill.lower())
    return found


def corners(shapes):
    """Corner points of each line of a group: polylines, polygons and schemdraw's paths, broken at their gaps."""
    found = []
    for shape in shapes:
        if points := shape.get("points"):
            found.append([tuple(float(n) for n in pair.split(",")) for pair in points.split()])
        elif path := shape.get("d"):
            pieces = [re.findall(r"(-?[\d.]+),(-?[\d.]+)", piece) for piece in path.split("M")]
            found += [[(float(x), float(y)) for x, y in piece] for piece in pieces if piece]
    return found


def flows(picture, name="wire"):
    """The lines of moving dots in a table's wires by the colour of the cable they are in, each as its places."""
    found = {}
    for wire in groups(picture, name):
        _, cable, *moving = list(wire)
        if moving:
            found.setdefault(cable.get("stroke"), []).append(corners(moving)[0])
    return found


def middle(picture, wanted):
    """The height of a text's middle."""
    found = by_words(picture, wanted)
    return (found.top + found.bottom) / 2


def by_words(picture, wanted):
    (found,) = (text for text in texts(picture) if text.words == wanted)
    return found


def spans(picture, name, style=""):
    """The stretches (left, right) in points of a row's filled shapes, of those with such a style."""
    paths = [each for group in groups(picture, name) for each in group if each.tag.endswith("path")]
    shapes = [each.get("d") for each in paths if style in each.get("style", "")]
    across = [[float(x) for x in re.findall(r"[ML] ?(-?[\d.]+) ", shape)] for shape in shapes]
    return [(min(each), max(each)) for each in across if len(each) > 2]
