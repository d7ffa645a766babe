"""The plan as a text file (TOML): read with all faults at once, written whole or not at all, comments kept."""

from __future__ import annotations

import os
import re
import tomllib
import typing
import uuid
from pathlib import Path
from typing import Any, ClassVar, Literal, Self

import pint
import tomlkit
from pydantic import PrivateAttr, field_validator
from tomlkit.container import Container
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AbstractTable, AoT, InlineTable, Table, Whitespace

from ..errors import PlanError
from ..units import Q, QuantityKind, kind_of
from ..units.quantity import unit as unit_of
from ..units.reading import ALIKE, UNITS
from .section import Section, given, refusal, section_of, shown

# A chain of names joined by points: a plan has two of them, and tomllib takes the cube of their number in time.
_ENDLESS_KEY = re.compile(r"""(?<![\w-])(?:(?:[\w-]+|"[^"\n]*"|'[^'\n]*')[ \t]*\.[ \t]*){40}""")
_LONGEST_NAME = 160
_LONGEST_FILE_NAME = 255  # bytes, on the usual systems
_NOWHERE = re.compile(
    r"(?is)(?:con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³]|conin\$|conout\$)[ ]*(?:\..*)?"
    r"""|.*[<>:"|?*\\\x00-\x1f].*|.*[. ]"""
)
"""Names and signs that Windows keeps for itself."""

VERSION = 1
"""The version of the files that this library writes and reads."""


class InFile(Section):
    """What a plan, a layout and a talk share: each is a file, and remembers the text it was read from."""

    version: Literal[1] = given(VERSION, "version of this file's format")
    most_bytes: ClassVar[int]
    called: ClassVar[str] = "plan"
    _document: str | None = PrivateAttr(None)

    @field_validator("version", mode="before")
    @classmethod
    def _known_version(cls, version: Any) -> Any:
        if version is None:
            raise refusal(f"missing; give version = {VERSION} in the first line")
        if type(version) is not int or version != VERSION:
            raise refusal(need=f"the number {VERSION}, without quotes", given=shown(version))
        return version

    def with_changes(self, /, **changes: Any) -> Any:
        """A copy with some sections or fields given anew; it keeps the comments of the file it came from."""
        changed = super().with_changes(**changes)
        changed._document = self._document
        return changed

    def __eq__(self, other: object) -> bool:
        """Whether both say the same; the comments of their files do not count."""
        fields = type(self).model_fields
        return type(other) is type(self) and all(getattr(self, name) == getattr(other, name) for name in fields)

    def __hash__(self) -> int:
        raise TypeError("two that are equal may say it in other units; use the name")

    @classmethod
    def load(cls, path: str | Path) -> Self:
        """What a text file holds; raises PlanError that lists every fault with its place."""
        return cls.parse(read(path, cls.most_bytes, cls.called))

    @classmethod
    def parse(cls, text: str, kept: bool = True) -> Self:
        """What a text holds; raises PlanError that lists every fault with its place.

        A text that is not `kept` is read for its data alone: its notes, which take a second for 100 kB, are not
        looked at.
        """
        if not isinstance(text, str):
            raise PlanError(
                [f"file needs the text of a {cls.called}; you gave something of type {type(text).__name__}"]
            )
        data = read_toml(text, cls.most_bytes, cls.called)
        version = data.get("version")
        if type(version) is int and version > VERSION:  # its fields may rightly be others than ours
            said = f"this file is of version {shown(version)}, and this library reads up to {VERSION}; update sigcalc"
            raise PlanError([f"version: {said}"])
        made = cls(**{"version": None} | data)
        made._document = _without_mark(text)
        if kept:
            try:
                tomlkit.parse(made._document)
            except (TOMLKitError, ValueError, RecursionError) as error:
                raise PlanError([f"file: not readable as TOML: {str(error)[:_LONGEST_NAME]}"]) from None
        return made

    def save(self, path: str | Path) -> None:
        """Write it as text, the builder's own comments kept; the old file stays until the new one is whole."""
        text = self.text()
        try:
            self.parse(text)
        except PlanError as error:
            said = "nothing was written, for what would be written could not be read again; report it"
            raise PlanError([f"file: {said}", *error.faults]) from None
        write(path, text)

    def text(self) -> str:
        """What `save` writes: the text it was loaded from with only the changed values replaced, or a new one."""
        if self._document is None:
            return _new_document(self).as_string()
        document = tomlkit.parse(_ended(self._document))
        _update(document, self, type(self)(**document.unwrap()))
        return document.as_string()


