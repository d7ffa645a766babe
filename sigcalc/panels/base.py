"""What every panel shares: controls in, a picture out, and a failure that is seen.

In the browser a failing callback is silent: the slider moves and the old picture stays,
now wrong. So the one place that redraws catches every failure, shows the sentence as an
alert, and below it the last good picture, greyed. A refusal by the library (SigcalcError) is an answer
to the person; anything else is a defect and is raised again as well.

A redraw that takes a moment is announced beside the heading. Only the last value is drawn: a browser sends a control's
next value once the one before has been dealt with, and leaves out all but the latest.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Any

import ipywidgets as widgets

from ..errors import SigcalcError, UnknownNameError
from ..units.reading import quoted
from ..views.chart import Ends, holding
from ..views.findings import NOTHING, Answer
from ..views.picture import Picture
from ..views.style import LARGE, NORMAL, STAGE, Size
from .alert import alert_html, told_by
from .control import Control, positions, stylesheet, switch
from .stage import columns_of, head_html, stage_switch

Shown = Picture | Answer
BUSY = "sigcalc-busy"
"""The class of a panel that is working; the stylesheet then shows the words beside its heading."""
AS_IT_LOOKS, AS_IT_IS_DRAWN, BOTH = "as it looks", "as it is drawn", "both"
_MOMENT = 0.1  # s; what is quicker seems to be at once


class Panel(widgets.VBox):
    """Controls on the left, the picture and its sentence on the right; below each other where there is little room.

    A subclass builds its controls, calls `super().__init__` and answers `draw()` with a
    Picture, or with an Answer of drawings and findings. `panel["supply"]` is the control of
    that name; `size` is what `draw` hands to the views. `height` is reserved for what is
    drawn, so that nothing below jumps. A panel with a `scene` shows the same thing as it looks and as it is drawn
    with symbols, with dots that move with the current: its `draw` asks `pictured` which of the two are wanted.

    On the stage a panel fills the screen: its main controls (those named in `wall`: one to three, or four check boxes),
    the verdict, the first picture of the answer, and its brief sentence. What is `covered` there (`Answer.stage_html`)
    is kept back.
    """

    first_shown = BOTH
    wall: tuple[str, ...] = ()
    covered: Mapping[str, str] = NOTHING
    refusal = ""  # the sentence that stands in place of a picture
    _silent = False
    _ends: Ends | None = None  # of the axes, while they are held
    _took = 0.0  # s, of the last redraw
    _last = ""  # the last good picture's HTML

    def __init__(self, controls: Sequence[Control], heading: str, height: str = "26em", scene: bool = False):
        self.large = switch("large type for the projector")
        self.large.widget.add_class("sigcalc-off-stage")
        self.show = positions("show", (AS_IT_LOOKS, AS_IT_IS_DRAWN, BOTH), self.first_shown)
        self.moving = switch("moving dots", True)
        shared = (self.show, self.moving, self.large) if scene else (self.large,)
        self.controls: dict[str, Any] = {each.name: each for each in (*controls, *shared)}
        self.picture: Shown | None = None
        self.view = widgets.HTML(layout=widgets.Layout(min_height=height))
        self.view.add_class("sigcalc-view")
        self.columns = columns_of((each.widget for each in self.controls.values()), self.view)
        for place, name in enumerate(self.wall, 1):
            self.controls[name].widget.add_class("sigcalc-main").add_class(f"sigcalc-main-{place}")
        self.stage = stage_switch()
        self.head = widgets.HTML(head_html(heading))
        super().__init__([stylesheet(), self.head, self.columns, self.stage.widget])
        self.add_class("sigcalc-panel")
        for each in (*self.controls.values(), self.stage):
            each.on_change(self._moved)
        self._moved()

    def __getitem__(self, name: str) -> Control:
        if name not in self.controls:
            need = f"a control of this panel ({', '.join(self.controls)})"
            raise UnknownNameError(argument="control", need=need, given=quoted(name))
        return self.controls[name]

    @staticmethod
    @contextmanager
    def undrawn() -> Iterator[None]:
        """Make panels without drawing them: what sets their controls next draws them."""
        Panel._silent = True
        try:
            yield
        finally:
            Panel._silent = False

    @contextmanager
    def silent(self) -> Iterator[None]:
        """Set controls together without drawing after each."""
        self._silent = True
        try:
            yield
        finally:
            self._silent = False

    def put(self, values: Mapping[str, Any]) -> None:
        """Set controls by their names as a file says them, and draw once; raises SigcalcError for the first fault."""
        with self.silent():
            for name, value in values.items():
                self[name].put(value)
        self.redraw()

    def hold_axes(self, on: bool) -> None:
        """From the next picture on, let the axes of the charts only grow; or let them follow again."""
        self._ends = {} if on else None

    def _moved(self) -> None:
        if not self._silent:
            self.redraw()

    @property
    def on_stage(self) -> bool:
        """Whether it fills the screen, and is drawn for a wall."""
        return self.stage.value

    @property
    def size(self) -> Size:
        """How large the views are to draw: for the stage, or as the switch for large type says."""
        if self.on_stage:
            return STAGE
        return LARGE if self.large.value else NORMAL

    def text(self, name: str) -> str:
        """A number control's value with its unit."""
        return self[name].text

    def draw(self) -> Shown:
        """The picture for what the controls say now."""
        raise NotImplementedError

    def pictured(self, looks: Callable[[], Picture], drawn: Callable[[], Picture]) -> tuple[Picture, ...]:
        """Of the thing as it looks and as it is drawn, what is wanted; on the stage there is room for one."""
        wanted = self.show.value
        if self.on_stage and wanted == BOTH:
            wanted = AS_IT_LOOKS
        return tuple(draw() for draw, other in ((looks, AS_IT_IS_DRAWN), (drawn, AS_IT_LOOKS)) if wanted != other)

    def beside(self, looks: Callable[[], Picture], drawn: Callable[[], Picture]) -> tuple[Picture, ...]:
        """What `pictured` gives, for a chart that tells more: on the stage, where one picture has room, none of it."""
        for each in (self.show, self.moving):
            each.enable(not self.on_stage)
        return () if self.on_stage else self.pictured(looks, drawn)

    def _in_order(self, things: tuple[Picture, ...], chart: tuple[Picture, ...]) -> tuple[Picture, ...]:
        """Things first, then the chart if there is one; on the stage, which shows the first alone, the chart."""
        return (*chart, *things) if self.on_stage else (*things, *chart)

    def takes_long(self) -> bool:
        """Whether the redraw to come may take more than a moment: the last one did."""
        return self._took > _MOMENT

    def redraw(self) -> None:
        """Draw again, and say so first where it takes a moment; on failure grey the picture and show why."""
        large = self.large.value and not self.on_stage
        for name, on in (("sigcalc-large", large), ("sigcalc-still", not self.moving.value)):
            (self.add_class if on else self.remove_class)(name)
        if self.takes_long():
            self.add_class(BUSY)
        began = time.perf_counter()
        try:
            with told_by(self._fail):
                with holding(self._ends):
                    picture = self.draw()
                self.view.value = self._last = self._page(picture)
                self.picture = picture
        finally:
            self._took = time.perf_counter() - began
            self.remove_class(BUSY)

    def _page(self, shown: Shown) -> str:
        """What is shown, as a page or for the stage."""
        if not self.on_stage:
            return shown.html()
        answer = shown if isinstance(shown, Answer) else Answer((shown,), shown.sentence)
        return answer.stage_html(self.covered)

    def _fail(self, refusal: SigcalcError | str) -> None:
        self.picture, self.refusal = None, str(refusal)
        before = f'<div class="sigcalc-greyed" aria-hidden="true">{self._last}</div>' if self._last else ""
        self.view.value = alert_html(str(refusal)) + before

    def _repr_mimebundle_(self, **options: Any) -> Any:
        """The live widget, and the picture as plain HTML for pages without a kernel."""
        bundle = super()._repr_mimebundle_(**options)
        data = bundle[0] if isinstance(bundle, tuple) else bundle
        if data is not None and self.picture is not None:
            data["text/html"] = self._page(self.picture)
        return bundle
