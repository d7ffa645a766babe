"""A button that acts on what the panel shows, however busy the kernel is when it is pressed."""

from __future__ import annotations

from typing import Any

import ipywidgets as widgets
from traitlets import Int


class Button(widgets.Button):
    """A button whose action comes after whatever was changed before it was pressed.

    The browser has one change of a widget under way at a time: while the kernel is busy it holds the next one back,
    but not the message of a button, which so overtakes it. A press therefore only counts `pressed` up. The browser
    copies that to `due` and sends it back; before that it has read that the kernel is done with the earlier change,
    and has sent what it held back. So when `due` arrives, all has arrived, and the button clicks.
    """

    pressed = Int().tag(sync=True)
    due = Int().tag(sync=True)

    def __init__(self, **traits: Any):
        super().__init__(**traits)
        widgets.jsdlink((self, "pressed"), (self, "due"))
        self.observe(lambda _: self.click(), names="due")

    @property
    def waiting(self) -> bool:
        """Whether it was pressed, and what was changed before that is still to come."""
        return self.due < self.pressed

    def _handle_button_msg(self, _: Any, content: dict[str, Any], buffers: Any) -> None:  # noqa: ARG002 as ipywidgets calls it
        if content.get("event") == "click":
            self.pressed += 1
