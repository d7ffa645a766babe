"""The plan as a text file (TOML): read with all faults at once, written whole or not at all, comments kept."""

from __future__ import annotations

import contextlib
import glob
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
from .section import shown
from .text import dump, plain

try:
    import fcntl
except ImportError:  # Windows, where no open file can be removed
    fcntl = None

__all__ = ["dump", "parse", "place", "place_to_write", "plain", "read", "save", "write"]

# A chain of names joined by points: a plan has two of them, and tomllib takes the cube of their number in time.
_ENDLESS_KEY = re.compile(r"""(?<![\w-])(?:(?:[\w-]+|"[^"\n]*"|'[^'\n]*')[ \t]*\.[ \t]*){40}""")
_LARGEST = 2**63
_LONGEST_NAME = 160
_LONGEST_FILE_NAME = 255  # bytes, on the usual systems
_NEW = ".new"
_NOWHERE = re.compile(
    r"(?is)(?:con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³]|conin\$|conout\$)[ ]*(?:\..*)?"
    r"""|.*[<>:"|?*\\\x00-\x1f].*|.*[. ]"""
)
"""Names and signs that Windows keeps for itself."""

Made = TypeVar("Made", bound=PlanFields)


def parse(text: str, make: type[Made], kept: bool = True) -> Made:
    """The plan in a text, as a `make`; raises PlanError with every fault and its place.

    A text that is not `kept` is read for its data alone: its notes, which take a second for 100 kB, are not looked at.
    """
    if not isinstance(text, str):
        raise PlanError([f"file needs the text of a plan; you gave something of type {type(text).__name__}"])
    plan = _make(make, read_toml(text, make.most_bytes))
    plan._document = _without_mark(text)
    if kept:
        try:
            tomlkit.parse(plan._document)
        except (TOMLKitError, ValueError, RecursionError) as error:
            raise PlanError([f"file: not readable as TOML: {str(error)[:_LONGEST_NAME]}"]) from None
    return plan


def read_toml(text: str, most: int) -> dict[str, Any]:
    """The data alone, quickly and strictly: only what is a plan goes on to the parser that keeps comments."""
    if len(text) > most or _ENDLESS_KEY.search(text):
        raise PlanError(["file: too large or too deeply nested for a plan; a plan is a page of text"])
    try:
        return _small_numbers(tomllib.loads(_without_mark(text)))
    except tomllib.TOMLDecodeError as error:
        said = str(error).replace(r"Illegal character '\n'", "a text without its second quotation mark")
        raise PlanError([f"file: not readable as TOML: {said[:_LONGEST_NAME]}"]) from None
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
        raise PlanError([wrong, *error.listed], error.more) from None
    raise PlanError([wrong])


def _wrong_version(version: Any) -> str:
    if version is None:
        return f"version: missing; give version = {VERSION} in the first line"
    if type(version) is int and version > VERSION:
        return (
            f"version: this file is of version {shown(version)}, and this library reads up to {VERSION}; update sigcalc"
        )
    if type(version) is not int or version != VERSION:
        return f"version needs the number {VERSION}, without quotes; you gave {shown(version)}"
    return ""


def read(path: str | Path, most: int) -> str:
    """The text of a plan file of at most so many bytes; raises PlanError where there is none."""
    path = place(path)
    try:
        if not path.is_file():  # a device or a pipe would never end
            path.stat()
            raise PlanError([f"file: {_shown(path)} is no file; give the name of a plan's file"])
        with path.open("rb") as file:
            held = file.read(most + 1)
    except OSError as error:
        raise PlanError([f"file: {_shown(path)} cannot be read: {error.strerror or error}"]) from None
    if len(held) > most:
        raise PlanError([f"file: {_shown(path.name)} is too large for a plan; a plan is a page of text"])
    try:
        return held.decode("utf-8")
    except UnicodeDecodeError:
        raise PlanError([f"file: {_shown(path.name)} is not text in UTF-8; save it as UTF-8 in your editor"]) from None


