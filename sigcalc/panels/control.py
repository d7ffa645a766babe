"""Controls of a panel: a slider with a number box beside it, a choice, a switch, a line of text, a button; their style.

A slider's handle has no accessible name in ipywidgets 8; the box beside it has one. The
box is a line of text read by the library's own reading of numbers and units: a browser's
number field drops a decimal comma in silence, so that 1,5 becomes 15. Nothing is clipped
or rounded: what cannot be read, or is beyond the slider's ends, is refused with a
sentence. Widths and type come from the stylesheet.
"""

from __future__ import annotations

import html
import math
import re
from collections.abc import Callable, Sequence
from contextlib import suppress
from functools import cache
from importlib.resources import files
from typing import Any

import ipywidgets as widgets
from traitlets import Int, TraitError

from ..errors import RangeError, SigcalcError, UnitError, UnknownNameError
from ..parts.resistor import nearest
from ..units.reading import quoted
from ..units.typed import typed

_SERIES = "E24"  # what a logarithmic slider goes through: 24 values in a decade
_LOGARITHMIC_STEP = 1 / 24
_PER_LETTER, _ARROW, _WIDEST = 0.52, 2.0, 20.0  # em: an average letter, the arrow with its room, the widest list


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

    @property
    def said(self) -> str:
        """What it says now, as a person reads it off a page."""
        value = getattr(self._source, "label", None) or self.value
        return {True: "yes", False: "no"}[value] if isinstance(value, bool) else str(value)

    def put(self, said: Any) -> None:
        """Set it as a file says it: an option by its words in the list, a switch by true or false.

        Raises SigcalcError for what it cannot say.
        """
        labels = getattr(self._source, "_options_labels", None)
        if labels is not None and said not in labels:
            raise UnknownNameError(argument=self.name, need=f"one of {', '.join(labels)}", given=quoted(said))
        wanted = str if labels is None and isinstance(self.value, str) else bool
        if labels is None and not isinstance(said, wanted):
            need = "a text" if wanted is str else "true or false"
            raise SigcalcError(argument=self.name, need=need, given=quoted(said))
        self.value = said if labels is None else self._source._options_values[labels.index(said)]

    def on_change(self, callback: Callable[[], None]) -> None:
        """Call back after each change."""
        self._source.observe(lambda _: callback(), names="value")

    def enable(self, on: bool) -> None:
        """Let it be changed, or grey it out where it counts for nothing."""
        self._source.disabled = not on

    def offer(self, options: Sequence[Any]) -> None:
        """Offer other options; what was chosen stays so where it is among them, else the first one is chosen."""
        chosen = self.value
        self._source.options = options
        with suppress(TraitError):
            self.value = chosen


