"""An exercise in a lesson: the question, what answers it, a check with the reason; then a hint, then the working.

The hint is folded; the working comes, folded too, after the first check.
"""

from __future__ import annotations

import html
import inspect
from collections.abc import Callable, Iterable

import ipywidgets as widgets

from ..lessons import Choice, Option, Question
from ..lessons.progress import PROGRESS, Answer
from ..views.exercise import drawn
from .afresh import key_of, when_afresh
from .control import Button, stylesheet

_MOST_DRAWS = 20  # until one has other words than the last


class Exercise(widgets.VBox):
    """Asks what `made` makes; Check, or Enter in the box, says whether the answer is right and why not.

    Parameters
    ----------
    made: the function that makes the question or choice; one that takes a seed is asked for new numbers

    Hint and working are native `<details>`, which open by keyboard and are read by screen readers.
    """

    def __init__(self, made: Callable[..., Question | Choice]):
        self._made, self._key, self.seed = made, key_of(made), 0
        self.task = made()
        self.asked, self.verdict, self.hint, self.working = (widgets.HTML() for _ in range(4))
        self.verdict.layout.min_height = "3em"  # so that nothing jumps when it speaks
        self.answer = self._line() if isinstance(self.task, Question) else widgets.RadioButtons(description="")
        self.answer.observe(self._entered, names="value")
        self.button = Button(description="Check", tooltip="Check the answer")
        self.button.on_click(lambda _: self.check() if self._given() else self._ask())
        buttons = [self.button]
        if inspect.signature(made).parameters:
            name = "New numbers" if isinstance(self.task, Question) else "Another one"
            self.other = Button(description=name, tooltip="The same question, asked of something else")
            self.other.on_click(lambda _: self.draw_again())
            buttons.append(self.other)
        row = widgets.HBox([self.answer, *buttons] if isinstance(self.task, Question) else buttons)
        parts = [row] if isinstance(self.task, Question) else [self.answer, row]
        super().__init__([stylesheet(), self.asked, *parts, self.verdict, self.hint, self.working])
        self.add_class("sigcalc-exercise")
        self._show()
        self._recall()
        when_afresh(made, self.start_afresh)

    def _line(self) -> widgets.Text:
        name = f"your answer ({self.task.unit})" if self.task.unit else "your answer"
        example = f"such as {self.task.kind.example}"
        return widgets.Text(placeholder=example, description=name, tooltip=name, continuous_update=False)

    def _show(self) -> None:
        """The task as it is before any answer."""
        task = self.task
        self.asked.value = f"<p><b>Question.</b> {html.escape(task.text)}</p>{_pictures(task)}"
        self.verdict.value = self.working.value = ""
        self.hint.value = _folded("Hint", task.hint)
        if isinstance(task, Choice):
            self.answer.options = [(f"{letter}: {each.says}", letter) for letter, each in task.lettered.items()]
            self.answer.value = None
        else:
            self.answer.value = ""

    def _recall(self) -> None:
        """Say quietly what was answered before."""
        before, said = PROGRESS.answer(self._key), ""
        if before is not None:
            numbers = ", with other numbers" if before.seed != self.seed else ""
            said = f"Answered before{numbers}: {before.said} {'✔ right' if before.right else '✘ not right yet'}."
        self.verdict.value = _quietly(f"{said} {PROGRESS.news()}")

    def _given(self) -> str:
        return (self.answer.value or "").strip()

    def _entered(self, _: object) -> None:
        if isinstance(self.task, Question):
            self.check()

    def check(self) -> None:
        """Check what has been answered."""
        given = self._given()
        if not given:
            self.verdict.value = ""
            return
        verdict = self.task.check(given)
        mark = "✔ " if verdict.right else "✘ "
        self.verdict.value = f'<p role="status">{mark}{html.escape(verdict.reason)}</p>'
        self.working.value = _folded("Working", self.task.working)
        said = f"{given}: {self.task.lettered[given].says}" if isinstance(self.task, Choice) else given
        PROGRESS.keep(self._key, Answer(said, verdict.right, self.seed))
        self.verdict.value += _quietly(PROGRESS.news())

    def draw_again(self) -> None:
        """Ask the same with the next numbers."""
        asked = self.asked.value
        for _ in range(_MOST_DRAWS):
            self.seed += 1
            self.task = self._made(self.seed)
            self._show()
            if self.asked.value != asked:
                return

    def start_afresh(self) -> None:
        """As if nobody had answered yet."""
        self.seed, self.task = 0, self._made()
        self._show()

    def _ask(self) -> None:
        """Say what to do where Check is pressed before there is an answer."""
        todo = "Choose one of the answers first."
        if isinstance(self.task, Question):
            todo = f"Type your answer into the box first, such as {self.task.kind.example}."
        self.verdict.value = f'<p role="status">{html.escape(todo)}</p>'


def _pictures(task: Question | Choice) -> str:
    """What is drawn above the answers: the question's own picture, and those to choose from, by their letters."""
    if isinstance(task, Question):
        return ""
    above = "" if task.shows is None else f"<figure>{drawn(task.shows).svg}</figure>"
    shown = "".join(_lettered(task.lettered.items()))
    return f'{above}<div class="sigcalc-options">{shown}</div>' if shown else above


def _lettered(options: Iterable[tuple[str, Option]]) -> Iterable[str]:
    for letter, option in options:
        if option.shows is not None:
            picture = drawn(option.shows).saying(f"{letter}: {option.says}")
            yield f"<figure><figcaption><b>{letter}</b></figcaption>{picture.svg}</figure>"


def _quietly(told: str) -> str:
    return f"<p><small>{html.escape(told.strip())}</small></p>" if told.strip() else ""


def _folded(title: str, text: str) -> str:
    return f"<details><summary>{html.escape(title)}</summary><p>{html.escape(text)}</p></details>"
