"""The planner: a form for the whole plan, live findings beside it, and buttons to load, save and export."""

from __future__ import annotations

import html
from functools import cached_property
from pathlib import Path
from typing import Any

import ipywidgets as widgets
from traitlets import List

from ..design.findings import LOOK, MARKS
from ..errors import Fault, PlanError, SigcalcError
from ..plan import Plan
from ..plan.layout import holds_layout
from ..plan.result import Study
from ..plan.signal_fields import HeightsError
from ..plan.spreadsheet import MARK
from ..units import Q
from ..views.curves import Curves
from ..views.findings import Answer
from ..views.sheet import build_sheet, circuit_picture, mast_of, signal_looks, study_findings
from ..views.signal_circuit import signal_brief
from ..views.style import STAGE
from .own_files import FOLDER, StudyPanel, headline_html
from .plan_form import PlanForm, changes, in_the_form

_LISTED = 6  # changes that are told after a save
_LARGEST = 10_000_000
"""Bytes of a file that is loaded: Jupyter's server drops the connection at a message over 10 MiB, and the message."""


class _UploadLimit(widgets.HTML):
    """Says how large a file may be, and is told by the browser the name and size of one before that is sent.

    `announced` is joined in the browser to an upload's `value`; the content itself is no JSON and stays behind.
    """

    announced = List().tag(sync=True)