def read_toml(text: str, most: int, called: str = "plan") -> dict[str, Any]:
    """The data alone, quickly and strictly: only what is a plan goes on to the parser that keeps comments."""
    if len(text) > most or _ENDLESS_KEY.search(text):
        raise PlanError([f"file: too large or too deeply nested for a {called}; a {called} is a page of text"])
    try:
        return tomllib.loads(_without_mark(text))
    except tomllib.TOMLDecodeError as error:
        said = str(error).replace(r"Illegal character '\n'", "a text without its second quotation mark")
        raise PlanError([f"file: not readable as TOML: {said[:_LONGEST_NAME]}"]) from None
    except (RecursionError, ValueError) as error:  # a thousand brackets; a whole number of thousands of digits
        what = "nested too deeply" if isinstance(error, RecursionError) else "a whole number is too large"
        raise PlanError([f"file: not readable as TOML: {what}"]) from None


def _without_mark(text: str) -> str:
    """The text without the mark that some editors put in front of UTF-8."""
    return text.removeprefix("\ufeff")


def read(path: str | Path, most: int, called: str = "plan") -> str:
    """The text of a plan's file of at most so many bytes; raises PlanError where there is none."""
    path = place(path)
    try:
        if not path.is_file():  # a device or a pipe would never end
            path.stat()
            raise _refused(path, f"is no file; give the name of a {called}'s file")
        with path.open("rb") as file:
            held = file.read(most + 1)
    except OSError as error:
        raise _refused(path, f"cannot be read: {error.strerror or error}") from None
    if len(held) > most:
        raise _refused(path.name, f"is too large for a {called}; a {called} is a page of text")
    try:
        return held.decode("utf-8")
    except UnicodeDecodeError:
        raise _refused(path.name, "is not text in UTF-8; save it as UTF-8 in your editor") from None


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
        kept = "a point or blank at the end, and the names CON, PRN, AUX, NUL, COM1 to 9 and LPT1 to 9"
        said = f"cannot be a file's name on every computer; leave out < > : \" | ? * \\, {kept}"
        raise _refused(repr(meant.name), said)
    if len(os.fsencode(meant.name)) > _LONGEST_FILE_NAME:
        raise _refused(meant.name, "is too long for a file's name; type a shorter one")
    return meant


def _refused(path: Any, said: str) -> PlanError:
    """What is wrong with a file; a very long name keeps its end."""
    text = str(path)
    return PlanError([f"file: {text if len(text) <= _LONGEST_NAME else '…' + text[-_LONGEST_NAME:]} {said}"])


def write(path: str | Path, text: str) -> None:
    """Write a text: first whole into a new file beside the old one, which then takes the old one's place."""
    target = Path(os.path.realpath(place_to_write(path)))  # through a link, so that the link stays one
    new = target.with_name(f".{target.name[:50]}.{uuid.uuid4().hex[:8]}.new")
    try:
        if target.exists() and not target.is_file():  # a file would take the place of a folder or a device
            raise _refused(target, "cannot be written: it is no file; give the name of a file")
        try:
            with new.open("x", encoding="utf-8", newline="") as file:
                file.write(text)
                file.flush()
                os.fsync(file.fileno())
            if target.exists():
                new.chmod(target.stat().st_mode)
            new.replace(target)
        except BaseException:
            new.unlink(missing_ok=True)
            raise
    except OSError as error:
        raise _refused(target, f"cannot be written: {error.strerror or error}; the old file is untouched") from None


_HEAD = (
    "Values with a unit are in quotes. What follows a # is a note;",
    "a note that holds a field can be made to count by taking the # in front of it away.",
)
_SI = ("V", "A", "ohm", "m", "K", "cd", "s", "F", "m/s", "Ah")


def _ended(text: str) -> str:
    """The text with an end to its last line: what is added comes in a line of its own."""
    return text if text.endswith("\n") else text + ("\r\n" if "\r\n" in text else "\n")


