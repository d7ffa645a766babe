"""Findings and figures as a page of a panel: each finding with its grade in a sign, a line and words."""

from __future__ import annotations

import html

from ..design.findings import FINE, LOOK, MARKS, Finding
from ..plan.layout_result import LayoutStudy
from ..plan.result import Band, Study, say_figure

FINDING_STYLES = """<style>
.sigcalc-findings { line-height: 1.4; }
.sigcalc-findings p { margin: 0 0 0.5em; padding-left: 0.6em; border-left: 4px dotted #555; }
.sigcalc-findings p.stop { border-left: 6px solid #000; }
.sigcalc-findings p.look { border-left: 5px dashed #000; }
.sigcalc-findings table { border-collapse: collapse; }
.sigcalc-findings td, .sigcalc-findings th { border: 1px solid #888; padding: 2px 8px; text-align: left; }
</style>"""


def findings_html(study: Study | LayoutStudy) -> str:
    """All findings in the order given, the figures with their bands in a table, and the cautions."""
    rows = "".join(
        f'<tr><th scope="row">{html.escape(band.label)}</th><td>{html.escape(_figure(band))}</td></tr>'
        for band in study.figures.values()
    )
    said = "".join(_finding(each) for each in study.findings)
    heeded = "".join(f"<li>{html.escape(each.text)}</li>" for each in study.cautions)
    return (
        f'<div class="sigcalc-findings">{said}<table>{rows}</table>'
        f"<p><b>Cautions for building and feeding it</b></p><ul>{heeded}</ul></div>"
    )


def _figure(band: Band) -> str:
    """The figure with its band, or alone where least and most would be said with the same digits."""
    said = {say_figure(each, band.unit) for each in (band.least, band.nominal, band.most)}
    return said.pop() if len(said) == 1 else band.text


def _finding(finding: Finding) -> str:
    grade = {FINE: "fine", LOOK: "look"}.get(finding.grade, "stop")
    remedy = f" <b>Remedy:</b> {html.escape(finding.remedy)}" if finding.remedy else ""
    return (
        f'<p class="{grade}"><b>{MARKS[finding.grade]} {finding.grade}:</b> {html.escape(finding.topic)}. '
        f"{html.escape(finding.reason)}{remedy}</p>"
    )
