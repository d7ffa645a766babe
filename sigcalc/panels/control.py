"""Controls of a panel: a slider with a number box beside it, a choice, a switch, a line of text.

A slider's handle has no accessible name in ipywidgets 8; the box beside it has one,
takes exact values, and is not clipped in silence: a value beyond the slider's ends is
refused with a sentence. Widths and type come from the stylesheet.
"""

from __future__ import annotations

import html
import math
from collections.abc import Callable, Sequence
from typing import Any

import ipywidgets as widgets

from ..errors import RangeError


class Control:
    """What a panel asks of each of its controls: a `name`, a `value`, a `widget` to show, and a signal on change."""

    def __init__(self, name: str, widget: widgets.Widget, source: widgets.Widget):
        self.name, self.widget, self._source = name, widget, source
        widget.add_class("sigcalc-control")

    @property
    def value(self) -> Any:
        """What the control says now."""
        return self._source.value

    @value.setter
    def value(self, value: Any) -> None:
        self._source.value = value

    def on_change(self, callback: Callable[[], None]) -> None:
        """Call back after each change."""
        self._source.observe(lambda _: callback(), names="value")


class NumberControl(Control):
    """A slider and a number box of the same name, in the unit people say ("V", "mA", "ohm").

    A logarithmic slider goes in steps of two digits (470, 480, 490); the box takes any number.
    """

    def __init__(
        self,
        name: str,
        unit: str,
        least: float,
        most: float,
        value: float,
        step: float = 0.1,
        logarithmic: bool = False,
    ):
        self.unit, self.least, self.most = unit, least, most
        self.label = f"{name} ({unit})" if unit else name
        self._digits = 2 if logarithmic else 4
        self.slider = _slider(self.label, least, most, value, step, logarithmic)
        self.box = widgets.FloatText(
            value=value,
            step=None if logarithmic else step,
            description=self.label,
            tooltip=f"{self.label}: {least:g} to {most:g}",
        )
        self._following = False
        self.slider.observe(self._slider_moved, names="value")
        self.box.observe(self._box_typed, names="value")
        row = widgets.HBox([self.slider, self.box])
        row.add_class("sigcalc-number")
        super().__init__(name, row, self.box)

    def _slider_moved(self, change: Any) -> None:
        if not self._following:
            self.box.value = float(f"{change['new']:.{self._digits}g}")

    def _box_typed(self, change: Any) -> None:
        value = change["new"]
        if self.least <= value <= self.most:
            self._following = True
            try:
                self.slider.value = value
            finally:
                self._following = False

    def checked(self) -> float:
        """The number in the box, or RangeError where it lies beyond the slider's ends."""
        value = self.box.value
        if not math.isfinite(value) or not self.least <= value <= self.most:
            raise RangeError(
                f"{self.name} needs {self.least:g} to {self.most:g} {self.unit} in this panel, "
                f"but {value:g} came; type a value in that range"
            )
        return value

    @property
    def text(self) -> str:
        """Number and unit as the library reads them."""
        return f"{self.checked()!r} {self.unit}".strip()


def _slider(label: str, least: float, most: float, value: float, step: float, logarithmic: bool) -> widgets.Widget:
    shown = {"description": label, "tooltip": label, "readout": False, "value": value}
    if logarithmic:
        return widgets.FloatLogSlider(min=math.log10(least), max=math.log10(most), step=0.02, **shown)
    return widgets.FloatSlider(min=least, max=most, step=step, **shown)


def choice(name: str, options: Sequence[Any], value: Any = None) -> Control:
    """A drop-down list; `options` as ipywidgets takes them, names or pairs of name and value."""
    dropdown = widgets.Dropdown(options=options, description=name, tooltip=name)
    if value is not None:
        dropdown.value = value
    return Control(name, dropdown, dropdown)


def switch(name: str, value: bool = False) -> Control:
    """A check box."""
    box = widgets.Checkbox(value=value, description=name, indent=False, tooltip=name)
    return Control(name, box, box)


def text_line(name: str, value: str = "", hint: str = "") -> Control:
    """A line of text, read when Enter is pressed or the field is left; `hint` shows while it is empty."""
    line = widgets.Text(value=value, placeholder=hint, description=name, tooltip=name, continuous_update=False)
    return Control(name, line, line)


def positions(name: str, options: Sequence[Any], value: Any = None) -> Control:
    """Buttons of which one is pressed, such as the positions of a switch.

    The group's name and the button that is pressed stand above them as text: a pressed
    button alone is no message to a screen reader.
    """
    buttons = widgets.ToggleButtons(options=options)
    if value is not None:
        buttons.value = value
    buttons.style.button_width = "auto"
    label = widgets.HTML()

    def say_which(_: Any = None) -> None:
        label.value = f"{html.escape(name)}: <b>{html.escape(str(buttons.label))}</b>"

    buttons.observe(say_which, names="label")
    say_which()
    group = widgets.VBox([label, buttons])
    group.add_class("sigcalc-positions")
    return Control(name, group, buttons)


__all__ = ["Control", "NumberControl", "choice", "positions", "switch", "text_line"]
