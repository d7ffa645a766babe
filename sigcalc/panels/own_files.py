"""Files that a panel writes for the person: never over another one unasked, with a link to download the same."""

from __future__ import annotations

import base64
import html
from pathlib import Path

import ipywidgets as widgets

from ..errors import PlanError
from ..plan import file
from ..units.reading import quoted

FOLDER = "my_plans"
"""Where plans are saved unless the person types another place; an update of the lessons leaves it alone."""
FOLDERS = ("plans", FOLDER)
"""Where plans and layouts are looked for: the examples, and a person's own."""


class OwnFiles:
    """The files of one panel, named after what stands in its box `path`; `replace` allows to write over others."""

    def __init__(self, path: widgets.Text, replace: widgets.Checkbox):
        self._path, self._replace = path, replace
        self._ours: set[Path] = set()  # files this panel has written: saving over them is no surprise

    def target(self, ending: str) -> Path:
        """The file to write, with another ending; raises PlanError where it must not or cannot be written."""
        typed = self._path.value.strip()
        if Path(typed).suffix.lower() != ".toml":
            raise PlanError(
                [f'file needs a name that ends in .toml, such as "{FOLDER}/my_signal.toml", but {quoted(typed)} came']
            )
        path = file.place_to_write(typed).with_suffix(ending)
        try:
            if path.exists() and path.resolve() not in self._ours and not self._replace.value:
                raise PlanError([f'{path} exists already; tick "replace a file of this name" or type another name'])
            path.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise PlanError([f"{path.parent} cannot be used: {error.strerror or error}"]) from None
        return path

    def write(self, target: Path, text: str) -> str:
        """Write a text whole or not at all; returns the sentence that says so, with the link."""
        file.write(target, text)
        return self.kept(target, text)

    def kept(self, target: Path, text: str | None = None) -> str:
        """The sentence for a file that was written, with a link to download `text` where one is given."""
        self._ours.add(target.resolve())
        link = "" if text is None else f" {_download(target.name, text)}"
        return f"Saved {html.escape(str(target))}.{link}"


def _download(name: str, text: str) -> str:
    """A link that hands the same text to the browser, for those who do not see the folder."""
    data = base64.b64encode(text.encode()).decode()
    kind = "text/html" if name.endswith(".html") else "text/csv"
    return f'<a download="{html.escape(name)}" href="data:{kind};base64,{data}">Download {html.escape(name)}</a>'
