"""Reads the drawing of a thing: an SVG file beside this one, filled in with how the thing is at the moment.

A file NAME.svg is a Jinja template of the inside of an `<svg>`, in points, y down, from (0, 0). Its first line says how
large it is and where wires join it: `<desc data-size="60 90" data-plus="12 90" data-minus="40 90"/>`. In it `p` is the
palette (`p.metal`), and a lamp's `light` has `.lens .fill .glow .shines .dead .word`. Everything filled in is escaped.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any
from xml.etree import ElementTree

import jinja2

from ..canvas import Place
from ..picture import plain
from ..style import FONT, MATERIALS

_SPACE = "{http://www.w3.org/2000/svg}"
_templates = jinja2.Environment(
    loader=jinja2.PackageLoader(__package__, "."),
    autoescape=True,
    undefined=jinja2.StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
    finalize=lambda value: plain(value) if isinstance(value, str) and not hasattr(value, "__html__") else value,
)
_templates.globals.update(p=MATERIALS, font=FONT, zip=zip)


@dataclass(frozen=True)
class Thing:
    """A drawn thing: its shapes, its size, and the places by name at which wires join it."""

    name: str
    shapes: tuple[ElementTree.Element, ...]
    width: float
    height: float
    ends: dict[str, Place]


@lru_cache(maxsize=512)
def thing(name: str, **facts: Any) -> Thing:
    """The thing of the file of that name, as the facts have it. Kept: do not change its shapes."""
    markup = _templates.get_template(f"{name}.svg").render(facts)
    root = ElementTree.fromstring(f"<g>{markup}</g>")
    about, *shapes = root
    places = {key.removeprefix("data-"): tuple(map(float, value.split())) for key, value in about.attrib.items()}
    width, height = places.pop("size")
    return Thing(name, tuple(shapes), width, height, places)
