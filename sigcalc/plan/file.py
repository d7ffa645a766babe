"""The plan as a text file (TOML): read with all faults at once, written whole or not at all, comments kept."""

from __future__ import annotations

import os
import re
import tempfile
import tomllib
from pathlib import Path
from typing import Any, TypeVar

import pint
import tomlkit
from tomlkit.exceptions import TOMLKitError

from ..errors import PlanError
from ..units import Kind, Q, kind_of
from ..units.quantity import unit as unit_of
from ..units.reading import UNITS
from .model import VERSION, PlanFields
from .section import Section, came

_MOST_BYTES = 100_000  # a plan has about four thousand; more is no plan, and a stranger's file must not fill the memory
# A chain of names joined by points: a plan has two of them, and tomllib takes the cube of their number in time.
_ENDLESS_KEY = re.compile(r"""(?<![\w-])(?:(?:[\w-]+|"[^"\n]*"|'[^'\n]*')[ \t]*\.[ \t]*){40}""")

_HEAD = (
    "A signal's plan for sigcalc. Values with a unit stand in quotes. What follows a # is a note;",
    "a note that holds a field can be made to count by taking the # in front of it away.",
)
_SI = ("V", "A", "ohm", "m", "K", "cd")

Made = TypeVar("Made", bound=PlanFields)


def parse(text: str, make: type[Made]) -> Made:
    """The plan in a text, as a `make`; raises PlanError with every fault and its place."""
    if not isinstance(text, str):
        raise PlanError([f"file: needs the text of a plan, but {type(text).__name__} came"])
    text = text.removeprefix("\ufeff")  # the mark that some editors put in front of UTF-8
    if len(text) > _MOST_BYTES or _ENDLESS_KEY.search(text):
        raise PlanError(["file: too large or too deeply nested for a plan; a plan is a page of text"])
    plan = _make(make, _read_toml(text))
    try:
        plan._document = tomlkit.parse(text)
    except (TOMLKitError, ValueError, RecursionError) as error:
        raise PlanError([f"file: not readable as TOML: {error}"]) from None
    return plan


def _read_toml(text: str) -> dict[str, Any]:
    """The data alone, quickly and strictly: only what is a plan goes on to the parser that keeps comments."""
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise PlanError([f"file: not readable as TOML: {error}"]) from None
    except (RecursionError, ValueError) as error:  # a thousand brackets; a whole number of thousands of digits
        raise PlanError([f"file: not readable as TOML: {type(error).__name__}"]) from None


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
            raise PlanError([f"file: {path} is no file; give the name of a plan's file"])
        with path.open("rb") as file:
            held = file.read(_MOST_BYTES + 1)
    except OSError as error:
        raise PlanError([f"file: {path} cannot be read: {error.strerror or error}"]) from None
    if len(held) > _MOST_BYTES:
        raise PlanError([f"file: {path.name} is too large for a plan; a plan is a page of text"])
    try:
        return held.decode("utf-8")
    except UnicodeDecodeError:
        raise PlanError([f"file: {path.name} is not text in UTF-8; save it as UTF-8 in your editor"]) from None


def _path(path: Any) -> Path:
    if not isinstance(path, str | os.PathLike) or not str(path) or "\0" in str(path):
        raise PlanError([f"file: needs the name of a file, but {came(path)} came"])
    return Path(path)


def save(plan: PlanFields, path: str | Path) -> None:
    """Write the plan to `path`: first whole into a new file beside it, which then takes the old one's place."""
    target = Path(os.path.realpath(_path(path)))  # through a link, so that the link stays one
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
            [f"file: {target} cannot be written: {error.strerror or error}; the old file is untouched"]
        ) from None


def _umask() -> int:
    """What the person's settings take away from a new file's permissions (it can only be read by setting it)."""
    mask = os.umask(0o077)
    os.umask(mask)
    return mask


def dump(plan: PlanFields) -> str:
    """The plan as text: the text it was loaded from with only the changed values replaced, or a new commented one."""
    if plan._document is None:
        document = _new_document(plan)
    else:
        document = tomlkit.parse(plan._document.as_string())  # a copy: the plan stays as it is
        _update(document, plan, type(plan)(**document.unwrap()))
    return document.as_string()


def plain(value: Any, info: Any = None) -> Any:
    """A field as TOML holds it: quantities as text, ratios in per cent, tuples as lists; read back, it is the same."""
    if info is not None and isinstance(value, float) and _is_ratio(info):
        said = f"{100 * value:.12g} %"
        return said if Q(said).m_as("") == value else value
    if isinstance(value, pint.Quantity):
        return _quantity(value)
    if isinstance(value, tuple):
        return [plain(each) for each in value]
    return value


def _is_ratio(info: Any) -> bool:
    kind = kind_of(info.annotation) or next((each for each in info.metadata if isinstance(each, Kind)), None)
    return kind is not None and kind.bare


def _quantity(value: pint.Quantity) -> str:
    """Number and unit as our own reading takes them, in the unit they were given in where it has a sign."""
    unit = f"{value.units:~P}".replace("Ω", "ohm").replace("°C", "degC")
    if unit not in UNITS:
        unit = next(each for each in _SI if value.check(Q(1, each).dimensionality))
        value = value.to(unit_of(unit))
    short = f"{value.magnitude:.12g}"
    return f"{short if float(short) == value.magnitude else repr(float(value.magnitude))} {unit}"


def _new_document(plan: PlanFields) -> tomlkit.TOMLDocument:
    document = tomlkit.document()
    for line in _HEAD:
        document.add(tomlkit.comment(line))
    for name, info in type(plan).model_fields.items():
        value = getattr(plan, name)
        if isinstance(value, Section):
            document.add(tomlkit.nl())
            document.add(name, _new_table(value))
        else:
            document.add(name, _item(value, info))
    return document


def _new_table(section: Section) -> Any:
    """All fields of a section, each with its note; one that holds nothing stands there as a note with an example."""
    table = tomlkit.table()
    for name, info in type(section).model_fields.items():
        value = getattr(section, name)
        if value is None:
            table.add(tomlkit.comment(f"{name} = {tomlkit.item(info.examples[0]).as_string()} # {info.description}"))
        else:
            table.add(name, _item(value, info))
    return table


def _item(value: Any, info: Any) -> Any:
    return tomlkit.item(plain(value, info)).comment(info.description)


def _update(table: Any, section: Section, before: Section) -> None:
    """Bring a table of the document up to date, leaving alone what says the same already."""
    for name, info in type(section).model_fields.items():
        value, old = getattr(section, name), getattr(before, name)
        if type(value) is type(old) and value == old:
            continue
        if isinstance(value, Section):
            if name not in table:
                table.add(name, tomlkit.table())
            _update(table[name], value, old)
        elif value is None:
            _remove(table, name, info)
        else:
            _replace(table, name, value, info)


def _remove(table: Any, name: str, info: Any) -> None:
    """Take a field out; what its builder noted behind it stays, as a note."""
    item = table.pop(name, None)
    if item is not None and item.trivia.comment.lstrip("# ") not in ("", info.description):
        table.add(tomlkit.comment(f"{name} = {item.as_string()} {item.trivia.comment}"))


def _replace(table: Any, name: str, value: Any, info: Any) -> None:
    """Set a value and keep the comment behind it."""
    if name not in table:
        table.add(name, _item(value, info))
        return
    trivia, item = table[name].trivia, tomlkit.item(plain(value, info))
    item.trivia.comment_ws, item.trivia.comment, item.trivia.trail = trivia.comment_ws, trivia.comment, trivia.trail
    table[name] = item
