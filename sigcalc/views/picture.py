"""A picture: the drawing as SVG text, and its finding in one plain sentence."""

from __future__ import annotations

import html
import re
from dataclasses import dataclass

from .style import NORMAL, PAPER, RIM, Size

# what XML 1.0 has no place for, and the marks that turn the writing direction of the text after them
_UNFIT = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]|[\u202a-\u202e\u2066-\u2069]")
_WIDTH, _HEIGHT = (re.compile(rf'<svg\b[^>]*? {each}="([\d.]+)pt"') for each in ("width", "height"))
_ROOT = re.compile(r"<svg\b[^>]*>")


def plain(text: object) -> str:
    """A text from outside in one line, without characters that no page can hold."""
    return " ".join(_UNFIT.sub("\ufffd", str(text)).split())


@dataclass(frozen=True)
class Picture:
    """A drawing and what it shows.

    `svg` is a whole `<svg>` element that scales to the width it gets; its text alternative
    is `sentence`. `size` says how large the sentence is set.
    """

    svg: str
    sentence: str
    size: Size = NORMAL

    def html(self) -> str:
        """The figure for a page or a panel: the drawing, and the sentence below it as text."""
        return (
            f'<figure class="sigcalc-picture" style="margin:0">{self.svg}'
            f'<figcaption style="font-size:{self.size.text:g}pt;line-height:1.4;margin:0.4em 0 0">'
            f"{html.escape(self.sentence)}</figcaption></figure>"
        )

    def _repr_html_(self) -> str:
        return self.html()

    @property
    def width(self) -> float:
        """Its natural width in points."""
        return float(_WIDTH.search(self.svg)[1])

    @property
    def height(self) -> float:
        """Its natural height in points."""
        return float(_HEIGHT.search(self.svg)[1])

    def saying(self, sentence: str) -> Picture:
        """The same drawing with another text alternative: an exercise's must not say the answer."""
        named = f'aria-label="{html.escape(plain(sentence))}"'
        return Picture(re.sub('aria-label="[^"]*"', lambda _: named, self.svg, count=1), sentence, self.size)


def root_attributes(sentence: str, width: float, height: float, size: Size) -> dict[str, str]:
    """The attributes of a named, scaling `<svg>` laid out in `width` by `height` points."""
    natural, tall = width * size.scale, height * size.scale
    return {
        "xmlns": "http://www.w3.org/2000/svg",
        "role": "img",
        "aria-label": sentence,
        "viewBox": f"0 0 {width:g} {height:g}",
        "width": f"{natural:g}pt",
        "height": f"{tall:g}pt",
        "style": f"display:block;width:100%;max-width:{natural:g}pt;height:auto;background:{PAPER};"
        f"border-radius:6px;outline:1px solid {RIM};outline-offset:-1px;"
        "stroke-linejoin:round;stroke-linecap:butt",
    }


def named(svg: str, sentence: str, width: float, height: float, size: Size) -> Picture:
    """The picture made of an SVG document whose root is replaced by a named one."""
    sentence = plain(sentence)
    start = _ROOT.search(svg)
    attributes = root_attributes(sentence, width, height, size) | {"xmlns:xlink": "http://www.w3.org/1999/xlink"}
    root = " ".join(f'{name}="{html.escape(value)}"' for name, value in attributes.items())
    return Picture(f"<svg {root}>{svg[start.end() :].strip()}", sentence, size)
