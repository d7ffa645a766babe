"""The one stylesheet of panels and exercises, as a widget that shows nothing."""

from __future__ import annotations

from functools import cache
from importlib.resources import files

import ipywidgets as widgets


@cache
def _text() -> str:
    return files(__package__).joinpath("panel.css").read_text(encoding="utf-8")


def stylesheet() -> widgets.HTML:
    """A hidden widget that brings the stylesheet to whatever page shows it."""
    return widgets.HTML(f"<style>{_text()}</style>", layout=widgets.Layout(display="none"))
