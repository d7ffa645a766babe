"""What studies a whole file: a headline, tabs, and what is saved, never over another file unasked."""

from __future__ import annotations

import base64
import html
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from ..design.findings import FINE, MARKS
from ..errors import PlanError, SigcalcError
from ..plan import file
from ..units.reading import quoted
from ..views.findings import Answer
from ..views.sheet import GRADE_SENTENCES
from ..views.style import LARGE, NORMAL, Size
from .alert import alert_html, told_by
from .control import Button, stylesheet
from .stage import columns_of, keys_html, stage_switch

FOLDER = "my_plans"
"""Where plans are saved unless the person types another place; an update of the lessons leaves it alone."""
FOLDERS = ("plans", FOLDER)
"""Where plans and layouts are looked for: the examples, and a person's own."""


_GREYED = '<div class="sigcalc-greyed" aria-hidden="true" inert>'


class OwnFiles:
    """The files of one panel, named after what is in its box `path`; `replace` allows to write over others.

    `saves` are what its `buttons` do: each gives the sentence that is then `told`.
    """

    def __init__(self, path: str, saves: Mapping[str, Callable[[], str]]):
        self.path = widgets.Text(value=path, description="file", continuous_update=False)
        self.path.style.description_width = "2em"
        self.path.add_class("sigcalc-file")
        self.replace = widgets.Checkbox(description="replace a file of this name", indent=False)
        self.told = widgets.HTML(layout=widgets.Layout(min_height="1.6em"))  # so that little jumps when it speaks
        self.buttons = [self._button(text, action) for text, action in saves.items()]
        self._written: dict[Path, bytes] = {}  # by this panel: saving over that is no surprise

    def _button(self, text: str, action: Callable[[], str]) -> Button:
        button = Button(description=text, tooltip=f"{text}, named after the file")
        button.observe(lambda _: self.tell(lambda: "Saving ..."), names="pressed")
        button.on_click(lambda _: self.tell(action))
        return button

    def tell(self, action: Callable[[], str]) -> None:
        """Do what a button is for, and say in one sentence what came of it."""
        with told_by(self.refused):
            self.told.value = f'<p role="status">{action()}</p>'

    def refused(self, refusal: SigcalcError | str) -> None:
        """Say why something was not done."""
        first, *others = getattr(refusal, "faults", (str(refusal),))
        self.told.value = alert_html(f"{first}:" if others else first, others)

    def target(self, ending: str) -> Path:
        """The file to write, with another ending; raises PlanError where it must not or cannot be written."""
        typed = self.path.value.strip()
        if Path(typed).suffix.lower() != ".toml":
            raise PlanError(
                [f'file needs a name that ends in .toml, such as "{FOLDER}/my_signal.toml"; you gave {quoted(typed)}']
            )
        path = file.place_to_write(typed).with_suffix(ending)
        try:
            if path.exists() and not self.replace.value:
                self._must_be_ours(path)
            path.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise PlanError([f"{path.parent} cannot be used: {error.strerror or error}"]) from None
        return path

    def _must_be_ours(self, path: Path) -> None:
        """Raise PlanError where a file is not as this panel left it."""
        written = self._written.get(path.resolve())
        if written is None:
            raise PlanError([f'{path} exists already; tick "replace a file of this name" or type another name'])
        if path.read_bytes() != written:
            said = (
                f"{path} has been changed elsewhere since you saved it here, so nothing was written; to keep both, "
                f'type another name; to write over those changes, tick "{self.replace.description}"'
            )
            raise PlanError([said])

    def write(self, target: Path, text: str) -> str:
        """Write a text whole or not at all; returns the sentence that says so, with the link."""
        file.write(target, text)
        return f"{self.kept(target, text)} {_download(target.name, text)}"

    def kept(self, target: Path, text: str) -> str:
        """The sentence for a file into which a text was written."""
        self._written[target.resolve()] = text.encode()
        self.replace.value = False  # it was given for that file as it was
        return f"Saved {html.escape(str(target))}."


def _download(name: str, text: str) -> str:
    """A link that hands the same text to the browser, for those who do not see the folder."""
    data = base64.b64encode(text.encode()).decode()
    kind = "text/html" if name.endswith(".html") else "text/csv"
    return f'<a download="{html.escape(name)}" href="data:{kind};base64,{data}">Download {html.escape(name)}</a>'


