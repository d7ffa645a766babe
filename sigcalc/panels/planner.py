"""The planner: a form for the whole plan, live findings beside it, and buttons to load, save and export."""

from __future__ import annotations

import base64
import html
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from ..errors import PlanError, SigcalcError
from ..parts.finding import FINE, LOOK, Finding
from ..plan import Plan
from ..plan.result import Study
from ..views.schematic import signal_circuit
from ..views.sheet import MARKS, build_sheet, mast_of
from ..views.style import LARGE, NORMAL
from .plan_form import PlanForm, faults_as_html

FOLDER = "my_plans"
"""Where plans are saved unless the person types another place; an update of the lessons leaves it alone."""
_STYLES = """<style>
.sigcalc-planner .sigcalc-faulty input, .sigcalc-planner .sigcalc-faulty select,
.sigcalc-planner .sigcalc-faulty textarea { outline: 3px dashed #b00020; }
.sigcalc-alert { border-left: 5px solid #b00020; padding: 0.4em 0.8em; font-size: 12pt; }
.sigcalc-sheet { width: 100%; height: 70vh; border: 1px solid #888; }
.sigcalc-findings { font-size: 12pt; line-height: 1.4; }
.sigcalc-findings.large { font-size: 18pt; }
.sigcalc-findings p { margin: 0 0 0.5em; padding-left: 0.6em; border-left: 4px dotted #555; }
.sigcalc-findings p.stop { border-left: 6px solid #000; }
.sigcalc-findings p.look { border-left: 5px dashed #000; }
.sigcalc-findings table { border-collapse: collapse; }
.sigcalc-findings td, .sigcalc-findings th { border: 1px solid #888; padding: 2px 8px; text-align: left; }
</style>"""


