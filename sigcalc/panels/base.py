"""What every panel shares: controls in, a picture out, and a failure that is seen.

In the browser a failing callback is silent: the slider moves and the old picture stays,
now wrong. So the one place that redraws catches every failure, shows the sentence as an
alert, and below it the last good picture, greyed. A refusal by the library (SigcalcError) is an answer
to the person; anything else is a defect and is raised again as well.

A redraw that takes a moment is announced beside the heading. Only the last value is drawn: a browser sends a control's
next value once the one before has been dealt with, and leaves out all but the latest.
"""

from __future__ import annotations

import html
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import Any

import ipywidgets as widgets

from ..errors import SigcalcError
from ..views.findings import Answer
from ..views.picture import Picture
from ..views.style import LARGE, NORMAL, Size
from .alert import alert_html, told_by
from .control import Control, positions, stylesheet, switch

Shown = Picture | Answer
BUSY = "sigcalc-busy"
"""The class of a panel that is working; the stylesheet then shows the words beside its heading."""
AS_IT_LOOKS, AS_IT_IS_DRAWN, BOTH = "as it looks", "as it is drawn", "both"
ASLEEP = (
    '<p class="sigcalc-asleep">This picture is from last time. To wake the panel, choose <i>Run</i>, then '
    "<i>Run All Cells</i>.</p>"
)
_MOMENT = 0.1  # s; what is quicker seems to be at once


class Panel(widgets.VBox):
    """Controls on the left, the picture and its sentence on the right; below each other where there is little room.

    A subclass builds its controls, calls `super().__init__` and answers `draw()` with a
    Picture, or with an Answer of drawings and findings. `panel["supply"]` is the control of
    that name; `size` is what `draw` hands to the views. `height` is reserved for what is
    drawn, so that nothing below jumps. A panel with a `scene` shows the same thing as it looks and as it is drawn
    with symbols, with dots that move with the current: its `draw` asks `pictured` which of the two are wanted.
    """

    first_shown = BOTH
    _silent = False
    _took = 0.0  # s, of the last redraw
    _last = ""  # the last good picture's HTML

    def __init__(self, controls: Sequence[Control], heading: str, height: str = "26em", scene: bool = False):
        self.large = switch("large type for the projector")
        self.show = positions("show", (AS_IT_LOOKS, AS_IT_IS_DRAWN, BOTH), self.first_shown)
        self.moving = switch("moving dots", True)
        shared = (self.show, self.moving, self.large) if scene else (self.large,)
        self.controls: dict[str, Any] = {each.name: each for each in (*controls, *shared)}
        self.picture: Shown | None = None
        self.view = widgets.HTML(layout=widgets.Layout(min_height=height))
        self.view.add_class("sigcalc-view")
        column = widgets.VBox([each.widget for each in self.controls.values()])
        column.add_class("sigcalc-controls")
        columns = widgets.HBox([column, self.view])
        columns.add_class("sigcalc-columns")
        busy = '<small class="sigcalc-working" role="status">working…</small>'
        super().__init__([stylesheet(), widgets.HTML(f"<h3>{html.escape(heading)} {busy}</h3>{ASLEEP}"), columns])
        self.add_class("sigcalc-panel")
        for each in self.controls.values():
            each.on_change(self._moved)
        self.redraw()

    def __getitem__(self, name: str) -> Control:
        return self.controls[name]

    @contextmanager
    def silent(self) -> Iterator[None]:
        """Set controls together without drawing after each."""
        self._silent = True
        try:
            yield
        finally:
            self._silent = False

    def _moved(self) -> None:
        if not self._silent:
            self.redraw()

    @property
    def size(self) -> Size:
        """How large the views are to draw: as the switch for large type says."""
        return LARGE if self.large.value else NORMAL

    def text(self, name: str) -> str:
        """A number control's value with its unit."""
        return self.controls[name].text

    def draw(self) -> Shown:
        """The picture for what the controls say now."""
        raise NotImplementedError

    def pictured(self, looks: Callable[[], Picture], drawn: Callable[[], Picture]) -> tuple[Picture, ...]:
        """Of the thing as it looks and as it is drawn, what the reader wants to see."""
        wanted = self.show.value
        return tuple(draw() for draw, other in ((looks, AS_IT_IS_DRAWN), (drawn, AS_IT_LOOKS)) if wanted != other)

    def takes_long(self) -> bool:
        """Whether the redraw to come may take more than a moment: the last one did."""
        return self._took > _MOMENT

    def redraw(self) -> None:
        """Draw again, and say so first where it takes a moment; on failure grey the picture and show why."""
        for name, on in (("sigcalc-large", self.large.value), ("sigcalc-still", not self.moving.value)):
            (self.add_class if on else self.remove_class)(name)
        if self.takes_long():
            self.add_class(BUSY)
        began = time.perf_counter()
        try:
            with told_by(self._fail):
                picture = self.draw()
                self.view.value = self._last = picture.html()
                self.picture = picture
        finally:
            self._took = time.perf_counter() - began
            self.remove_class(BUSY)

    def _fail(self, refusal: SigcalcError | str) -> None:
        self.picture = None
        before = f'<div class="sigcalc-greyed" aria-hidden="true">{self._last}</div>' if self._last else ""
        self.view.value = alert_html(str(refusal)) + before

    def _repr_mimebundle_(self, **options: Any) -> Any:
        """The live widget, and the picture as plain HTML for pages without a kernel."""
        bundle = super()._repr_mimebundle_(**options)
        data = bundle[0] if isinstance(bundle, tuple) else bundle
        if data is not None and self.picture is not None:
            data["text/html"] = self.picture.html()
        return bundle