class Planner(StudyPanel):
    """Plan a signal: edit on the left, see circuit, findings and sheet on the right, keep it in a file.

    `planner.plan` is the last plan that could be read, `planner.study` its study. What
    was typed stays in the form whatever happens; a file is never replaced unasked.
    """

    greys_pages = True  # it is the same plan, half typed

    def __init__(self, plan: Plan | None = None):
        self.plan = Plan() if plan is None else plan
        self.form = PlanForm()
        self.annex = widgets.Checkbox(
            description="with faults and tables", tooltip="the build sheet's annex", indent=False
        )
        lamps = {"red": "the red lamp lit", "green": "the green lamp lit"}
        pages = {
            "Circuit": self._circuit,
            "Findings": study_findings,
            "LED curve": self._led,
            "Front view": lambda study: mast_of(study, self.lit.value, self.size).html(),
            "Build sheet": self._sheet,
        }
        saves = {"Save plan": self.save, "Save build sheet": self.save_sheet, "Save parts list": self.save_parts}
        super().__init__("plan", "my_signal", lamps, pages, saves)
        self.form.write(self.plan)
        self._kept = self.form.read()  # the form as it was last loaded or saved
        self.form.on_change(self._edited)
        self.annex.observe(lambda _: self._show(), names="value")
        self.redraw()

    def arranged(self) -> tuple[widgets.Widget, ...]:
        """The row of files, what was done, and the form beside the study."""
        wrap = {"align_items": "center", "flex_flow": "row wrap"}
        self.upload_limit = _UploadLimit(value=f"<small>up to {_LARGEST // 1_000_000} MB</small>")
        self.upload_limit.observe(self._announced, names="announced")
        self.upload = self._upload()
        plan, sheet, parts = self.files.buttons
        row = [self.upload, self.upload_limit, self.files.path, plan, parts, sheet, self.annex, self.files.replace]
        self._files_row = widgets.HBox(row, layout=wrap, _dom_classes=("sigcalc-files",))
        self.files.told.add_class("sigcalc-files")
        left = widgets.VBox([self.form], _dom_classes=("sigcalc-form",))
        self.folded = widgets.Checkbox(description="hide the form", indent=False, _dom_classes=("sigcalc-fold",))
        self.folded.observe(lambda _: (left.add_class if self.folded.value else left.remove_class)("sigcalc-hidden"))
        called_for = widgets.HTML("<span style='white-space:nowrap'>lamp called for&nbsp;</span>")
        chosen = widgets.HBox([called_for, self.lit, self.large, self.folded], layout=wrap)
        right = widgets.VBox([self.headline, chosen, self.views], _dom_classes=("sigcalc-studied",))
        columns = widgets.HBox([left, right], _dom_classes=("sigcalc-plan-columns",))
        return self._files_row, self.files.told, columns

    def _upload(self) -> widgets.FileUpload:
        upload = widgets.FileUpload(accept=".toml", multiple=False, description="Load a plan")
        upload.observe(self._loaded, names="value")
        widgets.jsdlink((upload, "value"), (self.upload_limit, "announced"))
        return upload

    # editing

    def _edited(self) -> None:
        """After an edit what was loaded or saved is no longer what the form holds."""
        if not any(button.waiting for button in self.files.buttons):
            self.files.told.value = ""
        self.redraw()

    def studied(self) -> Study:
        """The study of what the form says."""
        plan = Plan(**self.form.read())
        plan._document = self.plan._document
        study = plan.study()
        self.plan = plan
        self.form.mark(())
        self.form.settled()
        return study

    def _fail(self, refusal: SigcalcError | str) -> None:
        faults = getattr(refusal, "listed", ())
        heights_alone = len(faults) == 1 and isinstance(getattr(faults[0], "error", None), HeightsError)
        if heights_alone and (told := self.form.waits_for_heights()):  # no fault yet: the pictures stay meanwhile
            self.study = None
            self.headline.value = headline_html(f"<b>{MARKS[LOOK]} go on.</b> {html.escape(told)}")
            return
        self.form.mark([each.place for each in getattr(refusal, "listed", ()) if isinstance(each, Fault)])
        super()._fail(in_the_form(refusal))

    def summary(self, study: Study) -> str:
        """The resistors to take."""
        take = "; ".join(f"{line.part}: {line.detail.split(',')[0]}" for line in study.parts if "resistor" in line.part)
        return take[:1].upper() + take[1:]

    def on_wall(self, study: Study) -> Answer:
        """The signal wired up as it looks."""
        picture = signal_looks(study, self.lit.value, STAGE)
        return Answer((picture,), picture.sentence, study.findings, signal_brief(study.points[self.lit.value]))

    def _circuit(self, study: Study) -> str:
        """The signal wired up as it looks, and below it as it is drawn."""
        looks, drawn = (draw(study, self.lit.value, self.size) for draw in (signal_looks, circuit_picture))
        return Answer((looks, drawn), drawn.sentence).html()

    @cached_property
    def _curves(self) -> Curves:
        """The figure of the LED's curve, made when its tab is first opened."""
        return Curves()

    def _led(self, study: Study) -> str:
        """The curve of the lamp called for, with the points that it was fitted to."""
        lamp = self.lit.value
        points, amperes = getattr(study.plan, lamp).points or (), study.figures.get(f"{lamp}_current")
        current = "1 mA" if amperes is None else Q(amperes.nominal, "A")
        return self._curves.picture(getattr(study.pair, lamp), points, current, size=self.size).html()

    def _sheet(self, study: Study) -> str:
        # every fault is tried on the plan's circuit
        self.pages["Build sheet"].value = '<p role="status">Working: the build sheet is being written.</p>'
        page = html.escape(build_sheet(study, self.annex.value), quote=True)
        grow = "this.style.height = this.contentDocument.documentElement.scrollHeight + 4 + 'px'"  # no bar of its own
        return f'<iframe title="Build sheet" class="sigcalc-sheet" onload="{grow}" srcdoc="{page}"></iframe>'

    # files

    def _loaded(self, _: Any) -> None:
        if self.upload.value:
            self.files.tell(self._load)
            self.upload.value = ()  # else the same file, chosen again, would be no change

    def _announced(self, _: Any) -> None:
        """Refuse a file that never arrives; the button, which would wait for it for good, gives way to a new one."""
        for file in self.upload_limit.announced:
            if file["size"] > _LARGEST:
                said = (
                    f"{file['name']} was not loaded: it is {file['size'] / 1e6:.1f} MB, and Jupyter takes at most "
                    f"{_LARGEST // 1_000_000} MB at once; a plan is a page of text, so choose another file"
                )
                self.files.refused(PlanError([said]))
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
        self.files.path.value = f"{FOLDER}/{Path(file['name']).name}"
        self.redraw()
        return f"Loaded {html.escape(file['name'])}."

    def save(self) -> str:
        """Write the plan to the file named in the box; returns the sentence that says so."""
        self.needed()
        target, text = self.files.target(".toml"), self.plan.text()
        self.plan.save(target)
        self.plan._document = Plan.parse(text)._document
        said = self.files.kept(target, text) + self._news()
        self._kept = self.form.read()
        return said

    def save_sheet(self) -> str:
        """Write the build sheet as an HTML page beside the plan, to be opened and printed in a browser."""
        page = build_sheet(self.needed(), self.annex.value)
        return self.files.write(self.files.target(".html"), page) + self._news()

    def save_parts(self) -> str:
        """Write the parts list as CSV beside the plan."""
        table = MARK + self.needed().parts_csv()
        return self.files.write(self.files.target(".csv"), table) + self._news()

    def _news(self) -> str:
        """Which changes of the form went into what was saved."""
        news = list(changes(self._kept, self.form.read()))
        if not news:
            return ""
        more = f"; and {len(news) - _LISTED} more" if len(news) > _LISTED else ""
        listed = html.escape("; ".join(news[:_LISTED]))
        return f" In it are your changes since the plan was last saved or loaded: {listed}{more}."


def _why(text: str, refusal: PlanError) -> tuple[str, ...]:
    """The faults of a file, or what it is instead of a plan."""
    if holds_layout(text):
        return ("it holds a layout of several signals; the lesson 7_many_signals_one_adapter opens such a file",)
    return refusal.faults