def plain(value: Any, info: Any = None) -> Any:
    """A field as TOML holds it: quantities as text, ratios in per cent, tuples as lists; read back, it is the same."""
    if info is not None and isinstance(value, float) and _is_ratio(info):
        said = f"{100 * value:.12g} %"
        return said if Q(said).m_as("") == value else value
    if isinstance(value, pint.Quantity):
        return _quantity(value)
    if isinstance(value, tuple):
        return [plain(each) for each in value]
    if isinstance(value, dict):
        table = tomlkit.inline_table()
        table.update(value)
        return table
    return value


def _is_ratio(info: Any) -> bool:
    kind = kind_of(info.annotation) or next((each for each in info.metadata if isinstance(each, QuantityKind)), None)
    return kind is not None and kind.bare


def _quantity(value: pint.Quantity) -> str:
    """Number and unit as our own reading takes them, in the unit they were given in where it has a sign."""
    unit = f"{value.units:~P}".translate(ALIKE).replace("°C", "degC")  # pint's micro sign differs between versions
    if unit not in UNITS:
        unit = next(each for each in _SI if value.check(Q(1, each).dimensionality))
        value = value.to(unit_of(unit))
    short = f"{value.magnitude:.12g}"
    return f"{short if float(short) == value.magnitude else repr(float(value.magnitude))} {unit}"


def _new_document(plan: InFile) -> tomlkit.TOMLDocument:
    document = tomlkit.document()
    for line in (f"A {type(plan).__name__.lower()} for sigcalc.", *_HEAD):
        document.add(tomlkit.comment(line))
    return _filled(document, plan)


def _filled(container: Any, section: Section) -> Any:
    """A document or table with all fields of a section, each with its note.

    A section that a whole document does not use is in it as a note with its usual values.
    """
    whole = isinstance(container, tomlkit.TOMLDocument)
    for name, info in type(section).model_fields.items():
        value, kind = getattr(section, name), section_of(info.annotation)
        if kind is None:
            _add_field(container, name, value, info)
            continue
        if whole:
            container.add(tomlkit.nl())
        if is_list(info):
            container.add(name, AoT([_new_table(each) for each in value]))
        elif value is not None:
            container.add(name, _new_table(value))
        elif whole:
            container.add(tomlkit.comment(f"[{name}] # {kind.__doc__.splitlines()[0]}"))
            for line in _new_table(kind()).as_string().splitlines():
                container.add(tomlkit.comment(f"  {line}"))
    return container


def is_list(info: Any) -> bool:
    """Whether a field holds a list of sections."""
    return typing.get_origin(info.annotation) is tuple and section_of(info.annotation) is not None


def _new_table(section: Section) -> Any:
    return _filled(tomlkit.table(), section)


def _add_field(table: Any, name: str, value: Any, info: Any) -> None:
    """A field with its note; one that holds nothing is a note with an example."""
    if value is None:
        table.add(tomlkit.comment(f"{name} = {tomlkit.item(info.examples[0]).as_string()} # {info.description}"))
    else:
        table.add(name, _item(value, info))


def _item(value: Any, info: Any) -> Any:
    return tomlkit.item(plain(value, info)).comment(info.description)


def _update(table: Any, section: Section, before: Section) -> None:
    """Bring a table of the document up to date, leaving alone what says the same already."""
    for name, info in type(section).model_fields.items():
        value, old = getattr(section, name), getattr(before, name)
        if type(value) is type(old) and value == old and not _by_old_name(table.get(name), value):
            continue
        if is_list(info):
            _update_list(table, name, value, old)
        elif isinstance(value, Section):
            if name not in table:
                table.add(name, tomlkit.table() if old is not None else _new_table(value))
            if old is not None:
                _update(table[name], value, old)
        elif section_of(info.annotation) is not None:
            _remove_section(table, name)
        elif value is None:
            _remove(table, name, info)
        else:
            # tomlkit keeps the note behind a value that is replaced
            table[name] = tomlkit.item(plain(value, info)) if name in table else _item(value, info)


def _by_old_name(held: Any, value: Any) -> bool:
    """Whether the file still calls a part, somewhere in what is the same, by the name of an earlier edition."""
    if isinstance(value, Section):
        return isinstance(held, dict) and any(_by_old_name(held.get(name), each) for name, each in value)
    if isinstance(value, tuple):
        return any(map(_by_old_name, held or (), value))
    return isinstance(value, str) and isinstance(held, str) and held != value


