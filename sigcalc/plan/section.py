"""What all sections of a plan share, and how a fault of one becomes a sentence."""

from __future__ import annotations

import difflib
import unicodedata
from collections.abc import Callable, Mapping
from typing import Annotated, Any, TypeVar, get_args

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, ValidationError
from pydantic_core import PydanticCustomError, core_schema

from ..errors import MOST_FAULTS, Fault, PlanError, SigcalcError
from ..units.reading import quoted

_LONGEST_NAME = 60
_JOINERS = "\u200c\u200d"  # some scripts cannot be written without them
_UNPRINTABLE = ("Cc", "Cf", "Cs", "Zl", "Zp")

Found = TypeVar("Found")


class Section(BaseModel):
    """A section of the plan: unknown fields are refused, and nothing changes after it is made."""

    model_config = ConfigDict(extra="forbid", frozen=True, validate_default=True)

    def with_changes(self, /, **changes: Any) -> Any:
        """A copy with some fields given anew, checked like the first; raises PlanError with all their faults."""
        try:
            return type(self)(**{name: getattr(self, name) for name in self.model_fields_set} | changes)
        except ValidationError as error:
            raise plan_error(error, type(self)) from None


def given(usual: Any, says: str, **limits: Any) -> Any:
    """A field with its usual value, and what it means in words."""
    return Field(default=usual, description=says, **limits)


def optional(says: str, example: Any, **limits: Any) -> Any:
    """A field that may be left out: what it means in words, and an example of what to write."""
    return Field(default=None, description=says, examples=[example], **limits)


def section_of(annotation: Any) -> type[Section] | None:
    """The section that a field holds, or may hold; None where it holds none."""
    for each in (annotation, *get_args(annotation)):
        if isinstance(each, type) and issubclass(each, Section):
            return each
    return None


def refusal(
    sentence: str = "", place: tuple[str | int, ...] = (), error: SigcalcError | None = None, **facts: str
) -> PydanticCustomError:
    """The exception by which a validator refuses, with a `SigcalcError`, its sentence or its facts.

    `place` leads from the field or section that is checked to the one at fault.
    """
    return PydanticCustomError("fault", "{error}", {"error": error or SigcalcError(sentence, **facts), "place": place})


def known(find: Callable[[], Found]) -> Found:
    """What a look-up or a fit finds; its refusal becomes a fault of the field or section."""
    try:
        return find()
    except SigcalcError as error:
        raise refusal(error=error) from None


class NameIn:
    """Marks a text that names something in a table of parts, by its name of today; `NameIn[leds]` is such a text."""

    def __class_getitem__(cls, table: Any) -> Any:
        return Annotated[str, cls(table)]

    def __init__(self, table: Any):
        self.table = table

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> core_schema.CoreSchema:
        return core_schema.no_info_after_validator_function(self._found, handler(source))

    def _found(self, name: str) -> str:
        return known(lambda: self.table.today(name))


def known_part(tables: Mapping[str, Any], kind: str | None, name: str | None) -> None:
    """Refuse a name that is not in the table of its kind; where no kind has a table, that is said elsewhere."""
    if name is None or kind not in tables:
        return
    for other, table in tables.items():
        if other != kind and name in table:
            raise refusal(f'{quoted(name)} is of another kind; choose the kind "{other}"')
    known(lambda: tables[kind][name])


def above_zero(value: Any, place: tuple[str | int, ...] = (), advice: str = "") -> Any:
    """A quantity above zero, or None."""
    if value is not None and not value.magnitude > 0:
        raise refusal(place=place, need="to be above zero", given=f"{value:g~P}", advice=advice)
    return value


def one_line(text: str) -> str:
    """The text, if it is one for a line of a page."""
    bad = [each for each in text if unicodedata.category(each) in _UNPRINTABLE and each not in _JOINERS]
    if bad:
        raise refusal(need="a line of plain text", given=f"one with {bad[0]!r} in it", advice="take that character out")
    if not text.strip():
        raise refusal(need="a text", given="only blanks")
    return text


