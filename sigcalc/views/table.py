"""A small table for a page or a notebook: a caption, heads, rows, and a sentence below."""

from __future__ import annotations

import html
import re
from collections.abc import Sequence
from dataclasses import dataclass

from .picture import Picture, plain
from .style import NORMAL, Size

_CELL = "text-align:left;vertical-align:top;padding:0.25em 0.8em 0.25em 0;white-space:normal"
_PICTURE = "5.5em"  # the least width that a column leaves to the pictures in it
# a number and its unit, which are not to be parted at the end of a line
_UNIT = re.compile(r"(?<=\d) (?=[^\W\d]{1,3}(?:\W|$)|%)")


@dataclass(frozen=True)
class Table:
    """Rows of texts under their heads; the first cell of a row names it. All text is escaped.

    Parameters
    ----------
    caption: what the table is about
    heads: one for each column
    rows: as many cells each as there are heads; a picture in one is drawn there
    sentence: below the table, "" for none
    folded: the caption alone is seen, and unfolds the rest
    """

    caption: str
    heads: Sequence[str]
    rows: Sequence[Sequence[object]]
    sentence: str = ""
    size: Size = NORMAL
    folded: bool = False

    def html(self) -> str:
        """The table with its caption and the sentence."""
        caption = f'style="text-align:left;font-weight:bold;padding-bottom:0.3em">{_escaped(self.caption)}</'
        heads = "".join(f'<th scope="col" style="{_CELL}">{_escaped(each)}</th>' for each in self.heads)
        rows = "".join(map(_row, self.rows))
        said = f'<p style="margin:0.5em 0 0">{_escaped(self.sentence)}</p>' if self.sentence else ""
        within = "" if self.folded else f"<caption {caption}caption>"
        table = (
            f'<table style="border-collapse:collapse;font-size:inherit;margin:0">{within}'
            f"<thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>{said}"
        )
        shown = f"<details><summary {caption}summary>{table}</details>" if self.folded else table
        return f'<div class="sigcalc-table" style="font-size:{self.size.text:g}pt;line-height:1.4">{shown}</div>'

    def _repr_html_(self) -> str:
        return self.html()


def _row(cells: Sequence[object]) -> str:
    first, *others = map(_shown, cells)
    name = f'<th scope="row" style="{_CELL};font-weight:normal">{first}</th>'
    others = "".join(f'<td style="{_CELL}">{each}</td>' for each in others)
    return f'<tr style="border-top:1px solid #8c8c8c">{name}{others}</tr>'


def _shown(cell: object) -> str:
    return f'<div style="min-width:{_PICTURE}">{cell.svg}</div>' if isinstance(cell, Picture) else _escaped(cell)


def _escaped(text: object) -> str:
    return html.escape(_UNIT.sub("\u00a0", plain(text)))
