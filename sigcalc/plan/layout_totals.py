"""What a whole layout takes: parts and pieces of wire of all its signals together."""

from __future__ import annotations

import dataclasses
from collections import defaultdict
from collections.abc import Iterable

from ..units import say
from .layout_model import LayoutFields
from .layout_result import CutTotal
from .result import PartLine, Study

_ONCE = "supply"
_SUMMED = "wire"


def part_totals(layout: LayoutFields, studies: Iterable[Study]) -> tuple[PartLine, ...]:
    """All signals' parts, equal ones together; the supply, the fuse and the feeder's wire once."""
    same: dict[tuple[str, str], list[PartLine]] = defaultdict(list)
    for study in studies:
        for line in study.parts:
            if line.part not in (_ONCE, _SUMMED):
                same[line.part, line.detail].append(line)
    lines = [_together(each) for _, each in sorted(same.items())]
    return (*lines, *_wires(layout, studies), *_supply(layout))


def _together(lines: list[PartLine]) -> PartLine:
    """Equal parts as one line; of their notes the parts that they share."""
    first, *others = ([each.strip() for each in line.note.split(";")] for line in lines)
    note = "; ".join(each for each in first if all(each in other for other in others))
    return dataclasses.replace(lines[0], count=sum(line.count for line in lines), note=note)


def _wires(layout: LayoutFields, studies: Iterable[Study]) -> list[PartLine]:
    """The wire of the signals' own pieces, and that of the feeder, there and back."""
    own: dict[str, float] = defaultdict(float)
    for study in studies:
        for cut in study.cuts:
            own[cut.wire] += cut.length
    feeder: dict[str, float] = defaultdict(float)
    for each in layout.feeders:
        feeder[each.wire] += each.length.m_as("m")
    lines = [
        PartLine(1, "wire of the signals", f"{wire}, {say(length, 'm')}", note="add waste")
        for wire, length in own.items()
    ]
    twin = [
        PartLine(1, "twin wire of the feeder", f"{wire}, {say(length, 'm')}", note="add waste")
        for wire, length in feeder.items()
    ]
    return [*lines, *twin]


def _supply(layout: LayoutFields) -> list[PartLine]:
    fuse = [] if layout.fuse is None else [PartLine(1, "fuse", layout.fuse, note="in the supply's lead")]
    return [*fuse, PartLine(1, "supply", layout.supply.name)]


def cut_totals(studies: Iterable[Study]) -> tuple[CutTotal, ...]:
    """All pieces to cut, equal ones together, the longest first."""
    whose: dict[tuple[str, str, float], list[str]] = defaultdict(list)
    for study in studies:
        for cut in study.cuts:
            whose[cut.wire, cut.colour, round(cut.length, 4)].append(study.plan.name)
    totals = [
        CutTotal(len(names), wire, colour, length, tuple(dict.fromkeys(names)))
        for (wire, colour, length), names in whose.items()
    ]
    return tuple(sorted(totals, key=lambda each: (each.wire, -each.length, each.colour)))
