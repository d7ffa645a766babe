"""The evening itself: choose a talk, or have one made of a plan, print its paper, and play it on the stage below."""

from __future__ import annotations

from functools import partial
from pathlib import Path

import ipywidgets as widgets

from ..errors import PlanError, SigcalcError
from ..lessons.talk import Talk
from ..plan import Plan
from ..plan.layout import Layout, holds_layout
from .alert import told_by
from .control import NumberControl, choice, stylesheet
from .on_the_wall import faults_of
from .own_files import FOLDERS as PLAN_FOLDERS
from .own_files import OwnFiles
from .talk_paper import talk_paper
from .talk_stage import TalkStage

FOLDER = "my_talks"
"""Where talks are saved unless the person types another place."""
FOLDERS = ("talks", FOLDER)
"""Where talks are looked for: those that are ready, and a person's own."""
TALK, MINUTES, SEATS = "talk", "minutes", "seats"
_MOST_SEATS = 200  # on the slider, unless a talk has more
Made = partial[Talk]
"""Makes a talk of its minutes and seats."""


class ClinicNight(widgets.VBox):
    """A talk from a file, or one of the right length made of a plan or a layout, with its stage.

    `night.talk` is the talk, None where it has faults; `night.stage` plays it.
    """

    def __init__(self) -> None:
        self.talk: Talk | None = None
        offered = _offered()
        self.controls = {
            TALK: choice(TALK, offered),
            MINUTES: NumberControl(MINUTES, "", 3, 60, 15, step=1),
            SEATS: NumberControl(SEATS, "", 1, _MOST_SEATS, 20, step=1),
        }
        self.files = OwnFiles(f"{FOLDER}/my_talk.toml", {"Make the paper": self.make_paper, "Save talk": self.save})
        tip = "Run sheet, hand-out, kit list, answers and every scene as a still, in one file named after the talk's"
        self.files.buttons[0].tooltip = tip
        self.place = widgets.VBox()
        chosen = widgets.HBox([each.widget for each in self.controls.values()])
        chosen.add_class("sigcalc-controls").layout.flex = "none"
        row = [*self.files.buttons, self.files.path, self.files.replace]
        saving = widgets.HBox(row, layout={"flex_flow": "row wrap"})
        page = [stylesheet(), chosen, saving, self.files.told]
        above = widgets.VBox(page, _dom_classes=("sigcalc-panel", "sigcalc-planner"))
        super().__init__([above, self.place])
        for name in (TALK, MINUTES):  # how many sit there changes nothing on the wall
            self.controls[name].on_change(self.take_to_stage)
        self.take_to_stage()

    @property
    def stage(self) -> TalkStage:
        """What plays the talk."""
        return self.place.children[0]

    def take_to_stage(self) -> None:
        """Take the talk that is chosen to the stage; a talk with faults has them listed instead."""
        self.talk, self.place.children = None, ()
        with told_by(self.files.refused):
            made: Made = self.controls[TALK].value
            self.controls[MINUTES].enable(made.func is _from_plan)  # a file has its own
            talk = made(self.controls[MINUTES].checked(), self.controls[SEATS].whole)
            if made.func is _from_file:
                self.controls[SEATS].reach(1, max(talk.seats, _MOST_SEATS), talk.seats)
            ready = made.func is _from_file and made.args[0].parent.name != FOLDER
            if not ready and (faults := faults_of(talk)):  # the ready ones are tested
                raise PlanError(faults)
            self.talk, self.files.told.value = talk, ""
            self.place.children = [TalkStage(talk)]

    def save(self) -> str:
        """Write the talk to the file named in the box; returns the sentence that says so."""
        talk, target = self._seated(), self.files.target(".toml")
        talk.save(target)
        return self.files.kept(target, talk.text())

    def make_paper(self) -> str:
        """Write the talk's paper, and its kit list for a spreadsheet; returns the sentence that says so."""
        talk, paper, table = self._seated(), self.files.target(".html"), self.files.target(".csv")
        written = self.files.write(paper, talk_paper(talk)), self.files.write(table, talk.kit_list().csv())
        return "<br>".join(written)

    def _seated(self) -> Talk:
        """The talk for as many seats as the slider says; raises PlanError where there is none."""
        if self.talk is None:
            raise PlanError(["the talk has faults; put them right first, nothing was written"])
        return self.talk.with_changes(seats=self.controls[SEATS].whole)


def _offered() -> list[tuple[str, Made]]:
    """The talks that are ready and a person's own, and those that can be made of plans and layouts."""
    talks = [path for folder in FOLDERS for path in sorted(Path(folder).glob("*.toml"), key=_newcomers_first)]
    plans = [path for folder in PLAN_FOLDERS for path in sorted(Path(folder).glob("*.toml"))]
    return [(_called(path), partial(_from_file, path)) for path in talks] + [
        (f"made of {path.stem}", partial(_from_plan, path)) for path in plans
    ]


def _newcomers_first(path: Path) -> tuple[bool, str]:
    """The order of the talks in a folder."""
    return not path.stem.startswith("first"), path.stem


def _called(path: Path) -> str:
    """A talk as the list shows it; a file with faults has its own name."""
    try:
        talk = Talk.load(path)
    except SigcalcError:
        return f"{path.name} (has faults)"
    yours = f", {path.name}" if path.parent.name == FOLDER else ""
    return f"{talk.name} ({talk.minutes:g} min{yours})"


def _from_file(path: Path, _minutes: float, _seats: int) -> Talk:
    return Talk.load(path)


def _from_plan(path: Path, minutes: float, seats: int) -> Talk:
    if holds_layout(path.read_text(encoding="utf-8")):
        return Talk.from_layout(Layout.load(path), minutes, seats)
    return Talk.from_plan(Plan.load(path), minutes, seats)
