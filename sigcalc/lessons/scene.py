"""A scene of a talk (one panel, one question for the room), and a line of the kit list: sections of a talk's file."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field, PlainValidator, field_validator

from ..plan.section import Line, Section, given, one_line, optional, refusal, shown
from ..units.plain import is_number

COVERS = ("verdict", "picture", "sentence")
MOST_SEATS = 500
_LARGEST = 1e9
_SHORT = 60
LONGEST_SETTING = 300  # a drawer of many resistors


def _setting(value: Any) -> Any:
    """What a control can say: yes or no, a number, or a text."""
    number = is_number(value) and abs(value) <= _LARGEST
    if not (number or isinstance(value, bool) or (isinstance(value, str) and len(value) <= LONGEST_SETTING)):
        raise refusal(need="a number, a text in quotes, or true or false", given=shown(value))
    return one_line(value) if isinstance(value, str) and value else value


_Name = Annotated[Line, Field(min_length=1, max_length=_SHORT)]
Settings = dict[_Name, Annotated[Any, PlainValidator(_setting)]]
"""What the controls of a panel say, by their names."""
_Choice = Annotated[Line, Field(min_length=1, max_length=24)]


class Scene(Section):
    """One panel on the wall, a question for the room, and what is said and done meanwhile."""

    name: Annotated[Line, Field(min_length=1, max_length=40)] = Field(description="name of the scene")
    panel: _Name = Field(description='name of the panel, such as "why a resistor"')
    minutes: float = Field(description="how long it takes", gt=0, le=120, strict=True)
    start: Settings = given({}, "what the panel's controls say at first", max_length=20)
    question: Annotated[Line, Field(min_length=1, max_length=90)] = Field(description="for the room")
    choices: tuple[_Choice, ...] = given((), "what the room may bet on, for a show of hands", max_length=4)
    cover: tuple[Literal[*COVERS], ...] = given((), 'covered until asked for: "verdict", "picture", "sentence"')
    answer: Settings = given({}, "what is changed when the answer is shown", max_length=20)
    because: Line | None = optional("the reason in words", "The LED does not limit the current.", max_length=300)
    say: Line | None = optional("the speaker's line, never on the wall", "Hands up!", max_length=400)
    bench: Line | None = optional(
        "what to do at the bench meanwhile", "Let somebody turn the pair round.", max_length=700
    )
    take_home: Line | None = optional("a line for the hand-out", "Every LED needs a resistor.", max_length=160)

    @field_validator("choices")
    @classmethod
    def _something_to_choose(cls, choices: tuple[str, ...]) -> tuple[str, ...]:
        if len(choices) == 1:
            raise refusal(need="two choices or more, or none", given="one")
        return choices


class KitLine(Section):
    """A thing to bring."""

    item: Annotated[Line, Field(min_length=1, max_length=120)] = Field(description="what it is")
    each: int = given(0, "for every seat", ge=0, le=1000, strict=True)
    once: int = given(0, "for the speaker's bench", ge=0, le=1000, strict=True)

    @property
    def name(self) -> str:
        """The item: by it a line is found again in the file."""
        return self.item