Line = Annotated[str, AfterValidator(one_line)]
"""A text for one line of a page: no control characters, none that turn the writing direction."""

_NEEDS = {
    "model_type": "a section of its own, headed by its name in square brackets",
    "string_type": "a text in quotes",
    "string_unicode": "a text without half characters (surrogates)",
    "string_too_short": "a text",
    "string_too_long": "{max_length} characters at most",
    "tuple_type": "a list in square brackets",
    "bool_type": "true or false, without quotes",
    "float_parsing": "a number, without quotes",
    "float_type": "a number, without quotes",
    "int_type": "a whole number, without quotes",
    "dict_type": "a table in curly brackets",
    "missing": "two texts, a voltage and a current",
    "too_long": "two texts, a voltage and a current",
}


def plan_error(error: ValidationError, fields: type[BaseModel]) -> PlanError:
    """All that is wrong with what was given for a plan, or a section of one, whose model is `fields`."""
    found = error.errors(include_url=False)
    return PlanError([_fault(each, fields) for each in found[:MOST_FAULTS]], max(0, len(found) - MOST_FAULTS))


def _fault(found: Any, fields: type[BaseModel]) -> Fault:
    """One of pydantic's errors as a fault with its place; `fields` is the whole plan's model."""
    # a key of a table that is at fault stands before pydantic's word for it
    path, told = tuple(each for each in found["loc"] if each != "[key]"), found.get("ctx", {})
    if found["type"] == "fault":
        path, error = path + told.get("place", ()), told["error"]
        inside = section_at(path, fields)
        if inside is not None and error.argument in inside.model_fields:
            path = (*path, error.argument)
        elif inside is not None and error.argument:  # a name that the file does not have
            error = SigcalcError(str(error))
        return Fault(path, error)
    if found["type"] == "extra_forbidden":
        return Fault(path, SigcalcError(_unknown_field(path, fields)))
    if found["type"] == "missing" and isinstance(path[-1], str):
        return Fault(
            path, SigcalcError(f"missing ({section_at(path[:-1], fields).model_fields[path[-1]].description})")
        )
    if found["type"] == "too_long" and told["max_length"] > 2:  # two is the length of a point
        what = "characters" if isinstance(found["input"], str) else "entries"
        most = f"{told['max_length']} {what} at most"
        return Fault(path, SigcalcError(need=most, given=f"{len(found['input'])}"))
    need = _NEEDS.get(found["type"], found["msg"].replace("Input should be", "to be")).format_map(told)
    return Fault(path, SigcalcError(need=need, given=shown(found["input"])))


def shown(value: Any) -> str:
    """A value that a stranger's file holds, cut short for a sentence."""
    try:
        if isinstance(value, list | tuple) and value and all(isinstance(each, str) for each in value):
            return " and ".join(map(quoted, value[:4])) + (" and more" if len(value) > 4 else "")
        return quoted(value)
    except (ValueError, RecursionError):  # a whole number of thousands of digits, a list a thousand deep
        return "something too large to be shown"


def section_at(path: tuple[Any, ...], model: Any) -> Any:
    """The section at a place; None where a field of a section is there."""
    for each in path:
        if model is None or (isinstance(each, str) and each not in model.model_fields):
            return None
        if isinstance(each, str):  # else the number of an entry in a list
            model = section_of(model.model_fields[each].annotation)
    return model


def _unknown_field(path: tuple[Any, ...], model: Any) -> str:
    names = list(section_at(path[:-1], model).model_fields)
    near = difflib.get_close_matches(str(path[-1])[:_LONGEST_NAME], names, n=1)
    hint = f"; did you mean {near[0]!r}?" if near else f"; the fields here are {', '.join(names)}"
    return f"no field of a {getattr(model, 'called', 'plan')}{hint}"
