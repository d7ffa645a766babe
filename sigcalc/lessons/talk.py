"""A talk: what is on the wall, scene by scene, with the speaker's lines and the kit; in a text file like a plan's."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any, ClassVar

from pydantic import Field, ValidationError

from ..errors import Fault, PlanError, RangeError, SigcalcError
from ..plan.file import InFile
from ..plan.layout import Layout
from ..plan.layout_fields import in_words, same_names
from ..plan.plan import Plan
from ..plan.section import Line, given, plan_error
from ..plan.spreadsheet import MARK, csv_text
from ..units import Ratio, with_units
from ..units.plain import is_number, need_made, need_whole
from ..units.reading import quoted
from ..units.record import Shown
from .own_layout_talk import LAYOUT_SCENES, bench_of, own_layout
from .own_plan_talk import SCENES, Own
from .own_talk import BENCH, LEAST_MINUTES, MOST_MINUTES, Ranked, Wall, cut, kit_of, scenes_of, share_out
from .scene import MOST_SEATS, KitLine, Scene

MOST_SCENES, MOST_KIT, MOST_NOTES = 30, 60, 20


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
        (), "for the speaker: what the talk leaves out", max_length=MOST_NOTES
    )
    scene: tuple[Scene, ...] = Field(description="the scenes", max_length=MOST_SCENES)
    kit: tuple[KitLine, ...] = given((), "what to bring", max_length=MOST_KIT)
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

    @classmethod
    def from_plan(cls, plan: Plan, minutes: float = 15, seats: int = 30) -> Talk:
        """A talk with the parts of a plan: its supply, resistor and LEDs on the wall, its parts for every seat.

        A short one has fewer scenes, each of a minute and a half at least. Where a panel does not have a part, or its
        slider does not go so far, the nearest is shown or the scene left out: `notes` say so. Raises DesignError where
        nothing would light.
        """
        wall = Wall()
        own = Own(need_made(plan, "plan", Plan), wall)
        scenes = scenes_of(SCENES, own, wall)
        return cls._own(plan.name, scenes, kit_of(own.study.parts), wall, minutes, seats)

    @classmethod
    def from_layout(cls, layout: Layout, minutes: float = 15, seats: int = 30) -> Talk:
        """A talk on a layout's wires and supply, and on one of its signals, whose parts are there for every seat.

        As `from_plan`; raises PlanError where a signal's plan was not loaded.
        """
        wall = Wall()
        own = own_layout(need_made(layout, "layout", Layout), wall)
        scenes = scenes_of(LAYOUT_SCENES, own, wall)
        return cls._own(layout.name, scenes, kit_of(own.signal.study.parts) | bench_of(layout), wall, minutes, seats)

    @classmethod
    def _own(cls, name: str, scenes: Ranked, kit: dict[str, KitLine], wall: Wall, minutes: float, seats: int) -> Talk:
        seats = need_whole(seats, "seats", 1, MOST_SEATS, 20)
        if not is_number(minutes) or not LEAST_MINUTES <= minutes <= MOST_MINUTES:
            need = f"a number of minutes from {LEAST_MINUTES:g} to {MOST_MINUTES:g}"
            raise RangeError(argument="minutes", need=need, given=quoted(minutes), example="15")
        return cls(
            name=cut(f"How {name} works", 80),
            seats=seats,
            scene=share_out(scenes, float(minutes), wall),
            notes=tuple(wall.notes[:MOST_NOTES]),
            kit=tuple((kit | BENCH).values())[:MOST_KIT],
        )

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
