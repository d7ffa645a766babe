"""The plan as a text file (TOML): read with all faults at once, written whole or not at all, comments kept."""

from __future__ import annotations

import os
import re
import tempfile
import tomllib
from pathlib import Path
from typing import Any, TypeVar

import tomlkit
from tomlkit.exceptions import TOMLKitError

from ..errors import PlanError
from .model import VERSION, PlanFields
from .section import came
from .text import dump, plain

__all__ = ["dump", "parse", "plain", "read", "save"]

_MOST_BYTES = 100_000  # a plan has about four thousand; more is no plan, and a stranger's file must not fill the memory
# A chain of names joined by points: a plan has two of them, and tomllib takes the cube of their number in time.
_ENDLESS_KEY = re.compile(r"""(?<![\w-])(?:(?:[\w-]+|"[^"\n]*"|'[^'\n]*')[ \t]*\.[ \t]*){40}""")
_LARGEST = 2**63
_LONGEST_NAME = 160

Made = TypeVar("Made", bound=PlanFields)


def parse(text: str, make: type[Made]) -> Made:
    """The plan in a text, as a `make`; raises PlanError with every fault and its place."""
    if not isinstance(text, str):
        raise PlanError([f"file: needs the text of a plan, but {type(text).__name__} came"])
    plan = _make(make, read_toml(text))
    try:
        plan._document = tomlkit.parse(_without_mark(text))
    except (TOMLKitError, ValueError, RecursionError) as error:
        raise PlanError([f"file: not readable as TOML: {error}"]) from None
    return plan


def read_toml(text: str) -> dict[str, Any]:
    """The data alone, quickly and strictly: only what is a plan goes on to the parser that keeps comments."""
    if len(text) > _MOST_BYTES or _ENDLESS_KEY.search(text):
        raise PlanError(["file: too large or too deeply nested for a plan; a plan is a page of text"])
    try:
        return _small_numbers(tomllib.loads(_without_mark(text)))
    except tomllib.TOMLDecodeError as error:
        said = str(error).replace(r"Illegal character '\n'", "a text without its second quotation mark")
        raise PlanError([f"file: not readable as TOML: {said}"]) from None
    except (RecursionError, ValueError) as error:  # a thousand brackets; a whole number of thousands of digits
        what = "nested too deeply" if isinstance(error, RecursionError) else "a whole number is too large"
        raise PlanError([f"file: not readable as TOML: {what}"]) from None


def _without_mark(text: str) -> str:
    """The text without the mark that some editors put in front of UTF-8."""
    return text.removeprefix("\ufeff")


def _small_numbers(held: Any) -> Any:
    """The same data; ValueError for a whole number beyond TOML's 64 bits, which no sentence could show."""
    if isinstance(held, int) and abs(held) > _LARGEST:
        raise ValueError
    for each in held.values() if isinstance(held, dict) else held if isinstance(held, list) else ():
        _small_numbers(each)
    return held


def _make(make: type[Made], given: dict[str, Any]) -> Made:
    """The plan of the data; what is wrong with the version is said beside all other faults."""
    version = given.get("version")
    wrong = _wrong_version(version)
    if not wrong:
        return make(**given)
    if type(version) is int and version > VERSION:
        raise PlanError([wrong])  # its fields may rightly be others than ours
    try:
        make(**given | {"version": VERSION})
    except PlanError as error:
        raise PlanError([wrong, *error.faults]) from None
    raise PlanError([wrong])


def _wrong_version(version: Any) -> str:
    if version is None:
        return f"version: missing; write version = {VERSION} in the first line"
    if type(version) is int and version > VERSION:
        return (
            f"version: this file is of version {came(version)}, and this library reads up to {VERSION}; update sigcalc"
        )
    if type(version) is not int or version != VERSION:
        return f"version: needs the number {VERSION}, without quotes, but {came(version)} came"
    return ""


def read(path: str | Path) -> str:
    """The text of a plan file; raises PlanError where there is none."""
    path = _path(path)
    try:
        if not path.is_file():  # a device or a pipe would never end
            path.stat()
            raise PlanError([f"file: {_shown(path)} is no file; give the name of a plan's file"])
        with path.open("rb") as file:
            held = file.read(_MOST_BYTES + 1)
    except OSError as error:
        raise PlanError([f"file: {_shown(path)} cannot be read: {error.strerror or error}"]) from None
    if len(held) > _MOST_BYTES:
        raise PlanError([f"file: {_shown(path.name)} is too large for a plan; a plan is a page of text"])
    try:
        return held.decode("utf-8")
    except UnicodeDecodeError:
        raise PlanError([f"file: {_shown(path.name)} is not text in UTF-8; save it as UTF-8 in your editor"]) from None


def _path(path: Any) -> Path:
    if not isinstance(path, str | os.PathLike) or not str(path) or "\0" in str(path):
        raise PlanError([f"file: needs the name of a file, but {came(path)} came"])
    return Path(path)


def _shown(path: Any) -> str:
    """A file's name for a sentence; a very long one keeps its end."""
    text = str(path)
    return text if len(text) <= _LONGEST_NAME else "…" + text[-_LONGEST_NAME:]


def _is_device(path: Path) -> bool:
    try:
        return path.exists() and not path.is_file()
    except OSError:  # a name that no system takes: writing says what is wrong with it
        return False


def save(plan: PlanFields, path: str | Path) -> None:
    """Write the plan to `path`: first whole into a new file beside it, which then takes the old one's place."""
    target = Path(os.path.realpath(_path(path)))  # through a link, so that the link stays one
    if _is_device(target):  # a file would take its place
        raise PlanError([f"file: {_shown(target)} cannot be written: it is no file; give the name of a plan's file"])
    text = dump(plan)
    try:
        descriptor, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.", suffix=".new")
        try:
            with os.fdopen(descriptor, "w", encoding="utf-8", newline="\n") as file:
                file.write(text)
                file.flush()
                os.fsync(file.fileno())
            Path(name).chmod(target.stat().st_mode if target.exists() else 0o666 & ~_umask())
            Path(name).replace(target)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise
    except OSError as error:
        raise PlanError(
            [f"file: {_shown(target)} cannot be written: {error.strerror or error}; the old file is untouched"]
        ) from None


def _umask() -> int:
    """What the person's settings take away from a new file's permissions (it can only be read by setting it)."""
    mask = os.umask(0o077)
    os.umask(mask)
    return mask
