"""Where a meter can be put to a signal on the bench: each point with its setting, its effort and its cautions."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from ...parts.meter import AMPERES, DIODE, OHMS
from ..caution import Caution
from .circuit import LAMPS, BenchCircuit

BENCH = "bench"
"""What cautions are about that hold for everything on the bench."""


@dataclass(frozen=True)
class MeasuringPoint:
    """One measurement: its name, the setting of the meter, where the probes go, and the position of the signal.

    `effort` grows with what has to be done for it (1: the probes alone); common practice, no source. `position` is
    the lamp that the signal is set for, "" where the power is off or it does not matter.
    """

    name: str
    place: str
    setting: str
    position: str
    where: str
    effort: float
    cautions: tuple[Caution, ...]

    @property
    def base(self) -> str:
        """The name without the position of the signal."""
        return base_name(self.name, self.position)

    @property
    def signed(self) -> bool:
        """Whether a minus in front of the reading means something."""
        return self.setting.startswith("DC")

    def __str__(self) -> str:
        position = f", signal set for {self.position}" if self.position else ""
        return f"{self.setting}, {self.where}{position}"


def base_name(name: str, position: str) -> str:
    """The name of a point without the position of the signal: "pair, red" is "pair"."""
    return name.removesuffix(f", {position}") if position else name


@cache
def bench_cautions() -> tuple[Caution, ...]:
    """Every caution for work on the bench, in the order of the file."""
    with files("sigcalc.parts").joinpath("data", "bench_cautions.csv").open(encoding="utf-8", newline="") as file:
        return tuple(Caution(**row) for row in csv.DictReader(file))


@cache
def measuring_points(circuit: BenchCircuit) -> dict[str, MeasuringPoint]:
    """The points that a circuit offers, by name: "pair, red" is across the pair with the signal set for red.

    They stand in the order in which to take them: with the power on, with it off, the current last; in each what needs
    least first.
    """
    points = [
        _point(circuit, row, position)
        for row in _rows()
        if not row["needs"] or row["needs"] in circuit.features
        for position in _positions(circuit, row["position"])
    ]
    ordered = sorted(points, key=lambda each: (each.setting == AMPERES, each.setting in (OHMS, DIODE), each.effort))
    return {each.name: each for each in ordered}


def _positions(circuit: BenchCircuit, wanted: str) -> tuple[str, ...]:
    """The positions in which to measure; "crossed" is the one that the X of jumpers serves."""
    return {"both": LAMPS, "crossed": (circuit.crossed_lamp,)}.get(wanted, (wanted,))


def _point(circuit: BenchCircuit, row: dict[str, str], position: str) -> MeasuringPoint:
    wanted = row["cautions"].split("|")
    limit = "driver" if circuit.driver else "shared resistor"
    name = row["name"].format(limit=limit)
    return MeasuringPoint(
        name=f"{name}, {position}" if row["position"] == "both" else name,
        place=row["place"],
        setting=row["setting"],
        position=position,
        where=row["where"].format(
            limit=limit,
            switch="switch" if circuit.relay is None else "relay",
        ),
        effort=float(row["effort"]),
        cautions=tuple(each for each in bench_cautions() if each.about in wanted),
    )


@cache
def _rows() -> tuple[dict[str, str], ...]:
    with files("sigcalc.parts").joinpath("data", "measuring_points.csv").open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file))
