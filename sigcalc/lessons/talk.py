"""A talk: what is on the wall, scene by scene, with the speaker's lines and the kit; in a text file like a plan's."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any, ClassVar

from pydantic import Field, ValidationError

from ..errors import Fault, PlanError, SigcalcError
from ..plan.file import InFile
from ..plan.layout_fields import in_words, same_names
from ..plan.section import Line, given, plan_error
from ..plan.spreadsheet import MARK, csv_text
from ..units import Ratio, with_units
from ..units.plain import need_whole
from ..units.record import Shown
from .scene import MOST_SEATS, KitLine, Scene

_MOST_SCENES, _MOST_KIT = 30, 60


@dataclass(frozen=True)
class KitCount:
    """How many of an item to bring: for the seats, in reserve, and for the speaker."""

    item: str
    seats: int
    spare: int
    once: int

    @property
    def count(self) -> int:
        """All together."""
        return self.seats + self.spare + self.once


@dataclass(frozen=True)
class KitList:
    """What to bring for so many seats."""

    talk: str
    seats: int
    lines: tuple[KitCount, ...]

    def csv(self) -> str:
        """The list as comma-separated text for a spreadsheet, with room for prices."""
        heads = ("item", "count", "for the seats", "spare", "for the speaker", "price each", "price")
        return MARK + csv_text(
            heads, [(each.item, each.count, each.seats, each.spare, each.once, "", "") for each in self.lines]
        )


class Talk(InFile, Shown):
    """A talk for a club evening: scenes on the wall with questions for the room, and what to bring.

    Loaded from a text file (`load`, `save`), or made of a plan (`from_plan`) or layout (`from_layout`). Raises
    PlanError that lists all faults at once, each with its place. Whether its panels are there, and their controls
    what the talk asks for, is told by `sigcalc.panels.on_the_wall.faults_of`.
    """

    name: Annotated[Line, Field(min_length=1, max_length=80)] = Field(description="name of the talk")
    audience: Annotated[Line, Field(max_length=60)] = given("newcomers", "whom it is for")
    seats: int = given(20, "how many people sit there", ge=1, le=MOST_SEATS, strict=True)
    notes: tuple[Annotated[Line, Field(max_length=300)], ...] = given(
        (), "for the speaker: what the talk leaves out", max_length=20
    )
    scene: tuple[Scene, ...] = Field(description="the scenes", max_length=_MOST_SCENES)
    kit: tuple[KitLine, ...] = given((), "what to bring", max_length=_MOST_KIT)
    most_bytes: ClassVar[int] = 100_000
    called: ClassVar[str] = "talk"

    def __init__(self, /, **given: Any):
        faults, more = _lists_at_fault(given), 0
        try:
            super().__init__(**given)
        except ValidationError as error:
            own = plan_error(error, Talk)
            faults, more = [*own.listed, *faults], own.more
        if faults:
            raise PlanError([in_words(each, given) for each in faults], more)

    def __repr__(self) -> str:
        scenes = f"{len(self.scene)} scenes" if len(self.scene) > 1 else "one scene"
        return f"Talk {self.name}: {scenes}, {self.minutes:g} min, for {self.audience}"

    __str__ = __repr__

    @property
    def minutes(self) -> float:
        """How long all scenes take together."""
        return math.fsum(each.minutes for each in self.scene)

    def kit_list(self, seats: int | None = None, spares: Ratio = 0.1) -> KitList:
        """What to bring for so many seats (the talk's own if left out).

        What every seat gets is brought in reserve as well: the fraction `spares` of it, rounded up to one at least, or
        none where `spares` is 0.
        """
        seats = self.seats if seats is None else need_whole(seats, "seats", 1, MOST_SEATS, 20)
        return KitList(self.name, seats, tuple(_counted(each, seats, _read_spares(spares)) for each in self.kit))


@with_units(scalar=True)
def _read_spares(spares: Ratio) -> float:
    return float(spares)


def _counted(line: KitLine, seats: int, spares: float) -> KitCount:
    wanted = line.each * seats
    # a tenth of thirty is a little more than three in floats
    return KitCount(line.item, wanted, math.ceil(round(spares * wanted, 6)), line.once)


def _lists_at_fault(given: dict[str, Any]) -> list[Fault]:
    """What is wrong with the lists as wholes, be they read or raw: no scene at all, and a name that is there twice."""
    scenes = given.get("scene")
    none = isinstance(scenes, list | tuple) and not scenes
    found = [Fault(("scene",), SigcalcError("a talk needs at least one scene"))] if none else []
    return [*found, *same_names(given, "scene"), *same_names(given, "kit", "item")]
