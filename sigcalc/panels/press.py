"""A button as a control of a panel: pressed, and then taken once."""

from __future__ import annotations

from collections.abc import Callable

from .button import Button
from .control import Control


class Press(Control):
    """A button that is pressed; `taken()` says once whether it was, since it was last asked."""

    def __init__(self, name: str, words: str = ""):
        button = Button(description=words or name, tooltip=words or name)
        button.layout.height, button.layout.align_self = "auto", "flex-end"
        button.layout.border = "1px solid var(--jp-ui-font-color2, #616161)"
        self._pressed = False
        button.on_click(lambda _: self.press())
        super().__init__(name, button, button)

    @property
    def value(self) -> bool:
        """Whether it has been pressed and not been taken yet."""
        return self._pressed

    def press(self) -> None:
        """Press it, without telling anybody."""
        self._pressed = True

    def taken(self) -> bool:
        """Whether it was pressed; then it no longer is."""
        was, self._pressed = self._pressed, False
        return was

    def on_change(self, callback: Callable[[], None]) -> None:
        """Call back after each press."""
        self.widget.on_click(lambda _: callback())
