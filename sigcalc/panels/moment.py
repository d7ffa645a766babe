"""A control that goes through the moments of a passing: by slider, by number, or played; still until it is started."""

from __future__ import annotations

from typing import Any

import ipywidgets as widgets

from ..errors import RangeError, SigcalcError
from .button import Button
from .control import NumberControl

INTERVAL = 400
"""Milliseconds from one picture to the next: 2.5 in a second, so that nothing can flash three times in one."""
PLAY, PAUSE, BACK = "play", "pause", "back to the start"


class MomentControl(NumberControl):
    """Steps from 0 to `last`: buttons to play, pause and go back; the slider's arrow keys go step by step.

    ipywidgets' player keeps the time, but its own buttons are pictures without a name: it is hidden, and buttons with
    words stand in its place.
    """

    def __init__(self, name: str, last: int, value: int):
        super().__init__(name, "", 0, last, value, step=1)
        self.player = widgets.Play(min=0, max=last, value=value, interval=INTERVAL)
        self.player.layout.display = "none"
        self.play = widgets.ToggleButton(description=PLAY, tooltip=f"{PLAY} or {PAUSE}: {name}")
        self.back = Button(description=BACK, tooltip=f"{BACK}: {name}")
        self.player.observe(self._played, names="value")
        self.player.observe(self._say_whether_it_plays, names="playing")
        self.play.observe(self._pressed, names="value")
        self.back.on_click(lambda _: setattr(self, "value", 0))
        self.box.observe(self._follow, names="value")
        self.widget.remove_class("sigcalc-control")
        for button in (self.play, self.back):
            button.layout.width = "auto"
        self.widget = widgets.VBox([self.widget, widgets.HBox([self.play, self.back, self.player])])
        self.widget.add_class("sigcalc-control")

    @property
    def step(self) -> int:
        """The step, a whole number.

        Raises UnitError where the box cannot be read, RangeError beyond the ends or between two steps.
        """
        value = self.checked()
        if value != round(value):
            raise RangeError(f"{self.name} needs a whole number, but {value:g} came; type for example {value:.0f}")
        return round(value)

    def enable(self, on: bool) -> None:
        """Let it be moved and played, or grey it out where it counts for nothing."""
        if not on:
            self.player.playing = False
        super().enable(on)
        self.play.disabled = self.back.disabled = not on

    def _pressed(self, change: Any) -> None:
        """Play on, and from the start where it stands at the end."""
        if change["new"] and self.player.value == self.player.max:
            self.value = 0
        self.player.playing = change["new"]

    def _say_whether_it_plays(self, change: Any) -> None:
        self.play.value = change["new"]
        self.play.description = PAUSE if change["new"] else PLAY

    def _played(self, change: Any) -> None:
        self.value = change["new"]

    def _follow(self, _: Any) -> None:
        """Play on from where slider or box were put."""
        try:
            self.player.value = self.step
        except SigcalcError:
            return  # the panel asks as well and shows the sentence
