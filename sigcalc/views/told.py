"""What the library has to say, as a page shows it: sentences and findings; plain text where there is no page."""

from __future__ import annotations

import html
from dataclasses import dataclass

from ..errors import UnitError
from ..parts.finding import FINE, LOOK, MARKS, STOP, Finding
from ..units.reading import quoted
from .style import NORMAL, Size

# the grade is in the sign, in the words and in the line beside them; the colour only goes with it
_LINES = {FINE: "solid #00805d", LOOK: "double #9a6a00", STOP: "dashed #b84a00"}


@dataclass(frozen=True)
class Told:
    """Sentences and findings in the order given."""

    said: tuple[str | Finding, ...]
    size: Size = NORMAL

    def __str__(self) -> str:
        return "\n".join(map(str, self.said))

    def html(self) -> str:
        """A paragraph for each, for a page or a notebook; all text is escaped."""
        paragraphs = "".join(map(_paragraph, self.said))
        return f'<div style="font-size:{self.size.text:g}pt;line-height:1.4;max-width:60em">{paragraphs}</div>'

    def _repr_html_(self) -> str:
        return self.html()


def told(*said: str | Finding, size: Size = NORMAL) -> Told:
    """Sentences and findings for a page.

    Raises UnitError for anything else, which would be shown as what it is not.
    """
    for each in said:
        if not isinstance(each, str | Finding):
            raise UnitError(
                f"said needs sentences and findings, but {quoted(each)} came; give a text, or *findings(...)"
            )
    return Told(said, size)


def _paragraph(each: str | Finding) -> str:
    if isinstance(each, str):
        return f'<p style="margin:0.5em 0 0.3em">{html.escape(each)}</p>'
    line = f"margin:0.3em 0;padding-left:0.6em;border-left:0.4em {_LINES[each.grade]}"
    words = f"{each.topic}: {each.reason} {each.remedy}".strip()
    words = html.escape(words[:1].upper() + words[1:])
    return f'<p style="{line}"><b>{MARKS[each.grade]} {each.grade}.</b> {words}</p>'
