"""A refusal in a notebook: the one sentence, as text and as an alert, where Python would print a long traceback."""

from __future__ import annotations

import html
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from types import TracebackType
from typing import Any

import pint

from ..errors import SigcalcError
from ..units.advice import advice
from ..views.style import STOP_EDGE

_CAUGHT = (SigcalcError, pint.PintError, TypeError, ValueError)
_STYLE = f"border-left:0.4em dashed {STOP_EDGE};padding:0.2em 0 0.2em 0.6em;margin:0.4em 0"


def alert_html(sentence: str, listed: Iterable[str] = (), lead: str = "Not possible:") -> str:
    """The sentence, and below it a list, as an alert, which a screen reader reads out at once."""
    items = "".join(f"<li>{html.escape(each)}</li>" for each in listed)
    said = html.escape(sentence) + (f"<ul>{items}</ul>" if items else "")
    return f'<div role="alert" class="sigcalc-alert" style="{_STYLE}"><b>{html.escape(lead)}</b> {said}</div>'


@contextmanager
def told_by(fail: Callable[[SigcalcError | str], None]) -> Iterator[None]:
    """Hand a refusal to `fail`; a defect is told too, and raised: a callback in the browser hides what it raises."""
    try:
        yield
    except SigcalcError as refusal:
        fail(refusal)
    except Exception as defect:
        fail(f"This panel failed ({type(defect).__name__}: {defect}). Run its cell again, and report it if it stays.")
        raise


class _Alert:
    """What a cell shows: an alert on a page, the bare sentence in a terminal."""

    def __init__(self, sentence: str):
        self.sentence = sentence

    def __repr__(self) -> str:
        return self.sentence

    def _repr_html_(self) -> str:
        return alert_html(self.sentence)


def install() -> None:
    """Let cells of the IPython that is running, if one is, show refusals in one sentence.

    The cell still fails: the reply to the program that runs it says "error" and has the sentence for a traceback, and
    the cells after it are not run. `%tb` prints the whole traceback. Handlers that are there already stay.
    """
    shell = sys.modules["IPython"].get_ipython() if "IPython" in sys.modules else None
    if shell is not None and not shell.custom_exceptions:
        shell.set_custom_exc(_CAUGHT, _show)


def _show(
    shell: Any, kind: type[BaseException], error: BaseException, traceback: TracebackType, tb_offset: int | None = None
) -> list[str]:
    """Called by IPython with every error of the kinds asked for; what is none of ours is shown as always."""
    from IPython.display import display

    sentence = advice(error, traceback)
    if sentence is None:
        shell.showtraceback((kind, error, traceback), tb_offset=tb_offset, running_compiled_code=True)
        return []
    sys.last_type, sys.last_value, sys.last_traceback = kind, error, traceback
    display(_Alert(sentence))
    shell._last_traceback = [f"{kind.__name__}: {sentence}"]  # what the kernel's reply quotes
    return shell._last_traceback
