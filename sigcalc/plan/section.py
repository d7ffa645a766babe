"""What all sections of a plan share, and how a fault of one becomes a sentence."""

from __future__ import annotations

import difflib
import re
import unicodedata
from collections.abc import Callable
from typing import Annotated, Any, TypeVar, get_args

from pydantic import AfterValidator, BaseModel, ConfigDict, ValidationError
from pydantic_core import PydanticCustomError

from ..design.lamp.series_resistance import MOST_TOLERANCE
from ..errors import MOST_FAULTS, PlanError, SigcalcError
from ..units import say
from ..units.reading import quoted

_LONGEST_PLACE = 60
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


def section_of(annotation: Any) -> type[Section] | None:
    """The section that a field holds, or may hold; None where it holds none."""
    for each in (annotation, *get_args(annotation)):
        if isinstance(each, type) and issubclass(each, Section):
            return each
    return None


def refusal(sentence: str) -> PydanticCustomError:
    """The exception by which a validator refuses with a sentence of its own."""
    return PydanticCustomError("plan", "{sentence}", {"sentence": sentence})


def known(find: Callable[[], Found]) -> Found:
    """What a look-up or a fit finds; its refusal becomes a fault of the field or section."""
    try:
        return find()
    except SigcalcError as error:
        raise refusal(str(error)) from None


def at_most_half(tolerance: float) -> float:
    """A tolerance up to that which the corners of a design are worked out for."""
    if tolerance > MOST_TOLERANCE:
        raise refusal(f"needs to be {say(MOST_TOLERANCE, '')} at most, but {say(tolerance, '')} came; 5 % is usual")
    return tolerance


def _one_line(text: str) -> str:
    bad = [each for each in text if unicodedata.category(each) in _UNPRINTABLE and each not in _JOINERS]
    if bad:
        raise refusal(f"needs a line of plain text, but it holds {bad[0]!r}; take that character out")
    if not text.strip():
        raise refusal("needs a text, but only blanks came")
    return text


Line = Annotated[str, AfterValidator(_one_line)]
"""A text that stands in one line of a page: no control characters, none that turn the writing direction."""

_NEEDS = {
    "model_type": "needs a section of its own, headed by its name in square brackets",
    "string_type": "needs a text in quotes",
    "string_unicode": "needs a text without half characters (surrogates)",
    "string_too_short": "needs a text",
    "string_too_long": "needs {max_length} characters at most",
    "tuple_type": "needs a list in square brackets",
    "bool_type": "needs true or false, without quotes",
    "float_parsing": "needs a number, without quotes",
    "float_type": "needs a number, without quotes",
}


def plan_error(error: ValidationError, fields: type[BaseModel]) -> PlanError:
    """All that is wrong with what was given for a plan, or a section of one, whose model is `fields`."""
    found = error.errors(include_url=False)
    return PlanError([_fault(each, fields) for each in found[:MOST_FAULTS]], max(0, len(found) - MOST_FAULTS))


def _fault(error: Any, fields: type[BaseModel]) -> str:
    """One of pydantic's errors as a sentence that starts with the place; `fields` is the whole plan's model."""
    place = _place(error["loc"]) or "plan"
    if error["type"] == "extra_forbidden":
        return f"{place}: {_unknown_field(error['loc'], fields)}"
    if error["type"] in ("plan", "unit"):
        sentence = _as_in_a_file(error["ctx"]["sentence"])
        return f"{place}: {sentence}" if error["loc"] else sentence  # that of the whole plan names its places itself
    if error["type"] == "missing" and isinstance(error["loc"][-1], str):
        return f"{place}: missing; give {_description(error['loc'], fields)}"
    if error["type"] in _NEEDS:
        needs = _NEEDS[error["type"]].format_map(error.get("ctx", {}))
    elif error["type"] == "too_long" and error["ctx"]["max_length"] > 2:  # two is the length of a point
        return f"{place}: needs {error['ctx']['max_length']} entries at most, but {len(error['input'])} came"
    elif error["type"] in ("too_long", "missing"):
        needs = "needs two texts, a voltage and a current"
    else:
        needs = error["msg"].replace("Input should be", "needs to be")
    return f"{place}: {needs}, but {came(error['input'])} came"


def _as_in_a_file(sentence: str) -> str:
    """What to type, as a plan file writes it and not as Python does."""
    sentence = re.sub(r" or (\w+)=Q\([^)]*\)", "", sentence)
    return re.sub(r'\b(\w+)=(?=")', r"\1 = ", sentence)


def came(value: Any) -> str:
    """A value that a stranger's file holds, cut short for a sentence."""
    try:
        if isinstance(value, list | tuple) and value and all(isinstance(each, str) for each in value):
            return " and ".join(map(quoted, value[:4])) + (" and more" if len(value) > 4 else "")
        return quoted(value)
    except (ValueError, RecursionError):  # a whole number of thousands of digits, a list a thousand deep
        return "something too large to be shown"


def _place(path: tuple[Any, ...]) -> str:
    """Where a fault lies, such as red.points.0; a field's name that is no word stands in quotes, cut short."""
    said = ".".join(str(each) if isinstance(each, int) or each.isidentifier() else repr(each) for each in path)
    return said if len(said) <= _LONGEST_PLACE else said[: _LONGEST_PLACE - 1] + "…"


def _description(path: tuple[Any, ...], model: Any) -> str:
    return _holder(path, model).model_fields[path[-1]].description


def _holder(path: tuple[Any, ...], model: Any) -> Any:
    """The section that a path's last name stands in."""
    for each in path[:-1]:
        if isinstance(each, int):  # the number of an entry in a list
            continue
        model = section_of(model.model_fields[each].annotation) or model
    return model


def _unknown_field(path: tuple[Any, ...], model: Any) -> str:
    model = _holder(path, model)
    near = difflib.get_close_matches(str(path[-1])[:_LONGEST_PLACE], list(model.model_fields), n=1)
    hint = f"; did you mean {near[0]!r}?" if near else f"; the fields here are {', '.join(model.model_fields)}"
    return f"no field of a plan{hint}"
