"""The table that things are laid on and wired up: wires coloured by polarity, with the current moving in them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any
from xml.etree import ElementTree

from ..canvas import Canvas, Place, text_width
from ..light import Light
from ..style import INK, LOOSE, MINUS, OUTLINE, PAPER, PLUS, TEXT
from .thing import thing

POLES = {"+": PLUS, "−": MINUS, "": LOOSE}
"""The colour of a wire by the pole it is on."""
_CABLE, _RIM = 4.2, 6.4


class Table(Canvas):
    """A sheet with things on it. `put` lays one down, `wire` joins two of its ends, `words` writes beside it."""

    def put(self, name: str, corner: Place, scale: float = 1.0, **facts: Any) -> Mapping[str, Place]:
        """Lay down the thing of that name, upper left corner first; gives where its ends are now.

        One that is drawn smaller loses its words, for nobody could read them.
        A fact named `light`, or a list of them named `lights`, is a `Light`; the drawing has the ends `lamp` or
        `lamp1`, `lamp2` ... and `lens`, whose first number is the radius, for the light around them.
        """
        made = thing(name, **facts)
        (x, y), group = corner, f"thing {name}"
        ends = {each: (x + scale * place[0], y + scale * place[1]) for each, place in made.ends.items()}
        self.group(f"{group} light")
        lights: Sequence[Light] = facts.get("lights", (facts["light"],) if "light" in facts else ())
        spots = ["lamp"] if "light" in facts else [f"lamp{number}" for number in range(1, len(lights) + 1)]
        for spot, light in zip(spots, lights, strict=True):
            self.halo(ends[spot], scale * made.ends["lens"][0], light)
        place = f"translate({x:g} {y:g})" + (f" scale({scale:g})" if scale != 1.0 else "")
        into = ElementTree.SubElement(self.root, "g", {"class": group, "transform": place})
        into.extend(each for each in made.shapes if scale >= 1.0 or each.tag != "text")
        return ends

    def wire(self, *places: Place, pole: str = "", current: float = 0.0, name: str = "wire") -> None:
        """A cable through two or more places, coloured by the pole it is on ("+", "−" or ""); the dots move along it.

        `current` in A flows from the first place to the last, a negative one the other way.
        """
        self.group(name)
        self.line(*places, width=_RIM, colour=OUTLINE)
        self.line(*places, width=_CABLE, colour=POLES[pole])
        along = places if current >= 0 else places[::-1]
        self.flow(*along, current=abs(current))

    def words(self, place: Place, text: str, anchor: str = "middle", bold: bool = False, size: float = TEXT) -> None:
        """A line of text on a white ground, so that it can be read over anything."""
        wide = text_width(text, bold) * size / TEXT + 6
        left = place[0] - {"start": 3.0, "middle": wide / 2, "end": wide - 3.0}[anchor]
        self.group("words")
        self.rectangle((left, place[1] - 0.85 * size - 2), (wide, size + 5), fill=PAPER, width=0, radius=3)
        self.text(place, text, anchor, bold, fill=INK, size=size)
