"""Drawings that belong together, with one finding in a sentence and what the checks say."""

from __future__ import annotations

import html
from dataclasses import dataclass

from ..design.findings import MARKS, Finding
from ..views.picture import Picture


@dataclass(frozen=True)
class Scene:
    """One or more drawings and the finding.

    The drawings stand beside each other where there is room, else below each other.
    `sentence` says what the reader sees; `findings` follow it, each with its grade in a
    sign and in words.
    """

    pictures: tuple[Picture, ...]
    sentence: str
    findings: tuple[Finding, ...] = ()

    def html(self) -> str:
        """The drawings, the sentence and the findings."""
        drawings = "".join(f'<figure class="sigcalc-picture">{each.svg}</figure>' for each in self.pictures)
        findings = "".join(map(_finding, self.findings))
        sentence = f'<p class="sigcalc-sentence">{html.escape(self.sentence)}</p>'
        return f'<div class="sigcalc-drawings">{drawings}</div>{sentence}{findings}'


def _finding(finding: Finding) -> str:
    grade, words = finding.grade.replace(" ", "-"), f"{finding.reason} {finding.remedy}".strip()
    words = words[:1].upper() + words[1:]  # a part's own name may stand first
    return (
        f'<div class="sigcalc-finding sigcalc-{grade}"><b>{MARKS[finding.grade]} {finding.grade}.</b> '
        f"{html.escape(words)}</div>"
    )
