"""Findings as text of a page, alone or below drawings: a sign, the grade in words, topic, reason and remedy.

The one renderer: panels, lessons and build sheets show findings through it. The grade is seen in the line at the left
edge as well (solid, dashed or dotted), never in a colour alone.
"""

from __future__ import annotations

import html
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from ..design.findings import FINE, LOOK, MARKS, STOP, Finding, gravest_first
from .picture import Picture
from .style import FINE_EDGE, FINE_GROUND, LOOK_EDGE, LOOK_GROUND, NORMAL, STOP_EDGE, STOP_GROUND, Size, ink_on

_WIDE = 500.0  # points; the stylesheet knows what narrower ones need
VERDICT, PICTURE, SENTENCE = COVERS = ("verdict", "picture", "sentence")
"""What can be covered on the stage until the answer is asked for."""
NOTHING: Mapping[str, str] = MappingProxyType({})
_GROUNDS = {FINE: FINE_GROUND, LOOK: LOOK_GROUND, STOP: STOP_GROUND}
_LINES = {FINE: f"4px dotted {FINE_EDGE}", LOOK: f"5px dashed {LOOK_EDGE}", STOP: f"6px solid {STOP_EDGE}"}


def finding_html(finding: Finding) -> str:
    """One finding as a paragraph."""
    topic, remedy = html.escape(finding.topic), html.escape(finding.remedy)
    return (
        f'<p class="sigcalc-finding" style="margin:0.3em 0;padding-left:0.6em;border-left:{_LINES[finding.grade]}">'
        f"<b>{MARKS[finding.grade]} {finding.grade}: {topic}.</b> {html.escape(capital(finding.reason))}"
        f"{f' <b>Remedy:</b> {remedy}' if remedy else ''}</p>"
    )


def findings_html(findings: Iterable[Finding]) -> str:
    """A list of findings in the order given; "" for none."""
    return "".join(map(finding_html, findings))


@dataclass(frozen=True)
class Sentences:
    """One paragraph for each sentence or finding, which breaks between words, as what a cell prints does not."""

    said: tuple[Finding | str, ...]
    size: Size = NORMAL

    def html(self) -> str:
        """The paragraphs for a page or a notebook; all text is escaped."""
        paragraphs = "".join(map(_paragraph, self.said))
        return f'<div style="font-size:{self.size.text:g}pt;line-height:1.4;max-width:60em">{paragraphs}</div>'

    def _repr_html_(self) -> str:
        return self.html()


def sentences(*said: Finding | str, size: Size = NORMAL) -> Sentences:
    """The sentences and findings in the order given."""
    return Sentences(said, size)


def _paragraph(said: Finding | str) -> str:
    if isinstance(said, Finding):
        return finding_html(said)
    return f'<p style="margin:0.2em 0">{html.escape(capital(said))}</p>'


def capital(text: str) -> str:
    """A part's own name, in lower case, may begin a sentence."""
    return text[:1].upper() + text[1:]


def _room(picture: Picture) -> str:
    """A wide drawing stands beside another only where it keeps three fifths of its size."""
    return f' style="flex-basis:{0.6 * picture.width:g}pt"' if picture.width > _WIDE else ""


@dataclass(frozen=True)
class Answer:
    """What a panel answers: the verdict first, then drawings side by side where there is room, a sentence, the rest.

    `brief` is the sentence for the stage, twelve words at the most; of the pictures the first one is shown there.
    """

    pictures: tuple[Picture, ...]
    sentence: str
    findings: tuple[Finding, ...] = ()
    brief: str = ""

    def html(self) -> str:
        """The gravest finding, the drawings, the sentence and the other findings."""
        verdict, others = self.findings[:1], self.findings[1:]
        drawings = "".join(
            f'<figure class="sigcalc-picture"{_room(each)}>{each.svg}</figure>' for each in self.pictures
        )
        sentence = f'<p class="sigcalc-sentence">{html.escape(self.sentence)}</p>'
        return (
            f'<div class="sigcalc-verdict">{findings_html(verdict)}</div>'
            f'<div class="sigcalc-drawings">{drawings}</div>{sentence}{findings_html(others)}'
        )

    def stage_html(self, covered: Mapping[str, str] = NOTHING) -> str:
        """The verdict in one line, one picture, one sentence.

        What is `covered` (of `COVERS`) is not in the page: the words given for it stand in its place, or a "?".
        """
        shown = {
            VERDICT: "".join(map(_verdict_line, self.findings[:1])),
            PICTURE: self.pictures[0].svg,
            SENTENCE: html.escape(self.brief or self.sentence),
        }
        parts = {name: _cover(covered[name]) if name in covered else part for name, part in shown.items()}
        return (
            f'<div class="sigcalc-verdict" role="status">{parts[VERDICT]}</div>'
            f'<figure class="sigcalc-picture">{parts[PICTURE]}</figure>'
            f'<p class="sigcalc-sentence">{parts[SENTENCE]}</p>'
        )

    def __post_init__(self) -> None:
        object.__setattr__(self, "findings", gravest_first(self.findings))


def _cover(words: str) -> str:
    """What stands where something is covered."""
    if words:
        return f"<b>{html.escape(words)}</b>"
    return '<span class="sigcalc-cover" role="img" aria-label="covered until the answer is shown">?</span>'


def _verdict_line(finding: Finding) -> str:
    """The verdict for a wall: sign, grade and topic, on the colour of its grade."""
    look = f"background:{_GROUNDS[finding.grade]};color:{ink_on(_GROUNDS[finding.grade])}"
    said = f"{MARKS[finding.grade]} {finding.grade}: {finding.topic}"
    return f'<p class="sigcalc-verdict-line" style="{look}">{html.escape(said)}</p>'
