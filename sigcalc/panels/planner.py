"""The planner: a form for the whole plan, live findings beside it, and buttons to load, save and export."""

from __future__ import annotations

import html
from functools import cached_property
from pathlib import Path
from typing import Any

import ipywidgets as widgets
from traitlets import List

from ..design.findings import FINE, MARKS, Finding
from ..errors import Fault, PlanError, SigcalcError
from ..plan import Plan
from ..plan.layout import holds_layout
from ..plan.result import Study
from ..units import Q
from ..views.curves import Curves
from ..views.sheet import GRADE_SENTENCES, build_sheet, circuit_picture, mast_of, study_findings
from ..views.style import LARGE, NORMAL, Size
from .control import Button, stylesheet
from .own_files import FOLDER, OwnFiles
from .plan_form import PlanForm, changes, faults_as_html

_LISTED = 6  # changes that are told after a save
_LARGEST = 10_000_000
"""Bytes of a file that is loaded: Jupyter's server drops the connection at a message over 10 MiB, and the message."""


class _UploadLimit(widgets.HTML):
    """Says how large a file may be, and is told by the browser the name and size of one before that is sent.

    `announced` is joined in the browser to an upload's `value`; the content itself is no JSON and stays behind.
    """

    announced = List().tag(sync=True)


class Planner(widgets.VBox):
    """Plan a signal: edit on the left, see circuit, findings and sheet on the right, keep it in a file.

    `planner.plan` is the last plan that could be read, `planner.study` its study. What
    was typed stays in the form whatever happens; a file is never replaced unasked.
    """

    def __init__(self, plan: Plan | None = None):
        self.plan = Plan() if plan is None else plan
        self.study: Study | None = None
        self.form = PlanForm()
        self.lit = widgets.ToggleButtons(options=["red", "green"], tooltips=["the red lamp lit", "the green lamp lit"])
        self.lit.style.button_width = "auto"
        self.large = widgets.Checkbox(description="large type for the projector", indent=False)
        self.circuit, self.findings, self.led, self.front, self.sheet = (widgets.HTML() for _ in range(5))
        self._pages = {
            "Circuit": (self.circuit, self._circuit),
            "Findings": (self.findings, self._findings),
            "LED curve": (self.led, self._led),
            "Front view": (self.front, self._front),
            "Build sheet": (self.sheet, self._sheet),
        }
        self.views = widgets.Tab([page for page, _ in self._pages.values()], titles=list(self._pages))
        self.headline = widgets.HTML()
        self.told = widgets.HTML(layout=widgets.Layout(min_height="3.2em"))  # so that nothing jumps when it speaks
        # of one height, so that nothing below jumps when a section is unfolded
        left = widgets.VBox([self.form], layout=widgets.Layout(width="29%", height="640px", overflow="auto"))
        left.add_class("sigcalc-form")
        chosen = widgets.HBox(
            [widgets.HTML("<span style='white-space:nowrap'>lamp called for&nbsp;</span>"), self.lit, self.large],
            layout=widgets.Layout(align_items="center", flex_flow="row wrap"),
        )
        right = widgets.VBox(
            [self.headline, chosen, self.views], layout=widgets.Layout(width="71%", min_height="600px")
        )
        columns = widgets.HBox([left, right])
        columns.add_class("sigcalc-plan-columns")
        super().__init__([stylesheet(), self._file_row(), self.told, columns])
        self.add_class("sigcalc-panel")
        self.add_class("sigcalc-planner")
        self.form.write(self.plan)
        self._kept = self.form.read()  # the form as it was last loaded or saved
        self.form.on_change(self._edited)
        for each in (self.lit, self.large):
            each.observe(lambda _: self._show(), names="value")
        self.views.observe(lambda _: self._show(), names="selected_index")
        self.redraw()

    def _file_row(self) -> widgets.Widget:
        self.upload_limit = _UploadLimit(value=f"<small>up to {_LARGEST // 1_000_000} MB</small>")
        self.upload_limit.observe(self._announced, names="announced")
        self.upload = self._upload()
        self.path = widgets.Text(
            value=f"{FOLDER}/my_signal.toml",
            description="file",
            continuous_update=False,
            style={"description_width": "2em"},
        )
        self.path.add_class("sigcalc-file")
        self.replace = widgets.Checkbox(description="replace a file of this name", indent=False)
        self.files = OwnFiles(self.path, self.replace)
        self.buttons: list[Button] = []
        for text, action in (
            ("Save plan", self.save),
            ("Save build sheet", self.save_sheet),
            ("Save parts list", self.save_parts),
        ):
            button = Button(description=text, tooltip=f"{text} beside the plan's file")
            button.observe(lambda _: self._tell(lambda: "Saving what the form shows ..."), names="pressed")
            button.on_click(lambda _, action=action: self._tell(action))
            self.buttons.append(button)
        self._files_row = widgets.HBox(
            [self.upload, self.upload_limit, self.path, *self.buttons, self.replace],
            layout=widgets.Layout(align_items="center", flex_flow="row wrap"),
        )
        return self._files_row

    def _upload(self) -> widgets.FileUpload:
        upload = widgets.FileUpload(accept=".toml", multiple=False, description="Load a plan")
        upload.observe(self._loaded, names="value")
        widgets.jsdlink((upload, "value"), (self.upload_limit, "announced"))
        return upload

    # editing

    def _edited(self) -> None:
        """After an edit what was loaded or saved is no longer what the form holds."""
        if not any(button.waiting for button in self.buttons):
            self.told.value = ""
        self.redraw()

    def redraw(self) -> None:
        """Read the form, study the plan, show what came of it; on faults show these and no stale picture."""
        try:
            document = self.plan._document
            plan = Plan(**self.form.read())
            plan._document = document
            self.study = plan.study()
            self.plan = plan
        except SigcalcError as refusal:
            self._fail(refusal)
        except Exception as defect:
            self._fail(f"the planner failed ({type(defect).__name__}: {defect}); report it with your plan")
            raise
        else:
            self.form.mark(())
            self._show()

    def _fail(self, refusal: SigcalcError | str) -> None:
        self.study = None
        self.form.mark([each.place for each in getattr(refusal, "listed", ()) if isinstance(each, Fault)])
        self.headline.value = faults_as_html(refusal)
        for page, _ in self._pages.values():
            page.value = ""

    def _show(self) -> None:
        """Fill the headline and the tab that is open."""
        study = self.study
        if study is None:
            return
        (self.add_class if self.large.value else self.remove_class)("sigcalc-large")
        self.headline.value = _headline(study)
        page, fill = list(self._pages.values())[self.views.selected_index or 0]
        if fill == self._sheet:  # every fault is tried on the plan's circuit
            page.value = '<p role="status">Working: the build sheet is being written.</p>'
        page.value = fill(study)

    @cached_property
    def _curves(self) -> Curves:
        """The figure of the LED's curve, made when its tab is first opened."""
        return Curves()

    @property
    def _size(self) -> Size:
        return LARGE if self.large.value else NORMAL

    def _circuit(self, study: Study) -> str:
        return circuit_picture(study, self.lit.value, self._size).html()

    def _findings(self, study: Study) -> str:
        return study_findings(study)

    def _led(self, study: Study) -> str:
        """The curve of the lamp called for, with the points that it was fitted to."""
        lamp = self.lit.value
        points, amperes = getattr(study.plan, lamp).points or (), study.figures.get(f"{lamp}_current")
        current = "1 mA" if amperes is None else Q(amperes.nominal, "A")
        return self._curves.picture(getattr(study.pair, lamp), points, current, size=self._size).html()

    def _front(self, study: Study) -> str:
        return mast_of(study, self.lit.value, self._size).html()

    def _sheet(self, study: Study) -> str:
        page = html.escape(build_sheet(study), quote=True)
        return f'<iframe title="Build sheet" class="sigcalc-sheet" srcdoc="{page}"></iframe>'

    # files

    def _tell(self, action: Any) -> None:
        """Run a button's action and say in one sentence what came of it (a button hides exceptions)."""
        try:
            self.told.value = f'<p role="status">{action()}</p>'
        except SigcalcError as refusal:
            self.told.value = _refusal(refusal)
        except Exception as defect:
            self.told.value = (
                f'<p role="alert" class="sigcalc-alert">Failed: {html.escape(f"{type(defect).__name__}: {defect}")}</p>'
            )
            raise

    def _loaded(self, _: Any) -> None:
        if self.upload.value:
            self._tell(self._load)
            self.upload.value = ()  # else the same file, chosen again, would be no change

    def _announced(self, _: Any) -> None:
        """Refuse a file that never arrives; the button, which would wait for it for good, gives way to a new one."""
        for file in self.upload_limit.announced:
            if file["size"] > _LARGEST:
                said = (
                    f"{file['name']} was not loaded: it is {file['size'] / 1e6:.1f} MB, and Jupyter takes at most "
                    f"{_LARGEST // 1_000_000} MB at once; a plan is a page of text, so choose another file"
                )
                self.told.value = _refusal(PlanError([said]))
                self.upload.close()
                self.upload = self._upload()
                self._files_row.children = (self.upload, *self._files_row.children[1:])

    def _load(self) -> str:
        file = self.upload.value[0]
        try:
            text = bytes(file["content"]).decode("utf-8-sig")
        except UnicodeDecodeError:
            raise PlanError([f"{file['name']} is not text in UTF-8; nothing was loaded"]) from None
        try:
            self.plan = Plan.parse(text)
        except PlanError as refusal:
            raise PlanError(
                [f"{file['name']} was not loaded, and the form is as it was", *_why(text, refusal)]
            ) from None
        self.form.write(self.plan)
        self._kept = self.form.read()
        self.path.value = f"{FOLDER}/{Path(file['name']).name}"
        self.redraw()
        return f"Loaded {html.escape(file['name'])}."

    def save(self) -> str:
        """Write the plan to the file named in the box; returns the sentence that says so."""
        self._needs_study()
        target, text = self.files.target(".toml"), self.plan.text()
        self.plan.save(target)
        self.plan._document = Plan.parse(text)._document
        said = self.files.kept(target, text) + self._news()
        self._kept = self.form.read()
        return said

    def save_sheet(self) -> str:
        """Write the build sheet as an HTML page beside the plan, to be opened and printed in a browser."""
        page = build_sheet(self._needs_study())
        return self.files.write(self.files.target(".html"), page) + self._news()

    def save_parts(self) -> str:
        """Write the parts list as CSV beside the plan."""
        table = "\ufeff" + self._needs_study().parts_csv()  # else spreadsheets read Ω as two letters
        return self.files.write(self.files.target(".csv"), table) + self._news()

    def _news(self) -> str:
        """Which changes of the form went into what was saved."""
        news = changes(self._kept, self.form.read())
        if not news:
            return ""
        more = f"; and {len(news) - _LISTED} more" if len(news) > _LISTED else ""
        listed = html.escape("; ".join(news[:_LISTED]))
        return f" In it are your changes since the plan was last saved or loaded: {listed}{more}."

    def _needs_study(self) -> Study:
        if self.study is None:
            raise PlanError(["the plan has faults; put them right first, nothing was written"])
        return self.study


