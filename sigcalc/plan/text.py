"""A plan as TOML text: a new one with every field described, or the builder's own brought up to date."""

from __future__ import annotations

import typing
from typing import Any

import pint
import tomlkit
from tomlkit.container import Container
from tomlkit.items import AbstractTable, AoT, InlineTable, Table, Whitespace

from ..units import Q, QuantityKind, kind_of
from ..units.quantity import unit as unit_of
from ..units.reading import ALIKE, UNITS
from .model import PlanFields
from .section import Section, section_of

_HEAD = (
    "Values with a unit stand in quotes. What follows a # is a note;",
    "a note that holds a field can be made to count by taking the # in front of it away.",
)
_SI = ("V", "A", "ohm", "m", "K", "cd", "s", "F", "m/s", "Ah")


def dump(plan: PlanFields) -> str:
    """The plan as text: the text it was loaded from with only the changed values replaced, or a new commented one."""
    if plan._document is None:
        document = _new_document(plan)
    else:
        document = tomlkit.parse(_ended(plan._document))
        _update(document, plan, type(plan)(**document.unwrap()))
    return document.as_string()


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


def _new_document(plan: PlanFields) -> tomlkit.TOMLDocument:
    document = tomlkit.document()
    for line in (f"A {type(plan).__name__.lower()} for sigcalc.", *_HEAD):
        document.add(tomlkit.comment(line))
    for name, info in type(plan).model_fields.items():
        value = getattr(plan, name)
        section = section_of(info.annotation)
        if section is None:
            _add_field(document, name, value, info)
            continue
        document.add(tomlkit.nl())
        if is_list(info):
            document.add(name, _new_list(value))
        elif value is None:
            _note_section(document, name, section)
        else:
            document.add(name, _new_table(value))
    return document


def is_list(info: Any) -> bool:
    """Whether a field holds a list of sections."""
    return typing.get_origin(info.annotation) is tuple and section_of(info.annotation) is not None


def _new_list(sections: tuple[Section, ...]) -> Any:
    tables = tomlkit.aot()
    for each in sections:
        tables.append(_new_table(each))
    return tables


def _note_section(document: Any, name: str, section: type[Section]) -> None:
    """A section that is not used, as a note with its usual values; its fields stand further in than other notes."""
    document.add(tomlkit.comment(f"[{name}] # {_first_line(section)}"))
    for line in _new_table(section()).as_string().splitlines():
        document.add(tomlkit.comment(f"  {line}"))


def _first_line(section: type[Section]) -> str:
    return (section.__doc__ or "").splitlines()[0]


def _new_table(section: Section) -> Any:
    """All fields of a section, each with its note."""
    table = tomlkit.table()
    for name, info in type(section).model_fields.items():
        value = getattr(section, name)
        if section_of(info.annotation) is not None:
            if value is not None:
                table.add(name, _new_table(value))
        else:
            _add_field(table, name, value, info)
    return table


def _add_field(table: Any, name: str, value: Any, info: Any) -> None:
    """A field with its note; one that holds nothing stands there as a note with an example."""
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
        if type(value) is type(old) and value == old:
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
            _replace(table, name, value, info)


def _update_list(table: Any, name: str, sections: tuple[Section, ...], before: tuple[Section, ...]) -> None:
    """Bring a list of sections up to date: each keeps its notes under a new name and in another place."""
    tables, places = table.get(name), _places_before(sections, before)
    if isinstance(tables, AoT) and sections:
        pairs = zip(sections, places, strict=True)
        entries = [_new_table(each) if place is None else tables[place] for each, place in pairs]
        if places[: len(before)] != list(range(len(before))):
            table[name] = AoT(_in_new_order(list(tables), entries), parsed=True)
        else:
            for each in entries[len(before) :]:
                tables.append(each)
    elif places != list(range(len(before))):
        if tables is not None:
            del table[name]
        if sections:
            table.add(name, _new_list(sections))
        return
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
    """Take out the notes that stand right above the next header, with a blank line before them."""
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


def _replace(table: Any, name: str, value: Any, info: Any) -> None:
    """Set a value and keep the note behind it."""
    if name not in table:
        table.add(name, _item(value, info))
        return
    trivia, item = _held(table, name).trivia, tomlkit.item(plain(value, info))
    item.trivia.comment_ws, item.trivia.comment, item.trivia.trail = trivia.comment_ws, trivia.comment, trivia.trail
    table[name] = item


def _held(table: Any, name: str) -> Any:
    """The item with what stands around it; a table gives a truth value without."""
    inner = table.value if isinstance(table, AbstractTable) else table
    return inner.item(name) if isinstance(inner, Container) else table[name]
