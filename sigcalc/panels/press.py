"""Controls that act: a button that is pressed, and a list with a button or a line below it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import ipywidgets as widgets

from ..errors import SigcalcError
from ..units.reading import quoted
from .control import Button, Control, choice


class Press(Control):
    """A button that is pressed; `taken()` says once whether it was, since it was last asked."""

    def __init__(self, name: str, words: str = ""):
        button = Button(description=words or name, tooltip=words or name)
        button.layout.height, button.layout.align_self = "auto", "flex-end"
        self._pressed = False
        button.on_click(lambda _: setattr(self, "_pressed", True))
        super().__init__(name, button, button)

    @property
    def value(self) -> bool:
        """Whether it has been pressed and not been taken yet."""
        return self._pressed

    def put(self, said: Any) -> None:
        """No file presses it: what a press shows would be seen before the question is asked. Raises SigcalcError."""
        raise SigcalcError(argument=self.name, need="a hand to press it", given=quoted(said))

    def taken(self) -> bool:
        """Whether it was pressed; then it no longer is."""
        was, self._pressed = self._pressed, False
        return was

    def say(self, words: str) -> None:
        """Let other words stand on it."""
        self.widget.description = self.widget.tooltip = words

    def on_change(self, callback: Callable[[], None]) -> None:
        """Call back after each press."""
        self.widget.on_click(lambda _: callback())


class Pick(Control):
    """A list with another control `below` it, a button or a line, which does something with what is chosen."""

    def __init__(self, name: str, options: Sequence[Any], below: Control, value: Any = None):
        listed, self.below = choice(name, options, value), below
        for each in (listed.widget, below.widget):
            each.layout.flex, each.layout.align_self = "none", None
        box = widgets.VBox([listed.widget, below.widget], layout=widgets.Layout(align_items="stretch"))
        super().__init__(name, box, listed._source)
        self.widget.add_class("sigcalc-pick")

    def on_change(self, callback: Callable[[], None]) -> None:
        """Call back after another choice and after what happens below."""
        super().on_change(callback)
        self.below.on_change(callback)
