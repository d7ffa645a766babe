"""The stage: a panel that fills the screen for a room, with a layout of its own (panel.css) and keys (keys.js)."""

from __future__ import annotations

import html
from collections.abc import Iterable

import ipywidgets as widgets

from .control import Control, switch

KEYS = (
    ("Page down", "next (a clicker has this key)"),
    ("Page up", "back"),
    ("arrows", "move the first control"),
    ("Tab", "to the next control"),
    ("m", "more controls"),
    ("b or .", "black screen; once more: back to the picture"),
    ("?", "this list"),
    ("Escape", "leave the stage"),
)
"""The keys on the stage, with what they do."""
_FILL = '<span class="sigcalc-off-stage">fill the screen</span><span class="sigcalc-at-stage">leave</span>'
_MORE = '<span class="sigcalc-open-more">more</span><span class="sigcalc-close-more">less</span>'


def head_html(heading: str, board: str = "") -> str:
    """A panel's heading, with the buttons that take it to the stage and list the keys there; `board` is markup."""
    return (
        '<div class="sigcalc-head">'
        f'<h3>{html.escape(heading)} <small class="sigcalc-working" role="status">working…</small></h3>{board}'
        f"{keys_html()}</div>"
    )


def keys_html() -> str:
    """The two buttons that every stage has, and the list of its keys."""
    rows = "".join(f"<dt><kbd>{html.escape(key)}</kbd></dt><dd>{html.escape(does)}</dd>" for key, does in KEYS)
    return (
        f"{_button('keys', 'keys', '?', 'The keys on the stage', expands=True)}"
        f"{_button('fill', 'fill', _FILL, 'Fill the screen, or leave it again')}"
        f'<dl class="sigcalc-key-list" hidden>{rows}</dl>'
    )


def more_html() -> str:
    """The button that shows the controls which are no main ones; only the stage has it."""
    return _button("more-button", "more", _MORE, "The other controls, or back to the picture", expands=True)


def columns_of(controls: Iterable[widgets.Widget], view: widgets.Widget) -> widgets.HBox:
    """The controls of a panel, with the button for those that are no main ones, beside its view."""
    column = widgets.VBox([*controls, widgets.HTML(more_html())], _dom_classes=("sigcalc-controls",))
    return widgets.HBox([column, view], _dom_classes=("sigcalc-columns",))


def stage_switch() -> Control:
    """The check box, seen by nobody, by which the page says that the panel fills the screen."""
    made = switch("on the stage")
    made.widget.add_class("sigcalc-on-stage")
    return made


def _button(name: str, does: str, words: str, tip: str, expands: bool = False) -> str:
    """A button that the page itself answers, so that it works when the kernel has stopped."""
    state = ' aria-expanded="false"' if expands else ""
    return (
        f'<button type="button" class="sigcalc-{name} jupyter-button" title="{tip}"{state} '
        f'onclick="sigcalc.{does}(this)">{words}</button>'
    )