class Planner(widgets.VBox):
    """Plan a signal: edit on the left, see circuit, findings and sheet on the right, keep it in a file.

    `planner.plan` is the last plan that could be read, `planner.study` its study. What
    was typed stays in the form whatever happens; a file is never replaced unasked.
    """

    def __init__(self, plan: Plan | None = None):
        self.plan = Plan() if plan is None else plan
        self.study: Study | None = None
        self._ours: set[Path] = set()  # files this planner has read or written: saving over them is no surprise
        self.form = PlanForm()
        self.lit = widgets.ToggleButtons(options=["red", "green"], tooltips=["the red lamp lit", "the green lamp lit"])
        self.lit.style.button_width = "6em"
        self.large = widgets.Checkbox(description="large type for the projector", indent=False)
        self.circuit, self.findings, self.front, self.sheet = (widgets.HTML() for _ in range(4))
        self.views = widgets.Tab(
            [self.circuit, self.findings, self.front, self.sheet],
            titles=["Circuit", "Findings and figures", "Front view", "Build sheet"],
        )
        self.headline, self.told = widgets.HTML(), widgets.HTML()
        left = widgets.VBox([self.form], layout=widgets.Layout(width="38%", max_height="640px", overflow="auto"))
        chosen = widgets.HBox([widgets.HTML("<span>lamp called for&nbsp;</span>"), self.lit, self.large])
        right = widgets.VBox(
            [self.headline, chosen, self.views], layout=widgets.Layout(width="62%", min_height="600px")
        )
        super().__init__([widgets.HTML(_STYLES), self._file_row(), self.told, widgets.HBox([left, right])])
        self.add_class("sigcalc-planner")
        self.form.write(self.plan)
        self.form.on_change(self.redraw)
        for each in (self.lit, self.large):
            each.observe(lambda _: self._show(), names="value")
        self.views.observe(lambda _: self._show(), names="selected_index")
        self.redraw()

    def _file_row(self) -> widgets.Widget:
        self.upload = widgets.FileUpload(accept=".toml", multiple=False, description="Load a plan")
        self.path = widgets.Text(
            value=f"{FOLDER}/my_signal.toml", description="file", style={"description_width": "2em"}
        )
        self.replace = widgets.Checkbox(description="replace a file of this name", indent=False)
        self.replace.layout.width = "14em"
        self.upload.observe(self._loaded, names="value")
        buttons = []
        for text, action in (
            ("Save plan", self.save),
            ("Save build sheet", self.save_sheet),
            ("Save parts list", self.save_parts),
        ):
            button = widgets.Button(description=text, tooltip=f"{text} beside the plan's file")
            button.on_click(lambda _, action=action: self._tell(action))
            buttons.append(button)
        return widgets.HBox(
            [self.upload, self.path, *buttons, self.replace], layout=widgets.Layout(flex_flow="row wrap")
        )

    # editing

    def redraw(self) -> None:
        """Read the form, study the plan, show what came of it; on faults show these and no stale picture."""
        try:
            document = self.plan._document
            plan = Plan(**self.form.read())
            plan._document = document
            self.study = plan.study()
            self.plan = plan
        except PlanError as refusal:
            self._fail(refusal.faults)
        except SigcalcError as refusal:
            self._fail((str(refusal),))
        except Exception as defect:
            self._fail((f"the planner failed ({type(defect).__name__}: {defect}); report it with your plan",))
            raise
        else:
            self.form.mark(())
            self._show()

    def _fail(self, faults: tuple[str, ...]) -> None:
        self.study = None
        self.form.mark(faults)
        self.headline.value = faults_as_html(faults)
        for view in (self.circuit, self.findings, self.front, self.sheet):
            view.value = ""

    def _show(self) -> None:
        """Fill the headline and the tab that is open."""
        study = self.study
        if study is None:
            return
        size = LARGE if self.large.value else NORMAL
        self.headline.value = _headline(study, self.large.value)
        shown = self.views.selected_index
        if shown == 0:
            self.circuit.value = signal_circuit(study.points[self.lit.value], study.plan.supply.name, size=size).html()
        elif shown == 1:
            self.findings.value = _findings(study, self.large.value)
        elif shown == 2:
            self.front.value = mast_of(study, self.lit.value, size).html()
        elif shown == 3:
            page = html.escape(build_sheet(study), quote=True)
            self.sheet.value = f'<iframe title="Build sheet" class="sigcalc-sheet" srcdoc="{page}"></iframe>'

    # files

    def _tell(self, action: Any) -> None:
        """Run a button's action and say in one sentence what came of it (a button hides exceptions)."""
        try:
            self.told.value = f'<p role="status">{action()}</p>'
        except SigcalcError as refusal:
            self.told.value = f'<p role="alert" class="sigcalc-alert">{html.escape(str(refusal))}</p>'
        except Exception as defect:
            self.told.value = (
                f'<p role="alert" class="sigcalc-alert">Failed: {html.escape(f"{type(defect).__name__}: {defect}")}</p>'
            )
            raise

    def _loaded(self, _: Any) -> None:
        if self.upload.value:
            self._tell(self._load)

    def _load(self) -> str:
        file = self.upload.value[0]
        try:
            text = bytes(file["content"]).decode("utf-8-sig")
        except UnicodeDecodeError:
            raise PlanError([f"{file['name']} is not text in UTF-8; nothing was loaded"]) from None
        self.plan = Plan.parse(text)
        self.form.write(self.plan)
        self.path.value = f"{FOLDER}/{Path(file['name']).name}"
        self.redraw()
        return f"Loaded {html.escape(file['name'])}."

    def save(self) -> str:
        """Write the plan to the file named in the box; returns the sentence that says so."""
        self._needs_study()
        target = self._target(".toml")
        self.plan.save(target)
        self.plan._document = Plan.load(target)._document
        return self._kept(target)

    def save_sheet(self) -> str:
        """Write the build sheet as an HTML page beside the plan, to be opened and printed in a browser."""
        target = self._target(".html")
        return self._write(target, build_sheet(self._needs_study()))

    def save_parts(self) -> str:
        """Write the parts list as CSV beside the plan."""
        target = self._target(".csv")
        return self._write(target, self._needs_study().parts_csv())

    def _needs_study(self) -> Study:
        if self.study is None:
            raise PlanError(["the plan has faults; mend them first, nothing was written"])
        return self.study

    def _target(self, ending: str) -> Path:
        typed = self.path.value.strip()
        path = Path(typed)
        if not typed or path.suffix.lower() != ".toml" or "\0" in typed:
            raise PlanError(
                [f'file needs a name that ends in .toml, such as "{FOLDER}/my_signal.toml", but {typed!r} came']
            )
        path = path.with_suffix(ending)
        if path.exists() and path.resolve() not in self._ours and not self.replace.value:
            raise PlanError([f'{path} exists already; tick "replace a file of this name" or type another name'])
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise PlanError([f"{path.parent} cannot be made: {error.strerror or error}"]) from None
        return path

    def _write(self, target: Path, text: str) -> str:
        try:
            target.write_text(text, encoding="utf-8", newline="")
        except OSError as error:
            raise PlanError([f"{target} cannot be written: {error.strerror or error}"]) from None
        return self._kept(target, text)

    def _kept(self, target: Path, text: str | None = None) -> str:
        self._ours.add(target.resolve())
        link = "" if text is None else f" {_download(target.name, text)}"
        return f"Saved {html.escape(str(target))}.{link}"


def _download(name: str, text: str) -> str:
    """A link that hands the same text to the browser, for those who do not see the folder."""
    data = base64.b64encode(text.encode()).decode()
    kind = "text/html" if name.endswith(".html") else "text/csv"
    return f'<a download="{html.escape(name)}" href="data:{kind};base64,{data}">Download {html.escape(name)}</a>'


def _headline(study: Study, large: bool) -> str:
    graver = [each for each in study.findings if each.grade == study.grade]
    said = f"{MARKS[study.grade]} {study.grade}" + (
        f": {graver[0].topic}. {graver[0].reason}" if study.grade != FINE else ""
    )
    return f'<p role="status" style="font-size:{18 if large else 13}pt;margin:0"><b>{html.escape(said)}</b></p>'


def _findings(study: Study, large: bool) -> str:
    rows = "".join(
        f'<tr><th scope="row">{html.escape(band.label)}</th><td>{html.escape(band.text)}</td></tr>'
        for band in study.figures.values()
    )
    said = "".join(_finding(each) for each in study.findings)
    size = " large" if large else ""
    return f'<div class="sigcalc-findings{size}">{said}<table>{rows}</table></div>'


def _finding(finding: Finding) -> str:
    grade = {FINE: "fine", LOOK: "look"}.get(finding.grade, "stop")
    remedy = f" <b>Remedy:</b> {html.escape(finding.remedy)}" if finding.remedy else ""
    return (
        f'<p class="{grade}"><b>{MARKS[finding.grade]} {finding.grade}:</b> {html.escape(finding.topic)}. '
        f"{html.escape(finding.reason)}{remedy}</p>"
    )