def _update_list(table: Any, name: str, sections: tuple[Section, ...], before: tuple[Section, ...]) -> None:
    """Bring a list of sections up to date: each keeps its notes under a new name and in another place."""
    tables, places = table.get(name), _places_before(sections, before)
    if places != list(range(len(before))):
        if not isinstance(tables, AoT) or not sections:  # written in one line, or nothing to order
            table.pop(name, None)
            if sections:
                table.add(name, AoT([_new_table(each) for each in sections]))
            return
        pairs = zip(sections, places, strict=True)
        entries = [_new_table(each) if place is None else tables[place] for each, place in pairs]
        table[name] = AoT(_in_new_order(list(tables), entries), parsed=True)
    for entry, each, place in zip(table[name], sections, places, strict=True):
        if place is not None:
            _update(entry, each, before[place])


def _places_before(sections: tuple[Section, ...], before: tuple[Section, ...]) -> list[int | None]:
    """Where each section stood: known by its name, or by all else, or, in a list as long as before, by its place."""
    named = {each.name: place for place, each in enumerate(before)}
    places = [named.get(each.name) for each in sections]
    for number, each in enumerate(sections):
        if places[number] is None:
            free = [place for place in range(len(before)) if place not in places]
            alike = [place for place in free if dict(before[place]) | {"name": each.name} == dict(each)]
            same_place = [number] if number in free and len(sections) == len(before) else []
            places[number] = next(iter(alike + same_place), None)
    return places


def _in_new_order(old: list[Table], entries: list[Table]) -> list[Table]:
    """The tables of a list in another order; the lines of notes above each one's header go with it."""
    above = [[], *(_take_heading(each) for each in old)]
    what_follows = above.pop()
    for table, notes in zip(old, above, strict=True):
        table.trivia.indent = "".join(note.as_string() for _, note in notes) + table.trivia.indent
    for each in entries[:-1]:
        lines = _last_lines(each)
        if not (lines and isinstance(lines[-1][1], Whitespace)):
            lines.append((None, Whitespace("\n")))
    _last_lines(entries[-1]).extend(what_follows)
    return entries


def _last_lines(table: Table) -> list[Any]:
    """The lines (key and item) of the innermost table that a table of the text ends with."""
    body = table.value.body
    return _last_lines(body[-1][1]) if body and isinstance(body[-1][1], Table) else body


def _take_heading(table: Table) -> list[Any]:
    """Take out the notes right above the next header, with a blank line before them."""
    body = _last_lines(table)
    blanks = [place for place, (_, item) in enumerate(body) if isinstance(item, Whitespace)]
    if not blanks or any(key is not None for key, _ in body[blanks[-1] :]):
        return []
    notes = body[blanks[-1] + 1 :]
    del body[blanks[-1] + 1 :]
    return notes


def _remove(table: Any, name: str, info: Any) -> None:
    """Take a field out; what its builder noted behind it stays, as a note."""
    if name in table:
        item = _held(table, name)
        note = item.trivia.comment
        del table[name]
        if note.lstrip("# ") not in ("", info.description):
            table.add(tomlkit.comment(f"{name} = {item.as_string()} {note}"))


def _remove_section(document: Any, name: str) -> None:
    """Take an optional section out; it stays at the end of the text as a note, so that nothing is lost."""
    held = document[name]
    text = f"[{getattr(held, 'display_name', None) or name}] {held.trivia.comment}\n{held.as_string()}"
    if isinstance(held, InlineTable):
        text = f"{name} = {held.as_string()} {held.trivia.comment}"
    first, *others = [line.strip() for line in text.splitlines() if line.strip()]
    note = [first, *(f"  {line}" for line in others)]
    del document[name]
    if "\n".join(f"# {line}" for line in note) not in document.as_string():  # not again at every switching off
        document.add(tomlkit.nl())
        for line in note:
            document.add(tomlkit.comment(line))


def _held(table: Any, name: str) -> Any:
    """The item with what is around it; a table gives a truth value without."""
    inner = table.value if isinstance(table, AbstractTable) else table
    return inner.item(name) if isinstance(inner, Container) else table[name]
