"""A control that goes through the moments of a passing: by slider, by number, or played; still until it is started."""

from __future__ import annotations

from typing import Any

import ipywidgets as widgets

from .control import NumberControl

INTERVAL = 400
"""Milliseconds from one picture to the next: 2.5 in a second, so that nothing can flash three times in one."""


class MomentControl(NumberControl):
    """Steps from 0 to `last`: the buttons play, pause and go back; the slider's arrow keys go step by step."""

    def __init__(self, name: str, last: int, value: int):
        super().__init__(name, "", 0, last, value, step=1)
        self.play = widgets.Play(
            min=0, max=last, value=value, step=1, interval=INTERVAL, show_repeat=False, description=f"play {name}"
        )
        self.play.observe(self._played, names="value")
        self.box.observe(self._follow, names="value")
        self.widget.remove_class("sigcalc-control")
        self.widget = widgets.VBox([self.play, self.widget])
        for name_of_class in ("sigcalc-control", "sigcalc-moment"):
            self.widget.add_class(name_of_class)

    def _played(self, change: Any) -> None:
        self.value = change["new"]

    def _follow(self, _: Any) -> None:
        """Play on from where slider or box were put."""
        if self.is_sound:
            self.play.value = round(self.value)

    @property
    def is_sound(self) -> bool:
        """Whether the box holds a step."""
        try:
            return self.checked() == round(self.checked())
        except ValueError:  # every refusal of the library is one
            return False

    @property
    def step(self) -> int:
        """The step, a whole number; raises as `checked` for what is none."""
        return round(self.checked())
