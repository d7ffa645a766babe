"""Drawings that belong together, with one finding in a sentence and what the checks say."""

from __future__ import annotations

import html
from dataclasses import dataclass

from ..design.findings import Finding
from ..views.findings import findings_html
from ..views.picture import Picture


@dataclass(frozen=True)
class Scene:
    """One or more drawings, beside each other where there is room, with a sentence and findings below."""

    pictures: tuple[Picture, ...]
    sentence: str
    findings: tuple[Finding, ...] = ()

    def html(self) -> str:
        """The drawings, the sentence and the findings."""
        drawings = "".join(f'<figure class="sigcalc-picture">{each.svg}</figure>' for each in self.pictures)
        sentence = f'<p class="sigcalc-sentence">{html.escape(self.sentence)}</p>'
        return f'<div class="sigcalc-drawings">{drawings}</div>{sentence}{findings_html(self.findings)}'
