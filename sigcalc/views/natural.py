"""What a result looks like by itself in a notebook: its picture, where one is the natural answer, and its figures.

`sigcalc` hands `picture` and `html` to the records (`units/record.py`) when they are first used, for the floors below
may not draw.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from functools import singledispatch
from typing import Any

import numpy as np

from ..design.bench.diagnosis import Diagnosis
from ..design.bench.expected import ExpectedReadings
from ..design.board.board import Board
from ..design.board.feeder import BoardStudy, study_board
from ..design.findings import Finding
from ..design.lamp.drive import OperatingPoint
from ..design.lamp.resistor import Choice
from ..design.pair.two_lead_pair import PairPoint, TwoLeadPair
from ..design.power.load import Load
from ..design.power.run_time import RunTime
from ..design.train.passing_train import PassingTrain
from ..errors import SigcalcError
from ..lessons.talk import Talk
from ..parts.led import Led
from ..parts.table import PartsTable
from ..plan.layout_study import LayoutStudy
from ..plan.result import Study
from ..units import say
from .battery_or_adapter import run_time_picture
from .board import board_picture
from .curves import Curves
from .findings import findings_html
from .led_circuit import one_led_circuit
from .let_the_train_do_it import passing_timeline
from .picture import Picture
from .readings import ranking
from .sheet import circuit_picture
from .signal_circuit import signal_circuit
from .table import Table
from .which_resistor import colour_band_picture

_COLUMNS = 7  # of a table of parts: more do not fit beside each other
_NODES = 40  # of a board whose picture can still be taken in at a glance


def picture(result: Any) -> Picture | None:
    """The picture that is the natural answer to a result; None where there is none."""
    return next((draw(result) for kind, draw in _PICTURES.items() if isinstance(result, kind)), None)


def _of_one(draw: Callable[[Any, str], Picture]) -> Callable[[Any], Picture | None]:
    """A drawing of one point, and none of an array of them."""
    return lambda point: None if np.ndim(point.si.current) else draw(point, "supply")


def _bands(choice: Choice) -> Picture:
    return colour_band_picture(choice.bands, f"{say(choice.si.resistance, 'ohm')}, {say(choice.tolerance, '')}")


def _board(study: BoardStudy) -> Picture | None:
    return board_picture(study.state()) if len(study.board.nodes) <= _NODES else None


_PICTURES: dict[type, Callable[[Any], Picture | None]] = {
    Choice: _bands,
    OperatingPoint: _of_one(one_led_circuit),
    PairPoint: _of_one(signal_circuit),
    TwoLeadPair: lambda pair: Curves().picture([pair.red, pair.green]),
    Led: lambda led: Curves().picture(led),
    RunTime: lambda run: run_time_picture(run) if isinstance(run.load, Load) else None,  # a bare current has no light
    BoardStudy: _board,
    Board: lambda board: _board(study_board(board)),
    PassingTrain: passing_timeline,
    Study: lambda study: circuit_picture(study, "red") if study.points else None,
    LayoutStudy: lambda study: _board(study.board),
    Diagnosis: ranking,
}


@singledispatch
def html(result: Any) -> str:
    """A record's picture, if it has one, a table of its figures, and its findings."""
    table = Table(_title(result), ("What", "How much"), tuple(result.figures().items())).html()
    return f"{_drawn(result)}{table}{findings_html(_findings(result))}"


def _drawn(result: Any) -> str:
    shown = picture(result)
    return "" if shown is None else shown.html()


@html.register
def _(study: BoardStudy) -> str:
    table = _table(study.board.name, {each.name: each.figures() for each in study.signals()})
    return f"{_drawn(study)}{findings_html(study.findings)}{table.html()}"


@html.register
def _(study: Study | LayoutStudy) -> str:
    rows = tuple((each.label, each.text) for each in study.figures.values())
    return f"{_drawn(study)}{findings_html(study.findings)}{Table(repr(study), ('What', 'How much'), rows).html()}"


@html.register
def _(expected: ExpectedReadings) -> str:
    rows = tuple((each.point.name, each.point.where, each.point.setting, each.text) for each in expected.readings)
    heads = ("Measure", "Where", "Meter on", "Should read")
    return Table(repr(expected), heads, rows, expected.assumptions[0]).html()


@html.register
def _(told: Diagnosis | PassingTrain) -> str:
    return f"{_drawn(told)}{findings_html(told.findings)}"


@html.register(PartsTable)
def _(parts: PartsTable) -> str:
    said = {name: getattr(part, "figures", dict)() for name, part in parts.items()}
    return _table(f"{len(parts)} parts", said, "Each part by its name; its figures(name) give the sources.").html()


@html.register
def _(talk: Talk) -> str:
    rows = tuple((each.name, f"{each.minutes:g}", each.panel, each.question) for each in talk.scene)
    return Table(repr(talk), ("Scene", "Minutes", "Panel", "Question"), rows, " ".join(talk.notes)).html()


def _table(caption: str, said: Mapping[str, Mapping[str, str]], sentence: str = "") -> Table:
    """A row for each name, a column for each of the first figures."""
    columns = [each for each in dict.fromkeys(key for row in said.values() for key in row) if each not in _ASIDE]
    rows = [(name, *(row.get(each, "") for each in columns[:_COLUMNS])) for name, row in said.items()]
    return Table(caption, ("name", *columns[:_COLUMNS]), rows, sentence)


_ASIDE = {"name", "note", "model"}


def _findings(result: Any) -> tuple[Finding, ...]:
    """What the result's own checks say; nothing of an array, which is judged value by value."""
    try:
        return result.findings if hasattr(type(result), "findings") else ()
    except SigcalcError:
        return ()


def _title(result: Any) -> str:
    """A record's kind and name in words: "Operating point", "Battery 9 V alkaline"."""
    words = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", type(result).__name__)
    return f"{words[:1]}{words[1:].lower()} {getattr(result, 'name', '')}".strip()
