"""Findings and figures as a page of a panel: each finding with its grade in a sign, a line and words."""

from __future__ import annotations

import html

from ..plan.layout_study import LayoutStudy
from ..plan.result import Study
from ..views.findings import findings_html as said_html

FINDING_STYLES = """<style>
.sigcalc-findings { line-height: 1.4; }
.sigcalc-findings table { border-collapse: collapse; }
.sigcalc-findings td, .sigcalc-findings th { border: 1px solid #888; padding: 2px 8px; text-align: left; }
</style>"""


def findings_html(study: Study | LayoutStudy) -> str:
    """All findings in the order given, the figures with their bands in a table, and the cautions."""
    rows = "".join(
        f'<tr><th scope="row">{html.escape(band.label)}</th><td>{html.escape(band.text)}</td></tr>'
        for band in study.figures.values()
    )
    said = said_html(study.findings)
    heeded = "".join(f"<li>{html.escape(each.text)}</li>" for each in study.cautions)
    return (
        f'<div class="sigcalc-findings">{said}<table>{rows}</table>'
        f"<p><b>Cautions for building and feeding it</b></p><ul>{heeded}</ul></div>"
    )
