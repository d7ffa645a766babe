"""A layout's panel: choose its file, study all signals on one network with progress, see the board, keep the sheet."""

from __future__ import annotations

import html
import time
from pathlib import Path

import ipywidgets as widgets

from ..design.findings import FINE, MARKS
from ..errors import PlanError, SigcalcError
from ..plan.layout import Layout
from ..plan.layout_study import LAMPS, LayoutStudy
from ..units import say
from ..views.layout_sheet import LAYOUT_SENTENCES, board_showing, lamp_words, layout_sheet
from ..views.sheet import study_findings
from ..views.style import LARGE, NORMAL
from .button import Button
from .own_files import FOLDER, FOLDERS, OwnFiles
from .plan_form import faults_as_html
from .stylesheet import stylesheet

_PATIENCE = 0.3  # s; a study that is quicker shows no progress, which would only flicker


class LayoutPanel(widgets.VBox):
    """All signals of a layout file on one supply.

    `panel.layout_file` names the file, `panel.study` is the last study, None where the file has faults.
    """

    def __init__(self, path: str | Path | None = None):
        found = [str(each) for folder in FOLDERS for each in sorted(Path(folder).glob("*layout*.toml"))]
        first = str(path) if path is not None else (found[0] if found else "")
        self.study: LayoutStudy | None = None
        self.layout_file = widgets.Combobox(
            value=first, options=found, description="layout file", tooltip="layout file", continuous_update=False
        )
        self.layout_file.style.description_width = "initial"
        self.button = Button(
            description="Study", layout={"width": "auto"}, tooltip="read the file again and study the layout"
        )
        self.layout_file.layout.width = "24em"
        self.progress = widgets.IntProgress(
            layout={"width": "8em"}, value=0, min=0, max=1, bar_style="info", tooltip="progress of the study"
        )
        self.progressing = widgets.HTML()
        self.lit = widgets.ToggleButtons(options=list(LAMPS), tooltips=[f"every signal at {lamp}" for lamp in LAMPS])
        self.lit.style.button_width = "auto"
        self.large = widgets.Checkbox(description="large type for the projector", indent=False)
        self.large.layout.width = "auto"
        self.headline, self.told = widgets.HTML(), widgets.HTML()
        self.board, self.signals, self.findings, self.parts = (widgets.HTML() for _ in range(4))
        self.views = widgets.Tab(
            [self.board, self.signals, self.findings, self.parts], titles=["Board", "Signals", "Findings", "Parts"]
        )
        self.views.layout.min_height = "520px"
        shown = widgets.HBox([widgets.HTML("every signal shows&nbsp;"), self.lit, self.large])
        top = widgets.HBox([self.layout_file, self.button, self.progress, self.progressing])
        super().__init__(
            [
                stylesheet(),
                top,
                self.headline,
                shown,
                self.views,
                self._save_row(),
                self.told,
            ]
        )
        for row in (top, shown):
            row.layout.flex_flow = "row wrap"
        self.add_class("sigcalc-panel")
        self._show_progress(False)
        self.button.on_click(lambda _: self.redraw())
        self.layout_file.observe(lambda _: self.redraw(), names="value")
        for each in (self.lit, self.large):
            each.observe(lambda _: self._show(), names="value")
        self.redraw()

    def _save_row(self) -> widgets.Widget:
        self.path = widgets.Text(
            value=f"{FOLDER}/my_layout.toml",
            description="file",
            continuous_update=False,
            style={"description_width": "2em"},
        )
        self.replace = widgets.Checkbox(description="replace a file of this name", indent=False)
        self.files = OwnFiles(self.path, self.replace)
        save = Button(description="Save layout sheet", tooltip="an HTML page to print, named after the file")
        save.layout.width = "auto"
        save.on_click(lambda _: self._tell())
        return widgets.HBox([self.path, save, self.replace], layout=widgets.Layout(flex_flow="row wrap"))

    def redraw(self) -> None:
        """Read the file, study the layout with progress, show what came of it; on faults these and no stale picture."""
        began = time.monotonic()

        def tell(done: int, total: int, what: str) -> None:
            if time.monotonic() - began > _PATIENCE:
                self._show_progress(True)
            self.progress.max, self.progress.value = total, done
            self.progressing.value = f"{done} of {total}: {html.escape(what)}"

        try:
            self._studied = self._chosen()
            self.study = Layout.load(self._studied).study(tell)
        except SigcalcError as refusal:
            self._fail(refusal)
        except Exception as defect:
            self._fail(f"the panel failed ({type(defect).__name__}: {defect}); report it with your layout")
            raise
        else:
            self._show()
        finally:
            self._show_progress(False)

    def _chosen(self) -> str:
        chosen = self.layout_file.value.strip()
        if not chosen:
            raise PlanError(["layout file: type its name, such as plans/quillhaven_layout.toml"])
        return chosen

    def _show_progress(self, shown: bool) -> None:
        for each in (self.progress, self.progressing):
            each.layout.visibility = "visible" if shown else "hidden"

    def _fail(self, refusal: SigcalcError | str) -> None:
        self.study = None
        self.headline.value = faults_as_html(refusal, "layout")
        for view in (self.board, self.signals, self.findings, self.parts):
            view.value = ""

    def _show(self) -> None:
        study = self.study
        if study is None:
            return
        (self.add_class if self.large.value else self.remove_class)("sigcalc-large")
        self.headline.value = _headline(study)
        picture = board_showing(study, self.lit.value, LARGE if self.large.value else NORMAL)
        self.board.value = "This board is too large to draw." if picture is None else picture.html()
        self.signals.value = _signals(study)
        self.findings.value = study_findings(study)
        self.parts.value = _parts(study)

    def _tell(self) -> None:
        """Save the sheet and say in one sentence what came of it (a button hides exceptions)."""
        try:
            self.told.value = f'<p role="status">{self.save_sheet()}</p>'
        except SigcalcError as refusal:
            self.told.value = f'<p role="alert" class="sigcalc-alert">{html.escape(str(refusal))}</p>'
        except Exception as defect:
            self.told.value = f'<p role="alert" class="sigcalc-alert">Failed: {html.escape(str(defect))}</p>'
            raise

    def save_sheet(self) -> str:
        """Write the layout's sheet as an HTML page, to be opened and printed in a browser."""
        if self.study is None:
            raise PlanError(["the layout has faults; mend them first, nothing was written"])
        said = self.files.write(self.files.target(".html"), layout_sheet(self.study))
        return f"{said} It is the sheet of {html.escape(self._studied)} as last studied."