class NumberControl(Control):
    """A slider and a number box of the same name, in the unit people say ("V", "mA", "ohm").

    A logarithmic slider goes through the values of series E24 (470, 510, 560). The box
    takes any number, with or without a unit ("470", "0.47 kohm", "4k7").
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
        self.unit, self.least, self.most, self._usual = unit, least, most, value
        self.label = f"{name} ({unit})" if unit else name
        self._logarithmic, self._step = logarithmic, _LOGARITHMIC_STEP if logarithmic else step
        self.slider = _slider(self.label, least, most, value, self._step, logarithmic)
        tip = f"{self.label}: {least:g} to {most:g}"
        self.box = widgets.Text(
            value=_plain(value),
            placeholder=f"{_plain(least)} to {_plain(most)}",
            description=self.label,
            tooltip=tip,
            continuous_update=False,
        )
        self._placed = value  # where the slider is, as far as known here
        self._sliding = False
        self.slider.observe(self._slider_moved, names="value")
        self.box.observe(self._box_typed, names="value")
        row = widgets.HBox([self.slider, self.box])
        row.add_class("sigcalc-number")
        super().__init__(name, row, self.box)

    @property
    def value(self) -> float:
        """The number in the box, in the control's unit; UnitError where it cannot be read."""
        line = self.box.value
        if not re.match(r"\s*[-+.,\d\u2212]", line):
            given = quoted(line.strip()) if line.strip() else "nothing"
            example = _plain(self._usual)
            raise UnitError(argument=self.name, need=self._range, given=given, example=example)
        wanted = f"a value in {self.unit}" if self.unit else "a plain number"
        try:
            return typed(line, self.unit, wanted, f"{_plain(self._usual)} {self.unit}".strip())
        except UnitError as error:
            raise UnitError(argument=self.name, need=wanted, given=error.given, advice=error.advice) from None

    @value.setter
    def value(self, value: float) -> None:
        self.box.value = _plain(value)

    @property
    def said(self) -> str:
        """The number with its unit."""
        return f"{self.box.value} {self.unit}".strip()

    def put(self, said: Any) -> None:
        """Set it to a number within its slider's ends; raises SigcalcError for anything else."""
        if isinstance(said, bool) or not isinstance(said, int | float):
            raise UnitError(argument=self.name, need=f"a number, {self._range}", given=quoted(said))
        before, self.value = self.box.value, said
        try:
            self.checked()
        except SigcalcError:
            self.box.value = before
            raise

    def reach(self, least: float, most: float, value: float) -> None:
        """Let the slider go from and to other ends from now on, and begin at that value."""
        self.least, self.most, self._usual, self._placed = least, most, value, value
        with self.slider.hold_trait_notifications():
            self.slider.min, self.slider.max, self.slider.value = least, most, value
        self.slider.tooltip = self.box.tooltip = f"{self.label}: {least:g} to {most:g}"
        self.box.placeholder = f"{_plain(least)} to {_plain(most)}"
        self.box.value = _plain(value)

    def _slider_moved(self, change: Any) -> None:
        value = change["new"]
        if self._is_echo(value):
            return
        self._placed, self._sliding = value, True
        if self._logarithmic:
            value = min(max(nearest(value, _SERIES), self.least), self.most)
        try:
            self.box.value = _plain(float(f"{value:.6g}"))
        finally:
            self._sliding = False

    def _is_echo(self, value: float) -> bool:
        """Whether the browser only rounds to its steps what it was told: it then sends the slider's place back."""
        gap = math.log10(value / self._placed) if self._logarithmic else value - self._placed
        return abs(gap) <= 0.5 * self._step * (1 + 1e-9)

    def _box_typed(self, _: Any) -> None:
        try:
            value = self.checked()
        except SigcalcError:
            return  # the panel asks as well and shows the sentence
        if not self._sliding:
            self._placed = self.slider.value = value

    def enable(self, on: bool) -> None:
        """Let it be moved, or grey it out where it counts for nothing."""
        self.slider.disabled = self.box.disabled = not on

    def checked(self) -> float:
        """The number in the box, in the control's unit.

        Raises UnitError where it cannot be read and RangeError where it is beyond the slider's ends.
        """
        value = self.value
        if not self.least <= value <= self.most:
            need, given = f"{self._range} in this panel", f"{value:g} {self.unit}".strip()
            raise RangeError(argument=self.name, need=need, given=given)
        return value

    @property
    def whole(self) -> int:
        """The number in the box as a count; raises as `checked` does, and RangeError between two whole numbers."""
        value = self.checked()
        if value != round(value):
            example, given = f"{value:.0f}", f"{value:g}"
            raise RangeError(argument=self.name, need="a whole number", example=example, given=given)
        return round(value)

    @property
    def _range(self) -> str:
        return f"{_plain(self.least)} to {_plain(self.most)} {self.unit}".strip()

    @property
    def text(self) -> str:
        """Number and unit as the library reads them."""
        return f"{self.checked()!r} {self.unit}".strip()


def _plain(value: float) -> str:
    return f"{value:.12g}"


def _slider(label: str, least: float, most: float, value: float, step: float, logarithmic: bool) -> widgets.Widget:
    shown = {"description": label, "tooltip": label, "readout": False, "value": value, "step": step}
    if logarithmic:
        return widgets.FloatLogSlider(min=math.log10(least), max=math.log10(most), **shown)
    return widgets.FloatSlider(min=least, max=most, **shown)


def choice(name: str, options: Sequence[Any], value: Any = None, narrow: bool = False) -> Control:
    """A drop-down list; `options` as ipywidgets takes them; two `narrow` ones in sequence share a row."""
    dropdown = widgets.Dropdown(options=options, description=name, tooltip=name)
    dropdown.layout.flex = f"1 1 {_width_of(dropdown, 6.0 if narrow else 10.0):.3g}em"
    if value is not None:
        dropdown.value = value
    return Control(name, dropdown, dropdown)


def _width_of(dropdown: widgets.Dropdown, least: float) -> float:
    """The width in em at which the closed list shows its longest option whole, within limits."""
    longest = max(map(len, dropdown._options_labels), default=0)
    return min(max(_PER_LETTER * longest + _ARROW, least), _WIDEST)


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

    The group's name and the button that is pressed are shown above them as text: a pressed
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


@cache
def page_text(name: str) -> str:
    """A text that pages of panels take in: panel.css or keys.js."""
    return files(__package__).joinpath(name).read_text(encoding="utf-8")


@cache
def _style() -> str:
    """The stylesheet, which starts the script of the keys and of the stage (keys.js) as soon as it is in a page."""
    return f'<style onload="{html.escape(page_text("keys.js"))}">{page_text("panel.css")}</style>'


_STOPPED = """<p role="alert"><b>✘ Stopped.</b> What you see no longer follows the controls.
<span class="sigcalc-asks-to-run">To start it again,
<span class="sigcalc-asks-to-leave">press <kbd>Esc</kbd>, then</span>
load the page again (<kbd>F5</kbd>), or choose <i>Run</i> and <i>Run All Cells</i> in the menu.</span>
<span class="sigcalc-asks-to-wait">Jupyter does not answer:
if you closed it, start it again and reload this page.</span></p>"""


def stylesheet() -> widgets.HTML:
    """What every panel begins with: the stylesheet, the keys, and the line that shows when it has stopped."""
    return widgets.HTML(_style() + _STOPPED, _dom_classes=("sigcalc-stop-line",))
