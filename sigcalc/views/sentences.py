"""Sentences and findings as text of a page: it breaks between words, as what a cell prints does not."""

from __future__ import annotations

import html
from dataclasses import dataclass

from ..design.findings import MARKS, Finding
from .style import NORMAL, Size


@dataclass(frozen=True)
class Sentences:
    """One paragraph for each sentence; a finding starts with its grade, in a sign and in words."""

    said: tuple[Finding | str, ...]
    size: Size = NORMAL

    def html(self) -> str:
        """The paragraphs for a page or a notebook; all text is escaped."""
        paragraphs = "".join(f'<p style="margin:0.2em 0">{_paragraph(each)}</p>' for each in self.said)
        return f'<div style="font-size:{self.size.text:g}pt;line-height:1.4;max-width:60em">{paragraphs}</div>'

    def _repr_html_(self) -> str:
        return self.html()


def sentences(*said: Finding | str, size: Size = NORMAL) -> Sentences:
    """The sentences and findings in the order given."""
    return Sentences(said, size)


def _paragraph(said: Finding | str) -> str:
    if isinstance(said, str):
        return html.escape(said[:1].upper() + said[1:])
    words = f"{said.reason} {said.remedy}".strip()
    return f"<b>{MARKS[said.grade]} {said.grade}.</b> {html.escape(words[:1].upper() + words[1:])}"
