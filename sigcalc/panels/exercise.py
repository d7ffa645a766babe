"""An exercise in a lesson: the question, a box for the answer, a check with the reason, a folded hint and answer."""

from __future__ import annotations

import html

import ipywidgets as widgets

from ..lessons import Question
from .control import Button, stylesheet


class Exercise(widgets.VBox):
    """Shows a question; pressing Check, or Enter in the box, says whether the answer is right and why not.

    Hint and answer are native `<details>`, which open by keyboard and are read by screen readers.
    """

    def __init__(self, question: Question):
        self.question = question
        name = f"your answer ({question.unit})"
        self.answer = widgets.Text(
            placeholder=f"such as {question.kind.example}", description=name, tooltip=name, continuous_update=False
        )
        self.button = Button(description="Check", tooltip="Check the answer")
        self.verdict = widgets.HTML(layout=widgets.Layout(min_height="3em"))
        asked = widgets.HTML(f"<p><b>Question.</b> {html.escape(question.text)}</p>")
        folded = widgets.HTML(_folded("Hint", question.hint) + _folded("Answer", question.working))
        super().__init__([stylesheet(), asked, widgets.HBox([self.answer, self.button]), self.verdict, folded])
        self.add_class("sigcalc-exercise")
        self.button.on_click(lambda _: self.check() if self.answer.value.strip() else self._ask())
        self.answer.observe(lambda _: self.check(), names="value")

    def check(self) -> None:
        """Check what is in the box."""
        if not self.answer.value.strip():
            self.verdict.value = ""
            return
        verdict = self.question.check(self.answer.value)
        mark = "✔ " if verdict.right else "✘ "
        self.verdict.value = f'<p role="status">{mark}{html.escape(verdict.reason)}</p>'

    def _ask(self) -> None:
        """Say what to do where Check is pressed before there is an answer."""
        example = self.question.kind.example
        self.verdict.value = (
            f'<p role="status">Type your answer into the box first, such as {html.escape(example)}.</p>'
        )


def _folded(title: str, text: str) -> str:
    return f"<details><summary>{html.escape(title)}</summary><p>{html.escape(text)}</p></details>"
