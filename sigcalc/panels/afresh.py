"""Starting a lesson afresh: what was answered in it is forgotten, on the page and in the learner's file."""

from __future__ import annotations

from collections.abc import Callable
from weakref import WeakMethod

import ipywidgets as widgets

from ..lessons.progress import NAME, PROGRESS
from .control import Button, stylesheet

_ANSWERED: list[tuple[str, WeakMethod[Callable[[], None]]]] = []
"""The lessons, each with what to call when it starts afresh."""


def key_of(made: Callable[..., object]) -> str:
    """What an exercise or prediction is kept under: its lesson and its name."""
    return f"{made.__module__.rpartition('.')[2]}.{made.__name__}"


def when_afresh(made: Callable[..., object], forget: Callable[[], None]) -> None:
    """Call `forget`, a method, when the lesson of `made` starts afresh."""
    _ANSWERED.append((key_of(made).partition(".")[0], WeakMethod(forget)))


class StartAfresh(widgets.HBox):
    """The button that forgets what was answered in a lesson: `StartAfresh("why_a_resistor")`."""

    def __init__(self, lesson: str):
        self.lesson = lesson
        self.button = Button(description="Start this lesson afresh", tooltip="Forget the answers of this lesson")
        self.told = widgets.HTML()
        self.button.on_click(lambda _: self.forget())
        super().__init__([stylesheet(), self.button, self.told])
        self.add_class("sigcalc-exercise")

    def forget(self) -> None:
        """Forget the lesson's answers, and empty what is on the page."""
        PROGRESS.forget(self.lesson)
        for lesson, method in _ANSWERED:
            call = method()
            if lesson == self.lesson and call is not None:
                call()
        told = PROGRESS.news() or f"The answers of this lesson are gone from the page and from {NAME}."
        self.told.value = f'<p role="status">{told}</p>'