class StudyPanel(widgets.VBox):
    """A study of all that a file says: its headline, tabs for the lamp called for, and buttons that save it.

    `kind` is what is studied, `name` that of the file to save it in.
    A subclass answers `studied()`, which may refuse, `summary()`, `arranged()` with what is shown from the top, and
    `on_wall()` with what a room sees.
    `pages` gives for each tab its text from the study; the page is filled while its tab is open. `study` is the last
    study, None where it was refused. `saves` are the buttons with what they do and say.
    """

    greys_pages = False
    """Whether what was shown stays, greyed, when the study is refused: else it may be another file's."""

    def __init__(
        self,
        kind: str,
        name: str,
        lamps: Mapping[str, str],
        pages: Mapping[str, Callable[[Any], str]],
        saves: Mapping[str, Callable[[], str]],
    ):
        self.kind, self.study, self._fill = kind, None, dict(pages)
        self.lit = widgets.ToggleButtons(options=list(lamps), tooltips=list(lamps.values()))
        self.lit.style.button_width = "auto"
        self.large = widgets.Checkbox(description="large type for the projector", indent=False)
        self.headline = widgets.HTML()
        self.pages = {title: widgets.HTML() for title in pages}
        self.views = widgets.Tab(list(self.pages.values()), titles=list(pages), layout={"min_height": "520px"})
        self.files = OwnFiles(f"{FOLDER}/{name}.toml", saves)
        self.stage, self.wall = stage_switch(), widgets.HTML(_dom_classes=("sigcalc-view",))
        first = ("sigcalc-control", "sigcalc-positions", "sigcalc-main", "sigcalc-main-1")
        main = widgets.VBox([widgets.HTML("lamp called for"), self.lit], _dom_classes=first)
        on_stage = (columns_of([main], self.wall), self.stage.widget)
        head = widgets.HTML(f'<div class="sigcalc-head"><h3>Your {kind}</h3>{keys_html()}</div>')
        page = [stylesheet(), head, *on_stage, *self.arranged()]
        super().__init__(page, _dom_classes=("sigcalc-panel", "sigcalc-planner"))
        for each in (self.lit, self.large):
            each.observe(lambda _: self._show(), names="value")
        self.stage.on_change(self._show)
        self.views.observe(lambda _: self._show(), names="selected_index")

    def arranged(self) -> Iterable[widgets.Widget]:
        """What is shown, from the top."""
        raise NotImplementedError

    def studied(self) -> Any:
        """The study of what the person gave; raises SigcalcError where there is none."""
        raise NotImplementedError

    def summary(self, study: Any) -> str:
        """What the headline says below the grade and its reason."""
        raise NotImplementedError

    def on_wall(self, study: Any) -> Answer:
        """What fills the screen on the stage: one picture with the lamp that is lit, and the brief sentence."""
        raise NotImplementedError

    def redraw(self) -> None:
        """Study again and show what came of it; on faults show these, and nothing stale as if it held."""
        with told_by(self._fail):
            self.study = self.studied()
            self._show()

    def needed(self) -> Any:
        """The study, for what is to be saved; raises PlanError where there is none."""
        if self.study is None:
            raise PlanError([f"the {self.kind} has faults; put them right first, nothing was written"])
        return self.study

    def _refused_on_wall(self, refusal: SigcalcError | str) -> None:
        self.wall.value = alert_html(str(refusal))

    def _fail(self, refusal: SigcalcError | str) -> None:
        self.study = None
        faults = getattr(refusal, "faults", (str(refusal),))
        self.headline.value = alert_html("", faults, lead=f"This {self.kind} cannot be studied yet:")
        for page in self.pages.values():
            page.value = _greyed(page.value) if self.greys_pages else ""
        self._show()

    def _show(self) -> None:
        """Fill the headline and the tab that is open, or the wall on the stage."""
        on_stage = self.stage.value
        (self.add_class if self.large.value and not on_stage else self.remove_class)("sigcalc-large")
        if on_stage:
            with told_by(self._refused_on_wall):
                self.wall.value = self.headline.value if self.study is None else self.on_wall(self.study).stage_html()
            return
        self.wall.value = ""  # nothing is said twice
        if self.study is None:
            return
        self.headline.value = _headline(self.study, self.summary(self.study))
        title = self.views.titles[self.views.selected_index or 0]
        self.pages[title].value = self._fill[title](self.study)

    @property
    def size(self) -> Size:
        """How large the views are to draw: as the switch for large type says."""
        return LARGE if self.large.value else NORMAL


def _greyed(page: str) -> str:
    """A page that no longer holds; one that is greyed already, or shows nothing, stays as it is."""
    return page if not page or page.startswith(_GREYED) else f"{_GREYED}{page}</div>"


def _headline(study: Any, summary: str) -> str:
    """The grade with its first reason, after its topic where that is not named in it, and the summary."""
    why = GRADE_SENTENCES[FINE]
    graver = next((each for each in study.findings if each.grade == study.grade), None)
    if study.grade != FINE and graver is not None:
        named = graver.topic.lower() in graver.reason.lower()
        why = graver.reason if named else f"{graver.topic}: {graver.reason}"
    return headline_html(f"<b>{MARKS[study.grade]} {study.grade}.</b> {html.escape(why)}<br>{html.escape(summary)}")


def headline_html(said: str) -> str:
    """A headline of one height, whatever it says, so that nothing below it jumps; `said` is escaped already."""
    return f'<div role="status" style="line-height:1.35;min-height:5.6em">{said}</div>'