def _why(text: str, refusal: PlanError) -> tuple[str, ...]:
    """The faults of a file, or what it is instead of a plan."""
    if holds_layout(text):
        return ("it holds a layout of several signals; the lesson many_signals_one_adapter opens such a file",)
    return refusal.faults


def _refusal(refusal: SigcalcError) -> str:
    """A refusal as an alert: its first sentence, and a list of what follows."""
    first, *others = getattr(refusal, "faults", (str(refusal),))
    listed = "".join(f"<li>{html.escape(each)}</li>" for each in others)
    more = f":<ul>{listed}</ul>" if listed else ""
    return f'<div role="alert" class="sigcalc-alert">{html.escape(first)}{more}</div>'


def _headline(study: Study) -> str:
    """The grade with its first reason, and the resistors to take."""
    graver = next((each for each in study.findings if each.grade == study.grade), None)
    why = GRADE_SENTENCES[FINE] if study.grade == FINE or graver is None else _with_its_topic(graver)
    take = "; ".join(f"{line.part}: {line.detail.split(',')[0]}" for line in study.parts if "resistor" in line.part)
    said = f"<b>{MARKS[study.grade]} {study.grade}.</b> {html.escape(why)}"
    return (
        f'<div role="status" style="line-height:1.35;min-height:5.6em">{said}'
        f"<br>{html.escape(take[:1].upper() + take[1:])}</div>"
    )


def _with_its_topic(finding: Finding) -> str:
    """The reason, after its topic where it does not name that itself."""
    named = finding.topic.lower() in finding.reason.lower()
    return finding.reason if named else f"{finding.topic}: {finding.reason}"
