"""The plan as a text file (TOML): read with all faults at once, written whole or not at all, comments kept."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path
from typing import Any, TypeVar

import pint
import tomlkit
from tomlkit.exceptions import TOMLKitError

from ..errors import PlanError
from ..units import Kind, kind_of
from .model import VERSION, PlanFields, Section

_MOST_BYTES = 200_000  # a plan has about two thousand; more is no plan, and a stranger's file must not fill the memory
_MOST_DEPTH = 20


Made = TypeVar("Made", bound=PlanFields)


def parse(text: str, make: type[Made]) -> Made:
    """The plan in a text, as a `make`; raises PlanError with every fault and its place."""
    deepest = max((line.count("[") + line.count("{") for line in text.splitlines()), default=0)
    if len(text) > _MOST_BYTES or deepest > _MOST_DEPTH * 10:
        raise PlanError(["file: too large or too deeply nested for a plan; a plan is a page of text"])
    try:
        document = tomlkit.parse(text)
        given = document.unwrap()
    except TOMLKitError as error:
        raise PlanError([f"file: not readable as TOML: {error}"]) from None
    except (RecursionError, ValueError, OverflowError) as error:
        raise PlanError([f"file: not readable as TOML: {type(error).__name__}"]) from None
    _check_version(given)
    plan = make(**given)
    plan._document = document
    return plan


def _check_version(given: dict[str, Any]) -> None:
    version = given.get("version")
    if version is None:
        raise PlanError([f"version: missing; write version = {VERSION} in the first line"])
    if type(version) is not int:
        raise PlanError([f"version: needs the number {VERSION}, without quotes, but {version!r} came"])
    if version > VERSION:
        raise PlanError(
            [f"version: this file is of version {version}, and this library reads up to {VERSION}; update sigcalc"]
        )


def read(path: str | Path) -> str:
    """The text of a plan file; raises PlanError where there is none."""
    path = Path(path)
    try:
        if path.stat().st_size > _MOST_BYTES:
            raise PlanError([f"file: {path.name} is too large for a plan; a plan is a page of text"])
        return path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError:
        raise PlanError([f"file: {path.name} is not text in UTF-8; save it as UTF-8 in your editor"]) from None
    except OSError as error:
        raise PlanError([f"file: {path} cannot be read: {error.strerror or error}"]) from None


def save(plan: PlanFields, path: str | Path) -> None:
    """Write the plan to `path`: first whole into a new file beside it, which then takes the old one's place."""
    target = Path(path)
    text = dump(plan)
    try:
        descriptor, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.", suffix=".new")
        try:
            with os.fdopen(descriptor, "w", encoding="utf-8", newline="\n") as file:
                file.write(text)
                file.flush()
                os.fsync(file.fileno())
            Path(name).chmod(target.stat().st_mode if target.exists() else 0o644)
            Path(name).replace(target)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise
    except OSError as error:
        raise PlanError(
            [f"file: {target} cannot be written: {error.strerror or error}; the old file is untouched"]
        ) from None


def dump(plan: PlanFields) -> str:
    """The plan as text: the text it was loaded from with only the changed values replaced, or a new commented one."""
    if plan._document is None:
        document = _new_document(plan)
    else:
        document = tomlkit.parse(plan._document.as_string())  # a copy: the plan stays as it is
        _update(document, plan)
    return document.as_string()


def plain(value: Any, info: Any = None) -> Any:
    """A field as TOML holds it: quantities as text, ratios in per cent, tuples as lists."""
    if info is not None and isinstance(value, float) and _is_ratio(info):
        return f"{100 * value:.12g} %"
    if isinstance(value, pint.Quantity):
        return f"{value.magnitude:.12g} {value.units:~P}".replace("Ω", "ohm").replace("°C", "degC")
    if isinstance(value, tuple):
        return [plain(each) for each in value]
    return value


def _is_ratio(info: Any) -> bool:
    kind = kind_of(info.annotation) or next((each for each in info.metadata if isinstance(each, Kind)), None)
    return kind is not None and kind.bare


def _fields(section: Section) -> dict[str, Any]:
    """The fields that hold something, in the order of the model."""
    return {name: value for name in type(section).model_fields if (value := getattr(section, name)) is not None}


def _new_document(plan: PlanFields) -> tomlkit.TOMLDocument:
    document = tomlkit.document()
    document.add(
        tomlkit.comment(
            "A signal's plan for sigcalc. Values with a unit stand in quotes; lines that start with # are notes."
        )
    )
    for name, value in _fields(plan).items():
        if isinstance(value, Section):
            document.add(tomlkit.nl())
            document.add(name, _new_table(value))
        else:
            document.add(name, _item(value, type(plan).model_fields[name]))
    return document


def _new_table(section: Section) -> Any:
    table = tomlkit.table()
    for name, value in _fields(section).items():
        table.add(name, _item(value, type(section).model_fields[name]))
    return table


def _item(value: Any, info: Any) -> Any:
    item = tomlkit.item(plain(value, info))
    return item.comment(info.description) if info.description else item


def _update(document: Any, plan: Section) -> None:
    """Bring a document up to date with the plan, leaving alone what says the same already."""
    given = type(plan)(**document.unwrap()) if isinstance(plan, PlanFields) else None
    _update_section(document, plan, given)


def _update_section(table: Any, section: Section, before: Section | None) -> None:
    for name, info in type(section).model_fields.items():
        value, old = getattr(section, name), None if before is None else getattr(before, name)
        if isinstance(value, Section):
            if value != old or before is None:
                if name not in table:
                    table.add(name, tomlkit.table())
                _update_section(table[name], value, old)
        elif value is None:
            if name in table:
                del table[name]
        elif before is None or not _same(value, old):
            _replace(table, name, plain(value, info))


def _same(value: Any, old: Any) -> bool:
    return type(value) is type(old) and bool(value == old)


def _replace(table: Any, name: str, value: Any) -> None:
    """Set a value and keep the comment behind it."""
    trivia = table[name].trivia if name in table and hasattr(table[name], "trivia") else None
    item = tomlkit.item(value)
    if trivia is not None:
        item.trivia.comment_ws, item.trivia.comment, item.trivia.trail = trivia.comment_ws, trivia.comment, trivia.trail
    table[name] = item
