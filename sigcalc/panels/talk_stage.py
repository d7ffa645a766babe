"""A talk on the wall, scene by scene: a question, what is covered until the answer is shown, a clock against the plan.

The clock runs in the page (keys.js), so that it goes on whatever the kernel does.
"""

from __future__ import annotations

import html
from collections.abc import Callable
from contextlib import suppress
from itertools import accumulate

import ipywidgets as widgets

from ..errors import SigcalcError
from ..lessons.talk import Talk
from ..views.scene.signal_scene import lit_signal
from ..views.style import STAGE
from .alert import alert_html, told_by
from .base import Panel
from .control import Button, stylesheet
from .on_the_wall import answer, asked
from .stage import keys_html, stage_switch

BEGIN, SHOW, NEXT, BACK = "begin", "answer", "next", "back"
HOME = "To take home"
_OPENING = -1


class TalkStage(widgets.VBox):
    """Plays a talk: `next` shows the answer of a scene, then the next scene; `back` goes the other way.

    `at` is the number of the scene, -1 for the card before the first one; `answered` says whether its answer is shown.
    """

    def __init__(self, talk: Talk):
        self.talk, self.at, self.answered = talk, _OPENING, False
        self.panel: Panel | None = None
        self._prepared: tuple[int, Panel] | None = None
        self.question, self.told = widgets.HTML(), widgets.HTML()
        self.question.add_class("sigcalc-question")
        self.back = Button(description=BACK, tooltip="Page up")
        self.next = Button(description=BEGIN, tooltip="Page down")
        self.back.add_class("sigcalc-back").on_click(lambda _: self._press(self.go_back))
        self.next.add_class("sigcalc-next").on_click(lambda _: self._press(self.go_on))
        buttons = widgets.HBox([self.back, self.next, widgets.HTML(keys_html())])
        side = widgets.VBox([self.told, buttons], _dom_classes=("sigcalc-talk-side",))
        head = widgets.HBox([self.question, side], _dom_classes=("sigcalc-talk-head",))
        self.body = widgets.VBox(_dom_classes=("sigcalc-talk-body",))
        self.stage = stage_switch()
        shown = [stylesheet(), head, self.body, self.stage.widget]
        super().__init__(shown, _dom_classes=("sigcalc-panel", "sigcalc-talk", "sigcalc-stage"))
        self._show()

    def _press(self, go: Callable[[], None]) -> None:
        """Go on or back; what cannot be shown is told in the place of the scene."""
        with told_by(lambda refusal: self._card(alert_html(str(refusal)))):
            go()

    def go_on(self) -> None:
        """The answer of this scene, or the next scene; after the last one what to take home."""
        if self.panel is not None and not self.answered:
            self.answered = True
            answer(self.panel, self.talk.scene[self.at])
            self._head()
            self._prepare(self.at + 1)
        elif self.at < len(self.talk.scene):
            self.at += 1
            self._show()

    def go_back(self) -> None:
        """What `go_on` left last: the question of this scene again, or the scene before with its answer."""
        answered, self.at = self.answered, max(self.at - (not self.answered), _OPENING)
        self._show()
        if not answered and self.panel is not None:
            self.go_on()

    def _show(self) -> None:
        """The scene as its question finds it, or the card before and after all."""
        self.answered, self.panel = False, None
        self._head()
        if 0 <= self.at < len(self.talk.scene):
            self.panel = self._scene_at(self.at)
            self.body.children = [self.panel.columns]
        else:
            self._card(_opening(self.talk) if self.at < 0 else _closing(self.talk))
            self._prepare(self.at + 1)

    def _scene_at(self, number: int) -> Panel:
        if self._prepared is not None and self._prepared[0] == number:
            panel, self._prepared = self._prepared[1], None
            return panel
        return asked(self.talk.scene[number])

    def _prepare(self, number: int) -> None:
        """Make the panel of a scene while the room still looks at the one before; a refusal is told in its turn."""
        if 0 <= number < len(self.talk.scene):
            with suppress(SigcalcError):
                self._prepared = number, asked(self.talk.scene[number])

    def _card(self, page: str) -> None:
        self.body.children = [widgets.HTML(page)]

    def _head(self) -> None:
        """The question, how far the talk is, and what the next press does."""
        scenes, at = self.talk.scene, self.at
        inside = 0 <= at < len(scenes)
        said = scenes[at].question if inside else f"For {self.talk.audience}" if at < 0 else HOME
        self.question.value = f"<h3>{html.escape(said)}</h3>"
        due = [0.0, *accumulate(60 * each.minutes for each in scenes)]
        place = f"{at + 1} of {len(scenes)}" if inside else ""
        clock = ""
        if at >= 0:
            start, end = (due[at], due[at + 1]) if inside else (due[-1], due[-1])
            clock = f'<span class="sigcalc-clock" data-start="{start:g}" data-end="{end:g}"></span>'
        self.told.value = f'<p class="sigcalc-place">{place} {clock}</p>'
        self.next.description = BEGIN if at < 0 else SHOW if inside and not self.answered else NEXT
        self.next.disabled, self.back.disabled = at >= len(scenes), at < 0


def _opening(talk: Talk) -> str:
    """What the room sees while it sits down."""
    signal = lit_signal(STAGE)
    many = len(talk.scene)
    told = f"{many} questions for you. Hands up for your bet!" if many > 1 else "One question for you."
    return (
        f'<div class="sigcalc-card sigcalc-opening"><figure class="sigcalc-picture">{signal.svg}</figure>'
        f'<div><p class="sigcalc-title">{html.escape(talk.name)}</p><p>{told}</p></div></div>'
    )


def _closing(talk: Talk) -> str:
    """What the room takes home."""
    home = "".join(f"<li>{html.escape(each.take_home)}</li>" for each in talk.scene if each.take_home)
    return f'<div class="sigcalc-card"><ul>{home}</ul></div>'