def _headline(study: LayoutStudy) -> str:
    """The grade with its first reason, and the weakest lamp."""
    graver = next((each for each in study.findings if each.grade == study.grade), None)
    why = LAYOUT_SENTENCES[FINE] if study.grade == FINE or graver is None else f"{graver.topic}: {graver.reason}"
    point = study.board.weakest
    weakest = (
        f"{len(study.signals)} signals; the weakest lamp is the {point.colour} one of {point.name}, with "
        f"{say(point.share, '')} of its light ({say(point.share_min, '')} at worst)."
    )
    said = f"<b>{MARKS[study.grade]} {study.grade}.</b> {html.escape(why)}<br>{html.escape(weakest)}"
    return f'<div role="status" style="line-height:1.35;min-height:4em">{said}</div>'


def _table(heads: tuple[str, ...], rows: list[tuple[str, ...]]) -> str:
    head = "".join(f'<th scope="col">{html.escape(each)}</th>' for each in heads)
    body = ""
    for first, *rest in rows:
        cells = "".join(f"<td>{html.escape(each)}</td>" for each in rest)
        body += f'<tr><th scope="row">{html.escape(first)}</th>{cells}</tr>'
    return f'<div class="sigcalc-findings"><table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table></div>'


def _signals(study: LayoutStudy) -> str:
    rows = [
        (
            each.name,
            each.at,
            say(each.voltage, "V"),
            *(lamp_words(each.lamps[lamp]) for lamp in LAMPS),
            f"{MARKS[each.study.grade]} {each.study.grade}",
        )
        for each in study.signals
    ]
    return _table(("signal", "at", "volts there", "red", "green", "alone"), rows)


def _parts(study: LayoutStudy) -> str:
    rows = [(f"{line.count} × {line.part}", line.detail, line.note) for line in study.parts]
    return _table(("part", "which", "note"), rows)
