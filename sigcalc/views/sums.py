"""The sum once by hand, in the open: a table of steps whose numbers come from the library."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

import jinja2

from .style import NORMAL, Size

_DIGITS = 4  # so that a reader who works with the printed figures gets the printed answer


@dataclass(frozen=True)
class Step:
    """One line of a sum: what is wanted, how, and the answer."""

    what: str
    how: str
    answer: str


@dataclass(frozen=True)
class SumByHand:
    """A sum in steps, and in `sentence` what comes out and how far the library agrees."""

    title: str
    steps: tuple[Step, ...]
    sentence: str
    size: Size = NORMAL
    heads: tuple[str, str, str] = ("Step", "Sum", "Gives")
    equal: bool = False  # the last two columns weigh the same: the last is no answer to the one before

    def html(self) -> str:
        """A table with a caption, for a page or a notebook; all text is escaped."""
        return _template().render(sum=self)

    def _repr_html_(self) -> str:
        return self.html()


def _whole(text: str) -> str:
    """The text with each number and its unit in one line."""
    return re.sub(r"(?<=\d) (?=[^\W\d]{1,3}(?:\W|$)|%)", "\u00a0", text)


@cache
def _template() -> jinja2.Template:
    environment = jinja2.Environment(
        loader=jinja2.PackageLoader("sigcalc.views"), autoescape=True, undefined=jinja2.StrictUndefined
    )
    environment.filters["whole"] = _whole
    return environment.get_template("sum.html.j2")
