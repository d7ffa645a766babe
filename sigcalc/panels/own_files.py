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
    """The files of one panel, named after what is in its box `path`; `replace` allows to write over others."""

    def __init__(self, path: widgets.Text, replace: widgets.Checkbox):
        self._path, self._replace = path, replace
        self._written: dict[Path, bytes] = {}  # by this panel: saving over that is no surprise

    def target(self, ending: str) -> Path:
        """The file to write, with another ending; raises PlanError where it must not or cannot be written."""
        typed = self._path.value.strip()
        if Path(typed).suffix.lower() != ".toml":
            raise PlanError(
                [f'file needs a name that ends in .toml, such as "{FOLDER}/my_signal.toml"; you gave {quoted(typed)}']
            )
        path = file.place_to_write(typed).with_suffix(ending)
        try:
            if path.exists() and not self._replace.value:
                self._must_be_ours(path)
            path.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise PlanError([f"{path.parent} cannot be used: {error.strerror or error}"]) from None
        return path

    def _must_be_ours(self, path: Path) -> None:
        """Raise PlanError where a file is not as this panel left it."""
        written = self._written.get(path.resolve())
        if written is None:
            raise PlanError([f'{path} exists already; tick "replace a file of this name" or type another name'])
        if path.read_bytes() != written:
            said = (
                f"{path} has been changed elsewhere since you saved it here, so nothing was written; to keep both, "
                f'type another name; to write over those changes, tick "{self._replace.description}"'
            )
            raise PlanError([said])

    def write(self, target: Path, text: str) -> str:
        """Write a text whole or not at all; returns the sentence that says so, with the link."""
        file.write(target, text)
        return f"{self.kept(target, text)} {_download(target.name, text)}"

    def kept(self, target: Path, text: str) -> str:
        """The sentence for a file into which a text was written."""
        self._written[target.resolve()] = text.encode()
        self._replace.value = False  # it was given for that file as it was
        return f"Saved {html.escape(str(target))}."


def _download(name: str, text: str) -> str:
    """A link that hands the same text to the browser, for those who do not see the folder."""
    data = base64.b64encode(text.encode()).decode()
    kind = "text/html" if name.endswith(".html") else "text/csv"
    return f'<a download="{html.escape(name)}" href="data:{kind};base64,{data}">Download {html.escape(name)}</a>'