def place(path: Any) -> Path:
    """The file meant, with the home folder in place of a ~ in front."""
    if not isinstance(path, str | os.PathLike) or not os.fspath(path) or "\0" in str(path):
        raise PlanError([f"file needs the name of a file; you gave {shown(path)}"])
    try:
        os.fsencode(path)
        meant = Path(os.fsdecode(path))
        return meant.expanduser() if len(meant.parts) > 1 else meant
    except UnicodeError:
        raise PlanError([f"file needs a name without half characters (surrogates); you gave {shown(path)}"]) from None
    except RuntimeError:  # ~somebody
        raise PlanError([f"file: {shown(path)} names the home folder of nobody here; type the folder's name"]) from None


def place_to_write(path: Any) -> Path:
    """The file to write; PlanError for a name that not every system takes: files are handed on."""
    meant = place(path)
    if _NOWHERE.fullmatch(meant.name):
        said = f"file: {_shown(meant.name)!r} cannot be a file's name on every computer; leave out "
        kept = "a point or blank at the end, and the names CON, PRN, AUX, NUL, COM1 to 9 and LPT1 to 9"
        raise PlanError([f'{said}< > : " | ? * \\, {kept}'])
    if len(os.fsencode(meant.name)) > _LONGEST_FILE_NAME:
        raise PlanError([f"file: {_shown(meant.name)!r} is too long for a file's name; type a shorter one"])
    return meant


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
    """Write the plan to `path`, once the text to be written has been read back; see `write`."""
    text = dump(plan)
    try:
        parse(text, type(plan))
    except PlanError as error:
        raise PlanError(
            ["file: nothing was written, for what would be written could not be read again; report it", *error.faults]
        ) from None
    write(path, text)


def write(path: str | Path, text: str) -> None:
    """Write a text: first whole into a new file beside the old one, which then takes the old one's place."""
    target = Path(os.path.realpath(place_to_write(path)))  # through a link, so that the link stays one
    if _is_device(target):  # a file would take its place
        raise PlanError([f"file: {_shown(target)} cannot be written: it is no file; give the name of a file"])
    try:
        _clear_leftovers(target)
        descriptor, name = _new_file(target)
        try:
            with os.fdopen(descriptor, "w", encoding="utf-8", newline="") as file:
                file.write(text)
                file.flush()
                os.fsync(file.fileno())
                Path(name).chmod(target.stat().st_mode if target.exists() else 0o666 & ~_umask())
                if fcntl is not None:  # while it is locked; where there are no such locks, only a closed file is moved
                    Path(name).replace(target)
            if fcntl is None:
                Path(name).replace(target)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise
    except OSError as error:
        raise PlanError(
            [f"file: {_shown(target)} cannot be written: {error.strerror or error}; the old file is untouched"]
        ) from None


def _mark(target: Path) -> str:
    """How the names of files begin that are to take the place of `target`."""
    return f".{target.name[:50]}."


def _new_file(target: Path) -> tuple[int, str]:
    """A new file beside the old one, locked while it is open: it is no leftover."""
    while True:
        descriptor, name = tempfile.mkstemp(dir=target.parent, prefix=_mark(target), suffix=_NEW)
        with contextlib.suppress(OSError):  # a disk without locks
            _lock(descriptor, wait=True)
        if Path(name).exists():  # else it was taken for a leftover before it was locked
            return descriptor, name
        os.close(descriptor)


def _clear_leftovers(target: Path) -> None:
    """Remove what killed saves of this file have left, and nothing that another one is writing at this moment."""
    for each in target.parent.glob(f"{glob.escape(_mark(target))}*{_NEW}"):
        with contextlib.suppress(OSError):  # the one being written: locked, or, without locks, not to be removed
            if fcntl is None:
                each.unlink()
            else:
                with each.open("r+b") as left:
                    _lock(left.fileno(), wait=False)
                    each.unlink()


def _lock(descriptor: int, wait: bool) -> None:
    """Lock an open file until it is closed; OSError where another holds it and there is no waiting."""
    if fcntl is not None:
        fcntl.flock(descriptor, fcntl.LOCK_EX | (0 if wait else fcntl.LOCK_NB))


def _umask() -> int:
    """What the person's settings take away from a new file's permissions (it can only be read by setting it)."""
    mask = os.umask(0o077)
    os.umask(mask)
    return mask
