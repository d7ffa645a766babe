"""The build sheet's test page: rows to tick with their bands, and what to look at where the meter says otherwise."""

from __future__ import annotations

from typing import Any, NamedTuple

from ..parts.meter import AC_VOLTS, AMPERES, DIODE, OHMS, VOLTS
from ..plan.bench_readings import FaultTable, fault_table
from ..plan.result import BenchTest, Reading

_ALONE = "the supply, before it feeds the signal"
_POWERED = "with the power on"
_UNPOWERED = "with the power off"
_CURRENT = "the current, last of all"

_LOOKS = {"none": "both dark", "both": "both lit"}


class Otherwise(NamedTuple):
    """Another reading than the right one, and the faults to look for."""

    lamp: str
    reads: str
    faults: str


class ReadingRow(NamedTuple):
    """One place for the meter: in `shown` the right band with the signal set for "red" and "green", or for "" alone."""

    name: str
    where: str
    setting: str
    shown: dict[str, str]
    otherwise: tuple[Otherwise, ...]


class Stage(NamedTuple):
    """The readings between two changes of the power or of the meter's sockets."""

    name: str
    rows: tuple[ReadingRow, ...]


class LookRow(NamedTuple):
    """What is seen in both positions, where to look, and what to measure first."""

    seen: tuple[str, str]
    faults: str
    measure: str


class BenchPage(NamedTuple):
    """Everything on the test page, in words."""

    test: BenchTest
    right: tuple[str, str]
    looks: tuple[LookRow, ...]
    supply: Stage
    stages: tuple[Stage, ...]
    glaring: str
    hidden: str
    remedies: dict[str, str]


def bench_page(test: BenchTest) -> BenchPage:
    """The test page of a plan's signal; takes some tenths of a second, as every fault is tried on its circuit."""
    table = fault_table(test)
    supply, *stages = (
        Stage(name, _rows(table, [each for each in test.readings if _stage(each) == name]))
        for name in (_ALONE, _POWERED, _UNPOWERED, _CURRENT)
    )
    return BenchPage(
        test=test,
        right=_seen(table.right),
        looks=tuple(
            LookRow(_seen(each.seen), _list(each.faults), "" if each.measure is None else each.measure.name)
            for each in table.looks
        ),
        supply=supply,
        stages=tuple(stages),
        glaring=_list(table.glaring),
        hidden=_list(table.hidden),
        remedies=_by_remedy(table.remedies),
    )


def _stage(reading: Reading) -> str:
    """Between which changes of power and sockets a reading is taken."""
    if reading.setting in (OHMS, DIODE):
        return _UNPOWERED
    if reading.setting == AMPERES:
        return _CURRENT
    return _ALONE if reading.setting in (VOLTS, AC_VOLTS) and not reading.lamp else _POWERED


def _seen(seen: dict[str, str]) -> tuple[str, str]:
    return _LOOKS.get(seen["red"], seen["red"]), _LOOKS.get(seen["green"], seen["green"])


def _list(names: Any) -> str:
    """Names of faults; some have commas in them."""
    return "; ".join(names)


def _by_remedy(remedies: dict[str, str]) -> dict[str, str]:
    """Each remedy once, by the names of all faults that it cures."""
    names: dict[str, list[str]] = {}
    for name, remedy in remedies.items():
        names.setdefault(remedy, []).append(name)
    return {_list(group): remedy for remedy, group in names.items()}


def _rows(table: FaultTable, readings: list[Reading]) -> tuple[ReadingRow, ...]:
    """The readings with both positions of the signal in one row."""
    rows: dict[str, list[Reading]] = {}
    for each in readings:
        rows.setdefault(each.base, []).append(each)
    return tuple(_row(table, name, group) for name, group in rows.items())


def _row(table: FaultTable, name: str, group: list[Reading]) -> ReadingRow:
    otherwise = tuple(
        Otherwise(each.lamp, sign.text, _list(sign.faults)) for each in group for sign in table.signs[each.name]
    )
    first = group[0]
    return ReadingRow(
        name=name,
        where=first.where,
        setting=first.setting,
        shown={each.lamp: each.shown for each in group},
        otherwise=otherwise,
    )
