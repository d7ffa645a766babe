"""What the study of a layout gives: every signal, the board, totals to buy and to cut; plain data on request."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import Any

from ..design.board.board_study import BoardStudy
from ..design.caution import Caution, work_cautions
from ..design.findings import Finding, worst
from .result import Band, PartLine, Study

LAMPS = ("red", "green")


@dataclass(frozen=True)
class LampOnBoard:
    """One lamp of a signal on the layout: its current and the share of its own light, nominally and at worst."""

    current: float
    share: float
    share_least: float


@dataclass(frozen=True)
class LayoutSignal:
    """One signal of the layout: where it hangs, the voltage there, its lamps, and its own study.

    `darkened` says how many other signals a short at its place takes along.
    """

    name: str
    at: str
    plan: str
    voltage: float
    lamps: dict[str, LampOnBoard]
    darkened: int
    study: Study


@dataclass(frozen=True)
class CutTotal:
    """All pieces of one wire in one colour and length; metres."""

    count: int
    wire: str
    colour: str
    length: float
    whose: tuple[str, ...]


@dataclass(frozen=True)
class LayoutStudy:
    """Everything the library has to say about a layout."""

    layout: Any
    board: BoardStudy
    signals: tuple[LayoutSignal, ...]
    figures: dict[str, Band]
    findings: tuple[Finding, ...]
    parts: tuple[PartLine, ...]
    cuts: tuple[CutTotal, ...]

    @property
    def grade(self) -> str:
        """The gravest grade among the findings."""
        return worst(self.findings)

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """What to heed at the bench, with the layout's supply, and with trains that set signals."""
        train = any(each.study.trigger is not None for each in self.signals)
        return work_cautions(self.layout.supply.record(), train)

    def to_dict(self) -> dict[str, Any]:
        """The study as plain JSON data; each figure is a value with its unit, each signal's own study included."""
        return {
            "name": self.layout.name,
            "grade": self.grade,
            "figures": {key: band.to_dict() for key, band in self.figures.items()},
            "findings": [asdict(each) for each in self.findings],
            "cautions": [asdict(each) for each in self.cautions],
            "signals": [_signal(each) for each in self.signals],
            "parts": [asdict(each) | {"bands": list(each.bands)} for each in self.parts],
            "cuts": [
                {
                    "count": each.count,
                    "wire": each.wire,
                    "colour": each.colour,
                    "length": {"value": each.length, "unit": "m"},
                    "whose": list(each.whose),
                }
                for each in self.cuts
            ],
        }


def _signal(signal: LayoutSignal) -> dict[str, Any]:
    return {
        "name": signal.name,
        "at": signal.at,
        "plan": signal.plan,
        "voltage": {"value": signal.voltage, "unit": "V"},
        "lamps": {
            lamp: {
                "current": {"value": each.current, "unit": "A"},
                "share": {"value": each.share, "unit": ""},
                "share_least": {"value": each.share_least, "unit": ""},
            }
            for lamp, each in signal.lamps.items()
        },
        "darkened_by_a_short_here": signal.darkened,
        "study": signal.study.to_dict(),
    }
